#include "postproc/viewer/viewer_script.hpp"

namespace cw {

std::string viewer_script() {
  return R"script(#!/usr/bin/env python3
"""Shows the field files in this folder. Needs the VTK module for Python (Debian: python3-vtk9).

    python3 view_fields.py                       the states, fields.pvd
    python3 view_fields.py heat                  the moments of the heating run, heat.pvd
    python3 view_fields.py --array "|B| [T rms]" another array
    python3 view_fields.py --check               no window: step, name and range of the array
    python3 view_fields.py --step 2              begins at the second step
    python3 view_fields.py --picture shown.png   writes what it would show, and ends

Right and left arrow: next and previous step. Mouse: turn, shift, zoom. q: end.
"""
import argparse
import math
import os
import xml.etree.ElementTree

import vtk

DECADES = 4  # of the logarithmic scale
SUBDIVISION = 3  # of the curved triangles
FLUX_LINES = 18
COLOURS = [(0.09, 0.04, 0.22), (0.26, 0.04, 0.41), (0.42, 0.09, 0.43), (0.58, 0.15, 0.40),
           (0.74, 0.22, 0.33), (0.87, 0.32, 0.23), (0.95, 0.47, 0.10), (0.99, 0.65, 0.04),
           (0.96, 0.84, 0.27), (0.99, 1.00, 0.64)]
NOTHING = (0.91, 0.92, 0.93)  # air without power, places without a value
INK = (0.1, 0.1, 0.1)


def steps_of(collection):
    """Time, file and name of every step."""
    folder = os.path.dirname(os.path.abspath(collection))
    found = xml.etree.ElementTree.parse(collection).getroot().iter("DataSet")
    return [(float(d.get("timestep")), os.path.join(folder, d.get("file")), d.get("name") or "")
            for d in found]


def flat_triangles_of(grid):
    """The curved triangles, subdivided."""
    surface = vtk.vtkDataSetSurfaceFilter()
    surface.SetInputData(grid)
    surface.SetNonlinearSubdivisionLevel(SUBDIVISION)
    surface.Update()
    return surface.GetOutput()


def grid_of(file):
    reader = vtk.vtkXMLUnstructuredGridReader()
    reader.SetFileName(file)
    reader.Update()
    return reader.GetOutput()


def section_of(grid, array):
    """The section as flat triangles with the array as its scalars."""
    section = flat_triangles_of(grid)
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


def regions_of(grid, low, high):
    """What lies in these regions; region 0 is air."""
    part = vtk.vtkThreshold()
    part.SetInputData(grid)
    part.SetInputArrayToProcess(0, 0, 0, vtk.vtkDataObject.FIELD_ASSOCIATION_CELLS, "region id")
    part.SetLowerThreshold(low - 0.5)
    part.SetUpperThreshold(high + 0.5)
    part.Update()
    return part.GetOutput()


def last_region_of(grid):
    return int(grid.GetCellData().GetArray("region id").GetRange()[1])


def outlines_of(grid):
    """The edges of every body."""
    edges = vtk.vtkAppendPolyData()
    edges.AddInputData(vtk.vtkPolyData())
    for region in range(1, last_region_of(grid) + 1):
        joined = vtk.vtkCleanPolyData()  # subdivided triangles do not share their points
        joined.SetInputData(flat_triangles_of(regions_of(grid, region, region)))
        joined.ToleranceIsAbsoluteOn()
        joined.SetAbsoluteTolerance(1e-7)
        edge = vtk.vtkFeatureEdges()
        edge.SetInputConnection(joined.GetOutputPort())
        edge.FeatureEdgesOff()
        edge.ManifoldEdgesOff()
        edge.NonManifoldEdgesOff()
        edges.AddInputConnection(edge.GetOutputPort())
    edges.Update()
    return edges.GetOutput()


def colours_of(top, logarithmic, bottom):
    table = vtk.vtkLookupTable()
    table.SetNumberOfTableValues(256)
    for i in range(256):
        at = i / 255.0 * (len(COLOURS) - 1)
        k = min(int(at), len(COLOURS) - 2)
        rgb = [a + (at - k) * (b - a) for a, b in zip(COLOURS[k], COLOURS[k + 1])]
        table.SetTableValue(i, *rgb, 1.0)
    if logarithmic and top > 0.0:
        decade = 10.0**math.floor(math.log10(top))
        top = next(step * decade for step in (1, 2, 5, 10) if step * decade >= top)
        bottom = top / 10.0**DECADES
        table.SetScaleToLog10()
    table.SetRange(bottom, top)
    table.SetNanColor(*NOTHING, 1.0)
    return table


def flux_lines_of(section):
    lines = vtk.vtkContourFilter()
    lines.SetInputData(section)
    lines.SetInputArrayToProcess(0, 0, 0, vtk.vtkDataObject.FIELD_ASSOCIATION_POINTS,
                                 "r A_phi re [Wb rms]")
    low, high = section.GetPointData().GetArray("r A_phi re [Wb rms]").GetRange()
    for k in range(FLUX_LINES):
        lines.SetValue(k, low + (k + 0.5) / FLUX_LINES * (high - low))
    lines.Update()
    return lines.GetOutput()


def bar_of(table, title, logarithmic):
    bar = vtk.vtkScalarBarActor()
    bar.SetLookupTable(table)
    bar.SetTitle(title)
    bar.SetNumberOfLabels(DECADES + 1)
    bar.SetLabelFormat("%.0e" if logarithmic else "%.3g")
    bar.UnconstrainedFontSizeOn()
    bar.SetVerticalTitleSeparation(14)
    bar.SetPosition(0.28, 0.15)
    bar.SetWidth(0.4)
    bar.SetHeight(0.7)
    for text, size in ((bar.GetTitleTextProperty(), 16), (bar.GetLabelTextProperty(), 14)):
        text.SetColor(*INK)
        text.SetFontSize(size)
        text.BoldOff()
        text.ItalicOff()
        text.ShadowOff()
    return bar


class Show:
    """One step at a time: the section and its mirror image, flux lines, scale and title."""

    def __init__(self, steps, array, at):
        self.steps, self.array, self.at = steps, array, min(max(at, 1), len(steps)) - 1
        self.only_bodies = array.startswith("power density")  # there is none in air
        self.logarithmic = self.only_bodies or array.startswith("|")
        tops = [section_of(grid_of(f), array).GetPointData().GetArray(array).GetRange()
                for _, f, _ in steps]
        self.bottom, self.top = min(low for low, _ in tops), max(high for _, high in tops)
        if self.top <= self.bottom:
            self.top = self.bottom + 1.0
        self.window = vtk.vtkRenderWindow()
        self.window.SetSize(1100, 900)
        self.window.SetWindowName(array)
        self.outlines = vtk.vtkPolyData()
        self.renderer, self.margin = self.part_of_window(0.0, 0.82), self.part_of_window(0.82, 1.0)
        self.renderer.GetActiveCamera().ParallelProjectionOn()

    def part_of_window(self, left, right):
        renderer = vtk.vtkRenderer()
        renderer.SetBackground(1.0, 1.0, 1.0)
        renderer.SetViewport(left, 0.0, right, 1.0)
        self.window.AddRenderer(renderer)
        return renderer

    def add_lines(self, lines, side, colour, width):
        mapper = vtk.vtkPolyDataMapper()
        mapper.SetInputData(lines)
        mapper.ScalarVisibilityOff()
        # They lie in the plane of the section: drawn before it, not within it.
        mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0.0, -100.0)
        self.add(mapper, side, colour, width)

    def add(self, mapper, side, colour=(1.0, 1.0, 1.0), width=1.0):
        actor = vtk.vtkActor()
        actor.SetMapper(mapper)
        actor.SetScale(side, 1.0, 1.0)
        actor.GetProperty().LightingOff()
        actor.GetProperty().SetColor(*colour)
        actor.GetProperty().SetLineWidth(width)
        self.renderer.AddActor(actor)

    def title(self):
        _, file, name = self.steps[self.at]
        text = vtk.vtkTextActor()
        text.SetInput("%s\n%d of %d" %
                      (name or os.path.basename(file), self.at + 1, len(self.steps)))
        text.GetTextProperty().SetFontSize(17)
        text.GetTextProperty().SetColor(*INK)
        text.SetPosition(12, 800)
        return text

    def draw(self):
        self.renderer.RemoveAllViewProps()
        self.margin.RemoveAllViewProps()
        grid = grid_of(self.steps[self.at][1])
        lines, self.outlines = flux_lines_of(section_of(grid, self.array)), outlines_of(grid)
        coloured = regions_of(grid, 1 if self.only_bodies else 0, last_region_of(grid))
        section, air = section_of(coloured, self.array), flat_triangles_of(regions_of(grid, 0, 0))
        table = colours_of(self.top, self.logarithmic, self.bottom)
        vtk.vtkMapper.SetResolveCoincidentTopologyToPolygonOffset()
        for side in (1.0, -1.0):
            mapper = vtk.vtkPolyDataMapper()
            mapper.SetInputData(section)
            mapper.SetLookupTable(table)
            mapper.UseLookupTableScalarRangeOn()
            self.add(mapper, side)
            if self.only_bodies:
                plain = vtk.vtkPolyDataMapper()
                plain.SetInputData(air)
                plain.ScalarVisibilityOff()
                self.add(plain, side, NOTHING)
            self.add_lines(lines, side, (0.55, 0.58, 0.62), 1.0)
            self.add_lines(self.outlines, side, INK, 1.5)
        self.margin.AddActor2D(bar_of(table, self.array, self.logarithmic))
        self.margin.AddActor2D(self.title())

    def key(self, interactor, _event):
        step = {"Right": 1, "Left": -1}.get(interactor.GetKeySym(), 0)
        if step:
            self.at = (self.at + step) % len(self.steps)
            self.draw()
            self.window.Render()

    def first(self):
        self.draw()
        right, low, high = self.outlines.GetBounds()[1:4]  # what stands in the field, both halves
        self.renderer.ResetCamera(-right, right, low, high, 0.0, 0.0)
        self.renderer.GetActiveCamera().Zoom(0.95)
        self.window.Render()

    def run(self):
        interactor = vtk.vtkRenderWindowInteractor()
        interactor.SetRenderWindow(self.window)
        interactor.SetInteractorStyle(vtk.vtkInteractorStyleTrackballCamera())
        interactor.AddObserver("KeyPressEvent", self.key)
        self.first()
        interactor.Start()

    def picture(self, file):
        self.window.OffScreenRenderingOn()
        self.first()
        image = vtk.vtkWindowToImageFilter()
        image.SetInput(self.window)
        writer = vtk.vtkPNGWriter()
        writer.SetInputConnection(image.GetOutputPort())
        writer.SetFileName(file)
        writer.Write()


def check(steps, array):
    for time, file, name in steps:
        section = section_of(grid_of(file), array)
        low, high = section.GetPointData().GetArray(array).GetRange()
        print("%g %s %g %g %d" % (time, name, low, high, flux_lines_of(section).GetNumberOfCells()))


def main():
    parser = argparse.ArgumentParser(description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("what", nargs="?", choices=["fields", "heat"], default="fields")
    parser.add_argument("--array", default="power density [W/m3]")
    parser.add_argument("--step", type=int, default=1)
    parser.add_argument("--check", action="store_true")
    parser.add_argument("--picture", metavar="FILE.png")
    given = parser.parse_args()
    folder = os.path.dirname(os.path.abspath(__file__))
    steps = steps_of(os.path.join(folder, given.what + ".pvd"))
    if given.check:
        check(steps, given.array)
    elif given.picture:
        Show(steps, given.array, given.step).picture(given.picture)
    else:
        Show(steps, given.array, given.step).run()


if __name__ == "__main__":
    main()
)script";
}

}  // namespace cw
