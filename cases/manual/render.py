"""The manual as one page and as manual pages.

    cases/manual/render.py build/release/coilwright build/manual           by ./dev manual; needs pandoc
    cases/manual/render.py --no-gallery build/release/coilwright FOLDER    without the examples, in a second

Chapters are the .md files beside this script, in the order of their names. A line `<!-- made: keys -->` in one gives
way to what the schema of case files, the program or its examples say, so that nothing of it is typed twice.
"""

import argparse
import base64
import concurrent.futures
import html
import json
import os
import pathlib
import re
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
SCHEMA = ROOT / "cases/case.schema.json"
EXAMPLES = ROOT / "cases/examples"
MADE = re.compile(r"^<!-- made: ([a-z]+) -->$", re.M)


def said(*command, text=None):
    """What a command prints; its error message if it fails."""
    run = subprocess.run([str(word) for word in command], input=text, capture_output=True, text=True, check=False)
    if run.returncode:
        sys.exit(f"{' '.join(str(word) for word in command)}\n{run.stderr}")
    return run.stdout


def chapters():
    """Every chapter, in order."""
    return sorted(HERE.glob("*.md"))


# --- keys of a case, from the schema ---

UNIT = re.compile(r",? ?(?:\ba [a-z]+, )?with its unit(?: or by gauge)?, as in (.+)$")
LEFT_OUT = re.compile(r"(?:^|[;,] )(?:default|left out):? ([^;]+)")


def values_of(entry, example):
    """What may follow the equals sign."""
    if "const" in entry:
        return f'`"{entry["const"]}"`'
    if "enum" in entry:
        return ", ".join(f"`{json.dumps(value)}`" for value in entry["enum"])
    if example:
        return "as " + ", ".join(f'`"{one}"`' for one in re.split(", | or ", example))
    word = entry.get("type", "value")
    if word == "array":
        return "list" if entry.get("items", {}).get("type") != "object" else "tables"
    names = {"string": "text", "object": "table", "boolean": "`true`, `false`", "integer": "whole number"}
    name = " or ".join(names.get(one, one) for one in (word if isinstance(word, list) else [word]))
    low, high = entry.get("minimum"), entry.get("maximum")
    if low is not None and high is not None:
        return f"{name}, {low} to {high}"
    return f"{name}, at least {low}" if low is not None else name


def key_row(name, entry, needed):
    """A row of the table: key, what to write, default, meaning."""
    words = entry.get("description", "")
    unit = UNIT.search(words)
    words = UNIT.sub("", words)
    without = LEFT_OUT.search(words)
    words = LEFT_OUT.sub("", words).strip(" ;")
    absent = "needed" if needed else f"`{entry['default']}`" if "default" in entry else ""
    if without and not absent:
        absent = without.group(1).strip()
    cells = [f"`{name}`", values_of(entry, unit and unit.group(1)), absent.replace("`False`", "`false`"), words]
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def key_table(path, entry, many=False):
    """The table of one section of a case, then those of the sections in it."""
    kind = entry.get("properties", {}).get("kind", {}).get("const")
    heading = f"`[[{path}]]`" if many else f"`[{path}]`" if path else "Top of the file"
    level = "###" if "." in path else "##"
    lines = ["", f"{level} {heading}" + (f" with `kind = \"{kind}\"`" if kind else ""), ""]
    if entry.get("description"):
        lines += [entry["description"][0].upper() + entry["description"][1:] + ".", ""]
    lines += ["| key | write | left out | meaning |", "|---|---|---|---|"]
    below = []
    for name, inner in entry["properties"].items():
        whole = f"{path}.{name}" if path else name
        if inner.get("properties") or inner.get("oneOf"):
            below.append((whole, inner, False))
        elif inner.get("items", {}).get("properties"):
            below.append((whole, {**inner["items"], "description": inner.get("description", "")}, True))
        if path or not (below and below[-1][0] == whole):
            lines.append(key_row(name, inner, name in entry.get("required", [])))
    for whole, inner, repeated in below:
        for one in [inner] if "properties" in inner else inner["oneOf"]:
            lines += key_table(whole, one, repeated)
    return lines


def keys(*_):
    """Every key of a case file."""
    return "\n".join(key_table("", json.loads(SCHEMA.read_text()) | {"description": ""}))


# --- commands, materials ---


def options(program, *_):
    """Every command with its options, as its own manual page states them."""
    page = said("pandoc", "-f", "man", "-t", "gfm", "--wrap=none", text=said(program, "manual", "man"))
    part = page.split("# COMMANDS\n", 1)[1].split("\n# ", 1)[0]
    return re.sub(r"^## (.+)$", r"### `coilwright \1`", part, flags=re.M)


def materials(program, *_):
    """The library, a line for each material."""
    return f"```text\n{said(program, 'materials')}```"


# --- gallery ---


def first_remark(text):
    """The remark at the top of a case, as a paragraph."""
    lines = []
    for line in text.splitlines():
        if not line.startswith("#"):
            break
        lines.append(line.lstrip("# "))
    return " ".join(lines)


def solve(program, case, folder):
    """Runs an example unless there is a newer result; returns the command and the folder of the result."""
    text = case.read_text()
    command = "metals" if "coilwright metals" in text else "sweep" if "[sweep]" in text else "run"
    result = folder / "runs" / case.stem
    newest = max(case.stat().st_mtime, pathlib.Path(program).stat().st_mtime)
    done = (result / "report.html").exists() or (result / "result.json").exists()
    if not (done and result.stat().st_mtime > newest):
        print(f"Solving {case.name}", file=sys.stderr, flush=True)
        said(program, command, case, "--accuracy", "fast", "--out", result)
        result.touch()
    return command, result


def pictures_of(result):
    """The two pictures that show an example best, if they exist."""
    folder = result / "pictures"
    wanted = [["solid-peak_demand.svg", "solid-cold.svg", "solid.svg", "solid-*.svg", "*.svg"],
              ["chart-heating.svg", "chart-powers.svg", "*.svg"]]
    found = []
    for names in wanted:
        for name in names:
            here = [path for path in sorted(folder.glob(name)) if path not in found]
            if here:
                found.append(here[0])
                break
    return found


def verdict_of(result):
    """The answer of a heating run, as in the result; empty if there is none."""
    file = result / "result.json"
    verdict = json.loads(file.read_text()).get("verdict", {}) if file.exists() else {}
    return " ".join(verdict[key] for key in ("sentence", "why") if verdict.get(key))


def gallery(program, folder):
    """Every example: what it is about, how to run it, its answer, its pictures."""
    if folder is None:
        return "Left out."
    cases = sorted(EXAMPLES.glob("*.toml"))
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        solved = list(pool.map(lambda case: solve(program, case, folder), cases))
    parts = []
    for case, (command, result) in zip(cases, solved):
        text = case.read_text()
        title = re.search(r'^title = "(.+)"$', text, re.M).group(1)
        images = "\n".join(f'<img src="{path}" alt="{html.escape(title)}: {path.stem}">' for path in pictures_of(result))
        answer = verdict_of(result)
        parts.append(f"## {title}\n\n{first_remark(text)}\n\n"
                     f"```text\ncoilwright {command} cases/examples/{case.name}\n```\n\n"
                     + (f"**{answer}**\n\n" if answer else "") + f'<div class="pair">\n{images}\n</div>\n')
    return "\n".join(parts)


# --- the page ---

PARTS = {"keys": keys, "options": options, "materials": materials, "gallery": gallery}


def name_of(heading):
    """The anchor of a heading, as GitHub and pandoc make it."""
    return re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-")


def text_of(file, program, folder):
    """A chapter with its generated parts, its links changed to the one page."""
    text = MADE.sub(lambda made: PARTS[made.group(1)](program, folder), file.read_text())
    heads = {path.name: name_of(path.read_text().split("\n", 1)[0].lstrip("# ")) for path in chapters()}
    text = re.sub(r"\]\((\d\d-[a-z-]+\.md)#([\w-]+)\)", r"](#\2)", text)
    return re.sub(r"\]\((\d\d-[a-z-]+\.md)\)", lambda link: f"](#{heads[link.group(1)]})", text)


def inlined(page):
    """The page with every picture in it."""
    kinds = {".svg": "svg+xml", ".png": "png"}

    def data(found):
        path = (HERE / html.unescape(found.group(1))).resolve()
        return f'src="data:image/{kinds[path.suffix]};base64,{base64.b64encode(path.read_bytes()).decode()}"'

    return re.sub(r'src="([^":]+)"', data, page)


def write_page(text, version, out):
    page = said("pandoc", "-f", "gfm", "-t", "html5", "--standalone", "--no-highlight", "--toc", "--toc-depth=2",
                "--template", HERE / "page.html", "-M", "title=coilwright: the manual", "-M", f"version={version}",
                "-V", f"style={(HERE / 'page.css').read_text()}", text=text)
    out.write_text(inlined(page))


def listed(table):
    """A table as a list: a terminal has no room for its columns."""
    rows = [[cell.strip() for cell in re.split(r"(?<!\\)\|", line)[1:-1]] for line in table.group(0).splitlines()]
    heads, lines = rows[0], []
    for cells in rows[2:]:
        first = 1 if heads[0] else 2  # rows that are only numbered have their name in the second column
        rest = [(head, cell) for head, cell in zip(heads[first:], cells[first:]) if cell]
        words = [cell for _, cell in rest] if len(rest) < 2 else [f"{head}: {cell}" for head, cell in rest]
        lines += [" ".join(cells[:first]), f":   {'; '.join(words)}", ""]
    return "\n".join(lines) + "\n"


def write_manual_page(name, section, about, text, out):
    """A page for man(1); pictures stay out of it."""
    text = re.sub(r"^(!\[.*|</?div.*|<img .*)\n?", "", text, flags=re.M)
    text = re.sub(r"(?:^\|.*\|\n){3,}", listed, text, flags=re.M)
    text = f"# NAME\n\n{name} - {about}\n\n{text}"
    out.write_text(said("pandoc", "-f", "commonmark_x-smart", "-t", "man", "--standalone", "-M", f"title={name}",
                        "-M", f"section={section}", "-M", "header=coilwright", text=text))


def main():
    wanted = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    wanted.add_argument("--no-gallery", action="store_true")
    wanted.add_argument("program", type=pathlib.Path)
    wanted.add_argument("folder", type=pathlib.Path)
    asked = wanted.parse_args()
    folder, program = asked.folder.resolve(), asked.program.resolve()
    folder.mkdir(parents=True, exist_ok=True)
    version = said(program, "--version").strip()
    solved = None if asked.no_gallery else folder
    text = {file: text_of(file, program, solved) for file in chapters()}
    write_page("\n\n".join(text.values()), version, folder / "manual.html")
    case_keys = next(words for file, words in text.items() if file.name.endswith("-case-keys.md"))
    write_manual_page("coilwright-case", 5, "case files of coilwright, every key", case_keys,
                      folder / "coilwright-case.5")
    whole = "\n\n".join(words for file, words in text.items()
                        if not file.name.endswith(("-gallery.md", "-case-keys.md")))
    write_manual_page("coilwright", 7, "how to design and check a work coil with it", whole, folder / "coilwright.7")
    print(folder / "manual.html")


if __name__ == "__main__":
    main()
