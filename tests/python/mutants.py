"""Mutants of core, drawn by a seed. Usage: mutants.py TARGET_DIR MINUTES

Takes all that cargo-mutants would make of core, puts them in an order that a seed gives (by their file, function and change, not by lines,
so that an edit elsewhere leaves it), and tries the first WANTED of them for as many minutes as told: those that tests/mutants.csv does not have
yet, and those that survived without a reason.

All of them are compiled into one copy of core, each behind a number (switched.py), and the tests run once for each number, those that are
named after its module first, then the quick before the slow, until one fails: so the compiler works once and not four hundred times. What
does not compile behind a number (constants, mostly) is compiled by itself; what does not compile at all is no mutant.
What survives needs a test, or a reason in the table's last column.
"""

import csv
import hashlib
import json
import os
import re
import resource
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from concurrent.futures import FIRST_COMPLETED, ThreadPoolExecutor, wait
from pathlib import Path
from subprocess import DEVNULL, PIPE

import switched

ROOT = Path(__file__).resolve().parents[2]
TABLE = ROOT / "tests/mutants.csv"
HEAD = ["file", "function", "change", "outcome", "why"]
SEED = "floodbar 1"
WANTED = 400
# What asks which mutant is alive: put at the end of core's lib.rs.
ALIVE = "FLOODBAR_MUTANT"
ASKED = f"""
#[doc(hidden)]
pub fn mutant(number: u32) -> bool {{
    static ALIVE: std::sync::OnceLock<u32> = std::sync::OnceLock::new();
    *ALIVE.get_or_init(|| std::env::var("{ALIVE}").ok().and_then(|text| text.parse().ok()).unwrap_or(0)) == number
}}
"""
# Checks of what is written beside core: manual, dependencies, layers.
APART = ("manual::", "supply::", "arrows::")
# Seconds of tests that one process runs, seconds that a compiler may take, bytes that tests may.
STRIDE, LONGEST, MEMORY = 5.0, 3600, 6 << 30
# Seconds of a test that is asked only of what it is named after: a mutant that it alone would catch elsewhere counts as missed.
SLOW = 6.0


def listed() -> list[dict]:
    """All mutants, each with what tells it from the others whatever its line."""
    got = subprocess.run(
        ["cargo", "mutants", "--list", "--json", "--package", "floodbar"], cwd=ROOT, check=True, capture_output=True, text=True
    )
    seen: dict[tuple[str, str, str], int] = {}
    mutants = []
    for mutant in json.loads(got.stdout):
        function = (mutant.get("function") or {}).get("function_name", "")
        change = re.sub(r"^[^:]+:\d+:\d+: ", "", mutant["name"])
        key = (mutant["file"], function, change)
        seen[key] = seen.get(key, 0) + 1
        if seen[key] > 1:
            change = f"{change} ({seen[key]})"
        mutants.append(mutant | {"function": function, "change": change})
    return mutants


def order(mutant: dict) -> str:
    text = "\n".join([SEED, mutant["file"], mutant["function"], mutant["change"]])
    return hashlib.sha256(text.encode()).hexdigest()


def of(row: dict) -> tuple[str, str, str]:
    return row["file"], row["function"], row["change"]


def unexplained(row: dict) -> bool:
    return row["outcome"] == "missed" and not row["why"].strip()


class Copy:
    """A copy of the project, in which mutants are compiled."""

    def __init__(self, folder: Path):
        self.tree, self.build = folder / "tree", folder / "build"
        # Those that have to be compiled alone: found once.
        self.alone = folder / "alone.json"
        files = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True).stdout
        names = {name for name in files.split("\0") if name and (ROOT / name).is_file()}
        for file in self.tree.rglob("*"):
            if file.is_file() and str(file.relative_to(self.tree)) not in names:
                file.unlink()
        for name in names:
            if not name.startswith("core/src/") or not (self.tree / name).exists():
                self.write(name, (ROOT / name).read_bytes())

    def write(self, name: str, text: bytes) -> None:
        """Writes a file of core, where it is another: a file that is left alone is not compiled again."""
        text += ASKED.encode() if name == "core/src/lib.rs" else b""
        file = self.tree / name
        if not file.exists() or file.read_bytes() != text:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(text)

    def cargo(self, *arguments: str) -> tuple[bool, list[dict]]:
        """Whether it compiles, and what the compiler says of it."""
        command = ["cargo", *arguments, "--quiet", "--locked", "--profile", "mutants", "--message-format", "json"]
        # Lints are for the project as it is.
        env = os.environ | {"CARGO_TARGET_DIR": str(self.build), "CARGO_INCREMENTAL": "1", "RUSTFLAGS": "--cap-lints allow"}
        got = subprocess.run(command, cwd=self.tree, env=env, stdout=PIPE, stderr=DEVNULL, text=True, timeout=LONGEST)
        return got.returncode == 0, [json.loads(line) for line in got.stdout.splitlines() if line.startswith("{")]

    def check(self) -> tuple[bool, list[dict]]:
        good, said = self.cargo("check", "-p", "floodbar", "--features", "internals,schema")
        return good, [line["message"] for line in said if line["reason"] == "compiler-message" and line["message"]["level"] == "error"]

    def programs(self) -> dict[str, Path]:
        """Core's own tests and those across layers, compiled."""
        good, said = self.cargo("test", "--no-run", "-p", "floodbar", "-p", "floodbar-tests", "--lib", "--test", "checks")
        if not good:
            sys.exit("the tests do not compile in the copy")
        made = {line["target"]["name"]: line["executable"] for line in said if line["reason"] == "compiler-artifact" and line["profile"]["test"]}
        return {name: Path(made[name]) for name in ("floodbar", "checks")}

    def behind_numbers(self, mutants: dict[int, dict]) -> dict[int, dict]:
        """Puts all mutants in that can stand behind their number; returns the rest, which have to be compiled alone."""
        found = {tuple(each) for each in json.loads(self.alone.read_text())} if self.alone.exists() else set()
        rest = {number: mutant for number, mutant in mutants.items() if of(mutant) in found}
        sources = [str(file.relative_to(ROOT)) for file in (ROOT / "core/src").rglob("*.rs")]
        while True:
            files: dict[str, switched.File] = {}
            for number, mutant in mutants.items():
                if number not in rest:
                    file = files.setdefault(mutant["file"], switched.File(ROOT / mutant["file"]))
                    if not file.add(number, mutant):
                        rest[number] = mutant
            texts = {name: file.text() for name, file in files.items()}
            for name in sources:
                self.write(name, texts.get(name, (ROOT / name).read_bytes()))
            good, errors = self.check()
            self.alone.write_text(json.dumps(sorted(found | {of(mutant) for mutant in rest.values()})))
            if good:
                return rest
            places = {(span["file_name"], span["byte_start"]) for error in errors for span in error["spans"] if span["is_primary"]}
            blamed = {switched.number_at(texts[name], place) for name, place in places if name in texts} - {None}
            print(f"{len(blamed)} do not compile behind a number", flush=True)
            if not blamed:
                sys.exit("the copy does not compile:\n" + "\n".join(error["rendered"] for error in errors[:3]))
            rest |= {number: mutants[number] for number in blamed}


class Tests:
    """The programs of tests, and how many seconds each test takes where no mutant is alive."""

    def __init__(self, programs: dict[str, Path], tree: Path):
        self.programs = programs
        self.folders = {"floodbar": tree / "core", "checks": tree / "tests"}
        self.seconds: dict[tuple[str, str], float] = {}

    def _run(self, program: str, names: list[str], alive: int, limit: float, *arguments: str) -> subprocess.CompletedProcess:
        folder = self.folders[program]
        # The times of tests are told by a harness that is asked as on nightly.
        env = os.environ | {ALIVE: str(alive), "CARGO_MANIFEST_DIR": str(folder), "RUSTC_BOOTSTRAP": "1"}
        # What one mutant fails at is not asked of the next: a test that fails by itself would catch all that follow.
        env["PROPTEST_DISABLE_FAILURE_PERSISTENCE"] = "1"
        command = [self.programs[program], *arguments, *names]
        process = subprocess.Popen(
            command, cwd=folder, env=env, stdout=PIPE, stderr=DEVNULL, text=True, start_new_session=True,
            preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY)),
        )
        try:
            out, _ = process.communicate(timeout=limit)
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            process.communicate()
            raise
        return subprocess.CompletedProcess(command, process.returncode, out)

    def measure(self) -> None:
        """Takes the times of all tests, or those that were taken of these very programs."""
        kept = self.programs["checks"].parent / "seconds.json"
        of_these = str({name: path.stat().st_mtime for name, path in self.programs.items()})
        if kept.exists() and (known := json.loads(kept.read_text()))["of"] == of_these:
            self.seconds = {(program, name): seconds for program, name, seconds in known["seconds"]}
            return
        for program in self.programs:
            skipped = [argument for name in APART for argument in ("--skip", name)]
            got = self._run(program, [], 0, LONGEST, *skipped, "--test-threads", "2", "-Zunstable-options", "--report-time")
            if got.returncode != 0:
                sys.exit(f"the tests fail without a mutant:\n{got.stdout[-3000:]}")
            for name, seconds in re.findall(r"^test (\S+)(?: - should panic)? \.\.\. ok <([\d.]+)s>", got.stdout, re.M):
                self.seconds[program, name] = float(seconds)
        print(f"{len(self.seconds)} tests, {sum(self.seconds.values()):.0f} s where nothing is changed", flush=True)
        kept.write_text(json.dumps({"of": of_these, "seconds": [[*test, seconds] for test, seconds in self.seconds.items()]}))

    def strides(self, file: str) -> list[tuple[str, list[str], float]]:
        """The tests in the order in which they are asked of a mutant in a file, some seconds of them at once."""
        module = [word for word in re.sub(r"\.rs$", "", file.removeprefix("core/src/")).split("/") if word not in ("mod", "lib", "tests")]

        def key(test: tuple[str, str]):
            program, words = test[0], test[1].split("::")
            if program == "floodbar" and module:
                near = 0 if words[: len(module)] == module else 1 if words[0] == module[0] else 3
            else:
                near = 2 if any(name in word for name in module for word in words) else 3
            return near, program if near < 3 else "", self.seconds[test]

        strides: list[tuple[str, list[str], float]] = []
        for program, name in sorted((test for test in self.seconds if self.seconds[test] <= SLOW or key(test)[0] < 3), key=key):
            seconds = self.seconds[program, name]
            if strides and strides[-1][0] == program and strides[-1][2] + seconds < STRIDE:
                strides[-1] = (program, [*strides[-1][1], name], strides[-1][2] + seconds)
            else:
                strides.append((program, [name], seconds))
        return strides

    def outcome(self, number: int, mutant: dict) -> str:
        for program, names, seconds in self.strides(mutant["file"]):
            try:
                got = self._run(program, names, number, 30 + 6 * seconds, "--exact", "--test-threads", "1")
            except subprocess.TimeoutExpired:
                return "timeout"
            if got.returncode != 0:
                return "caught"
        return "missed"


def known() -> list[dict[str, str]]:
    if not TABLE.exists():
        return []
    with TABLE.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def write(rows: list[dict[str, str]]) -> None:
    with TABLE.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, HEAD, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


class Tried:
    """The table, to which outcomes are added until the time is over."""

    def __init__(self, minutes: float):
        self.begun, self.minutes, self.rows = time.monotonic(), minutes, known()

    def over(self) -> bool:
        return time.monotonic() - self.begun >= 60 * self.minutes

    def add(self, mutant: dict, outcome: str) -> None:
        self.rows = [row for row in self.rows if of(row) != of(mutant)]
        self.rows.append({key: mutant[key] for key in HEAD[:3]} | {"outcome": outcome, "why": ""})
        write(self.rows)
        print(f"{outcome}: {mutant['name']}, {time.monotonic() - self.begun:.0f} s", flush=True)


def together(tests: Tests, mutants: dict[int, dict], tried: Tried) -> None:
    """Tries mutants that stand behind their numbers, two at once."""
    left = list(mutants.items())
    with ThreadPoolExecutor(2) as pool:
        running = {}
        while (left and not tried.over()) or running:
            while left and len(running) < 2 and not tried.over():
                number, mutant = left.pop(0)
                running[pool.submit(tests.outcome, number, mutant)] = mutant
            for done in wait(running, return_when=FIRST_COMPLETED).done:
                tried.add(running.pop(done), done.result())


def alone(copy: Copy, tests: Tests, mutants: dict[int, dict], tried: Tried) -> None:
    """Tries mutants each compiled by itself: which compile at all first, since most do not."""

    def changed(mutant: dict, outcome: Callable[[], str | None]) -> str | None:
        file = copy.tree / mutant["file"]
        subprocess.run(["patch", "--quiet", str(file)], input=mutant["diff"], text=True, check=True)
        got = outcome()
        copy.write(mutant["file"], (ROOT / mutant["file"]).read_bytes())
        if got:
            tried.add(mutant, got)
        return got

    def tested(number: int, mutant: dict) -> str:
        tests.programs = copy.programs()
        return tests.outcome(number, mutant)

    left = {}
    for number, mutant in mutants.items():
        if tried.over():
            return
        if not changed(mutant, lambda: None if copy.check()[0] else "unviable"):
            left[number] = mutant
    for number, mutant in left.items():
        if tried.over():
            return
        changed(mutant, lambda: tested(number, mutant))


def main() -> int:
    target, tried = Path(sys.argv[1]).resolve(), Tried(float(sys.argv[2]))
    drawn = sorted(listed(), key=order)[:WANTED]
    have = {of(row) for row in tried.rows if not unexplained(row)}
    left = {number: mutant for number, mutant in enumerate(drawn, 1) if of(mutant) not in have}
    print(f"{len(drawn)} drawn by the seed `{SEED}`, {len(left)} of them to be tried", flush=True)
    if left:
        copy = Copy(target / "mutants")
        rest = copy.behind_numbers(left)
        tests = Tests(copy.programs(), copy.tree)
        tests.measure()
        together(tests, {number: mutant for number, mutant in left.items() if number not in rest}, tried)
        for mutant in left.values():
            copy.write(mutant["file"], (ROOT / mutant["file"]).read_bytes())
        alone(copy, tests, rest, tried)
    alive = [row for row in tried.rows if unexplained(row)]
    for row in alive:
        print(f"survives: {row['file']}: {row['change']}")
    print(f"{len(tried.rows) - len(alive)} passed, {len(alive)} failed")
    return int(bool(alive) or not tried.rows)


if __name__ == "__main__":
    sys.exit(main())
