"""Solves the heaters peer_shapes wrote with dolfinx (its complex build) on meshes of its own, and compares.

    own_mesh_answer.py FILE.json ...

Nothing is shared but shapes, media and frequency. The unknown is w = A / r, third order on third-order
triangles, so that nothing is singular on the axis; empty space is a shell in which the distance from the
centre runs to infinity (coordinates stretched, w = 0 at its outer border): a dipole's field is a polynomial
there. Each heater is solved on two meshes; the last column says how far these differ. Ends with 1 when
inductance, coil loss or the power of a body differs by more than 0.2 % from ours, or the two meshes by more
than a tenth of that.
"""

import complex_build  # noqa: F401, first: it starts Python again

import json
import logging
import sys
import tempfile
import time

import numpy as np
import ufl
from dolfinx import fem, mesh
from dolfinx.cpp.io import perm_gmsh
from dolfinx.fem.petsc import assemble_matrix, assemble_vector
from mpi4py import MPI
from own_mesh import OwnMesh
from petsc4py import PETSc

# Their compiler reports every step.
logging.disable(logging.WARNING)

TOLERANCE = 2e-3
OWN_TOLERANCE = 2e-4
SCALES = [1.5, 1.0]  # of every edge length
INSIDE, SHELL = 1, 2


class Field:
    """One heater on one mesh: spaces, coefficients and forms."""

    def __init__(self, case, own, cache):
        self.case = case
        geometry = ufl.VectorElement(ufl.FiniteElement("Lagrange", ufl.triangle, 3, variant="equispaced"))
        cells = own.cells[:, perm_gmsh(mesh.CellType.triangle, 10)]
        self.domain = mesh.create_mesh(MPI.COMM_SELF, cells, own.points, ufl.Mesh(geometry))
        self.region = own.regions[self.domain.topology.original_cell_index]
        self.space = fem.FunctionSpace(self.domain, ("Lagrange", 3))
        self.by_cell = fem.FunctionSpace(self.domain, ("DG", 0))
        self.cell = self.by_cell.dofmap.list.array
        self.omega = 2 * np.pi * case["frequency_Hz"]
        regions = case["regions"]
        self.sigma = self.per_region([0.0] + [region["conductivity_S_per_m"] for region in regions])
        self.nu = self.per_region([1 / (4e-7 * np.pi)] + [region["reluctivity_m_per_H"] for region in regions])
        self.chosen = fem.Function(self.by_cell)  # 1 in the turn looked at
        self.voltage = fem.Function(self.by_cell)
        self.w = fem.Function(self.space)
        self.jit = {"cache_dir": cache}
        kind = np.where(self.region < 0, SHELL, INSIDE).astype(np.int32)
        kinds = mesh.meshtags(self.domain, 2, np.arange(len(kind), dtype=np.int32), kind)
        self.dx = ufl.Measure("dx", self.domain, subdomain_data=kinds, metadata={"quadrature_degree": 9})
        self.outside = (own.radius, own.middle)
        self.make_forms()

    def per_region(self, values):
        """A function of the cells; the shell is air."""
        function = fem.Function(self.by_cell)
        function.x.array[self.cell] = np.array(values)[np.maximum(self.region, 0)]
        return function

    def form(self, expression):
        return fem.form(expression, jit_params=self.jit)

    def shell_energy(self, w, v):
        """nu B.B 2 pi r in the shell, where x stands for the place X = c + (x - c) s, s = R^2 / (d (2 R - d)),
        d = |x - c|: R at R, infinite at 2 R."""
        radius, middle = self.outside
        r, z = ufl.SpatialCoordinate(self.domain)
        d = ufl.sqrt(r**2 + (z - middle) ** 2)
        s = radius**2 / (d * (2 * radius - d))
        place = ufl.as_vector([r * s, (z - middle) * s])
        stretch = ufl.grad(place)
        back = ufl.transpose(ufl.inv(stretch))

        def flux(u):
            slope = back * ufl.grad(r * u)
            return ufl.as_vector([-slope[1], slope[0] + u / s])

        return self.nu * ufl.inner(flux(w), flux(v)) * 2 * np.pi * r * s * ufl.det(stretch)

    def make_forms(self):
        r = ufl.SpatialCoordinate(self.domain)[0]
        w, v = ufl.TrialFunction(self.space), ufl.TestFunction(self.space)
        each = ufl.TestFunction(self.by_cell)
        dx = self.dx(INSIDE)

        def flux(u):
            return ufl.as_vector([-r * u.dx(1), 2 * u + r * u.dx(0)])

        eddy = 1j * self.omega * self.sigma * r**2
        inside = (self.nu * ufl.inner(flux(w), flux(v)) + eddy * ufl.inner(w, v)) * 2 * np.pi * r
        self.operator = self.form(inside * dx + self.shell_energy(w, v) * self.dx(SHELL))
        self.by_voltage = self.form(ufl.inner(self.chosen * self.sigma * r, v) * dx)
        self.by_current = self.form(ufl.inner(self.chosen * 2 * np.pi * r**2, v) * dx)
        # Of every cell, to be summed by region.
        electric = self.voltage / (2 * np.pi * r) - 1j * self.omega * r * self.w
        self.loss = self.form(ufl.inner(self.sigma * ufl.inner(electric, electric) * 2 * np.pi * r, each) * dx)
        self.conductance = self.form(ufl.inner(self.sigma / (2 * np.pi * r), each) * dx)
        self.section = self.form(ufl.inner(1.0 + 0j * r, each) * dx)

    def sums(self, form):
        """Of a form by cell: air first, then the regions of the case."""
        by_cell = assemble_vector(form).array.real
        return np.bincount(np.maximum(self.region, 0), by_cell[self.cell], len(self.case["regions"]) + 1)

    def source(self, turn, condition):
        """Right-hand side of 1 V round the turn, or of 1 A spread over its section."""
        self.chosen.x.array[self.cell] = self.region == turn
        vector = assemble_vector(self.by_current if self.case["strands"] else self.by_voltage)
        if self.case["strands"]:
            vector.scale(1 / self.sums(self.section)[turn])
        fem.petsc.set_bc(vector, [condition])
        return vector

    def far_away(self):
        radius, middle = self.outside

        def border(x):
            return np.isclose(np.hypot(x[0], x[1] - middle), 2 * radius, rtol=1e-9)

        edges = mesh.locate_entities_boundary(self.domain, 1, border)
        return fem.dirichletbc(PETSc.ScalarType(0), fem.locate_dofs_topological(self.space, 1, edges), self.space)

    def factorised(self, condition):
        matrix = assemble_matrix(self.operator, bcs=[condition])
        matrix.assemble()
        matrix.setOption(PETSc.Mat.Option.SYMMETRIC, True)
        solver = PETSc.KSP().create(MPI.COMM_SELF)
        solver.setOperators(matrix)
        solver.setType("preonly")
        solver.getPC().setType("cholesky")  # of MUMPS, LDL^T of a complex symmetric matrix
        solver.getPC().setFactorSolverType("mumps")
        return solver

    def solve(self):
        """Voltages of the turns in series at 1 A; the field is left in w and voltage."""
        condition = self.far_away()
        turns = [1 + turn for turn in self.case["turns"]]
        sources = [self.source(turn, condition) for turn in turns]
        solver = self.factorised(condition)
        found = []
        for vector in sources:
            w = vector.duplicate()
            solver.solve(vector, w)
            found.append(w.array.copy())
        solver.destroy()
        linkage = np.array([[vector.array @ w for w in found] for vector in sources])
        if self.case["strands"]:
            drive = np.ones(len(turns))
            voltages = 1j * self.omega * linkage.sum(axis=1)
        else:
            admittance = np.diag(self.sums(self.conductance)[turns]) - 1j * self.omega * linkage
            drive = voltages = np.linalg.solve(admittance, np.ones(len(turns)))
            by_region = np.zeros(len(self.case["regions"]) + 1, dtype=complex)
            by_region[turns] = voltages
            self.voltage.x.array[self.cell] = by_region[np.maximum(self.region, 0)]
        self.w.x.array[:] = np.array(found).T @ drive
        return voltages

    def answer(self):
        voltages = self.solve()
        losses = self.sums(self.loss)[1:]
        return figures(self.case, voltages.sum().imag / self.omega, losses)


def figures(case, inductance, losses):
    """What is compared: inductance, loss of the coil unless its strands are told theirs, power of each body."""
    found = {"inductance": inductance}
    if not case["strands"]:
        found["coil"] = sum(losses[turn] for turn in case["turns"])
    bodies = [k for k in range(len(losses)) if k not in case["turns"]]
    return found | {case["regions"][k]["name"]: losses[k] for k in bodies}


def relative(values, reference):
    return {name: values[name] / reference[name] - 1 for name in reference}


def compared(case, cache):
    """Differences of ours, of their coarser mesh, and their unknowns."""
    theirs = []
    for scale in SCALES:
        start = time.process_time()
        own = OwnMesh(case, scale)
        meshed = time.process_time()
        field = Field(case, own, cache)
        theirs.append(field.answer())
        unknowns = field.space.dofmap.index_map.size_global
        print(f"{case['name']}: {unknowns} unknowns, mesh {meshed - start:.0f} s, "
              f"solution {time.process_time() - meshed:.0f} s", file=sys.stderr)
    ours = figures(case, case["inductance_H"], [region["loss_W"] for region in case["regions"]])
    return relative(ours, theirs[-1]), relative(theirs[0], theirs[-1]), unknowns


def percent(value):
    return f"{100 * value:+.3f} %"


def row(case, ours, own, unknowns):
    coil = percent(ours["coil"]) if "coil" in ours else "given"
    bodies = ", ".join(f"{name} {percent(value)}" for name, value in ours.items() if name not in ("inductance", "coil"))
    largest = max(map(abs, own.values()))
    return (f"| {case['name']} | {case['unknowns']} | {percent(ours['inductance'])} | {coil} | {bodies} "
            f"| {unknowns} | {100 * largest:.4f} % |")


def main():
    if not np.issubdtype(PETSc.ScalarType, np.complexfloating):
        sys.exit("This is the real build of dolfinx; install python3-dolfinx-complex.")
    print("| heater | our unknowns | inductance | coil loss | power of bodies | their unknowns | their two meshes |")
    print("|---" * 7 + "|", flush=True)
    worst = worst_own = 0.0
    with tempfile.TemporaryDirectory() as cache:
        for file in sys.argv[1:]:
            with open(file, encoding="utf-8") as stream:
                case = json.load(stream)
            ours, own, unknowns = compared(case, cache)
            print(row(case, ours, own, unknowns), flush=True)
            worst = max(worst, *map(abs, ours.values()))
            worst_own = max(worst_own, *map(abs, own.values()))
    print(f"\nOurs less theirs, relative: largest {100 * worst:.3f} %, allowed {100 * TOLERANCE:.1f} %;"
          f"\ntheir two meshes: {100 * worst_own:.4f} %, allowed {100 * OWN_TOLERANCE:.2f} %.")
    if not worst_own <= OWN_TOLERANCE:
        sys.exit("The other library is not sure enough of its own answer.")
    if not worst <= TOLERANCE:
        sys.exit("The two do not agree.")


main()
