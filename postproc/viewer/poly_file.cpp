#include "postproc/viewer/poly_file.hpp"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkDoubleArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkXMLPolyDataWriter.h>

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

}  // namespace

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
  vtkNew<vtkXMLPolyDataWriter> writer;
  writer->SetInputData(poly);
  write_vtk_file(path, *writer);
}

}  // namespace cw
