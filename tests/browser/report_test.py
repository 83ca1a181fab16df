"""The page of a run in a real browser: report_test.py PROGRAM CASE. Ends with 77 where there is no browser."""

import base64
import csv
import io
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

import driver
from driver import HOME, RIGHT, SPACE, TAB
from page import CONTRAST, MARGIN, MM, PAPERS, figure


def rows_of(table):
    return list(csv.reader(io.StringIO(table.read_text())))


class Report(unittest.TestCase):
    folder = None  # of the result, set by main()

    @classmethod
    def setUpClass(cls):
        cls.result = json.loads((cls.folder / "result.json").read_text())
        cls.browser = driver.Browser()
        cls.addClassCleanup(cls.browser.close)

    def setUp(self):
        self.browser.resize(1280, 900)
        self.browser.media()
        self.browser.open(self.folder / "report.html")

    def script(self, text, *arguments):
        return self.browser.run(text, *arguments)

    def chart_names(self):
        return self.script("return [...document.querySelectorAll('figure.chart')].map((f) => f.id)")

    def test_nothing_complains_and_nothing_is_loaded(self):
        """No message on the console, no request to anywhere."""
        for scheme in ("light", "dark"):
            self.browser.media(scheme=scheme)
            self.browser.open(self.folder / "report.html")
            self.assertEqual([m["message"] for m in self.browser.console()], [])
            loaded = self.script("return performance.getEntriesByType('resource').map((e) => e.name)")
            self.assertEqual([name for name in loaded if not name.startswith("data:")], [])

    def test_every_chart_is_drawn_with_every_number_of_its_table(self):
        """Ink on every canvas, and as many points as its file in tables/ has numbers."""
        names = self.chart_names()
        self.assertGreaterEqual(len(names), 4)
        for name in names:
            drawn = self.script(
                "const c = document.querySelector('#' + arguments[0] + ' canvas'), g = c.getContext('2d');"
                "const d = g.getImageData(0, 0, c.width, c.height).data; let ink = 0;"
                "for (let i = 3; i < d.length; i += 4) ink += d[i] > 0;"
                "return [ink / (c.width * c.height),"
                " Chart.getChart(c).data.datasets.reduce((n, s) => n + s.data.length, 0)]", name)
            self.assertGreater(drawn[0], 0.01, name)
            rows = rows_of(self.folder / "tables" / (name + ".csv"))
            self.assertEqual(drawn[1], sum(len(row) - 1 for row in rows[1:]), name)

    def test_pointer_on_a_chart_says_what_the_result_says(self):
        """Workpiece power of every state, under the pointer, equals result.json to three figures."""
        states = self.result["states"]
        for i, state in enumerate(states):
            place = self.script(
                "const c = document.querySelector('#chart-powers canvas'); c.scrollIntoView({block: 'center', behavior: 'instant'});"
                "const b = c.getBoundingClientRect(), bar = Chart.getChart(c).getDatasetMeta(0).data[arguments[0]];"
                "return [b.left + bar.x, b.top + Chart.getChart(c).chartArea.bottom - 3]", i)
            self.browser.move(*place)
            lines = self.script(
                "return Chart.getChart(document.querySelector('#chart-powers canvas')).tooltip.body"
                ".flatMap((b) => b.lines)")
            expected = figure(state["power"].get("workpiece_W", 0.0))
            self.assertIn(f"workpiece: {expected} W", lines, state["name"])

    def test_arrow_keys_walk_along_a_chart(self):
        """The second point of the demand curve, said by the keyboard, equals result.json."""
        demand = self.result["demand"]
        self.script("document.querySelector('#chart-demand canvas').focus()")
        self.browser.press(RIGHT, RIGHT)
        said = self.script("return document.querySelector('#chart-demand .reading').textContent")
        self.assertIn(figure(demand["temperatures_K"][1] - 273.15) + " \u00b0C", said)
        self.assertIn(figure(demand["currents_A"][1]) + " A", said)

    def test_slider_shows_one_state_after_the_other(self):
        """The keyboard moves it; the picture shown and its name, state or moment, follow."""
        self.script("document.querySelector('.series input').focus()")
        self.browser.press(HOME)
        seen = []
        count = self.script("return document.querySelectorAll('.series')[0].querySelectorAll('figure').length")
        for _ in range(count):
            seen.append(self.script(
                "const s = document.querySelector('.series'), f = [...s.querySelectorAll('figure')];"
                "return [f.filter((e) => e.getClientRects().length).map((e) => e.dataset.state),"
                " s.querySelector('output').textContent]"))
            self.browser.press(RIGHT)
        self.assertTrue(all(shown == [name] for shown, name in seen), seen)
        self.assertEqual(len({name for _, name in seen}), count)
        self.assertGreater(count, 1)

    def test_pointer_on_a_picture_says_the_nearest_sample(self):
        """|B| or temperature, and power density, under the pointer equal the samples of pictures/*.json to three figures."""
        name = self.script("return document.querySelector('figure.picture:not([hidden])').dataset.name")
        values = json.loads((self.folder / "pictures" / (name + ".json")).read_text())
        box = self.script(
            "const s = document.querySelector('figure.picture:not([hidden]) svg'); s.scrollIntoView({block: 'center', behavior: 'instant'});"
            "const b = s.getBoundingClientRect(), v = s.viewBox.baseVal;"
            "return [b.left, b.top, b.width / v.width, b.height / v.height]")
        read = 0
        for column, row in ((3, values["rows"] // 2), (values["columns"] // 2, values["rows"] // 2),
                            (values["columns"] // 3, values["rows"] * 2 // 5)):
            x = values["axis"] - (column + 0.5) * values["step_mm"] * values["scale"]
            y = values["top"] + (row + 0.5) * values["step_mm"] * values["scale"]
            left, top = round(box[0] + x * box[2]), round(box[1] + y * box[3])
            if not 0 <= top < 900:
                continue
            self.browser.move(left, top)
            said = self.script("return document.querySelector('figure.picture:not([hidden]) .reading').textContent")
            # The pointer stands on whole pixels, which may be the sample beside the one aimed at.
            steps = values["scale"] * values["step_mm"]
            column = int(abs((left - box[0]) / box[2] - values["axis"]) / steps)
            row = int(((top - box[1]) / box[3] - values["top"]) / steps)
            self.assertIn(self.sample(values, column, row), said)
            self.assertIn("nearest sample", said)
            read += 1
        self.assertGreaterEqual(read, 2)

    @staticmethod
    def sample(values, column, row):
        at = row * values["columns"] + column
        texts = []
        for quantity in values["quantities"]:
            code = int.from_bytes(base64.b64decode(quantity["codes"])[2 * at:2 * at + 2], "little")
            value = quantity["top"] * 10 ** (quantity["decades"] * ((code - 1) / 65534 - 1)) if code else 0
            if code or quantity["unit"] != "\u00b0C":  # air has no temperature
                texts.append(f"{quantity['name']} {figure(value)}\u00a0{quantity['unit']}")
        return ", ".join(texts)

    def test_other_units(self):
        """The boxes turn every temperature to Fahrenheit and every length to inches, and back."""
        target = self.result["design"]["workpiece"]["target_K"]
        read = "return [...document.querySelectorAll('data')].map((d) => d.textContent)"
        before = self.script(read)
        self.script("document.querySelector('[name=fahrenheit]').focus()")
        self.browser.press(SPACE, TAB, SPACE)
        after = self.script(read)
        self.assertFalse([text for text in after if "\u00b0C" in text or "mm" in text])
        self.assertIn(figure((target - 273.15) * 1.8 + 32) + "\u00a0\u00b0F", after)
        self.browser.press(SPACE)
        self.script("document.querySelector('[name=fahrenheit]').click()")
        self.assertEqual(self.script(read), before)

    def test_keyboard_reaches_everything(self):
        """Tab goes through skip link, contents, units, slider, charts and pictures; none is a trap."""
        self.script("document.activeElement.blur(); window.scrollTo(0, 0)")
        kinds = set()
        for _ in range(120):
            self.browser.press(TAB)
            kinds.add(self.script(
                "const e = document.activeElement; return e.className === 'skip' ? 'skip' : e.matches('nav a') ? 'contents'"
                " : e.matches('.units input') ? 'units' : e.type === 'range' ? 'slider' : e.tagName === 'CANVAS' ? 'chart'"
                " : e.matches('.picture .scroll') ? 'picture' : e.tagName"))
        self.assertLessEqual({"skip", "contents", "units", "slider", "chart", "picture"}, kinds)

    def test_text_stands_out(self):
        """Contrast of all text at least 4.5 to 1 (WCAG 2.1, success criterion 1.4.3), light, dark and printed."""
        for kind, scheme in (("", "light"), ("", "dark"), ("print", "light")):
            self.browser.media(kind, scheme)
            self.assertEqual(self.script(CONTRAST), [], (kind, scheme))

    def test_fits_a_telephone(self):
        """At 400 pixels nothing but the tables and drawings scrolls sideways."""
        self.browser.resize(400, 800)
        self.browser.open(self.folder / "report.html")
        self.assertLessEqual(self.script("return document.documentElement.scrollWidth"), 400)

    def test_prints_whole_charts(self):
        """On A4 and Letter every chart and picture fits one page, may not be cut, and the live ones give way."""
        for paper, (width, height) in PAPERS.items():
            self.browser.media("print")
            self.browser.resize(round((width - 2 * MARGIN) * MM), round((height - 2 * MARGIN) * MM))
            figures = self.script(
                "return [...document.querySelectorAll('figure')].filter((f) => f.getClientRects().length).map((f) => {"
                " const b = f.getBoundingClientRect();"
                " return [f.id, b.width, b.height, getComputedStyle(f).breakInside,"
                "  [...f.querySelectorAll('canvas')].some((c) => c.getClientRects().length),"
                "  [...f.querySelectorAll('svg')].some((s) => s.getClientRects().length)] })")
            self.assertGreaterEqual(len(figures), 6)
            for name, wide, high, inside, live, drawn in figures:
                self.assertLessEqual(wide, (width - 2 * MARGIN) * MM + 1, (paper, name))
                self.assertLessEqual(high, (height - 2 * MARGIN) * MM, (paper, name))
                self.assertEqual((inside, live, drawn), ("avoid", False, True), (paper, name))
            self.browser.media()
            pdf = base64.b64decode(self.browser.print(width / 10, height / 10))
            self.assertTrue(pdf.startswith(b"%PDF"))
            pages = len(re.findall(rb"/Type\s*/Page\b", pdf))
            self.assertTrue(3 <= pages <= 25, pages)

    def test_size(self):
        """Under 3 MB."""
        self.assertLess((self.folder / "report.html").stat().st_size, 3e6)

    def test_readable_without_the_script(self):
        """With scripts off, every chart stands there as a drawing."""
        self.browser.develop("Emulation.setScriptExecutionDisabled", value=True)
        try:
            self.browser.open(self.folder / "report.html")
        finally:
            self.browser.develop("Emulation.setScriptExecutionDisabled", value=False)
        shown = self.script(
            "return [...document.querySelectorAll('figure')].map((f) => [f.querySelector('svg').getClientRects().length,"
            " [...f.querySelectorAll('canvas')].filter((c) => c.getClientRects().length).length])")
        self.assertTrue(shown and all(drawing and not live for drawing, live in shown), shown)


def main():
    absent = driver.missing()
    if absent:
        print(f"skipped: {absent} not installed (Debian packages chromium and chromium-driver)")
        return 77
    program, case = sys.argv[1:3]
    with tempfile.TemporaryDirectory() as folder:
        Report.folder = pathlib.Path(folder) / "result"
        run = subprocess.run([program, "run", case, "--accuracy", "fast", "--out", str(Report.folder)],
                             capture_output=True, text=True, check=False)
        if run.returncode:
            print(run.stdout, run.stderr)
            return 1
        outcome = unittest.TextTestRunner(verbosity=2).run(unittest.defaultTestLoader.loadTestsFromTestCase(Report))
    return 0 if outcome.wasSuccessful() else 1


if __name__ == "__main__":
    sys.exit(main())
