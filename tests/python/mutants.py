"""Mutants of core, drawn by a seed. Usage: mutants.py TARGET_DIR MINUTES

Takes all that cargo-mutants would make of core, puts them in an order that a seed gives (by their file, function and change, not by lines,
so that an edit elsewhere leaves it), and tries the first WANTED of them that tests/mutants.csv does not have yet, for as many minutes as
told. Each one is asked of the unit tests of core, and of the checks across layers where those do not catch it. What survives needs a test,
or a reason in the table's last column.
"""

import csv
import hashlib
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from subprocess import DEVNULL

ROOT = Path(__file__).resolve().parents[2]
TABLE = ROOT / "tests/mutants.csv"
HEAD = ["file", "function", "change", "outcome", "why"]
SEED = "floodbar 1"
WANTED = 400
# Seconds that a build or a program of tests may take; a mutant that never ends counts as caught.
LONGEST = 900


def listed() -> list[dict]:
    """All mutants, each with its full name and what tells it from the others whatever its line."""
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
        mutants.append({"name": mutant["name"], "diff": mutant["diff"], "file": mutant["file"], "function": function, "change": change})
    return mutants


def order(mutant: dict) -> str:
    text = "\n".join([SEED, mutant["file"], mutant["function"], mutant["change"]])
    return hashlib.sha256(text.encode()).hexdigest()


class Copy:
    """A copy of the project, in which one mutant after the other is tried."""

    def __init__(self, folder: Path):
        self.tree, self.build = folder / "tree", folder / "build"
        shutil.rmtree(self.tree, ignore_errors=True)
        files = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True).stdout
        for name in filter(None, files.split("\0")):
            if (ROOT / name).is_file():
                (self.tree / name).parent.mkdir(parents=True, exist_ok=True)
                # With its times, so that what was built before is still good.
                shutil.copy2(ROOT / name, self.tree / name)

    def _cargo(self, *arguments: str) -> int | None:
        """The exit code; None where it takes longer than it may."""
        command = ["cargo", "test", "--quiet", "--locked", "--profile", "mutants", *arguments]
        env = os.environ | {"CARGO_TARGET_DIR": str(self.build), "CARGO_INCREMENTAL": "1"}
        process = subprocess.Popen(command, cwd=self.tree, env=env, stdout=DEVNULL, stderr=DEVNULL, start_new_session=True)
        try:
            return process.wait(LONGEST)
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()
            return None

    def outcome(self, mutant: dict | None) -> str:
        """What becomes of a mutant, or of the project as it is."""
        if mutant:
            file = self.tree / mutant["file"]
            subprocess.run(["patch", "--quiet", str(file)], input=mutant["diff"], text=True, check=True)
        try:
            if self._cargo("--no-run", "-p", "floodbar", "--lib") != 0:
                return "unviable"
            for tests in (["-p", "floodbar", "--lib"], ["-p", "floodbar-tests", "--test", "checks"]):
                code = self._cargo(*tests)
                if code != 0:
                    return "timeout" if code is None else "caught"
            return "missed"
        finally:
            if mutant:
                shutil.copy(ROOT / mutant["file"], file)


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


def main() -> int:
    target, minutes = Path(sys.argv[1]).resolve(), float(sys.argv[2])
    begun = time.monotonic()
    drawn = sorted(listed(), key=order)[:WANTED]
    rows = known()
    of = lambda row: (row["file"], row["function"], row["change"])
    have = {of(row) for row in rows}
    left = [mutant for mutant in drawn if of(mutant) not in have]
    print(f"{len(drawn)} drawn by the seed `{SEED}`, {len(left)} of them not tried yet", flush=True)
    copy = Copy(target / "mutants")
    if left and copy.outcome(None) != "missed":
        print("the tests fail without a mutant")
        return 1
    for mutant in left:
        if time.monotonic() - begun >= 60 * minutes:
            break
        outcome = copy.outcome(mutant)
        rows.append({key: mutant[key] for key in HEAD[:3]} | {"outcome": outcome, "why": ""})
        write(rows)
        print(f"{outcome}: {mutant['name']}, {time.monotonic() - begun:.0f} s", flush=True)
    unexplained = [row for row in rows if row["outcome"] == "missed" and not row["why"].strip()]
    for row in unexplained:
        print(f"survives: {row['file']}: {row['change']}")
    print(f"{len(rows) - len(unexplained)} passed, {len(unexplained)} failed")
    return int(bool(unexplained) or not rows)


if __name__ == "__main__":
    sys.exit(main())
