"""Renders the verification book from a test run.

    tests/published/book.py build/release/tests/test_published > tests/published/README.md

Sources are the comments above the tests, quantities the expressions checked, figures those of the
run; nothing is typed here.
"""

import os
import pathlib
import re
import subprocess
import sys
import tempfile

HEAD = """# Verification book

What this program computes against what others published. Made by `./dev book`, which runs the tests and writes down
what they compared; nothing below is typed. `source` is the comment above the test; "evaluated from the closed form"
means that the formula is published and the figure was computed from it by an independent program. SI units.

Where the model is known to be biased stands in the last chapter, and beside every result it concerns.
"""


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
            while above >= 0 and lines[above].startswith("//"):
                comment.insert(0, lines[above].lstrip("/ "))
                above -= 1
            found[".".join(match.groups())] = (file, " ".join(comment))
    return found


def expression(file, line):
    """First argument of the check that starts on that line."""
    text = " ".join(part.strip() for part in file.read_text().splitlines()[line - 1 : line + 4])
    text = text[text.index("expect_relative(") + len("expect_relative(") :]
    depth = 0
    for at, letter in enumerate(text):
        depth += letter in "([{"
        depth -= letter in ")]}"
        if depth < 0 or (depth == 0 and letter == ","):
            return text[:at].strip()
    return text.strip()


def run(program, checks):
    environment = dict(os.environ, COILWRIGHT_CHECKS=str(checks))
    printed = subprocess.run([program], env=environment, capture_output=True, text=True, check=False)
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


def chapter(name, source, rows):
    out = [f"\n### {name}\n", source + "\n", "| quantity | here | published | difference | tolerance |", "|---|---|---|---|---|"]
    for quantity, value, expected, tolerance in rows:
        difference = value / expected - 1 if expected else value
        out.append(f"| `{quantity}` | {value:.7g} | {expected:.7g} | {difference:+.1e} | {tolerance:.0e} |")
    return out


def main():
    program = pathlib.Path(sys.argv[1])
    folder = pathlib.Path(__file__).parent
    tests = tests_of(folder)
    with tempfile.TemporaryDirectory() as scratch:
        checks = pathlib.Path(scratch) / "checks.tsv"
        printed = run(program, checks)
        lines = [line.split("\t") for line in checks.read_text().splitlines()]
    by_test = {}
    for name, _, line, value, expected, tolerance in lines:
        file = tests[name][0]
        row = (expression(file, int(line)), float(value), float(expected), float(tolerance))
        by_test.setdefault(name, []).append(row)
    out = [HEAD, "## Overview\n", "| test | checks | largest difference over tolerance |", "|---|---|---|"]
    for name, rows in by_test.items():
        worst = max(abs(v / e - 1) / t if e else 0.0 for _, v, e, t in rows)
        out.append(f"| {name} | {len(rows)} | {worst:.2f} |")
    own = [name for name in by_test if not tests[name][0].name.startswith(("reference_", "fields_"))]
    out.append("\n## The solver\n")
    for name in own:
        out += chapter(name, tests[name][1], by_test[name])
    out.append("\n## The references themselves\n\nClosed forms and second methods that the tests above lean on.\n")
    for name in by_test:
        if name not in own:
            out += chapter(name, tests[name][1], by_test[name])
    out.append("\n## Known bias of the model\n")
    out.append(
        "Steel does not answer a sine with a sine. The solver gives every point one permeability for the whole period;\n"
        "what that costs is measured against time stepping of the nonlinear diffusion (`reference/time_domain.hpp`).\n"
        "Per cent of the true value; `rms` is the law in use, `fundamental` and `peak` are the usual alternatives.\n\n"
        "Tank, drive and supply are solved as if the tank voltage were a sine. What that leaves out is measured against\n"
        "time stepping of the circuit itself, switches, chokes, coil and capacitors."
    )
    out += bias_tables(printed, tests)
    print("\n".join(out))


main()
