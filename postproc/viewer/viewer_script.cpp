#include "postproc/viewer/viewer_script.hpp"

namespace cw {

std::string viewer_script() {
  return R"script(#!/usr/bin/env python3
"""Shows the field files in this folder. Needs the VTK module for Python (Debian: python3-vtk9).

    python3 view_fields.py                       the states, fields.pvd
    python3 view_fields.py heat                  the moments of the heating run, heat.pvd
    python3 view_fields.py --array "|B| [T rms]" another array
    python3 view_fields.py --check               no window: step, name and range of the array

Right and left arrow: next and previous step. Mouse: turn, shift, zoom. q: end.
"""
import argparse
import os
import xml.etree.ElementTree

import vtk

DECADES = 4  # of the logarithmic scale
SUBDIVISION = 3  # of the curved triangles
FLUX_LINES = 18
COLOURS = [(0.09, 0.04, 0.22), (0.26, 0.04, 0.41), (0.42, 0.09, 0.43), (0.58, 0.15, 0.40),
           (0.74, 0.22, 0.33), (0.87, 0.32, 0.23), (0.95, 0.47, 0.10), (0.99, 0.65, 0.04),
           (0.96, 0.84, 0.27), (0.99, 1.00, 0.64)]


def steps_of(collection):
    """Time, file and name of every step."""
    folder = os.path.dirname(os.path.abspath(collection))
    found = xml.etree.ElementTree.parse(collection).getroot().iter("DataSet")
    return [(float(d.get("timestep")), os.path.join(folder, d.get("file")), d.get("name") or "")
            for d in found]


def section_of(file, array):
    """The section as flat triangles, curved ones subdivided, with the array as its scalars."""
    reader = vtk.vtkXMLUnstructuredGridReader()
    reader.SetFileName(file)
    surface = vtk.vtkDataSetSurfaceFilter()
    surface.SetInputConnection(reader.GetOutputPort())
    surface.SetNonlinearSubdivisionLevel(SUBDIVISION)
    surface.Update()
    section = surface.GetOutput()
    if section.GetPointData().GetArray(array) is None:
        to_points = vtk.vtkCellDataToPointData()
        to_points.SetInputData(section)
        to_points.PassCellDataOn()
        to_points.Update()
        section = to_points.GetOutput()
    if section.GetPointData().GetArray(array) is None:
        data = section.GetPointData()
        names = [data.GetArrayName(i) for i in range(data.GetNumberOfArrays())]
        raise SystemExit("no array '%s'; there are: %s" % (array, ", ".join(names)))
    section.GetPointData().SetActiveScalars(array)
    return section


def colours_of(top, logarithmic, bottom):
    table = vtk.vtkLookupTable()
    table.SetNumberOfTableValues(256)
    for i in range(256):
        at = i / 255.0 * (len(COLOURS) - 1)
        k = min(int(at), len(COLOURS) - 2)
        rgb = [a + (at - k) * (b - a) for a, b in zip(COLOURS[k], COLOURS[k + 1])]
        table.SetTableValue(i, *rgb, 1.0)
    if logarithmic:
        table.SetScaleToLog10()
        bottom = top / 10.0**DECADES
    table.SetRange(bottom, top)
    table.SetNanColor(1.0, 1.0, 1.0, 0.0)
    return table


def flux_lines_of(section):
    lines = vtk.vtkContourFilter()
    lines.SetInputData(section)
    lines.SetInputArrayToProcess(0, 0, 0, vtk.vtkDataObject.FIELD_ASSOCIATION_POINTS,
                                 "r A_phi re [Wb rms]")
    low, high = section.GetPointData().GetArray("r A_phi re [Wb rms]").GetRange()
    for k in range(FLUX_LINES):
        lines.SetValue(k, low + (k + 0.5) / FLUX_LINES * (high - low))
    return lines


class Show:
    """One step at a time: the section and its mirror image, flux lines, scale and title."""

    def __init__(self, steps, array):
        self.steps, self.array, self.at = steps, array, 0
        self.logarithmic = array.startswith("power density")
        tops = [section_of(f, array).GetPointData().GetArray(array).GetRange()
                for _, f, _ in steps]
        self.bottom, self.top = min(low for low, _ in tops), max(high for _, high in tops)
        if self.top <= self.bottom:
            self.top = self.bottom + 1.0
        self.renderer = vtk.vtkRenderer()
        self.renderer.SetBackground(1.0, 1.0, 1.0)

    def draw(self):
        self.renderer.RemoveAllViewProps()
        time, file, name = self.steps[self.at]
        section = section_of(file, self.array)
        table = colours_of(self.top, self.logarithmic, self.bottom)
        lines = flux_lines_of(section)
        for side in (1.0, -1.0):
            mapper = vtk.vtkPolyDataMapper()
            mapper.SetInputData(section)
            mapper.SetLookupTable(table)
            mapper.UseLookupTableScalarRangeOn()
            line_mapper = vtk.vtkPolyDataMapper()
            line_mapper.SetInputConnection(lines.GetOutputPort())
            line_mapper.ScalarVisibilityOff()
            for shown in (mapper, line_mapper):
                actor = vtk.vtkActor()
                actor.SetMapper(shown)
                actor.SetScale(side, 1.0, 1.0)
                actor.GetProperty().LightingOff()
                if shown is line_mapper:
                    actor.GetProperty().SetColor(0.4, 0.4, 0.4)
                self.renderer.AddActor(actor)
        bar = vtk.vtkScalarBarActor()
        bar.SetLookupTable(table)
        bar.SetTitle(self.array)
        bar.SetLabelFormat("%.3g")
        bar.GetTitleTextProperty().SetColor(0.1, 0.1, 0.1)
        bar.GetLabelTextProperty().SetColor(0.1, 0.1, 0.1)
        self.renderer.AddActor2D(bar)
        title = vtk.vtkTextActor()
        title.SetInput("%s   (step %d of %d, at %g)" %
                       (name or os.path.basename(file), self.at + 1, len(self.steps), time))
        title.GetTextProperty().SetFontSize(20)
        title.GetTextProperty().SetColor(0.1, 0.1, 0.1)
        title.SetPosition(12, 12)
        self.renderer.AddActor2D(title)

    def key(self, interactor, _event):
        step = {"Right": 1, "Left": -1}.get(interactor.GetKeySym(), 0)
        if step:
            self.at = (self.at + step) % len(self.steps)
            self.draw()
            interactor.GetRenderWindow().Render()

    def run(self):
        window = vtk.vtkRenderWindow()
        window.SetSize(1000, 900)
        window.SetWindowName(self.array)
        window.AddRenderer(self.renderer)
        interactor = vtk.vtkRenderWindowInteractor()
        interactor.SetRenderWindow(window)
        interactor.SetInteractorStyle(vtk.vtkInteractorStyleTrackballCamera())
        interactor.AddObserver("KeyPressEvent", self.key)
        self.draw()
        self.renderer.ResetCamera()
        window.Render()
        interactor.Start()


def main():
    parser = argparse.ArgumentParser(description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("what", nargs="?", choices=["fields", "heat"], default="fields")
    parser.add_argument("--array", default="power density [W/m3]")
    parser.add_argument("--check", action="store_true")
    given = parser.parse_args()
    folder = os.path.dirname(os.path.abspath(__file__))
    steps = steps_of(os.path.join(folder, given.what + ".pvd"))
    if given.check:
        for time, file, name in steps:
            section = section_of(file, given.array)
            low, high = section.GetPointData().GetArray(given.array).GetRange()
            lines = flux_lines_of(section)
            lines.Update()
            print("%g %s %g %g %d" % (time, name, low, high, lines.GetOutput().GetNumberOfCells()))
        return
    Show(steps, given.array).run()


if __name__ == "__main__":
    main()
)script";
}

}  // namespace cw
