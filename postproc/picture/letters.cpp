#include "postproc/picture/letters.hpp"

#include <vtkAutoInit.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkStdString.h>
#include <vtkTextProperty.h>
#include <vtkTextRenderer.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

// Registers the FreeType text renderer; nothing else of VTK's rendering is used.
VTK_MODULE_INIT(vtkRenderingFreeType)

namespace cw {

namespace {

/// VTK sizes text in points at a resolution; at 72 dots per inch a point is a pixel.
constexpr int dots_per_inch = 72;

void choose_face(vtkTextProperty& face, double size, bool bold) {
  const char* file = bold ? "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf"
                          : "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf";
  std::error_code ignored;
  if (std::filesystem::exists(file, ignored)) {
    face.SetFontFamily(VTK_FONT_FILE);
    face.SetFontFile(file);
  } else {
    face.SetFontFamilyToArial();
    face.SetBold(bold ? 1 : 0);
  }
  face.SetFontSize(static_cast<int>(std::lround(size)));
  face.SetColor(0.0, 0.0, 0.0);
  face.SetJustificationToLeft();
  face.SetVerticalJustificationToBottom();
}

Letters rendered(vtkTextProperty& face, const std::string& text) {
  Letters letters;
  vtkNew<vtkImageData> image;
  int used[2] = {0, 0};
  vtkTextRenderer* renderer = vtkTextRenderer::GetInstance();
  if (renderer == nullptr ||
      !renderer->RenderString(&face, vtkStdString(text), image, used, dots_per_inch)) {
    return letters;
  }
  letters.width = used[0];
  letters.height = used[1];
  letters.coverage.reserve(static_cast<std::size_t>(used[0]) * static_cast<std::size_t>(used[1]));
  // For text without ink, such as a blank, the image is smaller than the size that VTK reports.
  const int* extent = image->GetExtent();
  const int left = std::max(0, extent[0]), right = std::min(letters.width - 1, extent[1]);
  constexpr std::size_t bytes = 4, opacity = 3;  // of a pixel; the one that holds its coverage
  for (int row = letters.height - 1; row >= 0; --row) {  // VTK counts rows from the bottom
    letters.coverage.resize(letters.coverage.size() + static_cast<std::size_t>(letters.width), 0);
    if (row < extent[2] || row > extent[3] || left > right) continue;
    std::uint8_t* line = &letters.coverage.back() + 1 - letters.width;
    const auto* from = static_cast<const unsigned char*>(image->GetScalarPointer(left, row, 0));
    for (int column = left; column <= right; ++column, from += bytes) line[column] = from[opacity];
  }
  return letters;
}

/// Rows below the base line: those that stay empty below a letter without descender.
int rows_below(vtkTextProperty& face) {
  const Letters standing = rendered(face, "H");
  const auto last = std::find_if(standing.coverage.rbegin(), standing.coverage.rend(),
                                 [](std::uint8_t c) { return c > 127; });
  return standing.width == 0 ? 0
                             : static_cast<int>(last - standing.coverage.rbegin()) / standing.width;
}

}  // namespace

Letters render_letters(const std::string& text, double size, bool bold) {
  if (text.empty()) return {};
  vtkNew<vtkTextProperty> face;
  choose_face(*face, size, bold);
  Letters letters = rendered(*face, text);
  letters.base = letters.height - rows_below(*face);
  return letters;
}

double text_width(const std::string& text, const Lettering& style) {
  constexpr double finer = 4.0;  // hinting at small sizes would distort the width
  vtkNew<vtkTextProperty> face;
  choose_face(*face, finer * style.size, style.bold);
  std::array<int, 4> box{};  // left, right, bottom, top
  vtkTextRenderer* renderer = vtkTextRenderer::GetInstance();
  if (text.empty() || renderer == nullptr ||
      !renderer->GetBoundingBox(face, vtkStdString(text), box.data(), dots_per_inch))
    return 0.0;
  return (box[1] - box[0] + 1) / finer;
}

}  // namespace cw
