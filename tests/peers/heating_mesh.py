"""Triangles for a heating run, made with Gmsh without a line of ours: bodies and walls of tubes in even rows that
grow finer towards their surfaces, air between them, a half circle far away."""

import gmsh
import numpy as np

FAR = 0.6  # radius of the half circle [m], where the field of a small coil is gone
MM = 1e-3


def graded(low, high, coarse, fine, layer):
    """Parts of a line (from, to, number, growth), fine at those of its ends that are surfaces."""
    at_low, at_high = layer
    parts, growth = [], 1.3
    depth = fine * 20
    depth = min(depth, (high - low) / (1 + at_low + at_high))
    count = max(3, int(np.ceil(np.log(1 + depth / fine * (growth - 1)) / np.log(growth))))
    if at_low:
        parts.append((low, low + depth, count, growth))
    a, b = low + depth * at_low, high - depth * at_high
    parts.append((a, b, max(1, int(np.ceil((b - a) / coarse))), 1.0))
    if at_high:
        parts.append((high - depth, high, count, 1 / growth))
    return parts


class HeatingMesh:
    """Points [m], triangles and the region of each: 0 air, 1.. the bodies, then the turns."""

    def __init__(self, case, scale, skin):
        """`skin`: the smallest skin depth of each body at its surface [m]; None: it carries no current."""
        gmsh.initialize()
        gmsh.option.setNumber("General.Terminal", 0)
        gmsh.option.setNumber("General.NumThreads", 1)
        gmsh.option.setNumber("Geometry.Tolerance", 1e-9)
        self.scale, self.geo = scale, gmsh.model.geo
        self.points, self.lines = {}, {}
        surfaces = [(1 + k, self.block(body, skin[k], case)) for k, body in enumerate(case.bodies)]
        borders = [loop for _, (_, loop) in surfaces]
        surfaces = [(region, faces) for region, (faces, _) in surfaces]
        holes = []
        first = 1 + len(case.bodies)
        for n, z in enumerate(case.turn_heights):
            faces, outer, inner = self.tube(case, z)
            surfaces.append((first + n, faces))
            borders.append(outer)
            holes.append(self.geo.addPlaneSurface([self.geo.addCurveLoop(inner)]))
        surfaces.append((0, [self.air(borders)] + holes))
        self.geo.synchronize()
        self.grade_air(case)
        gmsh.model.mesh.generate(2)
        self.take(surfaces)
        gmsh.finalize()

    def point(self, r, z, size=0.0):
        key = (round(r, 9), round(z, 9))
        if key not in self.points:
            self.points[key] = self.geo.addPoint(r / MM, z / MM, 0, size / MM)
        return self.points[key]

    def line(self, a, b, count, growth):
        """Tag, negative when it runs from b to a."""
        i, j = self.point(*a), self.point(*b)
        if (j, i) in self.lines:
            return -self.lines[j, i]
        if (i, j) not in self.lines:
            self.lines[i, j] = self.geo.addLine(i, j)
            self.geo.mesh.setTransfiniteCurve(self.lines[i, j], count + 1, "Progression", growth)
        return self.lines[i, j]

    def block(self, body, skin, case):
        """Faces of a rectangle in even rows, and its border without the axis."""
        width, height = body.outer - body.inner, body.top - body.bottom
        if skin is None:
            radial = [(body.inner, body.outer, int(np.ceil(8 / self.scale)), 1.0)]
            axial = [(body.bottom, body.top, int(np.ceil(height / (1.5 * MM * self.scale))), 1.0)]
        else:
            fine = 0.3 * skin * self.scale
            radial = graded(body.inner, body.outer, self.scale * width / 25, fine, (body.inner > 0, True))
            # Far above and below the coil little happens.
            reach = [case.turn_heights[0] - 15 * MM, case.turn_heights[-1] + 15 * MM]
            low, high = max(body.bottom, reach[0]), min(body.top, reach[1])
            axial = graded(low, high, 1.0 * MM * self.scale, fine, (low == body.bottom, high == body.top))
            if high < body.top:
                axial.append((high, body.top, int(np.ceil((body.top - high) / (3 * MM * self.scale))), 1.0))
            if low > body.bottom:
                axial.insert(0, (body.bottom, low, int(np.ceil((low - body.bottom) / (3 * MM * self.scale))), 1.0))
        faces, border = [], []
        for i, (r0, r1, nr, gr) in enumerate(radial):
            for j, (z0, z1, nz, gz) in enumerate(axial):
                sides = [self.line((r0, z0), (r1, z0), nr, gr), self.line((r1, z0), (r1, z1), nz, gz),
                         -self.line((r0, z1), (r1, z1), nr, gr), -self.line((r0, z0), (r0, z1), nz, gz)]
                face = self.geo.addPlaneSurface([self.geo.addCurveLoop(sides)])
                self.geo.mesh.setTransfiniteSurface(face, "Alternated")
                faces.append(face)
                outside = [j == 0, i == len(radial) - 1, j == len(axial) - 1, i == 0 and body.inner > 0]
                border += [side for side, out in zip(sides, outside) if out]
        return faces, border

    def tube(self, case, z):
        """Wall of a tube in rows, its outer and its inner circle."""
        centre = self.geo.addPoint(case.turn_radius / MM, z / MM, 0)
        along, across = int(np.ceil(12 / self.scale)), int(np.ceil(7 / self.scale))
        rings = []
        for radius in (case.tube, case.hole):
            corner = [self.geo.addPoint((case.turn_radius + radius * np.cos(a)) / MM,
                                        (z + radius * np.sin(a)) / MM, 0) for a in np.pi / 2 * np.arange(4)]
            arcs = [self.geo.addCircleArc(corner[n], centre, corner[(n + 1) % 4]) for n in range(4)]
            for arc in arcs:
                self.geo.mesh.setTransfiniteCurve(arc, along + 1)
            rings.append((corner, arcs))
        (outer_points, outer), (inner_points, inner) = rings
        spokes = [self.geo.addLine(a, b) for a, b in zip(outer_points, inner_points)]
        for spoke in spokes:
            self.geo.mesh.setTransfiniteCurve(spoke, across + 1, "Progression", 1.4**self.scale)
        faces = []
        for n in range(4):
            loop = self.geo.addCurveLoop([outer[n], spokes[(n + 1) % 4], -inner[n], -spokes[n]])
            faces.append(self.geo.addPlaneSurface([loop]))
            self.geo.mesh.setTransfiniteSurface(faces[-1], "Alternated")
        return faces, outer, inner

    def air(self, borders):
        """The half disc without what lies in it; pieces of the axis belong to the bodies on it."""
        size = 0.12 * FAR * self.scale
        low, side, high = self.point(0, -FAR, size), self.point(FAR, 0, size), self.point(0, FAR, size)
        middle = self.geo.addPoint(0, 0, 0)
        arcs = [self.geo.addCircleArc(low, middle, side), self.geo.addCircleArc(side, middle, high)]
        on_axis = sorted((z, tag) for (r, z), tag in self.points.items() if r == 0 and abs(z) < FAR)
        loops = list(borders)
        outer = list(arcs)
        if on_axis:
            work = loops.pop(0)  # from its lowest point on the axis round to its highest
            outer += [self.geo.addLine(high, on_axis[-1][1])] + self.reversed_chain(work, on_axis[-1][1])
            outer.append(self.geo.addLine(on_axis[0][1], low))
        else:
            outer.append(self.geo.addLine(high, low))
        return self.geo.addPlaneSurface([self.geo.addCurveLoop(outer)] +
                                        [self.geo.addCurveLoop(self.chain(loop)) for loop in loops])

    def grade_air(self, case):
        """Even where coil and bodies lie, growing with the distance from there."""
        places = [(b.outer, z) for b in case.bodies for z in (b.bottom, b.top)]
        places += [(case.turn_radius + case.tube, z + s * case.tube) for z in case.turn_heights for s in (-1, 1)]
        r, low, high = [f / MM for f in (max(p[0] for p in places), min(p[1] for p in places), max(p[1] for p in places))]
        beyond = [f"0.5*({d}+abs({d}))" for d in (f"(x-{r})", f"(abs(y-{(low + high) / 2})-{(high - low) / 2})")]
        field = gmsh.model.mesh.field.add("MathEval")
        size = f"{self.scale}*(1.3+0.25*sqrt({beyond[0]}^2+{beyond[1]}^2))"
        gmsh.model.mesh.field.setString(field, "F", size)
        gmsh.model.mesh.field.setAsBackgroundMesh(field)

    def ends(self, tag):
        for (i, j), line in self.lines.items():
            if line == abs(tag):
                return (i, j) if tag > 0 else (j, i)
        return None

    def chain(self, loop):
        """The lines of a border in order."""
        if self.ends(loop[0]) is None:
            return loop  # arcs are in order
        left, ordered = list(loop[1:]), [loop[0]]
        while left:
            end = self.ends(ordered[-1])[1]
            k = next(n for n, tag in enumerate(left) if self.ends(tag)[0] == end)
            ordered.append(left.pop(k))
        return ordered

    def reversed_chain(self, loop, start):
        """From a point on backwards along an open border."""
        left, ordered, at = [-tag for tag in loop], [], start
        while left:
            k = next(n for n, tag in enumerate(left) if self.ends(tag)[0] == at)
            ordered.append(left.pop(k))
            at = self.ends(ordered[-1])[1]
        return ordered

    def take(self, surfaces):
        tags, places, _ = gmsh.model.mesh.getNodes()
        cells, regions = [], []
        for region, pieces in surfaces:
            for piece in pieces:
                nodes = gmsh.model.mesh.getElements(2, piece)[2][0]
                cells.append(nodes.reshape(-1, 3))
                regions.append(np.full(len(cells[-1]), region))
        used, self.cells = np.unique(np.concatenate(cells), return_inverse=True)
        self.cells = self.cells.reshape(-1, 3).astype(np.int64)
        self.regions = np.concatenate(regions)
        row = np.zeros(int(tags.max()) + 1, dtype=np.int64)
        row[tags] = np.arange(len(tags))
        self.places = MM * places.reshape(-1, 3)[row[used], :2]
