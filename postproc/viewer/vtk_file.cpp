#include "postproc/viewer/vtk_file.hpp"

#include <fmt/core.h>
#include <vtkNew.h>
#include <vtkObject.h>
#include <vtkObjectFactory.h>
#include <vtkXMLWriter.h>
#include <vtkZLibDataCompressor.h>

#include "postproc/result/deflater.hpp"
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

/// Writes the same format as its base, by whose name readers know it, in half the time.
class VtkDeflater : public vtkZLibDataCompressor {
 public:
  static VtkDeflater* New();
  std::size_t GetMaximumCompressionSpace(std::size_t count) override {
    return deflater_.most(count);
  }

 protected:
  std::size_t CompressBuffer(const unsigned char* bytes, std::size_t count, unsigned char* out,
                             std::size_t room) override {
    return deflater_.compress({reinterpret_cast<const char*>(bytes), count},
                              reinterpret_cast<char*>(out), room);
  }

 private:
  Deflater deflater_{1};
};

vtkStandardNewMacro(VtkDeflater)

}  // namespace

void write_vtk_file(const std::filesystem::path& path, vtkXMLWriter& writer) {
  const QuietVtk quiet;
  writer.SetDataModeToAppended();
  writer.EncodeAppendedDataOff();
  const vtkNew<VtkDeflater> deflater;
  writer.SetCompressor(deflater);
  replace_file(path, [&](const std::filesystem::path& fresh) {
    writer.SetFileName(fresh.c_str());
    if (writer.Write() != 1 || writer.GetErrorCode() != 0)
      throw WriteError(fmt::format(
          "{}: could not be written; is the disk full or the folder read-only?", path.string()));
  });
}

}  // namespace cw
