#include "postproc/picture/png.hpp"

#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGWriter.h>
#include <vtkUnsignedCharArray.h>

#include <algorithm>

namespace cw {

std::string png_of(const Raster& raster) {
  vtkNew<vtkImageData> image;
  image->SetDimensions(raster.width, raster.height, 1);
  image->AllocateScalars(VTK_UNSIGNED_CHAR, 4);
  const std::size_t stride = 4 * static_cast<std::size_t>(raster.width);
  for (int row = 0; row < raster.height; ++row) {  // VTK counts rows from the bottom
    auto* to = static_cast<unsigned char*>(image->GetScalarPointer(0, raster.height - 1 - row, 0));
    std::copy_n(raster.pixel(0, row), stride, to);
  }
  vtkNew<vtkPNGWriter> writer;
  writer->SetInputData(image);
  writer->WriteToMemoryOn();
  writer->Write();
  vtkUnsignedCharArray* bytes = writer->GetResult();
  return {reinterpret_cast<const char*>(bytes->GetPointer(0)),
          static_cast<std::size_t>(bytes->GetNumberOfValues())};
}

std::string base64(const std::string& bytes) {
  constexpr const char* digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const auto byte = [&](std::size_t k) -> unsigned {
      return i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U;
    };
    const unsigned group = byte(0) << 16U | byte(1) << 8U | byte(2);
    text += digits[group >> 18U];
    text += digits[group >> 12U & 63U];
    text += i + 1 < bytes.size() ? digits[group >> 6U & 63U] : '=';
    text += i + 2 < bytes.size() ? digits[group & 63U] : '=';
  }
  return text;
}

}  // namespace cw
