#include "postproc/picture/letters.hpp"

#include <vtkAutoInit.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkStdString.h>
#include <vtkTextProperty.h>
#include <vtkTextRenderer.h>

#include <algorithm>
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
  for (int row = letters.height - 1; row >= 0; --row) {  // VTK counts rows from the bottom
    for (int column = 0; column < letters.width; ++column) {
      const bool there =
          column >= extent[0] && column <= extent[1] && row >= extent[2] && row <= extent[3];
      letters.coverage.push_back(
          there ? static_cast<const unsigned char*>(image->GetScalarPointer(column, row, 0))[3]
                : std::uint8_t{0});
    }
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
  return render_letters(text, finer * style.size, style.bold).width / finer;
}

}  // namespace cw
