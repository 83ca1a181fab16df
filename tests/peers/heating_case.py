"""A heating run as the peer takes it: shapes and media read from the case and from the material files by a reader
of its own, current and frequency over time from the tables of the program's run."""

import csv
import json
import tomllib
from pathlib import Path

import numpy as np

ZERO = 273.15
UNITS = {"mm": 1e-3, "m": 1.0, "s": 1.0, "degC": 1.0, "nohm m": 1e-9, "W/(m K)": 1.0, "J/(kg K)": 1.0, "kJ/kg": 1e3,
         "kg/m3": 1.0, "T": 1.0, "A/m": 1.0}
STEP = 0.05  # of the tables over temperature [K]
KELVIN = np.arange(250.0, 2000.0, STEP)


def number(value):
    """In SI units but for temperatures, which stay in degC."""
    if isinstance(value, dict):
        value = value["value"]
    if isinstance(value, str):
        figure, unit = value.split(" ", 1)
        return float(figure) * UNITS[unit]
    return float(value)


def piece(p, celsius):
    c = p["c"]
    if p["form"] == "polynomial":
        return sum(c[k] * celsius**k for k in range(len(c)))
    if p["form"] == "pole":
        return c[0] + c[1] / (c[2] - celsius)
    raise ValueError(f"no form {p['form']}")


def table_of(entry):
    """The law at KELVIN: formulas, points, linear between them and to formulas, constant beyond the ends."""
    if isinstance(entry, (str, int, float)):
        return np.full(len(KELVIN), number(entry))
    blocks = entry if isinstance(entry, list) else [entry]
    celsius = KELVIN - ZERO
    points, formulas = {}, []
    for block in blocks:
        if "pieces" in block:
            formulas += [(number(p["from"]), number(p["to"]), p) for p in block["pieces"]]
        elif "T" in block:
            shift = {"degC": 0.0, "K": -ZERO}[block["T_unit"]]
            unit = UNITS[block["unit"]]
            points |= {t + shift: v * unit for t, v in zip(block["T"], block["value"])}
        else:
            return np.full(len(KELVIN), number(block))
    formulas.sort(key=lambda f: f[0])
    for end, side in ((0, 0), (-1, 1)) if formulas else ():
        at = formulas[end][side]
        points[at] = piece(formulas[end][2], at)
    places = sorted(points)
    law = np.interp(celsius, places, [points[t] for t in places])
    for low, high, p in formulas:
        within = (celsius >= low) & (celsius < high)
        law[within] = piece(p, celsius[within])
    return law


class Substance:
    """Laws of a material as tables over KELVIN."""

    def __init__(self, folder, name):
        data = tomllib.loads((folder / f"{name}.toml").read_text(encoding="utf-8"))
        self.density = number(data["density"])
        self.emissivity = number(data["emissivity"])
        insulator = data["resistivity"] == "insulator"
        self.sigma_law = np.zeros(len(KELVIN)) if insulator else 1 / table_of(data["resistivity"])
        self.k_law = table_of(data["thermal_conductivity"])
        heat = table_of(data["heat_capacity"])
        if "melting" in data:
            solid, liquid = (number(data["melting"][key]) + ZERO for key in ("solidus", "liquidus"))
            melts = (KELVIN >= solid) & (KELVIN < liquid)
            heat = heat + np.where(melts, number(data["melting"]["latent"]) / max(liquid - solid, STEP), 0.0)
        self.c_law = self.density * heat
        steps = STEP * 0.5 * (self.c_law[1:] + self.c_law[:-1])
        self.h_law = np.concatenate([[0.0], np.cumsum(steps)])
        self.magnetic = "magnetisation" in data
        if self.magnetic:
            magnet = data["magnetisation"]
            self.saturation, self.half_field = number(magnet["saturation"]), number(magnet["half_field"])
            self.curie = number(magnet["curie"]) + ZERO
            law_curie = number(magnet.get("law_curie", magnet["curie"])) + ZERO
            exponent = magnet["exponent"]

            def order(kelvin):
                return (1 - (np.minimum(kelvin, law_curie) / law_curie) ** exponent) ** (1 / exponent)

            self.share_of = lambda kelvin: np.where(kelvin < self.curie, order(kelvin) / order(ZERO + 20), 0.0)

    def law(self, table, kelvin):
        """Interpolates one of the tables, whose rows have equal distances."""
        place = (np.clip(kelvin, KELVIN[0], KELVIN[-2]) - KELVIN[0]) / STEP
        row = np.minimum(place.astype(int), len(KELVIN) - 2)
        return table[row] + (place - row) * (table[row + 1] - table[row])


class Ring:
    """A body of revolution of rectangular section [m]."""

    def __init__(self, name, low, high, substance, emissivity):
        (self.inner, self.bottom), (self.outer, self.top) = low, high
        self.name, self.substance = name, substance
        self.emissivity = substance.emissivity if emissivity is None else emissivity


def ring_of(section, name, materials, emissivity=None):
    substance = Substance(materials, section["material"])
    if "profile" in section:
        places = [[number(x) for x in point] for point in section["profile"]]
        low, high = [[f(p[k] for p in places) for k in (0, 1)] for f in (min, max)]
        if len(places) != 4:
            raise ValueError("only rectangles")
    else:
        length, centre = number(section["length"]), number(section.get("centre", 0.0))
        low = [number(section.get("bore", 0.0)) / 2, centre - length / 2]
        high = [number(section["diameter"]) / 2, centre + length / 2]
    return Ring(name, low, high, substance, emissivity)


class HeatingCase:
    """The case, and what the program found of it."""

    def __init__(self, case_file, materials, results):
        data = tomllib.loads(Path(case_file).read_text(encoding="utf-8"))
        self.title = Path(case_file).stem
        heat, coil = data["heat"], data["coil"]
        work = ring_of(data["workpiece"], "workpiece", materials, heat.get("emissivity"))
        self.bodies = [work] + [ring_of(b, b["name"], materials) for b in data.get("body", [])]
        turns, pitch = int(coil["turns"]), number(coil["pitch"])
        self.tube = number(coil["conductor"]["tube"]) / 2
        self.hole = self.tube - number(coil["conductor"]["wall"])
        self.turn_radius = number(coil["bore"]) / 2 + self.tube
        self.turn_heights = [(k - (turns - 1) / 2) * pitch for k in range(turns)]
        self.copper = Substance(materials, coil["conductor"]["material"])
        self.copper_kelvin = number(coil["coolant"]["inlet"]) + ZERO
        self.surroundings = number(heat["surroundings"]) + ZERO
        self.start = number(data["workpiece"]["temperature"]) + ZERO
        self.target, self.target_at = number(heat["target"]) + ZERO, heat["target_at"]
        self.stretch = [max(number(heat["heated"][0]), work.bottom), min(number(heat["heated"][1]), work.top)]
        results = Path(results)
        self.found = json.loads((results / "result.json").read_text(encoding="utf-8"))["heat"]
        with open(results / "tables/history.csv", encoding="utf-8") as stream:
            rows = list(csv.DictReader(stream))
        self.history = {key: np.array([float(row[key]) for row in rows]) for key in rows[0]}
