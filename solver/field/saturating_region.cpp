#include "solver/field/saturating_region.hpp"

namespace cw {

LocalMedium medium_at(const SaturatingRegion& body, const Medium& uniform, const MeshPoint& p) {
  return body.local ? body.local(p) : LocalMedium{uniform.conductivity, body.magnetisation};
}

}  // namespace cw
