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
import time
import unittest

import driver
from driver import ENTER, HOME, RIGHT, SPACE, TAB
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

    def unfold(self):
        """Opens every heading and waits until the charts under them are drawn."""
        self.script("for (const d of document.querySelectorAll('.fold > details')) d.open = true")
        for _ in range(100):
            if self.script("return [...document.querySelectorAll('figure.chart canvas')].every((c) => Chart.getChart(c))"):
                return
            time.sleep(0.05)
        self.fail("charts are not drawn within 5 s")

    def choose_paper(self, value):
        self.script("document.querySelector('[name=print]').value = arguments[0]", value)

    def printed_pages(self, paper):
        """Pages of the PDF the browser prints."""
        width, height = PAPERS[paper]
        pdf = base64.b64decode(self.browser.print(width / 10, height / 10))
        self.assertTrue(pdf.startswith(b"%PDF"))
        return len(re.findall(rb"/Type\s*/Page\b", pdf))

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

    def test_first_screen_tells_the_answer(self):
        """On a desktop the first screen shows the whole verdict, the coil cut open and the recipe, and little else."""
        self.browser.resize(1440, 900)
        self.browser.open(self.folder / "report.html")
        for place in ("#verdict", "#cut-open svg", "#recipe dl"):
            top, bottom = self.script("const b = document.querySelector(arguments[0]).getBoundingClientRect();"
                                      "return [b.top, b.bottom]", place)
            self.assertGreater(top, 0, place)
            self.assertLessEqual(bottom, 900, place)
        self.assertLess(self.script("return document.documentElement.scrollHeight"), 3 * 900)
        self.assertEqual(self.script("return document.querySelectorAll('.fold > details[open]').length"), 0)

    def test_folded_sections_open_by_click_link_and_address(self):
        """A click on a heading, a link in the verdict and an address with the section's name open it; all else stays folded."""
        shown = "return [...document.querySelectorAll('.inside')].filter((e) => e.closest('details').open).map((e) => e.id)"
        place = self.script("const e = document.querySelector('#power-h'); e.scrollIntoView({block: 'center', behavior: 'instant'});"
                            "const b = e.getBoundingClientRect(); return [b.left + 5, b.top + 5]")
        self.browser.move(*place)
        self.browser.click()
        self.assertEqual(self.script(shown), ["power"])
        self.browser.click()
        self.assertEqual(self.script(shown), [])
        self.script("document.querySelector('#verdict a[href=\"#limits\"]').focus()")
        self.browser.press(ENTER)
        self.assertEqual(self.script(shown), ["limits"])
        top = self.script("return new Promise((done) => setTimeout(() =>"
                          " done(document.querySelector('#limits').getBoundingClientRect().top), 1200))")
        self.assertTrue(-1 <= top < 900, top)
        self.browser.open("about:blank", scheme="")
        self.browser.open(str(self.folder / "report.html") + "#cooling")
        self.assertEqual(self.script(shown), ["cooling"])

    def test_cautions_of_the_design_are_not_folded(self):
        """Each caution that this design triggers, and the header, is visible without opening anything."""
        seen = self.script("return document.querySelector('#care').innerText")
        for words in ("Voltage:", "Capacitors may hold a charge", "Supply: fuse", "Radio:", "Hot metal looks cold".lower(),
                      "calculated estimates"):
            self.assertIn(words.lower(), seen.lower())

    def test_every_chart_is_drawn_with_every_number_of_its_table(self):
        """Ink on every canvas, and as many points as its file in tables/ has numbers."""
        self.unfold()
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
        self.unfold()
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
        """The second point of the demand curve, reached with the keyboard, equals result.json."""
        self.unfold()
        demand = self.result["demand"]
        self.script("document.querySelector('#chart-demand canvas').focus()")
        self.browser.press(RIGHT, RIGHT)
        said = self.script("return document.querySelector('#chart-demand .reading').textContent")
        self.assertIn(figure(demand["temperatures_K"][1] - 273.15) + " \u00b0C", said)
        self.assertIn(figure(demand["currents_A"][1]) + " A", said)

    def test_slider_shows_one_state_after_the_other(self):
        """The keyboard moves it; the picture shown and its name, state or moment, follow."""
        self.unfold()
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
        self.unfold()
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
            # The pointer is on whole pixels, so the sample may be the one beside that intended.
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
        """The boxes turn every temperature, every difference of two, every length and velocity, and back."""
        target = self.result["design"]["workpiece"]["target_K"]
        read = "return [...document.querySelectorAll('data')].map((d) => d.textContent)"
        before = self.script(read)
        self.script("document.querySelector('[name=fahrenheit]').focus()")
        self.browser.press(SPACE, TAB, SPACE)
        after = self.script(read)
        metric = [t for t in after if t.split("\u00a0")[1] in ("\u00b0C", "K", "K/s", "mm", "m", "m/s")]
        self.assertEqual(metric, [])
        self.assertIn(figure((target - 273.15) * 1.8 + 32) + "\u00a0\u00b0F", after)
        self.browser.press(SPACE)
        self.script("document.querySelector('[name=fahrenheit]').click()")
        self.assertEqual(self.script(read), before)

    def test_differences_of_temperature_have_no_zero(self):
        """In degrees Fahrenheit a difference is 1.8 times its kelvins, without the 32 of a temperature."""
        margin = self.result["cooling"]["water"]["boiling_margin_K"]
        self.script("document.querySelector('[name=fahrenheit]').click()")
        shown = self.script("return [...document.querySelectorAll('#cooling data.dK')].map((d) => d.textContent)")
        self.assertIn(figure(1.8 * margin) + "\u00a0\u00b0F", shown)

    def test_drawings_follow_the_units(self):
        """No millimetre is left in a drawing in inches; the bore is 1/25.4 of what it was; and back."""
        words = "return [...document.querySelectorAll('figure:not(.chart) svg text')].map((t) => t.textContent)"
        before = self.script(words)
        bore = next(t for t in before if t.startswith("bore \u00d8"))
        self.script("document.querySelector('[name=inches]').click()")
        after = self.script(words)
        self.assertEqual([t for t in after if re.search(r"\bmm\b", t)], [])
        inches = float(f"{float(bore.split()[-1]) / 25.4:.3g}")
        self.assertIn(f"bore \u00d8 {inches:g}", after)
        self.script("document.querySelector('[name=inches]').click()")
        self.assertEqual(self.script(words), before)

    def test_keyboard_reaches_everything(self):
        """Tab goes through skip link, units, paper, headings, slider, charts and pictures; none is a trap."""
        self.unfold()
        self.script("document.activeElement.blur(); window.scrollTo(0, 0)")
        kinds = set()
        for _ in range(160):
            self.browser.press(TAB)
            kinds.add(self.script(
                "const e = document.activeElement; return e.className === 'skip' ? 'skip' : e.matches('.fold > details > summary') ? 'heading'"
                " : e.matches('.units input') ? 'units' : e.name === 'print' ? 'paper' : e.type === 'range' ? 'slider'"
                " : e.tagName === 'CANVAS' ? 'chart' : e.matches('.picture .scroll') ? 'picture' : e.tagName"))
        self.assertLessEqual({"skip", "heading", "units", "paper", "slider", "chart", "picture"}, kinds)

    def test_text_stands_out(self):
        """Contrast of all text at least 4.5 to 1 (WCAG 2.1, success criterion 1.4.3), light, dark and printed."""
        for kind, scheme in (("", "light"), ("", "dark"), ("print", "light")):
            self.browser.media(kind, scheme)
            self.unfold()
            self.choose_paper("all")
            self.assertEqual(self.script(CONTRAST), [], (kind, scheme))

    def test_charts_are_dark_in_the_dark(self):
        """On a dark background every line and number of an axis has enough contrast: 3 to 1, 4.5 for text (WCAG 2.1)."""
        self.browser.media(scheme="dark")
        self.browser.open(self.folder / "report.html")
        self.unfold()
        poor = self.script(
            "const light = (v) => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;"
            "const luminance = (c) => [1, 3, 5].reduce((s, at, k) => s + [0.2126, 0.7152, 0.0722][k] * light(parseInt(c.slice(at, at + 2), 16)), 0);"
            "const paper = getComputedStyle(document.documentElement).getPropertyValue('--paper').trim(), poor = [];"
            "const behind = getComputedStyle(document.querySelector('.live')).backgroundColor;"
            "if (luminance(paper) > 0.05 || behind !== 'rgba(0, 0, 0, 0)') poor.push(paper + behind);"
            "const check = (what, c, least) => { if ((luminance(c) + 0.05) / (luminance(paper) + 0.05) < least) poor.push(what + c); };"
            "for (const c of document.querySelectorAll('figure.chart canvas')) { const chart = Chart.getChart(c);"
            " for (const s of Object.values(chart.options.scales)) check(c.parentElement.parentElement.id, s.ticks.color, 4.5);"
            " if (chart.config.type === 'line') for (const d of chart.data.datasets) check(d.label, d.borderColor, 3); }"
            "return poor")
        self.assertEqual(poor, [])

    def test_fits_a_telephone(self):
        """At 390 pixels the verdict comes first, and no element is wider than the screen but inside what scrolls by itself."""
        self.browser.resize(390, 844)
        self.browser.open(self.folder / "report.html")
        lead = self.script("const b = document.querySelector('#verdict .lead').getBoundingClientRect(); return [b.top, b.bottom]")
        self.assertTrue(0 < lead[0] < lead[1] < 844, lead)
        self.unfold()
        self.assertLessEqual(self.script("return document.documentElement.scrollWidth"), 390)
        wide = self.script(
            "return [...document.querySelectorAll('body *')].filter((e) => !e.closest('.skip, #cut-open h2') && !e.parentElement.closest('.scroll, svg')"
            " && e.getBoundingClientRect().right > 390.5).map((e) => e.tagName + '.' + e.className)")
        self.assertEqual(wide, [])
        cut = self.script("return [...document.querySelectorAll('figure svg')].filter((s) => s.getClientRects().length)"
                          ".map((s) => s.getBoundingClientRect().right).filter((right) => right > 390.5)")
        self.assertEqual(cut, [])

    def test_prints_what_is_asked_for(self):
        """Two pages by default, all on request; commissioning sheet and recipe card on one sheet each."""
        for paper in PAPERS:
            self.choose_paper("brief")
            self.assertEqual(self.printed_pages(paper), 2, paper)
            self.choose_paper("all")
            self.assertTrue(6 <= self.printed_pages(paper) <= 30, paper)
            for sheet in ("commissioning", "recipe-card"):
                self.choose_paper(sheet)
                self.assertEqual(self.printed_pages(paper), 1, (paper, sheet))
        self.choose_paper("brief")
        self.browser.media("print")
        shown = self.script("return [...document.querySelectorAll('section')].filter((e) => e.getClientRects().length)"
                            ".map((e) => e.id || e.dataset.sheet)")
        self.assertEqual(shown, ["verdict", "cut-open", "recipe", "care", "limits", "cautions"])

    def test_prints_whole_charts(self):
        """On A4 and Letter every chart and picture fits one page uncut, drawings replace the live charts; no table is cut."""
        self.unfold()
        self.choose_paper("all")
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
            wide = self.script("return [...document.querySelectorAll('main table')].filter((t) => t.getBoundingClientRect().right"
                               " > arguments[0]).map((t) => t.caption.textContent)", (width - 2 * MARGIN) * MM + 2)
            self.assertEqual(wide, [], paper)

    def test_size(self):
        """Under 3 MB."""
        self.assertLess((self.folder / "report.html").stat().st_size, 3e6)

    def test_readable_without_the_script(self):
        """With scripts off, every chart is shown as a drawing."""
        self.browser.develop("Emulation.setScriptExecutionDisabled", value=True)
        try:
            self.browser.open(self.folder / "report.html")
        finally:
            self.browser.develop("Emulation.setScriptExecutionDisabled", value=False)
        self.script("for (const d of document.querySelectorAll('.fold > details')) d.open = true")
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
