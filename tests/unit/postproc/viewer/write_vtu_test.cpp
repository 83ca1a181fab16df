#include "postproc/viewer/write_vtu.hpp"

#include <gtest/gtest.h>
#include <vtkCell.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkFieldData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkStringArray.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridReader.h>

#include <array>
#include <clocale>
#include <filesystem>
#include <fstream>
#include <locale>
#include <numbers>
#include <sstream>

#include "postproc/result/write_error.hpp"
#include "postproc/viewer/viewer_script.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

namespace fs = std::filesystem;
using std::numbers::pi;

struct QuadraturePoint {
  double x, y, weight;  // weights add up to 1/2, the area of the reference triangle
};

// Degree 4, six points. Source: D. A. Dunavant, Int. J. Numer. Meth. Eng. 21 (1985) 1129-1148,
// table II.
std::array<QuadraturePoint, 6> rule() {
  constexpr double a = 0.445948490915965, b = 0.091576213509771;
  constexpr double wa = 0.5 * 0.223381589678011, wb = 0.5 * 0.109951743655322;
  return {{{a, a, wa},
           {1 - 2 * a, a, wa},
           {a, 1 - 2 * a, wa},
           {b, b, wb},
           {1 - 2 * b, b, wb},
           {b, 1 - 2 * b, wb}}};
}

std::array<double, 6> shape(double x, double y) {
  const double w = 1 - x - y;
  return {w * (2 * w - 1), x * (2 * x - 1), y * (2 * y - 1), 4 * w * x, 4 * x * y, 4 * w * y};
}

/// A file read back with its viewer's library.
struct ReadBack {
  vtkNew<vtkXMLUnstructuredGridReader> reader;
  explicit ReadBack(const fs::path& path) {
    reader->SetFileName(path.c_str());
    reader->Update();
  }
  [[nodiscard]] vtkUnstructuredGrid* grid() const { return reader->GetOutput(); }

  /// Integral of g(value of an array) times weight(r) over the cells of a region (-1: all),
  /// straight triangles.
  template <class Value, class Weight>
  double integral(const char* array, int region, Value g, Weight weight) const {
    vtkDataArray* values = grid()->GetPointData()->GetArray(array);
    vtkDataArray* regions = grid()->GetCellData()->GetArray("region id");
    double sum = 0.0;
    for (vtkIdType c = 0; c < grid()->GetNumberOfCells(); ++c) {
      if (region >= 0 && static_cast<int>(regions->GetTuple1(c)) != region) continue;
      vtkCell* cell = grid()->GetCell(c);
      std::array<std::array<double, 3>, 6> p{};
      for (int k = 0; k < 6; ++k)
        grid()->GetPoint(cell->GetPointId(k), p[static_cast<std::size_t>(k)].data());
      const double area2 =
          (p[1][0] - p[0][0]) * (p[2][1] - p[0][1]) - (p[1][1] - p[0][1]) * (p[2][0] - p[0][0]);
      for (const auto& q : rule()) {
        const auto n = shape(q.x, q.y);
        double value = 0.0, r = 0.0;
        for (int k = 0; k < 6; ++k) {
          value += n[static_cast<std::size_t>(k)] * values->GetTuple1(cell->GetPointId(k));
          r += n[static_cast<std::size_t>(k)] * p[static_cast<std::size_t>(k)][0];
        }
        sum += q.weight * area2 * g(value) * weight(r);
      }
    }
    return sum;
  }
};

class FieldFile : public ::testing::Test {
 protected:
  FieldFile() { fs::create_directories(folder_); }
  ~FieldFile() override { fs::remove_all(folder_); }
  FieldFile(const FieldFile&) = delete;
  FieldFile& operator=(const FieldFile&) = delete;

  fs::path write(const cw::FieldSolution& field, const char* name = "field.vtu") {
    const fs::path path = folder_ / name;
    cw::write_vtu(path, {mesh_, field, regions_});
    return path;
  }

  cw::Mesh mesh_ = cw::sample::mesh();
  std::vector<cw::RegionInfo> regions_ = {{"air", {}},
                                          {"steel", cw::Temperature::celsius(850.0)},
                                          {"copper", cw::Temperature::celsius(40.0)},
                                          {"copper", cw::Temperature::celsius(40.0)}};
  fs::path folder_ = fs::temp_directory_path() / ("field_file_test_" + std::to_string(::getpid()));
};

const auto as_is = [](double v) { return v; };
const auto revolved = [](double r) { return 2.0 * pi * r; };

// Property: the power density in the file, integrated over the solid of revolution, is the loss of
// the region: equal to the solver's own sum and, in a uniform axial field, to pi sigma w^2 B^2 a^4
// h / 8. Source: resistance-limited eddy currents in a cylinder, A = B r / 2 in P = int sigma w^2
// |A|^2 dV (closed form).
TEST_F(FieldFile, PowerDensityIntegratesToTheLoss) {
  const double flux = 0.02;
  const cw::FieldSolution field = cw::sample::uniform_field(mesh_, flux);
  const ReadBack file(write(field));
  const double power = file.integral("power density [W/m3]", 1, as_is, revolved);
  const double w = cw::sample::frequency.omega();
  const double closed =
      pi * cw::sample::conductivity * w * w * flux * flux * std::pow(5e-3, 4) * 20e-3 / 8.0;
  EXPECT_NEAR(power / closed, 1.0, 1e-12);
  EXPECT_NEAR(power / cw::region_losses(mesh_, field)[1], 1.0, 1e-12);
}

// Property: if temperature and conductivity vary inside a body, the file has the values of each
// point, and the mu_r of each triangle: a temperature linear in r is right at the middles of
// triangles.
TEST_F(FieldFile, TemperatureAndConductivityVaryInside) {
  cw::FieldSolution field = cw::sample::uniform_field(mesh_, 0.02);
  field.local_conductivity.assign(mesh_.triangles.size(), {});
  field.local_reluctivity.assign(mesh_.triangles.size(), 1.0 / cw::mu0);
  for (std::size_t t = 0; t < mesh_.triangles.size(); ++t) {
    for (std::size_t i = 0; i < 6; ++i)
      field.local_conductivity[t][i] = 1e6 + 1e8 * mesh_.nodes[mesh_.triangles[t][i]].r;
    if (mesh_.region[t] == 1) field.local_reluctivity[t] /= 10.0 + static_cast<double>(t);
  }
  regions_[1].local = [](cw::Point p) { return cw::Temperature{300.0 + 1e4 * p.r}; };
  const ReadBack file(write(field));
  vtkCellData* data = file.grid()->GetCellData();
  int inside = 0;
  for (std::size_t t = 0; t < mesh_.triangles.size(); ++t) {
    const auto cell = static_cast<vtkIdType>(t);
    double r = 0;
    for (int k = 0; k < 3; ++k) r += mesh_.nodes[mesh_.triangles[t][k]].r / 3;
    EXPECT_NEAR(data->GetArray("conductivity [S/m]")->GetTuple1(cell), 1e6 + 1e8 * r, 1e-3);
    if (mesh_.region[t] != 1) continue;
    ++inside;
    EXPECT_NEAR(data->GetArray("temperature [K]")->GetTuple1(cell), 300.0 + 1e4 * r, 1e-9);
    EXPECT_NEAR(data->GetArray("mu_r")->GetTuple1(cell), 10.0 + static_cast<double>(t), 1e-9);
  }
  EXPECT_GE(inside, 1);
}

// Property: |B| in the file is the rms size of the curl of A: for A = c r z, B = (-c r, 2 c z),
// |B|^2 = c^2 (r^2 + 4 z^2), whose nodal values a second-order cell represents exactly. Source:
// curl in cylindrical coordinates (closed form).
TEST_F(FieldFile, FluxDensityIsTheCurl) {
  const double c = 3.0;
  const auto field = cw::sample::field(
      mesh_, [c](double r, double z) { return c * r * z * std::polar(1.0, 0.7); });
  const ReadBack file(write(field));
  const auto one = [](double) { return 1.0; };
  const auto square = [](double v) { return v * v; };
  double sum = 0.0;  // of the squares of the four parts
  for (const char* part :
       {"B_r re [T rms]", "B_r im [T rms]", "B_z re [T rms]", "B_z im [T rms]"}) {
    sum += file.integral(part, -1, square, one);
  }
  const double a = 16e-3, h = 14e-3;
  const double closed =
      c * c * (std::pow(a, 3) / 3.0 * 2.0 * h + 4.0 * a * 2.0 * std::pow(h, 3) / 3.0);
  EXPECT_NEAR(sum / closed, 1.0, 1e-12);
  vtkDataArray* size = file.grid()->GetPointData()->GetArray("|B| [T rms]");
  for (vtkIdType i = 0; i < file.grid()->GetNumberOfPoints(); i += 97) {
    const double* p = file.grid()->GetPoint(i);
    EXPECT_NEAR(size->GetTuple1(i), c * std::hypot(p[0], 2.0 * p[1]), 1e-12);
  }
}

// Property: cells have their own points, their region and its data, and the file has the names.
TEST_F(FieldFile, CarriesRegionsAndNames) {
  const ReadBack file(write(cw::sample::uniform_field(mesh_, 0.01)));
  EXPECT_EQ(file.grid()->GetNumberOfCells(), static_cast<vtkIdType>(mesh_.triangles.size()));
  EXPECT_EQ(file.grid()->GetNumberOfPoints(), static_cast<vtkIdType>(6 * mesh_.triangles.size()));
  EXPECT_EQ(file.grid()->GetCellType(0),
            22);  // quadratic triangle in the file format's list of cells
  auto* names =
      vtkStringArray::SafeDownCast(file.grid()->GetFieldData()->GetAbstractArray("region names"));
  auto* materials =
      vtkStringArray::SafeDownCast(file.grid()->GetFieldData()->GetAbstractArray("material names"));
  ASSERT_NE(names, nullptr);
  ASSERT_NE(materials, nullptr);
  EXPECT_EQ(names->GetValue(1), "workpiece");
  EXPECT_EQ(materials->GetValue(1), "steel");
  vtkCellData* cells = file.grid()->GetCellData();
  for (std::size_t t = 0; t < mesh_.region.size(); ++t) {
    const auto c = static_cast<vtkIdType>(t);
    EXPECT_EQ(static_cast<int>(cells->GetArray("region id")->GetTuple1(c)), mesh_.region[t]);
    if (mesh_.region[t] != 1) continue;
    EXPECT_DOUBLE_EQ(cells->GetArray("temperature [K]")->GetTuple1(c), 1123.15);
    EXPECT_NEAR(cells->GetArray("mu_r")->GetTuple1(c), 1.0, 1e-15);
    // sqrt(2 / (w mu sigma)): the definition of skin depth.
    EXPECT_NEAR(
        cells->GetArray("skin depth [m]")->GetTuple1(c),
        std::sqrt(2.0 / (cw::sample::frequency.omega() * cw::mu0 * cw::sample::conductivity)),
        1e-15);
  }
}

// Property: the file has B and J as vectors, x = radius, y = axis, phi away from the viewer, that
// agree with their components; r A_phi is the radius times A_phi; power density and the real part
// of B are shown first.
TEST_F(FieldFile, CarriesVectorsAndActiveArrays) {
  const auto field = cw::sample::field(
      mesh_, [](double r, double z) { return 3.0 * r * z * std::polar(1.0, 0.7); });
  const ReadBack file(write(field));
  vtkPointData* data = file.grid()->GetPointData();
  ASSERT_NE(data->GetScalars(), nullptr);
  ASSERT_NE(data->GetVectors(), nullptr);
  EXPECT_STREQ(data->GetScalars()->GetName(), "power density [W/m3]");
  EXPECT_STREQ(data->GetVectors()->GetName(), "B real part [T rms]");
  EXPECT_STREQ(file.grid()->GetCellData()->GetScalars()->GetName(), "region id");
  const auto part = [&](const char* name, vtkIdType i, int k) {
    return data->GetArray(name)->GetComponent(i, k);
  };
  const auto expect_shortened = [](double found, double whole) {
    EXPECT_EQ(found, static_cast<double>(static_cast<float>(whole)));
  };
  for (vtkIdType i = 0; i < file.grid()->GetNumberOfPoints(); i += 53) {
    expect_shortened(part("B real part [T rms]", i, 0), part("B_r re [T rms]", i, 0));
    expect_shortened(part("B real part [T rms]", i, 1), part("B_z re [T rms]", i, 0));
    EXPECT_EQ(part("B real part [T rms]", i, 2), 0.0);
    expect_shortened(part("B imaginary part [T rms]", i, 1), part("B_z im [T rms]", i, 0));
    expect_shortened(part("J real part [A/m2 rms]", i, 2), -part("J re [A/m2 rms]", i, 0));
    expect_shortened(part("J imaginary part [A/m2 rms]", i, 2), -part("J im [A/m2 rms]", i, 0));
    EXPECT_FLOAT_EQ(
        static_cast<float>(part("r A_phi re [Wb rms]", i, 0)),
        static_cast<float>(file.grid()->GetPoint(i)[0] * part("A_phi re [Wb/m rms]", i, 0)));
  }
}

// Property: air has no temperature, of a state and of a moment of the heating run, and the scale of
// a viewer does not see it; the state is named.
TEST_F(FieldFile, AirHasNoTemperatureAndTheStateAName) {
  const auto field = cw::sample::uniform_field(mesh_, 0.01);
  cw::LocalHeat heat;
  heat.power_density.assign(mesh_.triangles.size(), {});
  heat.kelvin.resize(mesh_.triangles.size());
  for (auto& nodes : heat.kelvin) nodes.fill(500.0);
  cw::write_vtu(folder_ / "state.vtu", {mesh_, field, regions_, nullptr, "past_curie"});
  cw::write_vtu(folder_ / "moment.vtu", {mesh_, field, regions_, &heat, "after 3 s"});
  const ReadBack state(folder_ / "state.vtu"), moment(folder_ / "moment.vtu");
  vtkDataArray* cells = state.grid()->GetCellData()->GetArray("temperature [K]");
  vtkDataArray* points = moment.grid()->GetPointData()->GetArray("temperature [K]");
  for (std::size_t t = 0; t < mesh_.region.size(); ++t) {
    const auto c = static_cast<vtkIdType>(t);
    EXPECT_EQ(std::isnan(cells->GetTuple1(c)), mesh_.region[t] == 0);
    EXPECT_EQ(std::isnan(points->GetTuple1(6 * c + 3)), mesh_.region[t] == 0);
  }
  EXPECT_DOUBLE_EQ(cells->GetRange()[0], 313.15);
  EXPECT_DOUBLE_EQ(points->GetRange()[0], 500.0);
  const auto name_in = [](const ReadBack& file) {
    auto* names =
        vtkStringArray::SafeDownCast(file.grid()->GetFieldData()->GetAbstractArray("state"));
    return names == nullptr ? std::string() : std::string(names->GetValue(0));
  };
  EXPECT_EQ(name_in(state), "past_curie");
  EXPECT_EQ(name_in(moment), "after 3 s");
}

// Property: the script beside the files uses only arrays that are in them, and nothing else.
TEST_F(FieldFile, ScriptNamesArraysOfTheFile) {
  const std::string script = cw::viewer_script();
  const ReadBack file(write(cw::sample::uniform_field(mesh_, 0.01)));
  for (const char* name : {"power density [W/m3]", "r A_phi re [Wb rms]", "|B| [T rms]"}) {
    EXPECT_NE(script.find(name), std::string::npos) << name;
    EXPECT_NE(file.grid()->GetPointData()->GetArray(name), nullptr) << name;
  }
  EXPECT_NE(script.find("region id"), std::string::npos);
  EXPECT_NE(file.grid()->GetCellData()->GetArray("region id"), nullptr);
  for (const char* words : {"SetScaleToLog10", "SetNonlinearSubdivisionLevel", "SetTitle"})
    EXPECT_NE(script.find(words), std::string::npos) << words;
  EXPECT_EQ(script.find("http"), std::string::npos);
}

/// Decimal commas and grouped thousands, as some locales have them.
struct Commas : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

std::string file_bytes(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

// Property: the bytes do not depend on the locale of the program, which is left as it was.
TEST_F(FieldFile, IsIndependentOfTheLocale) {
  const cw::FieldSolution field = cw::sample::uniform_field(mesh_, 0.01);
  const std::string plain = file_bytes(write(field));
  const std::locale before = std::locale::global(std::locale(std::locale::classic(), new Commas));
  std::setlocale(LC_NUMERIC, "de_DE.UTF-8");  // where installed
  const std::string commas = file_bytes(write(field));
  std::ostringstream probe;
  probe << 1.5;
  std::setlocale(LC_NUMERIC, "C");
  std::locale::global(before);
  EXPECT_EQ(probe.str(), "1,5");
  EXPECT_TRUE(plain == commas);
}

// Property: a folder that is not there gives a sentence with the path, and nothing is left behind.
TEST_F(FieldFile, SaysWhereItCouldNotWrite) {
  const fs::path path = folder_ / "missing" / "field.vtu";
  try {
    cw::write_vtu(path, {mesh_, cw::sample::uniform_field(mesh_, 0.01), regions_});
    FAIL() << "no exception";
  } catch (const cw::WriteError& e) {
    EXPECT_NE(std::string(e.what()).find(path.string()), std::string::npos);
  }
  EXPECT_TRUE(fs::is_empty(folder_));
}

// Property: the collection names every step's file with its time.
TEST(FieldCollection, NamesTheSteps) {
  const std::string text = cw::field_collection({{0.0, "a.vtu"}, {2.5, "b.vtu"}});
  EXPECT_NE(text.find("timestep=\"0\" group=\"\" part=\"0\" file=\"a.vtu\""), std::string::npos)
      << text;
  EXPECT_NE(text.find("timestep=\"2.5\" group=\"\" part=\"0\" file=\"b.vtu\""), std::string::npos)
      << text;
}

// Property: a step that has a name has it in the collection.
TEST(FieldCollection, NamesAreSaid) {
  const std::string text = cw::field_collection({{0.0, "a.vtu", "cold"}, {1.0, "b.vtu"}});
  EXPECT_NE(text.find("file=\"a.vtu\" name=\"cold\"/>"), std::string::npos) << text;
  EXPECT_NE(text.find("file=\"b.vtu\"/>"), std::string::npos) << text;
}

}  // namespace
