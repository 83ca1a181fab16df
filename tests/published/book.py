"""Renders the verification book from a test run.

    tests/published/book.py build/release/tests/test_published build/release/tests/test_convergence > tests/published/README.md
    tests/published/book.py --marks

Sources are the comments above the tests, quantities the expressions checked, figures those of the
run; nothing is typed here. Each comment says by a mark what kind of check stands below it, and the
first mark in it decides the part of the book:

    Source:         A, a published figure or a closed form
    Second method:  B, a program of our own that shares no formula with the product; nothing published
    Identity:       C, a law that holds whatever the bodies are
    Property:       C, what must be so by the program's own statement

A test without a mark is a fault; --marks looks for nothing else and needs no build.
"""

import os
import pathlib
import re
import subprocess
import sys
import tempfile

HEAD = """# Verification book

Figures that this program computes, compared with published ones, with second methods of our own, and with laws that
must hold. Made by `./dev book`, which runs the tests and writes down the figures that they compared; nothing below was
typed by hand. The text over each table is the comment above the test. SI units. A comment says of its source:

- "(read)": the figure or formula was read there, or in the copy named; "(abstract read)": no more than that.
- "(from memory)": the publication was not opened; "(page not looked up)": its place in the book is not known.
- No remark: cited for its formula, and not opened either.
- "evaluated from the closed form": the figure is not printed in the source, an independent program computed it from the
  formula; "(derivation)": the formula was derived for the test, and no publication with it was read.

A chapter near the end states where the model is known to be biased; so does every result that this concerns.
"""

MARK = re.compile(r"\b(Source|Sources|Second method|Identity|Property): ")
PART_OF_MARK = {"Source": "A", "Sources": "A", "Second method": "B", "Identity": "C", "Property": "C"}

# Part: title, contents, word for the figure of comparison.
PARTS = {
    "A": (
        "Against published figures and closed forms",
        "Each names its source. A closed form is published too, unless its comment calls it a derivation.",
        "published",
    ),
    "B": (
        "Without a published source: second methods",
        "Boundary elements, rays, finite differences, steps in time and integral equations of our own. They share no formula\n"
        "with the product, but the same authors wrote both: where the two differ, either may be wrong.",
        "second method",
    ),
    "C": (
        "Identities and properties",
        "Laws for every field, whatever the bodies, and statements of the program about itself. They show that a computation is\n"
        "consistent, not that it is right.",
        "expected",
    ),
}


def tests_of(folder):
    """test name -> (file, source comment)"""
    found = {}
    for file in sorted(folder.rglob("*_test.cpp")):
        lines = file.read_text().splitlines()
        for number, line in enumerate(lines):
            match = re.match(r"TEST(?:_F|_P)?\((\w+), (\w+)\)", line)
            if not match:
                continue
            comment = []
            above = number - 1
            while above >= 0 and re.match("//(?!/)", lines[above]):
                comment.insert(0, lines[above].lstrip("/ "))
                above -= 1
            found[".".join(match.groups())] = (file, " ".join(comment))
    return found


def part_of(comment):
    """A, B or C by the first mark of the comment; None if there is no mark."""
    mark = MARK.search(comment)
    return PART_OF_MARK[mark.group(1)] if mark else None


def refuse_unmarked(tests):
    """Ends the program with a list of the tests whose comments have no mark."""
    faults = [f"{file}: {name}" for name, (file, comment) in tests.items() if part_of(comment) is None]
    if faults:
        sys.exit(
            "No mark in the comment above the test. Write 'Source: author, title, year, place', 'Second method: which',\n"
            "'Identity: ...' or 'Property: ...' there:\n  " + "\n  ".join(faults)
        )


CHECK = re.compile(r"expect_(?:relative|within|at_least|at_most)\(")


def expression(file, line):
    """First argument of the check that starts on that line."""
    text = " ".join(part.strip() for part in file.read_text().splitlines()[line - 1 : line + 4])
    text = text[CHECK.search(text).end() :]
    depth = 0
    for at, letter in enumerate(text):
        depth += letter in "([{"
        depth -= letter in ")]}"
        if depth < 0 or (depth == 0 and letter == ","):
            return text[:at].strip()
    return text.strip()


def run(program, only, checks):
    environment = dict(os.environ, COILWRIGHT_CHECKS=str(checks))
    command = [program, "--gtest_filter=" + only]
    printed = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    if printed.returncode != 0:
        sys.exit(printed.stdout[-3000:] + "\nA check failed: no book is written.")
    return printed.stdout


def bias_tables(printed, tests):
    """The Markdown tables that the tests of bias print."""
    out = []
    for block in re.split(r"\[ RUN +\] ", printed)[1:]:
        name, rest = block.split("\n", 1)
        rows = [line for line in rest.splitlines() if line.startswith("|")]
        if rows:
            out += [f"\n### {name.strip()}\n", tests[name.strip()][1] + "\n", *rows]
    return out


class Row:
    """One check of the run."""

    def __init__(self, quantity, kind, figures):
        real, imaginary, expected_real, expected_imaginary, self.tolerance = (float(f) for f in figures)
        self.quantity, self.kind = quantity, kind
        self.value, self.expected = complex(real, imaginary), complex(expected_real, expected_imaginary)

    def share(self):
        """Difference over tolerance; None if the check is a bound."""
        if self.kind == "relative":
            return abs(self.value / self.expected - 1) / self.tolerance if self.expected else 0.0
        return abs(self.value - self.expected) / self.tolerance if self.kind == "within" else None

    def markdown(self):
        cells = [f"`{self.quantity}`", figure(self.value)]
        if self.share() is None:
            cells += [f"{self.kind.replace('_', ' ')} {figure(self.expected)}", "", ""]
        elif self.kind == "relative":
            difference = self.value / self.expected - 1 if self.expected else self.value
            cells += [figure(self.expected), f"{difference.real:+.1e}", f"{self.tolerance:.0e}"]
        else:
            off = self.value - self.expected
            off = abs(off) if off.imag else off.real
            cells += [figure(self.expected), f"{off:+.1e} absolute", f"{self.tolerance:.1e} absolute"]
        return "| " + " | ".join(cells) + " |"


def figure(z):
    return f"{z.real:.7g}" + (f" {z.imag:+.7g}j" if z.imag else "")


def chapter(name, comment, rows):
    compared = PARTS[part_of(comment)][2]
    head = [f"| quantity | here | {compared} | difference | tolerance |", "|---|---|---|---|---|"]
    return [f"\n#### {name}\n", comment + "\n", *head, *(row.markdown() for row in rows)]


def without_figures(printed, tests, told, part):
    """Tests of a part that passed without figures: what they prove, from the comments above them."""
    passed = [name for name in re.findall(r"\[ +OK \] (\S+)", printed) if name not in told]
    held = [f"- **{name}.** {tests[name][1]}" for name in passed if part_of(tests[name][1]) == part]
    return ["\n### Held without a figure\n", *held] if held else []


def measured(program, only, scratch):
    """What the program printed, and its checks by test: [(test, file name, line, kind, figures)]."""
    checks = pathlib.Path(scratch) / (program.name + ".tsv")
    printed = run(program, only, checks)
    return printed, [line.split("\t") for line in checks.read_text().splitlines()]


def rows_by_test(lines, tests):
    by_test = {}
    for name, _, line, kind, *figures in lines:
        by_test.setdefault(name, []).append(Row(expression(tests[name][0], int(line)), kind, figures))
    return by_test


def overview(by_test, tests):
    out = ["## Overview\n"]
    parts = [part_of(tests[name][1]) for name in by_test]
    out += [f"- {part}. {title}: {parts.count(part)} tests" for part, (title, _, _) in PARTS.items()]
    out += ["\n| test | part | checks | largest difference over tolerance |", "|---|---|---|---|"]
    for (name, rows), part in zip(by_test.items(), parts):
        shares = [row.share() for row in rows if row.share() is not None]
        largest = f"{max(shares):.2f}" if shares else "bounds"
        out.append(f"| {name} | {part} | {len(rows)} | {largest} |")
    return out


def is_reference(file):
    return file.parent.name == "reference" or file.name.startswith("reference_")


MEASURED = """
Readings of others, recomputed from the published sizes and frequencies. The conductivity is the one that the source
found from its own readings; if the volts per tesla of a probe were not published, one row sets its scale. The bar beside
each figure follows from the source: the last digit written, the spread of its figures for the metal, sizes in whole
millimetres. Rows outside their bars are in a test of their own; the text above it says why, or that the reason is not
known. Phases in degrees, the probe in millivolt.

Not found with both readings and inputs: power and flux density in aluminium billets at 50 Hz (M. W.
Kennedy, licentiate thesis, KTH Stockholm 2013, ISBN 978-91-7501-810-2; IEEE Trans. Ind. Electron. 2014, doi
10.1109/TIE.2013.2281168: abstracts), temperatures of a graphite crucible with tin at 13.5 kHz (J. Cryst. Growth 593,
2022, 126750: inputs, no readings), voltage of a melting coil against frequency (Int. J. Electromagnetics 1(1), 2016:
abstract), steel heated through its Curie point (doi 10.3233/JAE-230182: title), impedance of a probe over a disc of two
layers (Materials 18(10), 2025, 2376: abstract). Power by calorimetry, temperatures of the work and the impedance of a
loaded coil are thus not compared with measurement yet. `cases/manual/04-measuring.md` says how to measure ten figures on
one's own heater.
"""


def is_measured(name):
    """Tests whose figures of comparison were read on an instrument."""
    return name.startswith("Measured.") or name == "Proximity.ManyTurnCoils"


CONVERGENCE = """
Manufactured solutions with their sources, and problems with a closed form: how fast the error falls with the mesh and
the time step (slopes), and how large it is.
"""

REFERENCES = """
Closed forms and second methods used by the tests above.
"""

BIAS = """
## Known bias of the model

The response of steel to a sine is not a sine. The solver gives every point one permeability for the whole period. The
error is found by comparison with time stepping of the nonlinear diffusion (`reference/time_domain.hpp`).
Per cent of the true value; `rms` is the law in use, `fundamental` and `peak` are the usual alternatives.

Tank, drive and supply are solved as if the tank voltage were a sine. The error is found by comparison with
time stepping of the circuit itself: switches, chokes, coil and capacitors.
"""

SECTIONS = {
    "Against measurement": MEASURED,
    "The solver": "",
    "The references themselves": REFERENCES,
    "Convergence": CONVERGENCE,
}


def section_of(name, file):
    if is_measured(name):
        return "Against measurement"
    if file.parent.name == "convergence":
        return "Convergence"
    return "The references themselves" if is_reference(file) else "The solver"


def part_of_book(part, by_test, tests):
    """The chapters of one part, by section."""
    title, holds, _ = PARTS[part]
    out = [f"\n## {part}. {title}\n", holds]
    own = [name for name in by_test if part_of(tests[name][1]) == part]
    for section, holds in SECTIONS.items():
        names = [name for name in own if section_of(name, tests[name][0]) == section]
        if names:
            out += [f"\n### {section}", *([holds.rstrip()] if holds else [])]
        for name in names:
            out += chapter(name, tests[name][1], by_test[name])
    return out


def main():
    folder = pathlib.Path(__file__).parent
    tests = tests_of(folder) | tests_of(folder.parent / "convergence")
    refuse_unmarked(tests)
    if sys.argv[1:] == ["--marks"]:
        return
    published, convergence = (pathlib.Path(argument) for argument in sys.argv[1:3])
    with tempfile.TemporaryDirectory() as scratch:
        printed, lines = measured(published, "*", scratch)
        _, more = measured(convergence, "Manufactured*:Convergence.*", scratch)
    by_test = rows_by_test(lines, tests) | rows_by_test(more, tests)
    biased = bias_tables(printed, tests)
    told = [*by_test, *(line.strip("# \n") for line in biased if line.startswith("\n### "))]
    out = [HEAD, *overview(by_test, tests)]
    for part in PARTS:
        out += part_of_book(part, by_test, tests)
        out += without_figures(printed, tests, told, part)
    out += [BIAS.rstrip(), *biased]
    print("\n".join(out))


main()
