"""Solves what peer_cases wrote with dolfinx (its complex build), and compares.

    dolfinx_answer.py FILE.json ...

The same equations on the same mesh: second-order triangles with the same mid-edge nodes and the same
quadrature points, A = 0 on the axis and on the box. Nothing else is shared: forms, assembly,
numbering, boundary conditions and factorisation (MUMPS) are those of the other library. Ends with 1
when any quantity differs by more than 1e-9, relative.
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
from dolfinx.fem.petsc import assemble_matrix, assemble_vector
from mpi4py import MPI
from petsc4py import PETSc

# Their compiler reports every step.
logging.disable(logging.WARNING)

TOLERANCE = 1e-9
# Their order of the nodes of a second-order triangle: corners, then the edges opposite to them.
NODE_ORDER = [0, 1, 2, 4, 5, 3]


def larger(a, b):
    """The larger of two real expressions, which are complex to the form compiler."""
    return ufl.conditional(ufl.gt(ufl.real(a), ufl.real(b)), a, b)


class Peer:
    """One case in the other library: spaces, forms and coefficients."""

    def __init__(self, case, cache):
        self.case = case
        nodes = np.array(case["nodes"])
        cells = np.array(case["triangles"], dtype=np.int64)[:, NODE_ORDER]
        shape = ufl.Mesh(ufl.VectorElement("Lagrange", ufl.triangle, 2))
        self.domain = mesh.create_mesh(MPI.COMM_SELF, cells, nodes, shape)
        self.region = np.array(case["region"])[self.domain.topology.original_cell_index]
        self.space = fem.FunctionSpace(self.domain, ("Lagrange", 2))
        self.by_cell = fem.FunctionSpace(self.domain, ("DG", 0))
        self.omega = case["omega_rad_per_s"]
        self.sigma = self.per_region(case["conductivity_S_per_m"])
        self.nu = self.per_region(case["reluctivity_m_per_H"])
        self.chosen = fem.Function(self.by_cell)  # 1 in the region looked at
        self.voltage = fem.Function(self.by_cell)
        self.potential = fem.Function(self.space)
        rule = np.array(case["rule"])
        self.dx = ufl.dx(
            domain=self.domain,
            metadata={
                "quadrature_rule": "custom",
                "quadrature_points": rule[:, :2].copy(),
                "quadrature_weights": rule[:, 2].copy(),
            },
        )
        self.jit = {"cache_dir": cache}
        self.make_forms()

    def per_region(self, values):
        function = fem.Function(self.by_cell)
        function.x.array[:] = np.array(values)[self.region]
        return function

    def form(self, expression):
        return fem.form(expression, jit_params=self.jit)

    def weight(self):
        """w(r, z): the larger of r and the radius of the core; the bend fades beyond its ends."""
        if not self.case["cores"]:
            return ufl.as_ufl(1.0)
        r, z = ufl.SpatialCoordinate(self.domain)
        least = None
        for low, high, radius in self.case["cores"]:
            beyond = larger(z - high, ufl.as_ufl(0.0)) + larger(low - z, ufl.as_ufl(0.0))
            faded = (r + radius + ufl.sqrt((r - radius) ** 2 + beyond**2)) / 2
            weight = ufl.conditional(ufl.gt(ufl.real(beyond), 0), faded, larger(r, ufl.as_ufl(radius)))
            least = weight if least is None else -larger(-least, -weight)
        return least

    def make_forms(self):
        r = ufl.SpatialCoordinate(self.domain)[0]
        round_ = 2 * np.pi * r
        a, v = ufl.TrialFunction(self.space), ufl.TestFunction(self.space)

        # As in ours, the second-order functions represent weight times potential.
        weight = self.weight()
        a, v = a / weight, v / weight

        def flux(u):
            return ufl.as_vector([-u.dx(1), u.dx(0) + u / r])

        eddy = 1j * self.omega * self.sigma
        self.operator = self.form((self.nu * ufl.inner(flux(a), flux(v)) + eddy * ufl.inner(a, v)) * round_ * self.dx)
        per_volt = self.chosen * self.sigma
        self.by_voltage = self.form(ufl.inner(per_volt, v) * self.dx)
        self.conductance = self.form(per_volt / round_ * self.dx)
        self.by_current = self.form(ufl.inner(self.chosen * round_, v) * self.dx)
        self.section = self.form(self.chosen * self.dx)
        potential = self.potential / weight
        electric = self.voltage / round_ - 1j * self.omega * potential
        self.loss = self.form(per_volt * ufl.inner(electric, electric) * round_ * self.dx)
        b = flux(potential)
        self.energy = self.form(0.5 * self.nu * ufl.inner(b, b) * round_ * self.dx)

    def choose(self, region):
        self.chosen.x.array[:] = self.region == region

    def zero_on_border(self):
        box = self.case["box_m"]

        def border(x):
            far = np.isclose(x[0], box, rtol=0, atol=1e-9) | np.isclose(np.abs(x[1]), box, rtol=0, atol=1e-9)
            return np.isclose(x[0], 0, rtol=0, atol=1e-12) | far

        return fem.dirichletbc(PETSc.ScalarType(0), fem.locate_dofs_geometrical(self.space, border), self.space)

    def source(self, turn, condition):
        """Right-hand side of unit excitation: 1 V round the turn, or 1 A spread over its section."""
        self.choose(turn)
        vector = assemble_vector(self.by_current if self.case["strands"] else self.by_voltage)
        fem.petsc.set_bc(vector, [condition])
        if self.case["strands"]:
            vector.scale(1 / fem.assemble_scalar(self.section))
        return vector

    def solve(self):
        """Impedance of turn by turn, and the potential of unit excitation of each."""
        condition = self.zero_on_border()
        matrix = assemble_matrix(self.operator, bcs=[condition])
        matrix.assemble()
        solver = PETSc.KSP().create(MPI.COMM_SELF)
        solver.setOperators(matrix)
        solver.setType("preonly")
        solver.getPC().setType("lu")
        solver.getPC().setFactorSolverType("mumps")
        turns = self.case["turns"]
        sources = [self.source(turn, condition) for turn in turns]
        potentials = []
        for vector in sources:
            found = vector.duplicate()
            solver.solve(vector, found)
            potentials.append(found.array.copy())
        potentials = np.array(potentials).T
        linkage = np.array([vector.array for vector in sources]) @ potentials
        if self.case["strands"]:
            return 1j * self.omega * linkage, potentials
        admittance = -1j * self.omega * linkage
        for k, turn in enumerate(turns):
            self.choose(turn)
            admittance[k, k] += fem.assemble_scalar(self.conductance)
        return np.linalg.inv(admittance), potentials

    def answer(self, impedance, potentials):
        """The turns in series with 1 A, as given by peer_cases."""
        turns = self.case["turns"]
        voltage = impedance.sum(axis=1)
        drive = np.ones(len(turns)) if self.case["strands"] else voltage
        self.potential.x.array[:] = potentials @ drive
        by_region = np.zeros(len(self.case["region_name"]), dtype=complex)
        if not self.case["strands"]:
            by_region[turns] = voltage
        self.voltage.x.array[:] = by_region[self.region]
        losses = []
        for region in range(len(by_region)):
            self.choose(region)
            losses.append(fem.assemble_scalar(self.loss).real)
        return {
            "impedance_ohm": np.array([voltage.sum()]),
            "turn_voltage_V": voltage,
            "turn_impedance_ohm": impedance.ravel(),
            "loss_W": np.array(losses),
            "energy_J": np.array([fem.assemble_scalar(self.energy).real]),
        }


def numbers(name, value):
    """A quantity of ours as an array; impedances and voltages come as pairs of real and imaginary part."""
    if name.endswith(("_ohm", "_V")):
        parts = np.array(value).reshape(-1, 2)
        return parts[:, 0] + 1j * parts[:, 1]
    return np.atleast_1d(value)


def differences(ours, theirs):
    """Largest relative difference of each quantity; what is zero in both counts as equal."""
    found = {}
    for name, value in theirs.items():
        here = numbers(name, ours[name])
        size = np.where(np.abs(value) > 0, np.abs(value), 1)
        found[name] = float(np.max(np.abs(here - value) / size))
    return found


def main():
    if not np.issubdtype(PETSc.ScalarType, np.complexfloating):
        sys.exit("This is the real build of dolfinx; install python3-dolfinx-complex.")
    print("| case | unknowns | " + " | ".join(["impedance", "turn voltages", "turn by turn", "losses", "energy"])
          + " | work in W | ours ms | theirs ms | theirs / ours |")
    print("|---" * 11 + "|")
    worst = 0.0
    with tempfile.TemporaryDirectory() as cache:
        for file in sys.argv[1:]:
            with open(file, encoding="utf-8") as stream:
                case = json.load(stream)
            peer = Peer(case, cache)
            least = float("inf")
            for _ in range(case["repeats"]):
                start = time.process_time()
                impedance, potentials = peer.solve()
                least = min(least, 1e3 * (time.process_time() - start))
            theirs = peer.answer(impedance, potentials)
            found = differences(case["answer"], theirs)
            worst = max(worst, *found.values())
            work = theirs["loss_W"][case["region_name"].index("workpiece")]
            print(f"| {case['name']} | {case['unknowns']} | " + " | ".join(f"{d:.1e}" for d in found.values())
                  + f" | {work:.9g} | {case['milliseconds']:.0f} | {least:.0f} | {least / case['milliseconds']:.2f} |")
    print(f"\nLargest relative difference {worst:.1e}, allowed {TOLERANCE:.0e}; times are processor time from mesh to"
          "\nimpedance matrix, the least of the repeats; meshing and the compilation of their forms are not in it.")
    if not worst <= TOLERANCE:
        sys.exit("The two libraries do not agree.")


main()
