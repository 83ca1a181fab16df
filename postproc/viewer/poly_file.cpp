#include "postproc/viewer/poly_file.hpp"

#include <fmt/core.h>
#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkDoubleArray.h>
#include <vtkNew.h>
#include <vtkObject.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkXMLPolyDataWriter.h>

#include <system_error>

#include "postproc/result/classic_locale.hpp"
#include "postproc/result/write_error.hpp"
#include "postproc/viewer/one_thread.hpp"

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
  const std::filesystem::path part = path.string() + ".part";
  vtkNew<vtkXMLPolyDataWriter> writer;
  writer->SetFileName(part.c_str());
  writer->SetInputData(poly);
  writer->SetDataModeToAppended();
  writer->EncodeAppendedDataOff();
  writer->SetCompressorTypeToZLib();
  // Its own account of a failure would stand beside ours.
  const int loud = vtkObject::GetGlobalWarningDisplay();
  vtkObject::SetGlobalWarningDisplay(0);
  std::error_code error;
  const bool written = writer->Write() == 1 && writer->GetErrorCode() == 0;
  vtkObject::SetGlobalWarningDisplay(loud);
  if (written) std::filesystem::rename(part, path, error);
  if (!written || error) {
    std::error_code ignored;
    std::filesystem::remove(part, ignored);
    throw WriteError(fmt::format(
        "{}: the surface could not be written; is the disk full or the folder read-only?",
        path.string()));
  }
}

}  // namespace cw
