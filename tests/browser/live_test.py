"""The page of `coilwright live` in a real browser: live_test.py PROGRAM CASE. Ends with 77 where there is no browser."""

import json
import pathlib
import signal
import subprocess
import sys
import tempfile
import time
import unittest

import driver
from driver import ENTER
from page import CONTRAST

UP = "\ue013"


class LivePage(unittest.TestCase):
    address = None  # set by main()
    file = None
    program = None

    @classmethod
    def setUpClass(cls):
        cls.browser = driver.Browser()
        cls.addClassCleanup(cls.browser.close)

    def setUp(self):
        self.browser.resize(1280, 900)
        self.browser.media()
        self.browser.open(self.address, scheme="")
        self.settle_fast()

    def script(self, text, *arguments):
        return self.browser.run(text, *arguments)

    def wait(self, condition):
        for _ in range(3000):
            if self.script(f"return {condition}"):
                return
            time.sleep(0.1)
        self.fail(f"not so within five minutes: {condition}")

    def settle(self):
        self.wait("document.querySelector('#computing').textContent.startsWith('All figures are computed at accuracy normal') && !document.querySelector('.old')")

    def settle_fast(self):
        self.wait("document.querySelector('#computing').textContent.startsWith('All figures') && !document.querySelector('.old')")

    def text(self):
        return self.script("return document.querySelector('#text').value")

    def set_field(self, key, *keys):
        self.script("const f = document.getElementById(arguments[0]); f.focus(); f.select()", "field-" + key)
        self.browser.press(*keys)

    def cells(self, section):
        return {row[0]: row[1:] for row in self.script(
            "return [...document.querySelectorAll(arguments[0] + ' tbody tr')].map((r) => [...r.cells].map((c) => c.textContent))",
            section)}

    def test_nothing_complains_and_nothing_foreign_is_loaded(self):
        """No message on the console, no request to another server, and the token is not in the address."""
        self.assertEqual([m["message"] for m in self.browser.console()], [])
        own = self.address.split("?")[0]
        loaded = self.script("return performance.getEntriesByType('resource').map((e) => e.name)")
        self.assertEqual([n for n in loaded if not n.startswith((own, "data:"))], [])
        self.assertEqual(self.script("return location.href"), own)

    def test_a_field_changes_the_text_and_the_figures(self):
        """Arrow up in the field of the turns: 9 in the text, other figures; undo brings both back."""
        self.settle()
        before, figures = self.text(), self.cells("#states")
        self.set_field("coil.turns", UP)
        self.wait("document.querySelector('#text').value.includes('= 9')")
        self.settle()
        self.assertEqual(self.text(), before.replace("turns     = 8", "turns     = 9"))
        self.assertNotEqual(self.cells("#states")["Frequency"], figures["Frequency"])
        self.script("document.querySelector('#undo').click()")
        self.settle()
        self.assertEqual(self.text(), before)
        self.assertEqual(self.cells("#states"), figures)
        self.assertEqual(self.file.read_text(), before)

    def knob(self, key):
        """What the knob of a size says, and its place in the window."""
        value, x, y = self.script(
            "const k = document.querySelector(`[data-key='${arguments[0]}']`); k.scrollIntoView({block: 'center', behavior: 'instant'});"
            "const box = k.getBoundingClientRect();"
            "return [k.getAttribute('aria-valuetext'), box.x + box.width / 2, box.y + box.height / 2]", key)
        return value, (x, y)

    def test_a_size_is_pulled_in_the_drawing(self):
        """Knob, text and drawing hold one value; a pull is one step back; the knob steps by keys too."""
        before, drawing = self.text(), self.script("return document.querySelector('#drawing svg').textContent")
        self.assertIn("bore \u00d8 32", drawing)
        value, place = self.knob("coil.bore")
        self.assertEqual(value, "32 mm")
        self.browser.drag(*place, 24, 0)
        self.wait("document.querySelector('#text').value !== arguments[0]".replace("arguments[0]", repr(before)))
        self.settle_fast()
        value, _ = self.knob("coil.bore")
        self.assertGreater(float(value.split()[0]), 40)
        self.assertEqual(self.text(), before.replace('bore      = "32 mm"', f'bore      = "{value}"'))
        self.assertIn(f"bore \u00d8 {value.split()[0]}", self.script("return document.querySelector('#drawing svg').textContent"))
        self.script("document.querySelector('#undo').click()")
        self.settle_fast()
        self.assertEqual(self.text(), before)
        self.script("document.querySelector(\"[data-key='workpiece.centre']\").focus()")
        self.browser.press(UP)
        self.wait("document.querySelector('#text').value.includes('\"50.5 mm\"')")
        self.settle_fast()
        self.assertEqual(self.script("return document.activeElement.dataset.key"), "workpiece.centre")
        self.script("document.querySelector('#undo').click()")
        self.settle_fast()
        self.assertEqual(self.text(), before)

    def test_a_limit_that_is_crossed_is_announced(self):
        """Half the cans are half the capacitance, and too little for the current: an alert says so until it is seen."""
        self.assertTrue(self.script("return document.querySelector('#crossed').hidden"))
        self.set_field("tank.cans", *"10", ENTER)
        self.wait("document.querySelector('#text').value.includes('\"1 uF\"')")
        self.settle_fast()
        alert = self.script("const c = document.querySelector('#crossed'); return c.hidden ? '' : c.textContent")
        self.assertIn("limit", alert)
        lamps = self.script("return [...document.querySelectorAll('#lamps .past, #lamps .near')].map((l) => l.textContent)")
        self.assertTrue(any(lamp.split(":")[0] in alert for lamp in lamps), (alert, lamps))
        self.assertNotIn("Voltage", alert)  # a caution of both, with another figure
        self.script("document.querySelector('#crossed button').click()")
        self.assertTrue(self.script("return document.querySelector('#crossed').hidden"))
        self.script("document.querySelector('#undo').click()")
        self.settle_fast()

    def test_a_saved_case_runs_to_the_same_figures(self):
        """A value in another unit, saved: `coilwright run` of the file finds the frequencies and currents of the page."""
        before = self.file.read_text()
        self.set_field("drive.supply", *"0.03 kV", ENTER)
        self.wait("document.querySelector('#text').value.includes('0.03 kV')")
        self.settle()
        self.script("document.querySelector('#save').click()")
        self.wait("document.querySelector('#said').textContent.startsWith('Saved')")
        self.assertEqual(self.file.read_text(), self.text())
        shown = self.cells("#states")
        out = self.file.parent / "out"
        subprocess.run([self.program, "run", str(self.file), "--quiet", "--out", str(out)],
                       check=True, stdout=subprocess.DEVNULL)
        states = json.loads((out / "result.json").read_text())["states"]
        self.assertEqual(len(states), len(shown["Frequency"]))
        for i, state in enumerate(states):
            self.assertAlmostEqual(float(shown["Frequency"][i].split()[0]) * 1e3 / state["frequency_Hz"], 1, delta=0.005)
            self.assertAlmostEqual(float(shown["Coil current, rms"][i].split()[0]) / state["drive"]["current_rms_A"], 1, delta=0.005)
        self.script("document.querySelector('#undo').click()")
        self.settle()
        self.script("document.querySelector('#save').click()")
        self.wait("document.querySelector('#said').textContent.startsWith('Saved')")
        self.assertEqual(self.file.read_text(), before)

    def test_a_mistake_has_its_line(self):
        """A wrong text shows the line of the mistake; the figures stay, pale."""
        self.set_field("coil.bore", *"3", ENTER)
        self.wait("document.querySelector('#mistakes .stop')")
        line = self.text().split("\n").index('bore      = "3"') + 1
        self.assertIn(f"Line {line} ", self.script("return document.querySelector('#mistakes .stop').textContent"))
        self.assertTrue(self.script("return document.querySelector('#states').classList.contains('old')"))
        self.script("document.querySelector('#undo').click()")
        self.settle_fast()

    def test_variants_stand_side_by_side(self):
        """Only what differs: the turns and the figures that follow from them."""
        self.script("document.querySelector('#keep').click()")
        self.set_field("coil.turns", UP)
        self.wait("document.querySelector('#text').value.includes('= 9')")
        self.settle_fast()
        rows = self.cells("#variants")
        self.assertEqual(rows["Turns"], ["9", "8"])
        self.assertIn("Frequency", rows)
        self.assertNotIn("Bore, clear inside", rows)

    def test_a_sweep_shows_its_map(self):
        """Two values of the moment, swept in the background: how far it is, the map, the page of the sweep."""
        before = self.text()
        self.script("""
            document.querySelector('#over').open = true;
            const rows = document.querySelectorAll('#sweep-form [data-axis]');
            const set = (row, part, value) => {
              const e = row.querySelector(`[data-part=${part}]`); e.value = value; e.dispatchEvent(new Event('change'));
            };
            set(rows[0], 'key', 'coil.turns'); set(rows[0], 'from', '7'); set(rows[0], 'to', '9'); set(rows[0], 'count', '3');
            set(rows[1], 'key', 'coil.pitch'); set(rows[1], 'from', '7.5 mm'); set(rows[1], 'to', '8 mm'); set(rows[1], 'count', '3');
            document.querySelector('#sweep-form').requestSubmit();""")
        self.wait("!document.querySelector('#sweep').hidden && document.querySelector('#sweep-says').textContent === ''")
        shown = self.script("return document.querySelector('#sweep').textContent")
        for words in ("turns", "pitch", "9 designs", "chisel-live-sweep"):
            self.assertIn(words, shown)
        self.assertEqual(self.text(), before)
        page = self.script("return (async () => (await fetch('/sweep')).text())()")
        self.assertIn("designs tried", page)

    def test_a_starter_replaces_the_text(self):
        """Any starter can be begun with; undo brings the old text back."""
        before = self.text()
        self.wait("document.querySelector('#starters').length > 5")
        self.script("const s = document.querySelector('#starters');"
                    "s.selectedIndex = [...s.options].findIndex((o) => o.text.startsWith('bar:')); s.dispatchEvent(new Event('change'))")
        self.wait("document.querySelector('#states table')")
        self.settle_fast()
        self.assertNotEqual(self.text(), before)
        self.assertEqual(self.script("return document.querySelector('#mistakes .stop')"), None)
        self.script("document.querySelector('#undo').click()")
        self.settle_fast()
        self.assertEqual(self.text(), before)

    def test_the_verdict_and_the_cautions_are_there(self):
        self.assertRegex(self.script("return document.querySelector('#verdict').textContent"), "Yes|No")
        text = self.script("return document.querySelector('#cautions').textContent").lower()
        for word in ("estimates for planning", "voltage", "pacemakers", "water", "hot metal", "model"):
            self.assertIn(word, text)

    def test_for_keyboard_reader_and_telephone(self):
        """Every input has a label, the verdict is announced, nothing is wider than a telephone, contrast is enough."""
        self.assertEqual(self.script("return [...document.querySelectorAll('input, textarea')].filter((e) => !e.labels.length).length"), 0)
        self.assertTrue(self.script("return !!document.querySelector('#verdict [aria-live=polite]')"))
        for scheme in ("light", "dark"):
            self.browser.media(scheme=scheme)
            self.assertEqual(self.script(CONTRAST), [])
        self.browser.resize(390, 844)
        self.assertLessEqual(self.script("return document.documentElement.scrollWidth"), 390)


def main():
    absent = driver.missing()
    if absent:
        print(f"skipped: {absent} not installed (Debian packages chromium and chromium-driver)")
        return 77
    program, case = sys.argv[1:3]
    LivePage.program = program
    with tempfile.TemporaryDirectory() as folder:
        LivePage.file = pathlib.Path(folder) / "chisel.toml"
        # A heating run of a few seconds: every change is solved twice.
        LivePage.file.write_text(pathlib.Path(case).read_text().replace('"820 degC"', '"200 degC"'))
        with subprocess.Popen([program, "live", str(LivePage.file)], stdout=subprocess.PIPE, text=True) as live:
            LivePage.address = live.stdout.readline().strip()
            outcome = unittest.TextTestRunner(verbosity=2).run(unittest.defaultTestLoader.loadTestsFromTestCase(LivePage))
            live.send_signal(signal.SIGINT)
    return 0 if outcome.wasSuccessful() else 1


if __name__ == "__main__":
    sys.exit(main())
