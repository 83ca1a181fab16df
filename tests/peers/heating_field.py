"""Field of a heater at given temperatures, current and frequency, by dolfinx.

The unknown is w = A / r, second order on straight triangles. In magnetic bodies the permeability at every
quadrature point is that of an effective law: sqrt(2) times the rms of B(H sin wt) over a period, over H, with
B(H, T) = m B(H/m, 20 degC), where m(T) is the share of the saturation that is left. It is found by repetition:
the field strength of the last solution gives the permeability of the next.
"""

import basix
import numpy as np
import ufl
from dolfinx import fem, mesh
from dolfinx.fem.petsc import assemble_matrix, assemble_vector
from mpi4py import MPI
from petsc4py import PETSc

MU0 = 4e-7 * np.pi
DEGREE = 5  # of quadrature
SETTLED = 4e-4  # of the power from one repetition to the next


class EffectiveLaw:
    """ln B over ln H, peak values, at 20 degC: the Froehlich-Kennelly form J = Js H / (H + a)."""

    def __init__(self, substance):
        self.log_h = np.linspace(np.log(1e-2), np.log(1e8), 1200)
        h = np.exp(self.log_h)
        x, weight = np.polynomial.legendre.leggauss(400)
        x, weight = 0.5 * (x + 1), 0.5 * weight
        wave = np.sin(0.5 * np.pi * x**3)  # points crowd where B is steep
        momentary = MU0 * h[:, None] * wave + substance.saturation * h[:, None] * wave / (
            h[:, None] * wave + substance.half_field)
        mean_square = (momentary**2) @ (weight * 3 * x**2)
        self.log_b = 0.5 * np.log(2 * mean_square)

    def reluctivity(self, h_rms, share):
        """H/B [m/H] where the field is H, rms."""
        m = np.maximum(share, 1e-6)
        log_h = np.log(np.maximum(np.sqrt(2) * h_rms / m, 1e-2))
        nu = np.exp(log_h - np.interp(log_h, self.log_h, self.log_b))
        return np.where(share > 0, nu, 1 / MU0)


class HeatingField:
    """One mesh: spaces, coefficients at quadrature points, and forms."""

    def __init__(self, case, own, cache):
        self.case = case
        cell = ufl.triangle
        self.domain = mesh.create_mesh(MPI.COMM_SELF, own.cells, own.places,
                                       ufl.Mesh(ufl.VectorElement("Lagrange", cell, 1)))
        self.region = own.regions[self.domain.topology.original_cell_index]
        self.space = fem.FunctionSpace(self.domain, ("Lagrange", 2))
        element = ufl.FiniteElement("Quadrature", cell, degree=DEGREE, quad_scheme="default")
        self.at_points = fem.FunctionSpace(self.domain, element)
        self.jit = {"cache_dir": cache}
        self.dx = ufl.Measure("dx", self.domain, metadata={"quadrature_degree": DEGREE, "quadrature_scheme": "default"})
        self.nu, self.sigma, self.chosen = (fem.Function(self.at_points) for _ in range(3))
        self.w, self.omega = fem.Function(self.space), fem.Constant(self.domain, PETSc.ScalarType(0))
        cells = len(self.region)
        self.dofs = self.at_points.dofmap.list.array.reshape(cells, -1)
        self.nu.x.array[:] = 1 / MU0
        points, _ = basix.make_quadrature(basix.CellType.triangle, DEGREE)
        r = ufl.SpatialCoordinate(self.domain)[0]
        self.flux_at = fem.Expression(self.flux(self.w), points, jit_params=self.jit)
        self.potential_at = fem.Expression(r * self.w, points, jit_params=self.jit)
        one = ufl.TestFunction(self.at_points)
        volume = fem.form(ufl.inner(2 * np.pi * r + 0j, one) * self.dx, jit_params=self.jit)
        self.volume = assemble_vector(volume).array.real[self.dofs]
        section = fem.form(ufl.inner(1.0 + 0j * r, one) * self.dx, jit_params=self.jit)
        self.section = assemble_vector(section).array.real[self.dofs]
        self.radius = self.volume / (2 * np.pi * self.section)
        self.make_forms()
        self.bodies = [np.flatnonzero(self.region == 1 + k).astype(np.int32) for k in range(len(case.bodies))]
        first = 1 + len(case.bodies)
        self.turns = [np.flatnonzero(self.region == first + n) for n in range(len(case.turn_heights))]
        self.laws = [EffectiveLaw(b.substance) if b.substance.magnetic else None for b in case.bodies]
        self.copper = float(case.copper.law(case.copper.sigma_law, np.array([case.copper_kelvin]))[0])
        for cells in self.turns:
            self.sigma.x.array[self.dofs[cells]] = self.copper
        self.solutions = self.repetitions = 0

    @staticmethod
    def flux_of(r, u):
        return ufl.as_vector([-r * u.dx(1), 2 * u + r * u.dx(0)])

    def flux(self, u):
        return self.flux_of(ufl.SpatialCoordinate(self.domain)[0], u)

    def make_forms(self):
        r = ufl.SpatialCoordinate(self.domain)[0]
        w, v = ufl.TrialFunction(self.space), ufl.TestFunction(self.space)
        eddy = 1j * self.omega * self.sigma * r**2
        inside = (self.nu * ufl.inner(self.flux(w), self.flux(v)) + eddy * ufl.inner(w, v)) * 2 * np.pi * r
        self.operator = fem.form(inside * self.dx, jit_params=self.jit)
        self.by_voltage = fem.form(ufl.inner(self.chosen * self.sigma * r, v) * self.dx, jit_params=self.jit)
        radius = np.hypot(*self.domain.geometry.x.T[:2]).max()
        edges = mesh.locate_entities_boundary(self.domain, 1,
                                              lambda x: np.isclose(np.hypot(x[0], x[1]), radius, rtol=0.02))
        self.far = fem.dirichletbc(PETSc.ScalarType(0), fem.locate_dofs_topological(self.space, 1, edges), self.space)
        self.vectors = None

    def sources(self):
        """For 1 V round each turn: the same at every frequency, since the copper does not change."""
        if self.vectors is None:
            self.vectors = []
            for cells in self.turns:
                self.chosen.x.array[:] = 0
                self.chosen.x.array[self.dofs[cells]] = 1
                vector = assemble_vector(self.by_voltage)
                fem.petsc.set_bc(vector, [self.far])
                self.vectors.append(vector)
        return self.vectors

    def once(self, current):
        """The linear field of present coefficients; the same current in every turn."""
        matrix = assemble_matrix(self.operator, bcs=[self.far])
        matrix.assemble()
        matrix.setOption(PETSc.Mat.Option.SYMMETRIC, True)
        solver = PETSc.KSP().create(MPI.COMM_SELF)
        solver.setOperators(matrix)
        solver.setType("preonly")
        solver.getPC().setType("cholesky")
        solver.getPC().setFactorSolverType("mumps")
        sources = self.sources()
        found = []
        for vector in sources:
            w = vector.duplicate()
            solver.solve(vector, w)
            found.append(w.array.copy())
        solver.destroy()
        matrix.destroy()
        omega = self.omega.value
        linkage = np.array([[vector.array @ w for w in found] for vector in sources])
        conductance = [np.sum(self.copper * (self.section / (2 * np.pi * self.radius))[cells]) for cells in self.turns]
        admittance = np.diag(conductance) - 1j * omega * linkage
        self.voltages = voltages = np.linalg.solve(admittance, np.full(len(self.turns), current))
        self.w.x.array[:] = np.array(found).T @ voltages
        self.repetitions += 1

    def density(self, cells):
        """Heat per volume at the points of cells [W/m^3]."""
        a = self.potential_at.eval(cells).reshape(len(cells), -1)
        sigma = self.sigma.x.array[self.dofs[cells]].real
        return np.abs(self.omega.value) ** 2 * sigma * np.abs(a) ** 2

    def solve(self, kelvin, current, frequency):
        """Heat per volume at the points of each body; `kelvin`: temperatures there."""
        self.omega.value = 2 * np.pi * frequency
        shares = []
        for k, body in enumerate(self.case.bodies):
            s = body.substance
            self.sigma.x.array[self.dofs[self.bodies[k]]] = s.law(s.sigma_law, kelvin[k])
            shares.append(s.share_of(kelvin[k]) if s.magnetic else None)
            if s.magnetic and self.solutions == 0:
                self.nu.x.array[self.dofs[self.bodies[k]]] = 0.02 / MU0
        self.solutions += 1
        power, density = 0.0, None
        for n in range(60):
            for k, law in enumerate(self.laws):
                if law is not None and (n > 0 or self.solutions > 1):
                    self.renew(k, law, shares[k])
            self.once(current)
            density = [self.density(cells) for cells in self.bodies]
            last, power = power, sum(np.sum(q * self.volume[cells]) for q, cells in zip(density, self.bodies))
            if not any(self.laws) or (n > 0 and abs(power - last) < SETTLED * power):
                return density
        raise RuntimeError("the field does not settle")

    def renew(self, k, law, share):
        cells = self.bodies[k]
        flux = self.flux_at.eval(cells).reshape(len(cells), -1, 2)
        present = self.nu.x.array[self.dofs[cells]].real
        strength = present * np.sqrt(np.sum(np.abs(flux) ** 2, axis=2))
        self.nu.x.array[self.dofs[cells]] = law.reluctivity(strength, share)
