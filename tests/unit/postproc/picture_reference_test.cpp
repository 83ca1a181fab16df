// Pictures compared with stored ones, by a measure of visible difference. After an intended change,
// run with CW_RENEW_PICTURES=1, look at tests/unit/postproc/pictures and keep them.
#include <gtest/gtest.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGReader.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "postproc/chart/charts_of_result.hpp"
#include "postproc/picture/coil_drawing.hpp"
#include "postproc/picture/picture.hpp"
#include "postproc/picture/png.hpp"
#include "postproc/picture/solid_picture.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

namespace fs = std::filesystem;

/// Greys of a picture, 0 to 255, rows from the top.
struct Grey {
  int width = 0, height = 0;
  std::vector<double> values;
  [[nodiscard]] double at(int column, int row) const {
    return values[static_cast<std::size_t>(row) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(column)];
  }
};

double luma(double red, double green, double blue) {
  return 0.299 * red + 0.587 * green + 0.114 * blue;  // ITU-R BT.601
}

Grey grey_of(const cw::Raster& raster) {
  Grey grey{raster.width, raster.height, {}};
  for (int row = 0; row < raster.height; ++row)
    for (int column = 0; column < raster.width; ++column) {
      const auto* p = raster.pixel(column, row);
      grey.values.push_back(luma(p[0], p[1], p[2]));
    }
  return grey;
}

Grey read_png(const fs::path& path) {
  vtkNew<vtkPNGReader> reader;
  reader->SetFileName(path.c_str());
  reader->Update();
  vtkImageData* image = reader->GetOutput();
  const int* size = image->GetDimensions();
  Grey grey{size[0], size[1], {}};
  for (int row = size[1] - 1; row >= 0; --row)  // VTK counts rows from the bottom
    for (int column = 0; column < size[0]; ++column)
      grey.values.push_back(luma(image->GetScalarComponentAsDouble(column, row, 0, 0),
                                 image->GetScalarComponentAsDouble(column, row, 0, 1),
                                 image->GetScalarComponentAsDouble(column, row, 0, 2)));
  return grey;
}

/// Structural similarity of two windows of 8 x 8 pixels. Source: Z. Wang et al., IEEE Trans. Image
/// Processing 13 (2004) 600, eq. 13 with K1 = 0.01, K2 = 0.03 (from memory).
double similarity(const Grey& a, const Grey& b, int column, int row) {
  constexpr int n = 8;
  double sum_a = 0, sum_b = 0, aa = 0, bb = 0, ab = 0;
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i) {
      const double x = a.at(column + i, row + j), y = b.at(column + i, row + j);
      sum_a += x;
      sum_b += y;
      aa += x * x;
      bb += y * y;
      ab += x * y;
    }
  constexpr double count = n * n, c1 = 0.01 * 255 * 0.01 * 255, c2 = 0.03 * 255 * 0.03 * 255;
  const double ma = sum_a / count, mb = sum_b / count;
  const double va = aa / count - ma * ma, vb = bb / count - mb * mb, cov = ab / count - ma * mb;
  return (2 * ma * mb + c1) * (2 * cov + c2) / ((ma * ma + mb * mb + c1) * (va + vb + c2));
}

/// Mean over windows that overlap by half, of those in which either picture has anything: empty
/// paper would hide a change.
double similarity(const Grey& a, const Grey& b) {
  if (a.width != b.width || a.height != b.height) return 0.0;
  double sum = 0.0;
  int windows = 0;
  for (int row = 0; row + 8 <= a.height; row += 4)
    for (int column = 0; column + 8 <= a.width; column += 4) {
      const auto blank = [&](const Grey& g) {
        for (int j = 0; j < 8; ++j)
          for (int i = 0; i < 8; ++i)
            if (g.at(column + i, row + j) < 254.0) return false;
        return true;
      };
      if (blank(a) && blank(b)) continue;
      sum += similarity(a, b, column, row);
      ++windows;
    }
  return windows > 0 ? sum / windows : 1.0;
}

/// Another release of the lettering library moves edges of letters by parts of a pixel; a label, a
/// line or a colour that changes costs more.
constexpr double least_similar = 0.97;

void expect_as_stored(const cw::Canvas& canvas, const std::string& name) {
  const fs::path path = fs::path(CW_PICTURES) / (name + ".png");
  const cw::Raster raster = cw::raster_of(canvas, 1.0);
  if (std::getenv("CW_RENEW_PICTURES") != nullptr) {
    const std::string bytes = cw::png_of(raster);
    std::ofstream(path, std::ios::binary)
        .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  }
  ASSERT_TRUE(fs::exists(path)) << path;
  EXPECT_GE(similarity(grey_of(raster), read_png(path)), least_similar) << name;
}

cw::PictureInput input_of(const cw::Mesh& mesh, const cw::FieldSolution& field) {
  return {mesh,
          field,
          "Reference",
          100.0,
          0.0,
          "work coil",
          {{"workpiece", "workpiece, steel"}},
          {{cw::DimensionLine::Kind::diameter, "bore", 0.0, 9e-3, 6e-3}}};
}

/// A field that changes along both axes.
cw::FieldSolution sloping_field(const cw::Mesh& mesh) {
  return cw::sample::field(mesh, [](double r, double z) {
    return std::complex<double>(5e-3 * r * (1.0 + 20.0 * z + 900.0 * r * r), 1e-3 * r);
  });
}

// Property: the field picture looks as the stored one.
TEST(PictureReference, Field) {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = sloping_field(mesh);
  expect_as_stored(cw::field_picture(input_of(mesh, field)), "field");
}

// Property: the close look at the turns looks as the stored one.
TEST(PictureReference, Current) {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = sloping_field(mesh);
  cw::PictureInput input = input_of(mesh, field);
  input.left = cw::Shown::current_density;
  input.coil_only = true;
  expect_as_stored(cw::field_picture(input), "current");
}

// Property: coil and work cut open look as the stored picture.
TEST(PictureReference, Solid) {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = sloping_field(mesh);
  expect_as_stored(cw::solid_picture(input_of(mesh, field)), "solid");
}

// Property: the workshop drawing and every kind of chart look as the stored ones.
TEST(PictureReference, DrawingAndCharts) {
  const cw::Result result = cw::sample::full_result();
  expect_as_stored(cw::coil_drawing(result), "coil");
  ASSERT_FALSE(cw::charts_of(result).empty());
  for (const cw::Chart& chart : cw::charts_of(result))
    expect_as_stored(cw::chart_drawing(chart), "chart-" + chart.id);
}

// Property: the measure detects a change of one label, of the side of a field, and of one line:
// each falls below the permitted value.
TEST(PictureReference, MeasureSeesChanges) {
  const cw::Result result = cw::sample::full_result();
  const Grey drawing = grey_of(cw::raster_of(cw::coil_drawing(result), 1.0));
  EXPECT_EQ(similarity(drawing, drawing), 1.0);
  cw::Result other = result;
  for (cw::Point& corner : other.heater->workpiece->outline.profile)
    if (corner.r > 0) corner.r = 0.0064;
  EXPECT_LT(similarity(drawing, grey_of(cw::raster_of(cw::coil_drawing(other), 1.0))),
            least_similar);
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = sloping_field(mesh);
  cw::PictureInput input = input_of(mesh, field);
  const Grey picture = grey_of(cw::raster_of(cw::field_picture(input), 1.0));
  std::swap(input.left, input.right);
  EXPECT_LT(similarity(picture, grey_of(cw::raster_of(cw::field_picture(input), 1.0))),
            least_similar);
  auto chart = *cw::demand_chart(result);
  const Grey curve = grey_of(cw::raster_of(cw::chart_drawing(chart), 1.0));
  chart.marks.clear();
  chart.y.from_zero = true;
  EXPECT_LT(similarity(curve, grey_of(cw::raster_of(cw::chart_drawing(chart), 1.0))),
            least_similar);
}

}  // namespace
