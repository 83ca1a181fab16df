"""Heating runs of two shipped cases and one made for this (heating/), computed once more with dolfinx (its complex build), field and heat in turn, and
compared with the program's.

    heating_answer.py CASE.toml RESULTS [CASE.toml RESULTS ...]

RESULTS is the directory that `coilwright run CASE.toml` wrote. Taken from there: coil current and frequency over
time, so tank and drive are left out of the comparison. Found here: the field, the power at each place, conduction,
and what the surfaces lose, with meshes, laws and a method for the surroundings that share nothing with the program
(see the heating_* files). Each case is computed twice, with coarser mesh and steps first; the last column says how
far these differ in time. Ends with 1 when the time to target, the energy into the work or a temperature rise differ
by more than TOLERANCE.
"""

import complex_build  # noqa: F401, first: it starts Python again

import logging
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from heating_case import HeatingCase
from heating_conduction import Conduction
from heating_field import MU0, EffectiveLaw, HeatingField
from heating_mesh import HeatingMesh
from heating_surroundings import Surroundings

logging.disable(logging.WARNING)

MATERIALS = Path(__file__).parents[2] / "materials/data"
TOLERANCE = 0.02
EFFORTS = [(1.6, 30.0), (1.2, 15.0)]  # scale of the mesh, rise in a step [K]


def skin_depths(case):
    """The smallest of each body over the run, at a surface in a field of the ampere turns of the coil."""
    depths = []
    height = case.turn_heights[-1] - case.turn_heights[0] + 2 * case.tube
    h = len(case.turn_heights) * case.history["tank current rms [A]"].max() / height
    omega = 2 * np.pi * case.history["frequency [Hz]"].max()
    for body in case.bodies:
        sigma = body.substance.sigma_law.max()
        if sigma == 0:
            depths.append(None)
            continue
        nu = EffectiveLaw(body.substance).reluctivity(np.array([h]), np.array([1.0]))[0] if body.substance.magnetic \
            else 1 / MU0
        depths.append(np.sqrt(2 * nu / (omega * sigma)))
    return depths


class Run:
    """One case at one effort."""

    def __init__(self, case, surroundings, effort, cache):
        self.case = case
        scale, self.rise = effort
        self.field = HeatingField(case, HeatingMesh(case, scale, skin_depths(case)), cache)
        self.heat = Conduction(case, self.field, surroundings)
        self.work = self.field.bodies[0]
        self.times, self.readings, self.powers = [0.0], [self.reading()], []

    def reading(self):
        """Of the target's place."""
        low, high = self.case.stretch
        if self.case.target_at == "coldest":
            nodes = self.heat.of_body[0]
            z = self.heat.place[nodes, 1]
            nodes = nodes[(z > low - 1e-9) & (z < high + 1e-9)]
            return self.heat.T.x.array[nodes].real.min()
        return self.mean()

    def mean(self):
        """Of the work within the stretch."""
        low, high = self.case.stretch
        volume = self.field.volume[self.work]
        z = self.heat_heights()
        inside = volume * ((z > low) & (z < high))
        return np.sum(inside * self.heat.kelvin_at_points()[0]) / np.sum(inside)

    def heat_heights(self):
        if not hasattr(self, "heights"):
            kept = self.heat.T.x.array.copy()
            self.heat.T.x.array[:] = self.heat.place[:, 1]
            self.heights = self.heat.kelvin_at_points()[0]
            self.heat.T.x.array[:] = kept
        return self.heights

    def densities(self, at):
        history = self.case.history
        current, frequency = (np.interp(at, history["time [s]"], history[key])
                              for key in ("tank current rms [A]", "frequency [Hz]"))
        found = self.field.solve(self.heat.kelvin_at_points(), current, frequency)
        return found, np.sum(found[0] * self.field.volume[self.work])

    def go(self):
        """Steps until the target; the current stays as it is after the end of the program's run."""
        heat, case = self.heat, self.case
        density, power = self.densities(0.0)
        self.powers.append(power)
        source = heat.sources(density)
        slope, span = 0 * source, 0.15
        self.lost, before = np.zeros(3), np.zeros(3)
        while self.readings[-1] < case.target and self.times[-1] < 1.5 * case.history["time [s]"][-1]:
            start = heat.T.x.array.copy()
            heat.foresee(start, span, source + span * slope)
            density, power = self.densities(self.times[-1] + span)
            after = heat.sources(density)
            heat.step(start, span, source, after)
            slope, source = (after - source) / span, after
            self.times.append(self.times[-1] + span)
            self.readings.append(self.reading())
            self.powers.append(power)
            self.lost += 0.5 * span * (before + heat.by_way)
            before = heat.by_way
            print(f"  {self.times[-1]:.2f} s {self.readings[-1]:.1f} K {power:.1f} W, {self.field.repetitions} fields",
                  file=sys.stderr, flush=True)
            warmed = np.abs(heat.T.x.array - start)[heat.of_body[0]].max()
            span *= min(1.5, max(0.4, self.rise / warmed))
        share = (case.target - self.readings[-2]) / (self.readings[-1] - self.readings[-2])
        self.end = self.times[-2] + share * (self.times[-1] - self.times[-2])
        energies = np.concatenate([[0], np.cumsum(np.diff(self.times) * 0.5 * (np.add(self.powers[1:], self.powers[:-1])))])
        self.energy = np.interp(self.end, self.times, energies)
        self.last = start + share * (heat.T.x.array - start)

    def figures(self):
        heat = self.heat
        heat.T.x.array[:] = self.last
        nodes = heat.of_body[0]
        kelvin = self.last[nodes].real
        r, z = heat.place[nodes].T
        middle = 0.5 * sum(self.case.stretch)
        body = self.case.bodies[0]

        def at(radius):
            column = np.abs(r - radius) < 1e-8
            order = np.argsort(z[column])
            return np.interp(middle, z[column][order], kelvin[column][order])

        return {"time": self.end, "energy": self.energy, "surface": at(body.outer), "centre": at(body.inner),
                "mean": self.mean(), "coldest": self.coldest()}

    def coldest(self):
        low, high = self.case.stretch
        nodes = self.heat.of_body[0]
        z = self.heat.place[nodes, 1]
        return self.last[nodes[(z > low - 1e-9) & (z < high + 1e-9)]].real.min()


def ours(case):
    found = case.found
    end = found["at_end"]
    return {"time": found["time_to_target_s"], "energy": found["induced_J"], "surface": end["surface_K"],
            "centre": end["centre_K"], "mean": end["mean_K"], "coldest": end["coldest_K"]}


def differences(mine, theirs, start):
    """Relative; of temperatures by their rise."""
    return {key: (mine[key] - theirs[key]) / (theirs[key] - (start if key not in ("time", "energy") else 0.0))
            for key in theirs}


def main():
    print("| case | time to target | energy into the work | surface | centre | mean | coldest | their time "
          "| their two efforts |")
    print("|---" * 9 + "|", flush=True)
    worst = 0.0
    with tempfile.TemporaryDirectory() as cache:
        for file, results in zip(sys.argv[1::2], sys.argv[2::2]):
            case = HeatingCase(file, MATERIALS, results)
            surroundings = Surroundings(case)
            found = []
            for effort in EFFORTS:
                start = time.process_time()
                run = Run(case, surroundings, effort, cache)
                run.go()
                found.append(run.figures())
                print(f"{case.title}: {run.field.space.dofmap.index_map.size_global} unknowns, {len(run.times) - 1} "
                      f"steps, {run.field.repetitions} fields, {time.process_time() - start:.0f} s; "
                      f"{found[-1]}; lost to coil, room, air {run.lost}", file=sys.stderr)
            by = differences(ours(case), found[-1], case.start)
            own = found[0]["time"] / found[-1]["time"] - 1
            cells = " | ".join(f"{100 * by[key]:+.2f} %" for key in by)
            print(f"| {case.title} | {cells} | {found[-1]['time']:.1f} s | {100 * own:+.2f} % |", flush=True)
            worst = max(worst, *map(abs, by.values()))
    print(f"\nOurs less theirs, relative: largest {100 * worst:.2f} %, allowed {100 * TOLERANCE:.0f} %.")
    if not worst <= TOLERANCE:
        sys.exit("The two do not agree.")


if __name__ == "__main__":
    main()
