#include "postproc/viewer/one_thread.hpp"

#include <vtkSMPTools.h>

namespace cw {

void stay_in_one_thread() {
  static const bool chosen = vtkSMPTools::SetBackend("Sequential");
  static_cast<void>(chosen);
}

}  // namespace cw
