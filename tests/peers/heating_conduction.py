"""Conduction in the bodies of a heater with the enthalpy of their substances, by forms of dolfinx: second order in
space, and in time by two implicit stages (R. Alexander, SIAM J. Numer. Anal. 14 (1977) 1006, from memory)."""

import basix
import numpy as np
import scipy.sparse as sparse
import ufl
from dolfinx import fem, mesh
from dolfinx.fem.petsc import assemble_matrix, assemble_vector
from heating_field import DEGREE
from scipy.sparse.linalg import splu

GAMMA = 1 - np.sqrt(0.5)
SAMPLES = 120  # of the surface, to each edge


class Conduction:
    """Temperatures at the nodes of the bodies; media at the quadrature points of the field."""

    def __init__(self, case, field, surroundings):
        self.case, self.field, self.surroundings = case, field, surroundings
        self.space, self.points = field.space, field.at_points
        kind = (field.region > 0) & (field.region <= len(case.bodies))
        tags = mesh.meshtags(field.domain, 2, np.arange(len(kind), dtype=np.int32), kind.astype(np.int32))
        dx = ufl.Measure("dx", field.domain, subdomain_data=tags,
                         metadata={"quadrature_degree": DEGREE, "quadrature_scheme": "default"})(1)
        self.T, self.h, self.c, self.k, self.q = fem.Function(self.space), *(fem.Function(self.points) for _ in range(4))
        r = ufl.SpatialCoordinate(field.domain)[0]
        T, v = ufl.TrialFunction(self.space), ufl.TestFunction(self.space)

        def form(expression):
            return fem.form(expression * 2 * np.pi * r * dx, jit_params=field.jit)

        self.stored_form = form(ufl.inner(self.h, v))
        self.source_form = form(ufl.inner(self.q, v))
        self.flow_form = form(ufl.inner(self.k * ufl.grad(self.T), ufl.grad(v)))
        self.capacity_form = form(ufl.inner(self.c * T, v))
        self.conductance_form = form(ufl.inner(self.k * ufl.grad(T), ufl.grad(v)))
        points, _ = basix.make_quadrature(basix.CellType.triangle, DEGREE)
        self.T_at = fem.Expression(self.T, points, jit_params=field.jit)
        cells = self.space.dofmap.list.array.reshape(len(kind), -1)
        self.active = np.unique(cells[kind])
        self.of_body = [np.unique(cells[field.region == 1 + k]) for k in range(len(case.bodies))]
        self.place = self.space.tabulate_dof_coordinates()[:, :2]
        self.T.x.array[:] = case.start
        self.rings = self.ring_means()

    def ring_means(self):
        """Mean temperature of every ring of the surfaces, as a matrix over the active unknowns."""
        radiation = self.surroundings.radiation
        row_of = np.full(len(self.place), -1)
        row_of[self.active] = np.arange(len(self.active))
        rows, columns, values = [], [], []
        s = (np.arange(SAMPLES) + 0.5) / SAMPLES
        shapes = np.array([(1 - s) * (1 - 2 * s), 4 * s * (1 - s), s * (2 * s - 1)])
        for k, strip in enumerate(radiation.own):
            own = self.of_body[strip.body]
            along = strip.b - strip.a
            length = np.linalg.norm(along)
            away = np.abs((self.place[own] - strip.a) @ strip.normal)
            share = (self.place[own] - strip.a) @ along / length**2
            on = (away < 1e-8) & (share > -1e-6) & (share < 1 + 1e-6)
            order = np.argsort(share[on])
            dofs, share = own[on][order], share[on][order]
            for n in range(0, len(dofs) - 2, 2):
                at = share[n] + s * (share[n + 2] - share[n])
                radius = strip.a[0] + at * along[0]
                weight = 2 * np.pi * radius * length * (share[n + 2] - share[n]) / SAMPLES
                ring = radiation.first[k] + np.minimum((at * strip.rings).astype(int), strip.rings - 1)
                for m in range(3):
                    rows.append(ring)
                    columns.append(np.full(SAMPLES, row_of[dofs[n + m]]))
                    values.append(weight * shapes[m])
        means = sparse.coo_matrix((np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))),
                                  (len(radiation.areas), len(self.active))).tocsr()
        sums = np.asarray(means.sum(axis=1)).ravel()
        assert np.allclose(sums, radiation.areas, rtol=0.02), sums / radiation.areas
        return sparse.diags(1 / sums) @ means

    def kelvin_at_points(self):
        """Of each body, cells x points."""
        return [self.T_at.eval(cells).reshape(len(cells), -1).real for cells in self.field.bodies]

    def set_media(self):
        for body, cells, kelvin in zip(self.case.bodies, self.field.bodies, self.kelvin_at_points()):
            s, dofs = body.substance, self.field.dofs[cells]
            self.h.x.array[dofs] = s.law(s.h_law, kelvin)
            self.c.x.array[dofs] = s.law(s.c_law, kelvin)
            self.k.x.array[dofs] = s.law(s.k_law, kelvin)

    def vector(self, form):
        return assemble_vector(form).array.real[self.active]

    def matrix(self, form):
        matrix = assemble_matrix(form)
        matrix.assemble()
        start, column, value = matrix.getValuesCSR()
        size = len(start) - 1
        found = sparse.csr_matrix((value.real, column, start), (size, size))[self.active][:, self.active]
        matrix.destroy()
        return found

    def stage(self, known, span, source):
        """T with H(T) = known + span (source - flow - loss); what flows in at T [W]."""
        for _ in range(40):
            self.set_media()
            T = self.T.x.array[self.active].real
            loss, slope, by_way = self.surroundings.given(self.rings @ T)
            rate = source - self.vector(self.flow_form) - self.rings.T @ loss
            residual = self.vector(self.stored_form) - known - span * rate
            jacobian = self.matrix(self.capacity_form) + span * (
                self.matrix(self.conductance_form) + self.rings.T @ sparse.csr_matrix(slope) @ self.rings)
            step = splu(jacobian.tocsc()).solve(-residual)
            self.T.x.array[self.active] += step
            if np.abs(step).max() < 5e-3:
                self.by_way = by_way
                return rate
        raise RuntimeError("conduction does not settle")

    def sources(self, densities):
        for cells, density in zip(self.field.bodies, densities):
            self.q.x.array[self.field.dofs[cells]] = density
        return self.vector(self.source_form)

    def foresee(self, start, span, source):
        """Approximate result of step(), by one implicit stage."""
        self.T.x.array[:] = start
        self.set_media()
        self.stage(self.vector(self.stored_form), span, source)

    def step(self, start, span, before, after):
        """From temperatures `start` over `span` [s] with sources that change evenly."""
        self.T.x.array[:] = start
        self.set_media()
        stored = self.vector(self.stored_form)
        rate = self.stage(stored, GAMMA * span, before + GAMMA * (after - before))
        self.stage(stored + (1 - GAMMA) * span * rate, GAMMA * span, after)
