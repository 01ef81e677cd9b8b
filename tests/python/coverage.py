"""How much of core the tests reach: coverage.py COVERAGE.json LIST [--list]

COVERAGE.json is what `cargo llvm-cov report --json` writes. Counted are the lines and regions of core/src outside of its tests, each once
however often it was compiled. Every line that was not reached must stand in LIST with its reason; --list prints those that do not.
The shares are left in tests/coverage.csv, for SECURITY.md.
A paragraph of LIST is a reason and, each behind a tab, its lines: file, function and text, with tabs between.
"""

import csv
import json
import pathlib
import re
import sys
from collections import defaultdict

ROOT = pathlib.Path(__file__).resolve().parents[2]
CORE = ROOT / "core" / "src"
# What SECURITY.md tells of it.
TABLE = ROOT / "tests" / "coverage.csv"
LEAST = {"lines": 99.0, "regions": 97.0}
# What marks a region of code; others are gaps and branches.
CODE = 0


def tested_only(path, text):
    """The numbers of the lines that only tests have."""
    if path.name == "tests.rs":
        return set(range(1, len(text) + 1))
    lines = set()
    for number, line in enumerate(text, 1):
        if line.strip() == "#[cfg(test)]":
            indent = len(line) - len(line.lstrip())
            end = next(
                (later for later in range(number + 1, len(text)) if text[later][:indent + 1] == " " * indent + "}"),
                number,
            )
            lines.update(range(number, end + 2))
    return lines


def places(name, text):
    """For each line its file, the function that it stands in by the indents, and its text."""
    within, found = [], []
    for line in text:
        if line.strip():
            indent = len(line) - len(line.lstrip())
            while within and within[-1][0] >= indent and not line.strip().startswith(("}", ")", "where", "{")):
                within.pop()
            begun = re.match(r"\s*(?:pub(?:\([^)]*\))? )?(?:const )?(?:unsafe )?fn (\w+)", line)
            if begun:
                within.append((indent, begun[1]))
        found.append((name, within[-1][1] if within else "-", line.strip()))
    return found


def lines_of(segments):
    """How often each line ran: the most of what begins on it and of what reaches into it, as llvm-cov counts."""
    counts = {}
    before, rest = None, list(segments)
    for number in range(segments[0][0], segments[-1][0] + 1):
        here = []
        while rest and rest[0][0] == number:
            here.append(rest.pop(0))
        begun = [count for _, _, count, counted, entry, gap in here if counted and entry and not gap]
        skipped = bool(here) and here[0][4] and not here[0][3]
        if not skipped and (begun or before and before[3]):
            counts[number] = max(begun + ([before[2]] if before else []))
        before = here[-1] if here else before
    return counts


def reached(document):
    """For each file of core, how often each line ran, and each region, wherever it was compiled."""
    export = document["data"][0]
    lines = {pathlib.Path(file["filename"]): lines_of(file["segments"]) for file in export["files"] if file["segments"]}
    regions = defaultdict(dict)
    for function in export["functions"]:
        for line, column, end, end_column, count, file, _, kind in function["regions"]:
            if kind == CODE:
                found = regions[pathlib.Path(function["filenames"][file])]
                place = (line, column, end, end_column)
                found[place] = max(found.get(place, 0), count)
    return {path: counts for path, counts in lines.items() if CORE in path.parents}, regions


def listed(path):
    """The lines of the list, and what is wrong with it."""
    entries, faults, reason = [], [], ""
    for line in path.read_text().splitlines():
        if line.startswith("\t"):
            entry = tuple(line[1:].split("\t"))
            if len(entry) != 3 or not reason:
                faults.append(f"not a file, a function and a text beneath a reason: {line.strip()}")
            entries.append(entry)
        else:
            reason = line.strip()
    return entries, faults


def main():
    document, path = json.loads(pathlib.Path(sys.argv[1]).read_text()), pathlib.Path(sys.argv[2])
    lines, regions = reached(document)
    counts = {"lines": [0, 0], "regions": [0, 0]}
    missed = defaultdict(list)
    present = set()
    for file in sorted(lines):
        text = file.read_text().splitlines()
        apart = tested_only(file, text)
        name = str(file.relative_to(CORE))
        entries_of = places(name, text)
        present.update(entries_of)
        for number, count in sorted(lines[file].items()):
            # Brackets alone are no code.
            if number in apart or not re.search(r"\w", text[number - 1]):
                continue
            counts["lines"][0] += count > 0
            counts["lines"][1] += 1
            if count == 0:
                missed[entries_of[number - 1]].append(number)
        for (line, *_), count in regions[file].items():
            if line not in apart:
                counts["regions"][0] += count > 0
                counts["regions"][1] += 1
    entries, faults = listed(path)
    for kind, (good, of) in counts.items():
        share = 100 * good / of
        print(f"{kind}: {good} of {of}, {share:.2f} %, at least {LEAST[kind]} %")
        if share < LEAST[kind]:
            faults.append(f"fewer {kind} than {LEAST[kind]} %")
    with TABLE.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["of", "covered_percent", "aim_percent"])
        writer.writerows([kind, f"{100 * good / of:.2f}", f"{LEAST[kind]:.0f}"] for kind, (good, of) in counts.items())
    unlisted = [entry for entry in sorted(missed) if entry not in set(entries)]
    if "--list" in sys.argv:
        for entry in unlisted:
            print("\t" + "\t".join(entry))
        return 0
    faults += [f"not reached and not listed: {name}:{missed[(name, *rest)][0]}, {': '.join(rest)}" for name, *rest in unlisted]
    faults += [f"listed and no longer there: {': '.join(entry)}" for entry in entries if entry not in present]
    for entry in entries:
        if entry in present and entry not in missed:
            print(f"listed, and reached this time: {': '.join(entry)}")
    for fault in faults:
        print(f"failed: {fault}")
    passed = len(counts) + len(entries)
    print(f"{max(passed - len(faults), 0)} passed, {len(faults)} failed")
    return 1 if faults or passed == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
