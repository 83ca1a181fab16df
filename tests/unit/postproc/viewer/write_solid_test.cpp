#include "postproc/viewer/write_solid.hpp"

#include <gtest/gtest.h>
#include <unistd.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkStringArray.h>
#include <vtkTriangle.h>
#include <vtkXMLPolyDataReader.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>

#include "postproc/viewer/poly_file.hpp"
#include "solver/heater/rings.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

namespace fs = std::filesystem;

class SurfaceFile : public testing::Test {
 protected:
  void TearDown() override { fs::remove(path_); }
  vtkPolyData* read() {
    reader_->SetFileName(path_.c_str());
    reader_->Update();
    return reader_->GetOutput();
  }

  fs::path path_ = fs::temp_directory_path() / ("cw-surface-" + std::to_string(getpid()) + ".vtp");
  vtkNew<vtkXMLPolyDataReader> reader_;
};

/// Area of all polygons [m2], each fanned from its first point.
double area_of(vtkPolyData* poly) {
  double area = 0.0;
  for (vtkIdType c = 0; c < poly->GetNumberOfCells(); ++c) {
    vtkNew<vtkIdList> ids;
    poly->GetCellPoints(c, ids);
    for (vtkIdType k = 1; k + 1 < ids->GetNumberOfIds(); ++k) {
      double p[3], q[3], r[3];
      poly->GetPoint(ids->GetId(0), p);
      poly->GetPoint(ids->GetId(k), q);
      poly->GetPoint(ids->GetId(k + 1), r);
      area += vtkTriangle::TriangleArea(p, q, r);
    }
  }
  return area;
}

// Property: the rod of the sample (radius 5 mm, length 20 mm) turned by three quarters, read back
// by VTK, has the area of its curved surface, its two ends and two cut faces, within the error of
// 48 flat pieces.
TEST_F(SurfaceFile, SolidHasTheAreaOfTheRod) {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  const cw::FieldView view{mesh, field, std::vector<cw::RegionInfo>(4)};
  cw::write_solid(path_, view);
  vtkPolyData* poly = read();
  using std::numbers::pi;
  constexpr double r = 5e-3, h = 20e-3;
  const double expected = 0.75 * (2 * pi * r * h + 2 * pi * r * r) + 2 * r * h;
  EXPECT_NEAR(area_of(poly) / expected, 1.0, 1e-3);
  for (const char* name : {"power density [W/m3]", "|B| [T rms]", "temperature [K]"})
    ASSERT_NE(poly->GetPointData()->GetArray(name), nullptr) << name;
  ASSERT_NE(poly->GetCellData()->GetArray("region id"), nullptr);
  EXPECT_NEAR(poly->GetPointData()->GetArray("|B| [T rms]")->GetTuple1(10), 0.01, 1e-9);
}

// Property: the coil's surface, read back by VTK, has the area of a tube of its length, and its
// loss per metre times its length is the loss of the winding.
TEST_F(SurfaceFile, CoilHasItsLengthAndItsLoss) {
  cw::Result result = cw::sample::full_result();
  cw::Coil coil = result.heater->coil;
  cw::CoilResult solved = result.states[0].coil;
  coil.conductor.section = cw::RoundTube{6e-3, 1e-3};
  coil.turns = solved.winding_turns = 8.0;
  const double radius = coil.bore / 2 + 3e-3;
  solved.turns.clear();
  for (int k = 0; k < 8; ++k)
    solved.turns.push_back({radius, (k - 3.5) * coil.pitch, 1.0, 1.0, 1.0, 10.0 + k});
  cw::write_coil(path_, coil, solved);
  vtkPolyData* poly = read();
  using std::numbers::pi;
  const double length = 8 * std::hypot(2 * pi * radius, coil.pitch);
  EXPECT_NEAR(area_of(poly) / (length * pi * 6e-3), 1.0, 0.02);
  vtkDataArray* loss = poly->GetPointData()->GetArray("loss per length [W/m]");
  ASSERT_NE(loss, nullptr);
  double mean = 0.0;
  for (vtkIdType i = 0; i < loss->GetNumberOfTuples(); ++i)
    mean += loss->GetTuple1(i) / static_cast<double>(loss->GetNumberOfTuples());
  EXPECT_NEAR(mean * 8 * 2 * pi * radius, 8 * 13.5, 0.01 * 8 * 13.5);
  double bounds[6];
  poly->GetBounds(bounds);
  EXPECT_NEAR(bounds[3] - bounds[2], 8 * coil.pitch + 6e-3, 1e-4);
  EXPECT_STREQ(poly->GetPointData()->GetScalars()->GetName(), "loss per length [W/m]");
}

// Property: the spiral of a flat coil begins at the clear bore, which stays clear, and ends a pitch
// a turn further out; its length over the mean radius is that of the rings.
TEST_F(SurfaceFile, SpiralLeavesTheBoreClear) {
  cw::Coil coil;
  coil.shape = cw::CoilShape::flat;
  coil.turns = 4.0;
  coil.bore = 24e-3;
  coil.pitch = 7e-3;
  coil.conductor.section = cw::RoundTube{6e-3, 1e-3};
  cw::CoilResult solved;
  solved.winding_turns = 4.0;
  for (const cw::RingPlace& ring : cw::ring_places(coil))
    solved.turns.push_back({ring.r, ring.z, 1.0, 1.0, 1.0, 10.0});
  cw::write_coil(path_, coil, solved);
  vtkPolyData* poly = read();
  double inside = 1.0, outside = 0.0;
  for (vtkIdType i = 0; i < poly->GetNumberOfPoints(); ++i) {
    double at[3];
    poly->GetPoint(i, at);
    inside = std::min(inside, std::hypot(at[0], at[2]));
    outside = std::max(outside, std::hypot(at[0], at[2]));
  }
  EXPECT_NEAR(inside, 12e-3, 1e-6);
  EXPECT_NEAR(outside, 12e-3 + 6e-3 + 4 * 7e-3, 1e-6);
  EXPECT_NEAR(area_of(poly) / (cw::conductor_length(coil) * std::numbers::pi * 6e-3), 1.0, 0.02);
}

// Property: section and surfaces have the same coordinates: y is the axis, the section's radius is
// x, the three directions r, phi, z are right-handed (r x phi = z, here along y).
TEST_F(SurfaceFile, StandsInTheRoomOfTheSection) {
  const auto section = cw::in_the_room(2.0, 0.0, 3.0);
  EXPECT_EQ(section, (std::array<double, 3>{2.0, 3.0, 0.0}));
  constexpr double step = 1e-6;
  const auto turned = cw::in_the_room(2.0, step, 3.0);
  const double phi_x = (turned[0] - section[0]) / step, phi_z = (turned[2] - section[2]) / step;
  // r is along x, so the y part of r x phi is -phi_z: it must point up the axis.
  EXPECT_NEAR(phi_x, 0.0, 1e-5);
  EXPECT_GT(-phi_z, 0.0);
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  const cw::FieldView view{mesh, field, std::vector<cw::RegionInfo>(4), nullptr, "cold"};
  cw::write_solid(path_, view);
  vtkPolyData* poly = read();
  double bounds[6];
  poly->GetBounds(bounds);
  EXPECT_NEAR(bounds[3] - bounds[2], 20e-3, 1e-9);
  EXPECT_STREQ(poly->GetPointData()->GetScalars()->GetName(), "power density [W/m3]");
  const auto text = [&](const char* name, vtkIdType i) {
    auto* all = vtkStringArray::SafeDownCast(poly->GetFieldData()->GetAbstractArray(name));
    return all == nullptr ? std::string() : std::string(all->GetValue(i));
  };
  EXPECT_EQ(text("region names", 1), "workpiece");
  EXPECT_EQ(text("state", 0), "cold");
}

}  // namespace
