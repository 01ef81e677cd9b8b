"""The figures of SECURITY.md, from the tables that tests/deep keeps. Usage: figures.py [--check] [TARGET_DIR]

Without `--check` sizes are taken from what tests/run built in TARGET_DIR (those that are not there keep what the table says), and the part
of SECURITY.md between its marks is written anew. With it nothing is written, and it fails where the page and the tables differ.
"""

import csv
import math
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "SECURITY.md"
BEGIN, END = "<!-- figures: written by tests/deep -->", "<!-- end of figures -->"
SIZES = ROOT / "tests/sizes.csv"
# What is shipped: where tests/run leaves it, the most that a test allows, the aim where it is another.
SHIPPED = {
    "lean WebAssembly, after brotli": ("wasm/pkg/floodbar_bg.wasm", "250,000"),
    "whole WebAssembly, after brotli": ("wasm/pkg/floodbar_whole_bg.wasm", "560,000"),
    "C library, stripped": ("tests/libfloodbar.so", "3,850,000; aim 2,400,000, missed"),
    "Python wheel": ("wheel/wheel/*.whl", "1,650,000; aim 1,500,000, missed"),
}


def rows(path: str) -> list[dict[str, str]]:
    """The rows of a table of tests/, or none where it was never written."""
    file = ROOT / "tests" / path
    if not file.exists():
        return []
    with file.open(newline="", encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def table(head: list[str], body: list[list[str]]) -> list[str]:
    """A table of the page, words to the left and numbers to the right."""
    is_number = [all(line[i].replace(",", "").replace(".", "").strip(" %-").isdigit() for line in body) for i in range(len(head))]
    rule = ["---:" if number else "---" for number in is_number]
    return ["| " + " | ".join(line) + " |" for line in [head, rule, *body]]


def thousands(number: float) -> str:
    return f"{number:,.0f}"


def inputs() -> list[str]:
    ran = rows("fuzz/ran.csv")
    total = sum(int(row["inputs"]) for row in ran)
    seconds = sum(float(row["seconds"]) for row in ran)
    body = []
    for target in sorted({row["target"] for row in ran}):
        own = [row for row in ran if row["target"] == target]
        count = sum(int(row["inputs"]) for row in own)
        by = {driver: sum(int(row["inputs"]) for row in own if row["driver"] == driver) for driver in ("seeded", "libfuzzer")}
        hours = sum(float(row["seconds"]) for row in own) / 3600
        body.append([f"`{target}`", thousands(by["seeded"]), thousands(by["libfuzzer"]), f"{100 * count / total:.1f} %", f"{hours:.2f}"])
    said = f"{thousands(total)} inputs in {seconds / 3600:.1f} hours so far; the aim is 100,000,000."
    return ["### Inputs by target", "", said, "", *table(["target", "seeded driver", "libFuzzer", "share", "hours"], body)]


def dearest() -> list[str]:
    found = rows("fuzz/dearest.csv")
    if not found:
        return ["### Dearest requests", "", "The hunt has not run yet."]
    body = [
        [f"`{row['calculation']}`", row["longest_ms"], row["longest_bytes"], row["largest_mb"], row["largest_bytes"], row["counted_ns"]]
        for row in found
    ]
    said = "The dearest request of at most 10,000 bytes that was found of each calculation, on one core of a machine that others used too:"
    return [
        "### Dearest requests",
        "",
        said,
        "",
        *table(["calculation", "longest, ms", "bytes", "largest, MB", "bytes", "ns for a row of work"], body),
    ]


def least_caught(caught: int, tried: int) -> float:
    """The 95 % lower bound of a share (Wilson, J. Am. Stat. Assoc. 22 (1927) 209)."""
    z, share = 1.644854, caught / tried
    middle = share + z * z / (2 * tried)
    return (middle - z * math.sqrt(share * (1 - share) / tried + z * z / (4 * tried * tried))) / (1 + z * z / tried)


def mutants() -> list[str]:
    tried = [row for row in rows("mutants.csv") if row["outcome"] != "unviable"]
    if not tried:
        return ["### Mutants", "", "None was tried yet."]
    caught = sum(row["outcome"] in ("caught", "timeout") for row in tried)
    listed = sum(row["outcome"] == "missed" and bool(row["why"].strip()) for row in tried)
    said = (
        f"{len(tried)} of core that compile were tried in the order of a seed, {caught} were caught: {100 * caught / len(tried):.1f} %, "
        f"at least {100 * least_caught(caught, len(tried)):.1f} % (Wilson, one-sided 95 %), where 95 % were wanted; {listed} that survive are "
        "listed with their reason in `tests/mutants.csv`, which mostly is that no answer changes."
    )
    return ["### Mutants", "", said]


def coverage() -> list[str]:
    found = rows("coverage.csv")
    body = [[row["of"], row["covered_percent"] + " %", row["aim_percent"] + " %"] for row in found]
    lines = table(["of core", "covered", "aim"], body) if found else ["Not measured yet."]
    return ["### Coverage", "", *lines]


def defects() -> list[str]:
    body = [[row["found by"], row["what it was"], row["what it is now"]] for row in rows("fuzz/defects.csv")]
    return ["### Found and mended", "", *table(["found by", "what it was", "what it is now"], body)]


def sizes() -> list[str]:
    body = [[row["what"], thousands(int(row["bytes"])), row["most"]] for row in rows("sizes.csv")]
    return ["### Sizes", "", *table(["what is shipped", "bytes", "at most"], body)]


def figures() -> str:
    parts = [inputs(), defects(), coverage(), mutants(), dearest(), sizes()]
    return "\n\n".join("\n".join(part) for part in parts)


def packed(file: Path) -> str:
    """How many bytes are left of a file after brotli, as the tests of the page and of Node count them."""
    script = (
        "const { brotliCompressSync, constants } = require('node:zlib');"
        "const data = require('node:fs').readFileSync(process.argv[1]);"
        "console.log(brotliCompressSync(data, { params: { [constants.BROTLI_PARAM_LGWIN]: 24 } }).length);"
    )
    return subprocess.run(["node", "-e", script, str(file)], check=True, capture_output=True, text=True).stdout.strip()


def weigh(target: Path) -> None:
    """Takes the sizes of what is there, and keeps the others."""
    known = {row["what"]: row["bytes"] for row in rows("sizes.csv")}
    for what, (where, _) in SHIPPED.items():
        files = sorted((ROOT if where.startswith("wasm/") else target).glob(where))
        if files:
            known[what] = packed(files[-1]) if what.endswith("brotli") else str(files[-1].stat().st_size)
    with SIZES.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["what", "bytes", "most"])
        writer.writerows([what, known[what], most] for what, (_, most) in SHIPPED.items() if what in known)


def main() -> int:
    arguments = sys.argv[1:]
    check = "--check" in arguments
    folders = [argument for argument in arguments if argument != "--check"]
    if not check and folders:
        weigh(Path(folders[0]))
    page = PAGE.read_text(encoding="utf-8")
    before, _, rest = page.partition(BEGIN)
    _, mark, after = rest.partition(END)
    if not mark:
        print(f"SECURITY.md lacks its marks: {BEGIN} and {END}")
        return 2
    made = f"{before}{BEGIN}\n\n{figures()}\n\n{END}{after}"
    if not check:
        PAGE.write_text(made, encoding="utf-8")
        return 0
    same = page == made
    if not same:
        print("SECURITY.md does not tell what the tables say: run tests/python/figures.py")
    print(f"{int(same)} passed, {int(not same)} failed")
    return int(not same)


if __name__ == "__main__":
    sys.exit(main())
