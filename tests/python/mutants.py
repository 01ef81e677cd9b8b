"""Mutants of core, drawn by a seed. Usage: mutants.py TARGET_DIR MINUTES

Lists all that cargo-mutants would make of core, puts them in an order that a seed gives (by their file, function and change, not by lines,
so that an edit elsewhere leaves it), and tries the first WANTED of them that tests/mutants.csv does not have yet, for as many minutes as
told. Each one is asked of the unit tests of core, and of the checks across layers where those do not catch it. What survives needs a test,
or a reason in the table's last column.
"""

import csv
import hashlib
import json
import os
import re
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TABLE = ROOT / "tests/mutants.csv"
HEAD = ["file", "function", "change", "outcome", "why"]
SEED = "floodbar 1"
WANTED = 400
# Tried in one go: what is built before is kept from one to the next.
TOGETHER = 8


def listed(dir_: Path) -> list[dict]:
    """All mutants, each with its full name and what tells it from the others whatever its line."""
    got = subprocess.run(
        ["cargo", "mutants", "--list", "--json", "--package", "floodbar"], cwd=dir_, check=True, capture_output=True, text=True
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
        mutants.append({"name": mutant["name"], "file": mutant["file"], "function": function, "change": change})
    return mutants


def order(mutant: dict) -> str:
    text = "\n".join([SEED, mutant["file"], mutant["function"], mutant["change"]])
    return hashlib.sha256(text.encode()).hexdigest()


def tried(dir_: Path, names: list[str], more: list[str]) -> dict[str, str]:
    """The outcome of each of these, by its full name."""
    out = dir_ / "mutants"
    out.mkdir(parents=True, exist_ok=True)
    chosen = [part for name in names for part in ("--re", f"^{re.escape(name)}$")]
    command = ["cargo", "mutants", "--package", "floodbar", "--baseline", "skip", "--timeout", "400", "--no-shuffle", "--colors", "never"]
    command += ["--profile", "mutants", "--output", str(out), *chosen, *more]
    env = os.environ | {"CARGO_TARGET_DIR": str(out / "build")}
    subprocess.run(command, cwd=ROOT, env=env, check=False)
    outcomes = json.loads((out / "mutants.out/outcomes.json").read_text(encoding="utf-8"))["outcomes"]
    words = {"CaughtMutant": "caught", "MissedMutant": "missed", "Timeout": "timeout", "Unviable": "unviable"}
    return {
        outcome["scenario"]["Mutant"]["name"]: words[outcome["summary"]]
        for outcome in outcomes
        if isinstance(outcome["scenario"], dict) and outcome["summary"] in words
    }


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
    drawn = sorted(listed(ROOT), key=order)[:WANTED]
    rows = known()
    of = lambda row: (row["file"], row["function"], row["change"])
    have = {of(row) for row in rows}
    left = [mutant for mutant in drawn if of(mutant) not in have]
    print(f"{len(drawn)} drawn by the seed `{SEED}`, {len(left)} of them not tried yet", flush=True)
    while left and time.monotonic() - begun < 60 * minutes:
        batch, left = left[:TOGETHER], left[TOGETHER:]
        found = tried(target, [mutant["name"] for mutant in batch], ["--", "--lib"])
        missed = [mutant["name"] for mutant in batch if found.get(mutant["name"]) == "missed"]
        if missed:
            across = ["--test-package", "floodbar-tests", "--", "--test", "checks"]
            found |= tried(target, missed, across)
        for mutant in batch:
            if mutant["name"] in found:
                rows.append({key: mutant[key] for key in HEAD[:3]} | {"outcome": found[mutant["name"]], "why": ""})
        write(rows)
    unexplained = [row for row in rows if row["outcome"] == "missed" and not row["why"].strip()]
    for row in unexplained:
        print(f"survives: {row['file']}: {row['change']}")
    print(f"{len(rows) - len(unexplained)} passed, {len(unexplained)} failed")
    return int(bool(unexplained) or not rows)


if __name__ == "__main__":
    sys.exit(main())
