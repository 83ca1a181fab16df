"""README and manual say what is so: docs_test.py PROGRAM.

Fenced blocks speak by the words behind their three backticks, which a reader does not see:

    sh              is run, all blocks of a file in order, by bash in a folder of its own that holds cases/ and the files below
    sh exit-2       ends with that code
    sh not-run      is not run: it installs packages, builds, or tests
    toml NAME       is written there as NAME before anything is run
    text output     each line stands in what the block before it printed, however it is wrapped there
"""

import concurrent.futures
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]
MANUAL = ROOT / "cases/manual"
SLOW = ("README.md", "07-materials.md")  # half of the time of all: they begin first
BLOCK = re.compile(r"^```(\w+)(?: ([^\n]+))?\n(.*?)^```$", re.M | re.S)

sys.dont_write_bytecode = True
sys.path.insert(0, str(MANUAL))
import render  # noqa: E402  (its folder is on the path only now)


def documents():
    return [ROOT / "README.md", *render.chapters()]


def squeezed(text):
    """In one line with single spaces, since a summary is wrapped and its columns are padded."""
    return " ".join(text.split())


class Document:
    """The blocks of one file, and what they print."""

    def __init__(self, file):
        self.file = file
        self.files, self.commands, self.expected = {}, [], []
        for kind, word, text in BLOCK.findall(file.read_text()):
            self.add(kind, word, text)

    def add(self, kind, word, text):
        if kind == "toml" and word:
            self.files[word] = text
        elif kind == "sh" and word != "not-run":
            self.commands.append((text, int(word.removeprefix("exit-")) if word else 0))
        elif (kind, word) == ("text", "output"):
            self.expected += [(len(self.commands) - 1, line) for line in text.splitlines() if line.strip()]

    def run(self, program):
        """What is wrong, in words; empty when all is well."""
        with tempfile.TemporaryDirectory() as name:
            folder = pathlib.Path(name)
            (folder / "build/release").mkdir(parents=True)
            (folder / "build/release/coilwright").symlink_to(program)
            (folder / "cases").symlink_to(ROOT / "cases")
            for written, text in self.files.items():
                (folder / written).write_text(text)
            return self.faults(folder)

    def faults(self, folder):
        path = f"{folder / 'build/release'}:{os.environ['PATH']}"
        wrong, printed = [], []
        for text, code in self.commands:
            ran = subprocess.run(["bash", "-e", "-c", text], cwd=folder, env={**os.environ, "PATH": path},
                                 stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False)
            printed.append(squeezed(ran.stdout))
            if ran.returncode != code:
                wrong.append(f"{self.file.name}: {text.strip()}\nends with {ran.returncode}, not {code}: {ran.stdout}")
        for block, line in self.expected:
            if squeezed(line) not in printed[block]:
                wrong.append(f"{self.file.name}: not printed: {line}\nbut: {printed[block][:3000]}")
        return wrong


class Docs(unittest.TestCase):
    program = None

    def test_commands_do_as_they_are_said_to(self):
        """Every command of README and manual ends as stated, and prints the lines below it."""
        read = sorted((Document(file) for file in documents()), key=lambda document: document.file.name not in SLOW)
        self.assertGreaterEqual(sum(len(document.commands) for document in read), 20)
        self.assertGreaterEqual(sum(len(document.expected) for document in read), 20)
        with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
            wrong = [fault for faults in pool.map(lambda document: document.run(self.program), read) for fault in faults]
        self.assertFalse(wrong, "\n\n".join(wrong))

    def test_every_block_has_a_known_kind(self):
        """No command escapes the test through a mistake in the words after the backticks."""
        known = re.compile(r"sh( not-run| exit-\d+)?|toml( [\w-]+\.toml)?|text( output)?")
        for file in documents():
            fences = [line[3:].strip() for line in file.read_text().splitlines() if line.startswith("```")]
            self.assertEqual(len(fences) % 2, 0, file)
            for word in fences[::2]:
                self.assertRegex(word, rf"^({known.pattern})$", file)

    def test_commands_of_the_tables_exist(self):
        """`coilwright NAME` in the text is a command, and every option beside it is one of its own."""
        page = subprocess.run([self.program, "manual", "man"], capture_output=True, text=True, check=True).stdout
        page = page.replace("\\-", "-")
        commands = set(re.findall(r"^\.SS (\w+)$", page, re.M))
        for file in documents():
            for said in re.findall(r"`(?:mpirun \.\.\. )?coilwright ([^`\n]+)`", file.read_text()):
                self.assertIn(said.split()[0], commands, file)
                for option in re.findall(r"--[a-z-]+", said):
                    self.assertIn(f"\\fB{option}\\fR", page.split(f".SS {said.split()[0]}\n")[1].split("\n.SS ")[0], file)

    def test_files_named_are_there(self):
        """Links and paths in README, manual and DEVELOPERS.md lead to files of the tree."""
        for file in [*documents(), ROOT / "DEVELOPERS.md"]:
            text = file.read_text()
            for link in re.findall(r"\]\(([^)#]+)(?:#[\w-]+)?\)", re.sub(r"`[^`\n]*`", "", text)):
                self.assertTrue((file.parent / link).exists(), f"{file.name}: {link}")
            for path in re.findall(r"`((?:cases|tests|materials|solver|mesh|postproc)/[\w./-]+)`", text):
                found = [path, f"{path}.cpp", f"{path}.hpp"]
                self.assertTrue(any((ROOT / one).exists() for one in found), f"{file.name}: {path}")

    def test_tests_named_are_there(self):
        """What follows -R in a command names a test of the tree."""
        names = set()
        for source in ROOT.glob("tests/**/*_test.cpp"):
            names |= {f"{suite}.{name}" for suite, name in re.findall(r"^TEST(?:_F)?\((\w+),\s*(\w+)\)", source.read_text(), re.M)}
        named = []
        for file in [*documents(), ROOT / "DEVELOPERS.md"]:
            named += re.findall(r"ctest [^`\n]*-R \"?([\w|.]+)\"?", file.read_text())
        self.assertGreaterEqual(len(named), 5)
        for pattern in named:
            for one in pattern.split("|"):
                self.assertTrue(any(one in name for name in names), one)

    def test_readme_is_short(self):
        """At most 150 lines, and a case of twelve."""
        text = (ROOT / "README.md").read_text()
        self.assertLessEqual(len(text.splitlines()), 150)
        self.assertEqual(len(Document(ROOT / "README.md").files["bar.toml"].splitlines()), 12)

    def test_every_key_has_words(self):
        """The table of keys holds every key of the schema, each with its meaning."""
        rows = [line for line in render.keys().splitlines() if line.startswith("| `")]
        self.assertGreaterEqual(len(rows), 150)
        for row in rows:
            self.assertTrue(row.split(" | ")[-1].strip(" |"), row)

    def test_page_is_whole(self):
        """Every picture is in the page, its links have targets, no part is missing; the manual pages are valid roff."""
        if not shutil.which("pandoc"):
            self.skipTest("pandoc is not installed")
        with tempfile.TemporaryDirectory() as folder:
            subprocess.run([sys.executable, "-B", MANUAL / "render.py", "--no-gallery", self.program, folder], check=True,
                           stdout=subprocess.DEVNULL)
            page = pathlib.Path(folder, "manual.html").read_text()
            for name in ("coilwright.7", "coilwright-case.5"):
                self.assertIn(".SH", pathlib.Path(folder, name).read_text())
                if shutil.which("groff"):
                    warned = subprocess.run(["groff", "-man", "-ww", "-z", "-Tutf8", pathlib.Path(folder, name)],
                                            capture_output=True, text=True, check=True)
                    self.assertEqual(warned.stdout + warned.stderr, "")
        self.assertNotIn("<!-- made", page)
        self.assertFalse(re.findall(r'(?:src|href)="(?!data:|#)[^"]*"', page))
        names = set(re.findall(r'id="([^"]+)"', page))
        self.assertFalse([to for to in re.findall(r'href="#([^"]+)"', page) if to not in names])


if __name__ == "__main__":
    Docs.program = str(pathlib.Path(sys.argv.pop(1)).resolve())
    unittest.main(verbosity=2)
