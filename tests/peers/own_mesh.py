"""Triangles round the shapes of a heater, made with Gmsh without a line of ours.

Even triangles of third order, graded: small against the skin depth at surfaces, growing on both sides,
smaller still near corners. Round shapes are true circles. The half-plane ends in a half circle with a shell
round it; what the shell stands for is up to the solver.
"""

import math

import gmsh
import numpy as np

EDGE_PER_SKIN_DEPTH = 0.2  # at the surface of a conductor
EDGE_PER_GAP = 0.25  # of gaps to other shapes, and of the shape's own thickness
EDGE_AT_CORNER = 0.02  # of the edge at the surface; corners of conductors and of magnetic bodies
GROWTH = 0.3  # of the edge with the distance from a surface
EDGE_FAR = 0.12  # of the radius of the half circle
ROOM = 2.0  # radius of the half circle over that of the smallest that holds all shapes
MM = 1e-3  # Gmsh works in millimetres: its tolerances are made for numbers near 1


class Shape:
    """A region of the case in millimetres: its loops of points, or its circles."""

    def __init__(self, region):
        shape = region["shape_m"]
        self.name = region["name"]
        skin = region["skin_depth_m"]
        self.skin_depth = math.inf if skin is None else skin / MM
        self.round = "radius" in shape
        if self.round:
            self.centre = np.array(shape["centre"]) / MM
            self.radii = [r / MM for r in (shape["radius"], shape["bore"]) if r > 0]
        else:
            self.loops = [np.array(loop) / MM for loop in [shape["outline"], *shape["holes"]]]
        magnetic = abs(region["reluctivity_m_per_H"] * 4e-7 * math.pi - 1) > 1e-3
        self.has_corners = not self.round and (math.isfinite(self.skin_depth) or magnetic)

    def draw(self):
        """The tag of its surface."""
        occ = gmsh.model.occ
        if self.round:
            circles = [occ.addCircle(*self.centre, 0, radius) for radius in self.radii]
            return occ.addPlaneSurface([occ.addCurveLoop([circle]) for circle in circles])
        loops = []
        for loop in self.loops:
            points = [occ.addPoint(*p, 0) for p in loop]
            lines = [occ.addLine(points[k - 1], points[k]) for k in range(len(points))]
            loops.append(occ.addCurveLoop(lines))
        return occ.addPlaneSurface(loops)

    def outline(self):
        """Points along its border, not along the axis, closer than its thickness."""
        if self.round:
            angle = np.linspace(0, 2 * np.pi, 200, endpoint=False)
            ring = np.column_stack([np.cos(angle), np.sin(angle)])
            return np.concatenate([self.centre + radius * ring for radius in self.radii])
        points = []
        for loop in self.loops:
            for start, end in zip(loop, np.roll(loop, -1, axis=0)):
                if start[0] > 0 or end[0] > 0:
                    along = np.linspace(0, 1, 2 + int(np.linalg.norm(end - start) / 0.2))[:, None]
                    points.append(start + along * (end - start))
        return np.concatenate(points)

    def thickness(self):
        if self.round:
            return self.radii[0] - self.radii[1] if len(self.radii) == 2 else self.radii[0]
        area = perimeter = 0.0
        for loop in self.loops:
            following = np.roll(loop, -1, axis=0)
            area += 0.5 * np.sum(loop[:, 0] * following[:, 1] - loop[:, 1] * following[:, 0])
            perimeter += np.sum(np.linalg.norm(following - loop, axis=1))
        return 2 * area / perimeter

    def corners(self):
        """Those off the axis; a point on the axis is not an edge of the solid."""
        return [p for loop in self.loops for p in loop if p[0] > 0] if self.has_corners else []


class Drawing:
    """The half-plane with all shapes, cut where they meet."""

    def __init__(self, shapes):
        self.shapes = shapes
        every = np.concatenate([shape.outline() for shape in shapes])
        self.middle = (every[:, 1].min() + every[:, 1].max()) / 2
        self.radius = ROOM * np.hypot(every[:, 0], every[:, 1] - self.middle).max()
        occ = gmsh.model.occ
        tools = [self.half_disc(self.radius)] + [shape.draw() for shape in shapes]
        whole = [(2, self.half_disc(2 * self.radius))]
        _, parts = occ.fragment(whole, [(2, tag) for tag in tools])
        occ.synchronize()
        pieces = [{tag for _, tag in part} for part in parts]
        self.shell = pieces[0] - pieces[1]
        self.of_shape = pieces[2:]
        self.air = pieces[1].difference(*self.of_shape)

    def half_disc(self, radius):
        occ = gmsh.model.occ
        places = [(0, -radius), (radius, 0), (0, radius), (0, 0)]
        low, side, high, centre = [occ.addPoint(r, self.middle + z, 0) for r, z in places]
        curves = [occ.addCircleArc(low, centre, side), occ.addCircleArc(side, centre, high), occ.addLine(high, low)]
        return occ.addPlaneSurface([occ.addCurveLoop(curves)])

    def surface_edge(self, k):
        """Wanted length of edges at the surface of shape k."""
        shape = self.shapes[k]
        here = shape.outline()
        gap = math.inf
        for other in self.shapes[:k] + self.shapes[k + 1:]:
            apart = min(np.linalg.norm(other.outline() - p, axis=1).min() for p in here[::3])
            gap = min(gap, apart if apart > 1e-6 else math.inf)
        return min(EDGE_PER_SKIN_DEPTH * shape.skin_depth, EDGE_PER_GAP * min(gap, shape.thickness()))

    def border(self, k):
        """Curves of shape k that are not on the axis."""
        curves = {abs(tag) for piece in self.of_shape[k] for _, tag in gmsh.model.getBoundary([(2, piece)])}
        return [tag for tag in curves if gmsh.model.getBoundingBox(1, tag)[3] > 1e-6]


class Grading:
    """Edge lengths growing with the distance from curves and points."""

    def __init__(self, largest, growth):
        self.field = gmsh.model.mesh.field
        self.largest, self.growth = largest, growth
        self.parts = []

    def grow_from(self, kind, tags, edge):
        distance = self.field.add("Distance")
        self.field.setNumbers(distance, kind, tags)
        if kind == "EdgesList":
            longest = max(gmsh.model.occ.getMass(1, tag) for tag in tags)
            self.field.setNumber(distance, "NNodesByEdge", 2 + math.ceil(2 * longest / edge))
        part = self.field.add("Threshold")
        self.field.setNumber(part, "IField", distance)
        reach = (self.largest - edge) / self.growth
        for key, value in {"LcMin": edge, "LcMax": self.largest, "DistMin": 0, "DistMax": reach}.items():
            self.field.setNumber(part, key, value)
        self.parts.append(part)

    def use(self):
        least = self.field.add("Min")
        self.field.setNumbers(least, "FieldsList", self.parts)
        self.field.setAsBackgroundMesh(least)


def stepped(edge):
    """The next shorter of few lengths: shapes of one length are one field to Gmsh, which asks each at every point."""
    return 1.1 ** math.floor(math.log(edge, 1.1))


def grade(drawing, scale):
    grading = Grading(scale * EDGE_FAR * drawing.radius, scale * GROWTH)
    curves, corners = {}, {}
    every = {tuple(np.round(gmsh.model.getValue(0, tag, [])[:2], 6)): tag for _, tag in gmsh.model.getEntities(0)}
    for k, shape in enumerate(drawing.shapes):
        edge = stepped(scale * drawing.surface_edge(k))
        curves.setdefault(edge, set()).update(drawing.border(k))
        corners.setdefault(edge, set()).update(every[tuple(np.round(p, 6))] for p in shape.corners())
    for edge, tags in curves.items():
        grading.grow_from("EdgesList", sorted(tags), edge)
        if corners[edge]:
            grading.grow_from("NodesList", sorted(corners[edge]), EDGE_AT_CORNER * edge)
    grading.use()


class OwnMesh:
    """Points [m], triangles of ten nodes in Gmsh's order, and the region of each: 0 air, 1.. the case's, -1 the
    shell from `radius` to twice that about (0, `middle`)."""

    def __init__(self, case, scale):
        gmsh.initialize()
        for option, value in {
            "General.Terminal": 0,
            "General.NumThreads": 1,
            "Mesh.Algorithm": 6,
            "Mesh.CharacteristicLengthExtendFromBoundary": 0,
            "Mesh.CharacteristicLengthFromPoints": 0,
        }.items():
            gmsh.option.setNumber(option, value)
        drawing = Drawing([Shape(region) for region in case["regions"]])
        grade(drawing, scale)
        gmsh.model.mesh.generate(2)
        gmsh.model.mesh.setOrder(3)
        self.radius, self.middle = MM * drawing.radius, MM * drawing.middle
        self.take([(0, drawing.air), (-1, drawing.shell), *enumerate(drawing.of_shape, 1)])
        gmsh.finalize()

    def take(self, surfaces):
        tags, places, _ = gmsh.model.mesh.getNodes()
        cells, regions = [], []
        for region, pieces in surfaces:
            for piece in pieces:
                _, _, nodes = gmsh.model.mesh.getElements(2, piece)
                cells.append(nodes[0].reshape(-1, 10))
                regions.append(np.full(len(cells[-1]), region))
        used, self.cells = np.unique(np.concatenate(cells), return_inverse=True)
        self.cells = self.cells.reshape(-1, 10).astype(np.int64)
        self.regions = np.concatenate(regions)
        row = np.zeros(int(tags.max()) + 1, dtype=np.int64)
        row[tags] = np.arange(len(tags))
        self.points = MM * places.reshape(-1, 3)[row[used], :2]
