#include "postproc/viewer/poly_file.hpp"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkDoubleArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkStringArray.h>
#include <vtkXMLPolyDataWriter.h>

#include <cmath>

#include "postproc/result/classic_locale.hpp"
#include "postproc/viewer/one_thread.hpp"
#include "postproc/viewer/vtk_file.hpp"

namespace cw {

namespace {

void add_values(vtkFieldData* data, const std::vector<PolySurface::Values>& all) {
  for (const auto& values : all) {
    vtkNew<vtkDoubleArray> array;
    array->SetName(values.name.c_str());
    array->SetNumberOfTuples(static_cast<vtkIdType>(values.values.size()));
    for (std::size_t i = 0; i < values.values.size(); ++i)
      array->SetValue(static_cast<vtkIdType>(i), values.values[i]);
    data->AddArray(array);
  }
}

void add_words(vtkFieldData* data, const char* name, const std::vector<std::string>& texts) {
  vtkNew<vtkStringArray> array;
  array->SetName(name);
  for (const std::string& text : texts) array->InsertNextValue(text);
  data->AddArray(array);
}

}  // namespace

std::array<double, 3> in_the_room(double r, double phi, double z) {
  return {r * std::cos(phi), z, -r * std::sin(phi)};
}

void write_poly_file(const std::filesystem::path& path, const PolySurface& surface) {
  const ClassicLocale decimal_points;
  stay_in_one_thread();
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  for (const auto& p : surface.points) points->InsertNextPoint(p.data());
  vtkNew<vtkCellArray> polygons;
  for (const auto& polygon : surface.polygons) {
    polygons->InsertNextCell(static_cast<int>(polygon.size()));
    for (const std::int64_t point : polygon) polygons->InsertCellPoint(point);
  }
  vtkNew<vtkPolyData> poly;
  poly->SetPoints(points);
  poly->SetPolys(polygons);
  add_values(poly->GetPointData(), surface.at_points);
  add_values(poly->GetCellData(), surface.at_polygons);
  if (!surface.at_points.empty())
    poly->GetPointData()->SetActiveScalars(surface.at_points.front().name.c_str());
  if (!surface.region_names.empty())
    add_words(poly->GetFieldData(), "region names", surface.region_names);
  if (!surface.state.empty()) add_words(poly->GetFieldData(), "state", {surface.state});
  vtkNew<vtkXMLPolyDataWriter> writer;
  writer->SetInputData(poly);
  write_vtk_file(path, *writer);
}

}  // namespace cw
