#include "postproc/viewer/vtk_file.hpp"

#include <fmt/core.h>
#include <vtkObject.h>
#include <vtkXMLWriter.h>

#include "postproc/result/in_place.hpp"
#include "postproc/result/write_error.hpp"

namespace cw {

namespace {

/// Keeps VTK from printing its own error messages beside ours.
class QuietVtk {
 public:
  QuietVtk() : before_(vtkObject::GetGlobalWarningDisplay()) {
    vtkObject::SetGlobalWarningDisplay(0);
  }
  ~QuietVtk() { vtkObject::SetGlobalWarningDisplay(before_); }
  QuietVtk(const QuietVtk&) = delete;
  QuietVtk& operator=(const QuietVtk&) = delete;

 private:
  int before_;
};

}  // namespace

void write_vtk_file(const std::filesystem::path& path, vtkXMLWriter& writer) {
  const QuietVtk quiet;
  writer.SetDataModeToAppended();
  writer.EncodeAppendedDataOff();
  writer.SetCompressorTypeToZLib();
  writer.SetCompressionLevel(1);  // a third of the time of the usual 5, for a tenth more bytes
  replace_file(path, [&](const std::filesystem::path& fresh) {
    writer.SetFileName(fresh.c_str());
    if (writer.Write() != 1 || writer.GetErrorCode() != 0)
      throw WriteError(fmt::format(
          "{}: could not be written; is the disk full or the folder read-only?", path.string()));
  });
}

}  // namespace cw
