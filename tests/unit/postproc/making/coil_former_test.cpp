#include "postproc/making/coil_former.hpp"

#include <gtest/gtest.h>
#include <unistd.h>
#include <vtkFeatureEdges.h>
#include <vtkNew.h>
#include <vtkPolyData.h>
#include <vtkSTLReader.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <numbers>

#include "postproc/making/tube_bending.hpp"
#include "postproc/making/winding_plan.hpp"

namespace {

using std::numbers::pi;
using Corner = std::array<float, 3>;

/// 7.25 turns of 6 x 1 mm tube, 32 mm bore, 7.5 mm pitch.
cw::Coil wound_coil(cw::CoilShape shape) {
  cw::Coil coil;
  coil.shape = shape;
  coil.turns = 7.25;
  coil.bore = 32e-3;
  coil.pitch = 7.5e-3;
  if (shape == cw::CoilShape::cone) coil.bore_end = 48e-3;
  coil.conductor.section = cw::RoundTube{6e-3, 1e-3};
  coil.conductor.material.name = "copper-tube";
  return coil;
}

cw::Coil changed(cw::CoilShape shape, const std::function<void(cw::Coil&)>& change) {
  cw::Coil coil = wound_coil(shape);
  change(coil);
  return coil;
}

/// Coils of every shape that has a former.
std::map<std::string, cw::Coil> coils_with_former() {
  using cw::CoilShape;
  return {
      {"helix", wound_coil(CoilShape::helix)},
      {"touching turns", changed(CoilShape::helix, [](auto& c) { c.pitch = 6e-3; })},
      {"one turn", changed(CoilShape::helix, [](auto& c) { c.turns = 1.0; })},
      {"part of a turn", changed(CoilShape::helix, [](auto& c) { c.turns = 0.4; })},
      {"many turns", changed(CoilShape::helix, [](auto& c) { c.turns = 90.0; })},
      {"wire",
       changed(CoilShape::helix, [](auto& c) { c.conductor.section = cw::RoundWire{2e-3}; })},
      {"cone", wound_coil(CoilShape::cone)},
      {"cone that narrows", changed(CoilShape::cone, [](auto& c) { c.bore_end = 20e-3; })},
      {"steep cone", changed(CoilShape::cone, [](auto& c) { c.bore_end = 110e-3; })},
      {"flat", wound_coil(CoilShape::flat)},
      {"flat with a narrow hole", changed(CoilShape::flat, [](auto& c) { c.bore = 8e-3; })},
  };
}

/// Corners of all triangles as the file has them [mm].
std::vector<std::array<Corner, 3>> triangles_of(const std::string& stl) {
  std::uint32_t count = 0;
  std::memcpy(&count, stl.data() + 80, 4);  // of a machine with the least byte first, as ours are
  std::vector<std::array<Corner, 3>> triangles(count);
  for (std::size_t i = 0; i < count; ++i)
    std::memcpy(triangles[i].data(), stl.data() + 84 + 50 * i + 12, 36);
  return triangles;
}

double triangle_area(const std::array<Corner, 3>& t) {
  std::array<double, 3> a{}, b{};
  for (std::size_t i = 0; i < 3; ++i) a[i] = t[1][i] - t[0][i], b[i] = t[2][i] - t[0][i];
  return 0.5 * std::hypot(a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2],
                          a[0] * b[1] - a[1] * b[0]);
}

/// The outline at angle 0, r and z of every corner there in mm, along the former.
std::vector<cw::Point> outline_at_zero(const cw::TriangleSurface& former, bool by_radius) {
  std::vector<cw::Point> outline;
  for (const auto& p : former.points)
    if (p[1] == 0.0 && p[0] > 1e-6) outline.push_back({1e3 * p[0], 1e3 * p[2]});
  std::ranges::sort(
      outline, [&](const auto& a, const auto& b) { return by_radius ? a.r < b.r : a.z < b.z; });
  return outline;
}

/// A groove met in the outline: its bottom, its width at the land and its depth under it [mm].
struct Groove {
  cw::Point bottom;
  double width = 0.0, depth = 0.0;
  /// Of the circle through bottom and edges: the sagitta's theorem.
  [[nodiscard]] double diameter() const { return depth + width * width / (4.0 * depth); }
};

/// All whole grooves; `height` and `along` of a point.
std::vector<Groove> grooves_of(const std::vector<cw::Point>& outline, double cw::Point::*height,
                               double cw::Point::*along) {
  const double land = std::ranges::max(outline, {}, height).*height;
  std::vector<Groove> grooves;
  for (std::size_t i = 1; i + 1 < outline.size(); ++i) {
    if (!(outline[i].*height < outline[i - 1].*height &&
          outline[i].*height < outline[i + 1].*height))
      continue;
    std::size_t left = i, right = i;
    while (left > 0 && outline[left].*height < land - 1e-6) --left;
    while (right + 1 < outline.size() && outline[right].*height < land - 1e-6) ++right;
    if (outline[left].*height < land - 1e-6 || outline[right].*height < land - 1e-6) continue;
    grooves.push_back(
        {outline[i], outline[right].*along - outline[left].*along, land - outline[i].*height});
  }
  return grooves;
}

// Property: in the file of every shape each edge belongs to exactly two triangles, which run along
// it in opposite directions, no triangle is without area, and the file is below 5 MB.
TEST(CoilFormer, IsWatertight) {
  for (const auto& [name, coil] : coils_with_former()) {
    const auto former = cw::coil_former(coil);
    ASSERT_TRUE(former) << name;
    EXPECT_GT(cw::volume_of(*former), 0.0) << name;
    const std::string stl = cw::binary_stl(*former);
    EXPECT_EQ(stl.size(), 84 + 50 * former->triangles.size());
    EXPECT_LT(stl.size(), 5'000'000U) << name;
    std::map<std::pair<Corner, Corner>, int> edges;
    std::size_t without_area = 0;
    for (const auto& t : triangles_of(stl)) {
      without_area += triangle_area(t) > 1e-7 ? 0U : 1U;  // [mm2]
      for (std::size_t i = 0; i < 3; ++i) ++edges[{t[i], t[(i + 1) % 3]}];
    }
    EXPECT_EQ(without_area, 0U) << name;
    std::size_t open = 0;
    for (const auto& [edge, count] : edges) {
      const auto back = edges.find({edge.second, edge.first});
      open += count == 1 && back != edges.end() && back->second == 1 ? 0U : 1U;
    }
    EXPECT_EQ(open, 0U) << name << ": of " << edges.size();
  }
}

// Property: VTK, which reads the file, finds no edge of one triangle and none of more than two.
TEST(CoilFormer, IsWatertightForAnotherReader) {
  const auto path = std::filesystem::temp_directory_path() /
                    ("coil_former_test_" + std::to_string(::getpid()) + ".stl");
  for (const auto& [name, coil] : coils_with_former()) {
    const auto former = cw::coil_former(coil);
    ASSERT_TRUE(former) << name;
    std::ofstream(path, std::ios::binary) << cw::binary_stl(*former);
    vtkNew<vtkSTLReader> reader;
    reader->SetFileName(path.c_str());
    vtkNew<vtkFeatureEdges> edges;
    edges->SetInputConnection(reader->GetOutputPort());
    edges->BoundaryEdgesOn();
    edges->NonManifoldEdgesOn();
    edges->FeatureEdgesOff();
    edges->ManifoldEdgesOff();
    edges->Update();
    EXPECT_EQ(reader->GetOutput()->GetNumberOfCells(),
              static_cast<vtkIdType>(former->triangles.size()));
    EXPECT_EQ(edges->GetOutput()->GetNumberOfCells(), 0) << name;
  }
  std::filesystem::remove(path);
}

// Property: measured at its corners, a helix has grooves with the coil's pitch and the tube's
// diameter (0.3 %: the section is tilted by the lead), a third of it deep; the tube wound into them
// and released has the bore, and the former extends 5 mm beyond the end turns.
TEST(CoilFormer, HelixHasGroovesOfTheCoil) {
  const cw::Coil coil = wound_coil(cw::CoilShape::helix);
  const auto former = cw::coil_former(coil);
  ASSERT_TRUE(former);
  const auto outline = outline_at_zero(*former, false);
  const auto grooves = grooves_of(outline, &cw::Point::r, &cw::Point::z);
  ASSERT_GE(grooves.size(), 7U);
  for (std::size_t i = 0; i < grooves.size(); ++i) {
    if (i > 0) {
      EXPECT_NEAR(grooves[i].bottom.z - grooves[i - 1].bottom.z, 7.5, 1e-6);
    }
    EXPECT_NEAR(grooves[i].depth, 2.0, 1e-6);
    EXPECT_NEAR(grooves[i].diameter(), 6.0, 0.018);
    const double middle = grooves[i].bottom.r + 3.0;
    EXPECT_NEAR(middle * (1.0 + cw::spring_back(6e-3, 1e-3, 19e-3)) - 3.0, 16.0, 1e-6);
    EXPECT_NEAR(2e-3 * grooves[i].bottom.r, *cw::winding_plan(coil).former_diameter, 1e-9);
  }
  // 7.25 turns of 7.5 mm, half a tube and 5 mm at each end.
  EXPECT_NEAR(outline.back().z - outline.front().z, 7.25 * 7.5 + 6.0 + 10.0, 1e-6);
}

// Property: the volume of a helix' former is that of its cylinder less the groove's section times
// its length (sector less triangle of a circle, at the radius of its centre of area, 1 %).
TEST(CoilFormer, GrooveTakesItsVolume) {
  const auto former = cw::coil_former(wound_coil(cw::CoilShape::helix));
  ASSERT_TRUE(former);
  const auto outline = outline_at_zero(*former, false);
  const double land = std::ranges::max(outline, {}, &cw::Point::r).r,
               length = outline.back().z - outline.front().z;
  const double edge = std::acos(1.0 / 3.0), segment = 9.0 * (edge - std::sin(2.0 * edge) / 2.0);
  const double centre = 2.0 / 3.0 * std::pow(3.0 * std::sin(edge), 3) / segment;  // from the middle
  const double radius = land + 1.0 - centre;
  const double groove = segment * 2.0 * pi * radius * length / 7.5;
  EXPECT_NEAR((pi * land * land * length - 1e9 * cw::volume_of(*former)) / groove, 1.0, 0.01);
}

// Property: the rings of a flat coil, released from the spiral of its plate, are at the places of
// the coil: pitch and place within 0.1 mm; the groove has the tube's diameter within 0.5 %.
TEST(CoilFormer, SpiralOpensToTheCoil) {
  const cw::Coil coil = wound_coil(cw::CoilShape::flat);
  const auto former = cw::coil_former(coil);
  ASSERT_TRUE(former);
  auto upper = outline_at_zero(*former, true);
  std::erase_if(upper, [](const auto& p) { return p.z < -3.5; });  // the plate's lower side
  const auto grooves = grooves_of(upper, &cw::Point::z, &cw::Point::r);
  ASSERT_GE(grooves.size(), 7U);
  for (const Groove& groove : grooves) {
    EXPECT_NEAR(groove.diameter(), 6.0, 0.03);
    const double wound = 1e-3 * groove.bottom.r;
    double free = wound;  // by repeated use: spring-back is that of the radius let go
    for (int i = 0; i < 20; ++i) free = wound * (1.0 + cw::spring_back(6e-3, 1e-3, free));
    // The spiral begins at angle 0, clear of the bore: 19, 26.5, ... mm.
    const double turns = (1e3 * free - 19.0) / 7.5;
    EXPECT_NEAR(7.5 * (turns - std::round(turns)), 0.0, 0.1);
  }
}

// Property: the groove of a cone follows its rings: between bottoms r grows as z does from the
// lower bore to the upper, both less their spring-back.
TEST(CoilFormer, ConeWidensWithTheCoil) {
  const auto former = cw::coil_former(wound_coil(cw::CoilShape::cone));
  ASSERT_TRUE(former);
  const auto bottoms = [&] {
    std::vector<cw::Point> found;
    const auto outline = outline_at_zero(*former, false);
    for (std::size_t i = 1; i + 1 < outline.size(); ++i)
      if (outline[i].r < outline[i - 1].r && outline[i].r < outline[i + 1].r)
        found.push_back(outline[i]);
    return found;
  }();
  ASSERT_GE(bottoms.size(), 7U);
  const double low = 19.0 / (1.0 + cw::spring_back(6e-3, 1e-3, 19e-3)),
               high = 27.0 / (1.0 + cw::spring_back(6e-3, 1e-3, 27e-3));
  const double slope = (high - low) / (7.25 * 7.5);
  for (std::size_t i = 1; i < bottoms.size(); ++i) {
    EXPECT_NEAR(bottoms[i].z - bottoms[i - 1].z, 7.5, 1e-6);
    EXPECT_NEAR(bottoms[i].r - bottoms[i - 1].r, slope * 7.5, 1e-6);
  }
}

// Property: where nothing is wound round a former, there is none: given rings, bars, strands, no
// pitch, turns that overlap, a cone to a point, a thousand turns.
TEST(CoilFormer, IsOmittedIfImpossible) {
  using cw::CoilShape;
  EXPECT_FALSE(cw::coil_former(changed(CoilShape::rings, [](auto&) {})));
  EXPECT_FALSE(cw::coil_former(changed(CoilShape::helix, [](auto& c) {
    c.conductor.section = cw::RectangularBar{4e-3, 6e-3, {}};
  })));
  EXPECT_FALSE(cw::coil_former(changed(CoilShape::helix, [](auto& c) {
    c.conductor.section = cw::StrandBundle{100, 0.2e-3, 3e-3};
  })));
  EXPECT_FALSE(cw::coil_former(changed(CoilShape::helix, [](auto& c) { c.pitch = 0.0; })));
  EXPECT_FALSE(cw::coil_former(changed(CoilShape::helix, [](auto& c) { c.pitch = 5.5e-3; })));
  EXPECT_FALSE(cw::coil_former(changed(CoilShape::cone, [](auto& c) { c.bore_end = 1e-3; })));
  EXPECT_FALSE(cw::coil_former(changed(CoilShape::helix, [](auto& c) { c.turns = 1000.0; })));
}

}  // namespace
