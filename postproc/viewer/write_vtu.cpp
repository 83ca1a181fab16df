#include "postproc/viewer/write_vtu.hpp"

#include <vtkCellData.h>
#include <vtkCellType.h>
#include <vtkDoubleArray.h>
#include <vtkFloatArray.h>
#include <vtkIntArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkStringArray.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridWriter.h>

#include <array>
#include <cassert>
#include <cmath>
#include <limits>

#include "postproc/result/classic_locale.hpp"
#include "postproc/viewer/one_thread.hpp"
#include "postproc/viewer/vtk_file.hpp"
#include "solver/fem/triangle.hpp"

namespace cw {

namespace {

/// Fills one array, a value per item.
template <class Array = vtkDoubleArray, class Value>
void add_array(vtkFieldData* data, const char* name, std::size_t count, Value value) {
  vtkNew<Array> array;
  array->SetName(name);
  array->SetNumberOfTuples(static_cast<vtkIdType>(count));
  for (std::size_t i = 0; i < count; ++i)
    array->SetValue(static_cast<vtkIdType>(i), static_cast<typename Array::ValueType>(value(i)));
  data->AddArray(array);
}

/// For unknown values: viewers leave them out of the scale and draw them separately.
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

/// Arrows for display, with seven digits; the same figures are in the parts with full precision.
template <class Value>
void add_vectors(vtkFieldData* data, const char* name, std::size_t count, Value value) {
  vtkNew<vtkFloatArray> array;
  array->SetName(name);
  array->SetNumberOfComponents(3);
  array->SetNumberOfTuples(static_cast<vtkIdType>(count));
  for (std::size_t i = 0; i < count; ++i) {
    const std::array<double, 3> parts = value(i);
    array->SetTuple(static_cast<vtkIdType>(i), parts.data());
  }
  data->AddArray(array);
}

void add_texts(vtkFieldData* data, const char* name, const std::vector<std::string>& texts) {
  vtkNew<vtkStringArray> array;
  array->SetName(name);
  for (const std::string& text : texts) array->InsertNextValue(text);
  data->AddArray(array);
}

void add_geometry(vtkUnstructuredGrid& grid, const Mesh& mesh) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  points->SetNumberOfPoints(6 * static_cast<vtkIdType>(mesh.triangles.size()));
  grid.Allocate(static_cast<vtkIdType>(mesh.triangles.size()));
  vtkIdType next = 0;
  for (const auto& triangle : mesh.triangles) {
    std::array<vtkIdType, 6> ids{};
    for (std::size_t k = 0; k < 6; ++k) {
      const Point p = mesh.nodes[static_cast<std::size_t>(triangle[k])];
      points->SetPoint(next, p.r, p.z, 0.0);
      ids[k] = next++;
    }
    grid.InsertNextCell(VTK_QUADRATIC_TRIANGLE, 6, ids.data());
  }
  grid.SetPoints(points);
}

std::vector<FieldPoint> field_at_nodes(const FieldView& view) {
  std::vector<FieldPoint> points;
  points.reserve(6 * view.mesh.triangles.size());
  for (std::size_t t = 0; t < view.mesh.triangles.size(); ++t) {
    const FieldInTriangle inside(view.mesh, view.field, t);
    for (const auto& [x, y] : node_places) points.push_back(inside.at(x, y));
  }
  return points;
}

/// B and J as arrows: the real part in phase with the coil current, the imaginary part a quarter
/// period away.
void add_phasor_vectors(vtkPointData* data, const std::vector<FieldPoint>& points) {
  using Part = double (*)(const std::complex<double>&);
  const auto add = [&](const char* of_b, const char* of_j, Part part) {
    add_vectors(data, of_b, points.size(), [&](std::size_t i) {
      return std::array{part(points[i].flux_r), part(points[i].flux_z), 0.0};
    });
    add_vectors(data, of_j, points.size(), [&](std::size_t i) {
      return std::array{0.0, 0.0, -part(points[i].current)};  // phi points away from the eye
    });
  };
  add("B real part [T rms]", "J real part [A/m2 rms]",
      [](const std::complex<double>& c) { return c.real(); });
  add("B imaginary part [T rms]", "J imaginary part [A/m2 rms]",
      [](const std::complex<double>& c) { return c.imag(); });
}

void add_heat(vtkPointData* data, const FieldView& view) {
  const auto& region = view.mesh.region;
  add_array(data, power_density_array, 6 * region.size(),
            [&](std::size_t i) { return view.heat->power_density[i / 6][i % 6]; });
  add_array(data, "temperature [K]", 6 * region.size(), [&](std::size_t i) {
    return region[i / 6] == 0 ? unknown : view.heat->kelvin[i / 6][i % 6];
  });
}

void add_point_data(vtkUnstructuredGrid& grid, const FieldView& view) {
  const std::vector<FieldPoint> points = field_at_nodes(view);
  vtkPointData* data = grid.GetPointData();
  const auto add = [&](const char* name, auto value) {
    add_array(data, name, points.size(), [&](std::size_t i) { return value(points[i]); });
  };
  add("A_phi re [Wb/m rms]", [](const FieldPoint& p) { return p.potential.real(); });
  add("A_phi im [Wb/m rms]", [](const FieldPoint& p) { return p.potential.imag(); });
  add("B_r re [T rms]", [](const FieldPoint& p) { return p.flux_r.real(); });
  add("B_r im [T rms]", [](const FieldPoint& p) { return p.flux_r.imag(); });
  add("B_z re [T rms]", [](const FieldPoint& p) { return p.flux_z.real(); });
  add("B_z im [T rms]", [](const FieldPoint& p) { return p.flux_z.imag(); });
  const auto add_short = [&](const char* name, auto value) {
    add_array<vtkFloatArray>(data, name, points.size(),
                             [&](std::size_t i) { return value(points[i]); });
  };
  add("|B| [T rms]", [](const FieldPoint& p) { return p.flux_rms(); });
  add("J re [A/m2 rms]", [](const FieldPoint& p) { return p.current.real(); });
  add("J im [A/m2 rms]", [](const FieldPoint& p) { return p.current.imag(); });
  add_short("r A_phi re [Wb rms]", [](const FieldPoint& p) { return p.at.r * p.potential.real(); });
  add_short("r A_phi im [Wb rms]", [](const FieldPoint& p) { return p.at.r * p.potential.imag(); });
  add_phasor_vectors(data, points);
  if (view.heat == nullptr)
    add(power_density_array, [](const FieldPoint& p) { return p.power_density; });
  else
    add_heat(data, view);
  data->SetActiveScalars(power_density_array);
  data->SetActiveVectors("B real part [T rms]");
}

/// Skin depth [m]; 0 where no eddy current flows, since a viewer cannot show infinity.
double skin_depth_of(const Medium& medium, Frequency frequency) {
  const double product = frequency.omega() * medium.conductivity / medium.reluctivity;
  return product > 0.0 ? std::sqrt(2.0 / product) : 0.0;
}

void add_cell_data(vtkUnstructuredGrid& grid, const FieldView& view) {
  const auto& region = view.mesh.region;
  vtkCellData* data = grid.GetCellData();
  vtkNew<vtkIntArray> ids;
  ids->SetName("region id");
  for (const RegionId id : region) ids->InsertNextValue(id);
  data->AddArray(ids);
  const auto add = [&](const char* name, auto value) {
    add_array(data, name, region.size(), value);
  };
  const auto conductivity = [&](std::size_t t) {
    return view.field.conductivity_at(view.mesh, t, shape_values(1.0 / 3, 1.0 / 3));
  };
  add("skin depth [m]", [&](std::size_t t) {
    return skin_depth_of({conductivity(t), view.field.reluctivity_of(view.mesh, t)},
                         view.field.frequency);
  });
  if (view.heat == nullptr)
    add("temperature [K]", [&](std::size_t t) {
      if (region[t] == 0) return unknown;
      const RegionInfo& info = view.regions[static_cast<std::size_t>(region[t])];
      if (!info.local) return info.temperature.kelvin;
      const auto& corner = view.mesh.triangles[t];
      const auto& nodes = view.mesh.nodes;
      return info.local((1.0 / 3) * (nodes[corner[0]] + nodes[corner[1]] + nodes[corner[2]]))
          .kelvin;
    });
  add("conductivity [S/m]", conductivity);
  add("mu_r", [&](std::size_t t) { return 1.0 / (mu0 * view.field.reluctivity_of(view.mesh, t)); });
  data->SetActiveScalars("region id");
}

void add_names(vtkUnstructuredGrid& grid, const FieldView& view) {
  vtkFieldData* data = grid.GetFieldData();
  add_texts(data, "region names", view.mesh.region_name);
  std::vector<std::string> materials;
  for (const auto& region : view.regions) materials.push_back(region.material);
  add_texts(data, "material names", materials);
  if (!view.name.empty()) add_texts(data, "state", {view.name});
  add_array(data, "frequency [Hz]", 1, [&](std::size_t) { return view.field.frequency.hertz; });
}

}  // namespace

void write_vtu(const std::filesystem::path& path, const FieldView& view) {
  assert(view.regions.size() == view.mesh.region_name.size());
  assert(view.field.media.size() == view.mesh.region_name.size());
  const ClassicLocale decimal_points;
  stay_in_one_thread();
  vtkNew<vtkUnstructuredGrid> grid;
  add_geometry(*grid, view.mesh);
  add_point_data(*grid, view);
  add_cell_data(*grid, view);
  add_names(*grid, view);

  vtkNew<vtkXMLUnstructuredGridWriter> writer;
  writer->SetInputData(grid);
  write_vtk_file(path, *writer);
}

}  // namespace cw
