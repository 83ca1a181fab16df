"""Mutation check: are the tests able to see a wrong sign, factor, unit or operator in the solver?

    tests/mutation/mutants.py make      changed copies of solver/ and mesh/planar/, compiled and linked with the tests
                                        (build/mutation)
    tests/mutation/mutants.py reach     which test reaches which mutant, and how long each test takes
    tests/mutation/mutants.py run       every mutant against the tests that reach it, its own module's first, then the
                                        quickest
    tests/mutation/mutants.py report    the table

`run` writes each verdict as it comes and goes on where it stopped. Which mutants there are depends on the seed and the
sources alone. All are compiled at once and chosen by an environment variable (mutant.hpp); what does not compile is no
mutant. Needs every source compiled by itself (./dev mutants builds that). A part at a time: --folders circuit --work build/mutation/circuit, with every step.
"""

import argparse
import collections
import concurrent.futures
import hashlib
import json
import os
import pathlib
import random
import re
import resource
import shlex
import subprocess
import sys
import tempfile
import threading

from sites import mutant, sites, with_mutants

ROOT = pathlib.Path(__file__).resolve().parents[2]
BUILD = ROOT / "build/alone"
WORK = ROOT / "build/mutation"
HERE = pathlib.Path(__file__).parent
# Folders that are changed, and the programs of their own tests; other programs are tried after these.
FOLDERS = {
    "mesh/planar": ["test_unit_mesh"],
    "solver/heater": ["test_unit_heater", "test_unit_circuit"],
    "solver/fem": ["test_unit_fem"],
    "solver/field": ["test_unit_field"],
    "solver/circuit": ["test_unit_circuit"],
    "solver/thermal": ["test_unit_thermal"],
    "solver/coupled": ["test_unit_coupled"],
    "solver/outcome": ["test_unit_outcome"],
    "solver/limits": ["test_unit_limits"],
    "solver/run": ["test_unit_run"],
}
NAMES = {pathlib.Path(folder).name: folder for folder in FOLDERS}
PROGRAMS = [*dict.fromkeys(p for own in FOLDERS.values() for p in own), "test_published", "test_convergence", "test_cases"]
REACH_SIZE = 4096
WRITING = threading.Lock()
# Object files older than a changed header cannot be used.
HEADERS = hashlib.sha256(b"".join(h.read_bytes() for h in sorted(ROOT.glob("*/**/*.hpp"))
                                  if "build" not in h.parts)).hexdigest()


def folder_of(file):
    return str(pathlib.Path(file).parent)


def library_of(folder):
    return pathlib.Path(folder) / f"libcw_{pathlib.Path(folder).name}.a"


def chosen(count, seed):
    draw = random.Random(seed)
    everywhere = []
    for file in sorted(file for folder in FOLDERS for file in (ROOT / folder).glob("*.cpp")):
        text = file.read_text()
        everywhere += [(file.relative_to(ROOT), text, site) for site in sites(text)]
    print(f"{len(everywhere)} places", flush=True)
    mutants = []
    for number, (file, text, site) in enumerate(draw.sample(everywhere, min(count, len(everywhere)))):
        words, changes = mutant(site, text, draw)
        if site[0] == "factor" and text[site[1]:site[2]] in ("0", "0.0"):
            continue  # stays zero
        line = text.count("\n", 0, site[1]) + 1
        mutants.append({"id": number, "file": str(file), "line": line, "what": words,
                        "code": text.splitlines()[line - 1].strip(), "changes": changes})
    return mutants


def compile_file(entry, file, mutants, flags):
    """Compiles one source with its mutants, without those at lines with errors. Object files are kept."""
    source = WORK / "tree" / file
    state = WORK / "objects" / (file.replace("/", "-") + ".json")
    wanted = HEADERS + with_mutants((ROOT / file).read_text(), mutants)
    if state.exists() and json.loads(state.read_text())["wanted"] == wanted:
        kept = set(json.loads(state.read_text())["kept"])
        return [m for m in mutants if m["id"] in kept], state.with_suffix(".o")
    source.parent.mkdir(parents=True, exist_ok=True)
    words = [w for w in shlex.split(entry["command"]) if not w.startswith(("-W", "-O"))]
    output = state.with_suffix(".o")
    output.parent.mkdir(parents=True, exist_ok=True)
    words[words.index("-o") + 1] = str(output)
    words[words.index("-c") + 1] = str(source)
    words += ["-Werror=return-local-addr", "-include", str(HERE / "mutant.hpp"), *flags]
    while mutants:
        source.write_text(with_mutants((ROOT / file).read_text(), mutants))
        done = subprocess.run(words, cwd=entry["directory"], capture_output=True, text=True)
        if done.returncode == 0:
            state.write_text(json.dumps({"wanted": wanted, "kept": [m["id"] for m in mutants]}))
            return mutants, output
        place = re.compile(re.escape(str(source)) + r":(\d+):\d+: +(?:error|  ?required from|required from)")
        bad = {int(n) for n in place.findall(done.stdout + done.stderr)}
        numbers = {int(n) for n in re.findall(r"(?:Sum|Product|Scaling|Order|factor|Instead)<(\d+)", done.stderr)}
        left = [m for m in mutants if m["line"] not in bad]
        if len(left) == len(mutants):
            left = [m for m in mutants if m["id"] not in numbers]
        if len(left) == len(mutants):
            print(f"{file}: all taken out\n{done.stderr[:1500]}", flush=True)
            left = []
        mutants = left
    return [], None


def make(options):
    wanted = [NAMES[name] for name in options.folders.split(",")]
    mutants = [m for m in chosen(options.count, options.seed) if folder_of(m["file"]) in wanted]
    entries = {e["file"]: e for e in json.loads((BUILD / "compile_commands.json").read_text())}
    kept, objects = [], collections.defaultdict(list)

    def one(file):
        return file, compile_file(entries[str(ROOT / file)], file, [m for m in mutants if m["file"] == file],
                                  options.flags.split())

    with concurrent.futures.ThreadPoolExecutor(options.jobs) as pool:
        for file, (mine, output) in pool.map(one, sorted({m["file"] for m in mutants})):
            kept += mine
            if mine:
                objects[folder_of(file)].append((file, output))
            print(f"{file}: {len(mine)}", flush=True)
    for folder, files in objects.items():
        archive = options.work / library_of(folder).name
        archive.write_bytes((BUILD / library_of(folder)).read_bytes())
        for file, output in files:
            member = output.with_name(pathlib.Path(file).name + ".o")  # replaces the member of this name
            member.write_bytes(output.read_bytes())
            subprocess.run(["ar", "r", str(archive), str(member)], check=True, capture_output=True)
            member.unlink()
    for program in options.programs.split(","):
        command = subprocess.run(["ninja", "-C", str(BUILD), "-t", "commands", program], capture_output=True, text=True,
                                 check=True).stdout.splitlines()[-1]
        command = command.replace(f"-o tests/{program} ", f"-o {options.work}/{program} ")
        for folder in objects:
            command = command.replace(str(library_of(folder)), f"{options.work}/{library_of(folder).name}")
        subprocess.run(command, shell=True, cwd=BUILD, check=True)
    for m in kept:
        del m["changes"]
    (options.work / "mutants.json").write_text(json.dumps(kept, indent=1))
    print(f"{len(kept)} of {len(mutants)} compile")


def child(work, program, test, seconds, **variables):
    """Runs one test: (exit code or "time", processor seconds). May be called from several threads."""
    with tempfile.TemporaryDirectory(dir=work) as scratch:
        process = subprocess.Popen([work / program, f"--gtest_filter={test}", "--gtest_fail_fast",
                                    "--gtest_also_run_disabled_tests=0"], cwd=scratch,
                                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True,
                                   preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (int(seconds) + 1,) * 2),
                                   env={**os.environ, **{k: str(v) for k, v in variables.items()}})
        late = threading.Event()
        alarm = threading.Timer(4 * seconds, lambda: (late.set(), os.killpg(process.pid, 9)))
        alarm.start()
        status, used = os.wait4(process.pid, 0)[1:]
        alarm.cancel()
        process.returncode = os.waitstatus_to_exitcode(status)
    return "time" if late.is_set() else process.returncode, used.ru_utime + used.ru_stime


def tests_of(work, program):
    suite, tests = "", []
    for line in subprocess.run([work / program, "--gtest_list_tests"], capture_output=True, text=True).stdout.splitlines():
        name = line.split("#")[0].strip()
        if line.startswith("  "):
            tests.append(suite + name)
        elif name.endswith("."):
            suite = name
    return [t for t in tests if "DISABLED" not in t]


def reach(options):
    """Appends to reach.jsonl; tests already in it are skipped."""
    path = options.work / "reach.jsonl"
    known = {(r["program"], r["test"]) for r in read_lines(path)}

    def one(program, test):
        with tempfile.NamedTemporaryFile(dir=options.work) as mark:
            mark.write(bytes(REACH_SIZE))
            mark.flush()
            code, seconds = child(options.work, program, test, options.longest, CW_MUTANT_REACHED=mark.name)
            ids = [i for i, seen in enumerate(pathlib.Path(mark.name).read_bytes()) if seen]
        append(path, {"program": program, "test": test, "seconds": round(seconds, 3), "passes": code == 0, "ids": ids})
        if code != 0:
            print(f"fails without a mutant, left out: {program} {test} ({code})", flush=True)

    with concurrent.futures.ThreadPoolExecutor(options.jobs) as pool:
        list(pool.map(lambda t: one(*t), [(program, test) for program in options.programs.split(",")
                                          for test in tests_of(options.work, program) if (program, test) not in known
                                          and not any(re.search(p, test) for p in options.without)]))


def read_lines(path):
    return [json.loads(line) for line in path.read_text().splitlines()] if path.exists() else []


def append(path, row):
    with WRITING, path.open("a") as file:
        file.write(json.dumps(row) + "\n")


def run(options):
    mutants = json.loads((options.work / "mutants.json").read_text())
    tests = [t for t in read_lines(options.work / "reach.jsonl") if t["passes"]]
    results = options.work / "results.jsonl"
    done = {r["id"] for r in read_lines(results)}
    again = {int(i) for i in options.again.split(",") if i}

    def judge(m):
        spent, verdict = 0.0, {"killed": False, "complete": True, "tests": 0}
        own = FOLDERS[folder_of(m["file"])]  # constants at the head of a file are reached by every test
        for test in sorted((t for t in tests if m["id"] in t["ids"]),
                           key=lambda t: (t["program"] not in own, t["seconds"])):
            if spent + test["seconds"] > options.budget:
                verdict["complete"] = False
                break
            verdict["tests"] += 1
            code, seconds = child(options.work, test["program"], test["test"], 10 + 5 * test["seconds"], CW_MUTANT=m["id"])
            spent += seconds
            if code != 0:
                verdict.update(killed=True, by=f"{test['program']} {test['test']}", code=code)
                break
        append(results, {"id": m["id"], **verdict, "seconds": round(spent, 1)})

    with concurrent.futures.ThreadPoolExecutor(options.jobs) as pool:
        list(pool.map(judge, [m for m in mutants if (m["id"] in again if again else m["id"] not in done)]))
    report(options)


def report(options):
    results = {r["id"]: r for r in read_lines(options.work / "results.jsonl")}  # the last verdict counts
    mutants = json.loads((options.work / "mutants.json").read_text())
    killed = [m for m in mutants if results.get(m["id"], {}).get("killed")]
    alive = [m for m in mutants if m["id"] in results and not results[m["id"]]["killed"]]
    judged = len(killed) + len(alive)
    print(f"{len(mutants)} mutants, {judged} judged, {len(killed)} killed ({100 * len(killed) / max(judged, 1):.1f} %)")
    for m in alive:
        r = results[m["id"]]
        note = "" if r["complete"] else ", budget used up"
        print(f"  {m['id']:4} {m['file']}:{m['line']}: {m['what']} ({r['tests']} tests{note})\n       {m['code']}")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("step", choices=("make", "reach", "run", "report"))
    parser.add_argument("--count", type=int, default=280)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--budget", type=float, default=60)
    parser.add_argument("--again", default="")
    parser.add_argument("--jobs", type=int, default=os.cpu_count())
    parser.add_argument("--flags", default="-O1")
    parser.add_argument("--folders", default=",".join(NAMES))
    parser.add_argument("--programs", default=",".join(PROGRAMS))
    parser.add_argument("--longest", type=float, default=60, help="seconds a test may take to be of use")
    parser.add_argument("--without", action="append", default=[], help="tests that are of no use, a pattern")
    parser.add_argument("--work", type=pathlib.Path, default=WORK)
    options = parser.parse_args()
    options.work = options.work.resolve()
    options.work.mkdir(parents=True, exist_ok=True)
    {"make": make, "reach": reach, "run": run, "report": report}[options.step](options)


if __name__ == "__main__":
    sys.exit(main())
