"""The page of a sweep in a real browser: sweep_test.py PROGRAM CASE. Ends with 77 where there is no browser."""

import base64
import csv
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

import driver
from driver import ENTER, RIGHT, SPACE
from page import CONTRAST, MARGIN, MM, PAPERS, figure

UP = "\ue013"


class SweepPage(unittest.TestCase):
    folder = None  # of the sweep, set by main()
    program = None

    @classmethod
    def setUpClass(cls):
        cls.table = list(csv.DictReader((cls.folder / "tables" / "designs.csv").open()))
        cls.ranked = [row for row in cls.table if row["limits"]]
        cls.keys = [axis["key"] for axis in json.loads((cls.folder / "designs.json").read_text())["vary"]]
        cls.browser = driver.Browser()
        cls.addClassCleanup(cls.browser.close)

    def setUp(self):
        self.browser.resize(1280, 900)
        self.browser.media()
        self.browser.open(self.folder / "report.html")

    def script(self, text, *arguments):
        return self.browser.run(text, *arguments)

    def shown_rows(self):
        """Numbers of the visible rows of the table, from top to bottom."""
        return self.script("return [...document.querySelectorAll('.designs tbody tr')].filter((r) => !r.hidden)"
                           ".map((r) => Number(r.dataset.row))")

    def compared(self):
        return {row[0]: row[1:] for row in self.script(
            "return [...document.querySelectorAll('#compare tbody tr')].map((r) => [...r.cells].map((c) => c.textContent))")}

    def test_nothing_complains_and_nothing_is_loaded(self):
        """No message on the console, no request to anywhere."""
        for scheme in ("light", "dark"):
            self.browser.media(scheme=scheme)
            self.browser.open(self.folder / "report.html")
            self.assertEqual([m["message"] for m in self.browser.console()], [])
            loaded = self.script("return performance.getEntriesByType('resource').map((e) => e.name)")
            self.assertEqual([name for name in loaded if not name.startswith("data:")], [])

    def test_every_ranked_design_has_its_row(self):
        """Rows of the page are those of designs.csv, in their order; the figure ranked by agrees to three figures."""
        self.assertGreater(len(self.ranked), 10)
        rows = self.script("return [...document.querySelectorAll('.designs tbody tr')].map((r) => [...r.cells].map((c) => c.textContent))")
        self.assertEqual(len(rows), len(self.ranked))
        for row, design in zip(rows, self.ranked):
            for k, key in enumerate(self.keys):
                self.assertEqual(float(row[1 + k].split("\u00a0")[0]), float(f"{float(design[key].split()[0]):.5g}"))
            watts = float(design["states.fixed_frequency.power.workpiece_W"])
            self.assertEqual(row[1 + len(self.keys)].split("\u00a0")[0], figure(watts if watts < 999.5 else watts / 1000))

    def test_sorts_by_keyboard(self):
        """A click on a column's heading sorts by it, a second one reverses the order; aria-sort says so."""
        head = "[...document.querySelectorAll('.designs thead th')].find((h) => h.textContent.startsWith('Coil loss'))"
        self.script(f"{head}.querySelector('button').focus()")
        losses = [float(design["states.fixed_frequency.power.coil_W"]) for design in self.ranked]
        for order, falling in (("ascending", False), ("descending", True)):
            self.browser.press(SPACE)
            self.assertEqual(self.script(f"return {head}.getAttribute('aria-sort')"), order)
            sorted_losses = [losses[row] for row in self.shown_rows()]
            self.assertEqual(sorted_losses, sorted(losses, reverse=falling))

    def test_filters_by_keyboard(self):
        """Words select the rows that have all of them; the box selects those that break no limit."""
        self.script("document.querySelector('[name=words]').focus()")
        self.browser.press(*"turns 8")
        wanted = [k for k, design in enumerate(self.ranked) if design[self.keys[0]] == "8"]
        self.assertTrue(wanted)
        self.assertEqual(self.shown_rows(), wanted)
        said = self.script("return document.querySelector('.filters output').textContent")
        self.assertEqual(said, f"{len(wanted)} of {len(self.ranked)} designs")
        self.script("document.querySelector('[name=words]').value = ''; document.querySelector('[name=kept]').focus()")
        self.browser.press(SPACE)
        kept = [k for k, design in enumerate(self.ranked) if design["limits"] == "ok"]
        self.assertLess(len(kept), len(self.ranked))  # the example has designs that break its requirement
        self.assertEqual(self.shown_rows(), kept)

    def test_compares_two_designs_picked_by_the_reader(self):
        """Figures of both, and the difference, are those of designs.csv."""
        last = len(self.ranked) - 1
        self.script("document.querySelector('.designs input[name=pick-a][value=\"2\"]').click();"
                    "const s = document.querySelector('.pair-choice [name=b]'); s.value = arguments[0];"
                    "s.dispatchEvent(new Event('change'))", last)
        rows = self.compared()
        for label, key in (("Power in the workpiece", "power.workpiece_W"), ("Coil loss", "power.coil_W"),
                           ("Inductance", "coil.inductance_H")):
            a, b = (float(self.ranked[k]["states.fixed_frequency." + key]) for k in (2, last))
            for text, value in zip(rows[label][:2], (a, b)):
                number, unit = text.split("\u00a0")
                scale = {"k": 1e3, "m": 1e-3, "\u00b5": 1e-6, "n": 1e-9}.get(unit[0], 1.0) if len(unit) > 1 else 1.0
                self.assertAlmostEqual(float(number) * scale / value, 1.0, delta=0.006, msg=label)
            self.assertEqual(rows[label][2].replace("\u2212", "-").split("\u00a0")[0],
                             f"{'+' if b > a else '-'}{figure(abs(100 * (b / a - 1)))}", label)
        self.assertTrue(self.script("return document.querySelector(`.designs input[name=pick-b][value='${arguments[0]}']`).checked", last))

    def test_map_says_what_designs_csv_says(self):
        """The pointer and the arrow keys on the map name design, figure and verdict; a click takes it into the comparison."""
        self.script("document.querySelector('#design-map .live').focus()")
        self.browser.press(RIGHT, RIGHT, UP)  # the first press goes to the first field
        self.check_said(self.script("return document.querySelector('#design-map .reading').textContent"))
        box = self.script("const s = document.querySelector('#design-map .live svg'); s.scrollIntoView({block: 'center', behavior: 'instant'});"
                          "const b = s.getBoundingClientRect(); return [b.left, b.top, b.width, b.height]")
        self.browser.move(box[0] + 0.5 * box[2], box[1] + 0.3 * box[3])
        said = self.script("return document.querySelector('#design-map .reading').textContent")
        row = self.check_said(said)
        self.browser.press(ENTER)  # the map still has the keyboard
        self.assertEqual(self.script("return document.querySelector('.pair-choice [name=b]').value"), str(row))

    def check_said(self, said):
        """Row of the design that was named, its figure checked."""
        turns = re.match(r"turns\u00a0(\d+), pitch\u00a0([\d.]+)\u00a0mm: power in the workpiece ([\d.]+)\u00a0(k?)W", said)
        self.assertTrue(turns, said)
        rows = [k for k, d in enumerate(self.ranked)
                if d[self.keys[0]] == turns[1] and float(d[self.keys[1]].split()[0]) == float(turns[2])]
        self.assertEqual(len(rows), 1, said)
        watts = float(self.ranked[rows[0]]["states.fixed_frequency.power.workpiece_W"])
        self.assertEqual(turns[3], figure(watts / 1000 if turns[4] else watts))
        return rows[0]

    def test_limit_lines_part_what_breaks_from_what_keeps(self):
        """There are as many pieces of the heavy line as neighbours in the grid of which one breaks a limit."""
        grid = {(d[self.keys[0]], d[self.keys[1]]): d["limits"] for d in self.ranked}
        axes = [axis["values"] for axis in json.loads((self.folder / "designs.json").read_text())["vary"]]
        pieces = 0
        for i, turns in enumerate(axes[0]):
            for k, pitch in enumerate(axes[1]):
                here = grid.get((turns, pitch))
                for other in (axes[0][i + 1:i + 2] and grid.get((axes[0][i + 1], pitch)),
                              axes[1][k + 1:k + 2] and grid.get((turns, axes[1][k + 1]))):
                    pieces += bool(here and other and here != other)
        self.assertGreater(pieces, 0)
        self.assertEqual(self.script("return document.querySelectorAll('#design-map .live line').length"), pieces)

    def test_pareto_chart_has_every_design(self):
        """Ink on the canvas, a dot for each design, and no design betters one of the front in both figures."""
        drawn = self.script(
            "const c = document.querySelector('#design-pareto canvas'), s = Chart.getChart(c).data.datasets;"
            "const d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data; let ink = 0;"
            "for (let i = 3; i < d.length; i += 4) ink += d[i] > 0;"
            "return [ink / (c.width * c.height), s.slice(1).reduce((n, e) => n + e.data.length, 0), s[0].data.map((p) => p.row)]")
        self.assertGreater(drawn[0], 0.01)
        self.assertEqual(drawn[1], len(self.ranked))
        pairs = [(float(d["states.fixed_frequency.power.workpiece_W"]), float(d["states.fixed_frequency.power.coil_W"]))
                 for d in self.ranked]
        kept = [pairs[k] for k, d in enumerate(self.ranked) if d["limits"] == "ok"]
        front = [k for k, (work, coil) in enumerate(pairs) if self.ranked[k]["limits"] == "ok"
                 and not any(w >= work and c <= coil and (w, c) != (work, coil) for w, c in kept)]
        self.assertEqual(sorted(drawn[2]), sorted(front))

    def test_other_units(self):
        """Inches in table, map and comparison, and back."""
        self.script("document.querySelector('[name=inches]').click()")
        text = self.script("return document.querySelector('main').innerText")
        self.assertIn("\u00a0in", text)
        self.assertNotIn("mm", self.script("return [...document.querySelectorAll('.designs tbody, #compare tbody, #design-map .live')]"
                                           ".map((e) => e.textContent).join(' ')"))
        self.script("document.querySelector('[name=inches]').click()")
        self.assertNotIn("\u00a0in ", self.script("return document.querySelector('.designs').textContent"))

    def test_text_stands_out(self):
        """Contrast of all text at least 4.5 to 1, light, dark and printed."""
        for kind, scheme in (("", "light"), ("", "dark"), ("print", "light")):
            self.browser.media(kind, scheme)
            self.assertEqual(self.script(CONTRAST), [], (kind, scheme))

    def test_fits_a_telephone(self):
        """At 390 pixels nothing but the tables and drawings scrolls sideways."""
        self.browser.resize(390, 800)
        self.browser.open(self.folder / "report.html")
        self.assertLessEqual(self.script("return document.documentElement.scrollWidth"), 390)

    def test_rows_are_low_on_a_telephone(self):
        """No row of the table is higher than four lines of its text: a long reason has room beside the numbers."""
        self.browser.resize(390, 844)
        self.browser.open(self.folder / "report.html")
        lines = self.script("return [...document.querySelectorAll('.designs tbody tr')].map((r) =>"
                            " r.getBoundingClientRect().height / parseFloat(getComputedStyle(r).lineHeight))")
        self.assertLess(max(lines), 4.5)

    def test_says_the_same_only_of_what_reads_the_same(self):
        """Of every pair of designs with the best, the last column says so where both numbers read the same, and nowhere else."""
        for row in range(1, len(self.ranked)):
            self.script("const s = document.querySelector('.pair-choice [name=b]'); s.value = arguments[0];"
                        "s.dispatchEvent(new Event('change'))", row)
            for label, (a, b, said) in self.compared().items():
                if label != "Place":
                    self.assertEqual(said == "the same", a == b, (label, a, b, said))

    def test_words_of_the_map_stay_on_it(self):
        """No lettering of the map is cut off, on a desktop and on a telephone."""
        for width in (1280, 390):
            self.browser.resize(width, 844)
            self.browser.open(self.folder / "report.html")
            out = self.script(
                "const s = document.querySelector('#design-map .live svg'), b = s.getBoundingClientRect();"
                "return [...s.querySelectorAll('text')].filter((t) => { const r = t.getBoundingClientRect();"
                " return r.left < b.left - 1 || r.right > b.right + 1 || r.top < b.top - 1 || r.bottom > b.bottom + 1; })"
                ".map((t) => t.textContent)")
            self.assertEqual(out, [], width)

    def test_prints_drawings(self):
        """On A4 and Letter every drawing fits one page, and controls for the screen are left out."""
        for paper, (width, height) in PAPERS.items():
            self.browser.media("print")
            self.browser.resize(round((width - 2 * MARGIN) * MM), round((height - 2 * MARGIN) * MM))
            figures = self.script(
                "return [...document.querySelectorAll('figure')].map((f) => { const b = f.getBoundingClientRect();"
                " return [b.width, b.height, getComputedStyle(f).breakInside,"
                "  [...f.querySelectorAll('.live')].some((c) => c.getClientRects().length), f.querySelector('.still svg, .scroll svg').getClientRects().length] })")
            self.assertEqual(len(figures), 3)
            for wide, high, inside, live, drawn in figures:
                self.assertLessEqual(wide, (width - 2 * MARGIN) * MM + 1, paper)
                self.assertLessEqual(high, (height - 2 * MARGIN) * MM, paper)
                self.assertEqual((inside, live, drawn), ("avoid", False, 1), paper)
            self.browser.media()
            self.assertTrue(base64.b64decode(self.browser.print(width / 10, height / 10)).startswith(b"%PDF"))

    def test_readable_without_the_script(self):
        """With scripts off the page has the drawings, all rows and a comparison of the best two."""
        self.browser.develop("Emulation.setScriptExecutionDisabled", value=True)
        try:
            self.browser.open(self.folder / "report.html")
        finally:
            self.browser.develop("Emulation.setScriptExecutionDisabled", value=False)
        self.assertEqual(self.script("return [...document.querySelectorAll('figure svg')].filter((s) => s.getClientRects().length).length"), 3)
        self.assertEqual(len(self.shown_rows()), len(self.ranked))
        self.assertIn("Power in the workpiece", self.compared())

    def test_cautions_are_there(self):
        """The page has the header and the rows on voltage, implants, water, hot metal and the model."""
        text = self.script("return document.querySelector('#cautions').textContent")
        for word in ("estimates for planning", "Voltage", "pacemakers", "Water", "Hot metal", "model"):
            self.assertIn(word.lower(), text.lower())

    def test_made_again_from_the_files(self):
        """`report` on the folder makes the same page, byte for byte."""
        page = (self.folder / "report.html").read_bytes()
        (self.folder / "report.html").unlink()
        subprocess.run([self.program, "report", str(self.folder)], check=True, capture_output=True)
        self.assertEqual((self.folder / "report.html").read_bytes(), page)


def main():
    absent = driver.missing()
    if absent:
        print(f"skipped: {absent} not installed (Debian packages chromium and chromium-driver)")
        return 77
    program, case = sys.argv[1:3]
    with tempfile.TemporaryDirectory() as folder:
        SweepPage.folder = pathlib.Path(folder) / "sweep"
        SweepPage.program = program
        run = subprocess.run([program, "sweep", case, "--accuracy", "fast", "--out", str(SweepPage.folder)],
                             capture_output=True, text=True, check=False)
        if run.returncode:
            print(run.stdout, run.stderr)
            return 1
        outcome = unittest.TextTestRunner(verbosity=2).run(unittest.defaultTestLoader.loadTestsFromTestCase(SweepPage))
    return 0 if outcome.wasSuccessful() else 1


if __name__ == "__main__":
    sys.exit(main())
