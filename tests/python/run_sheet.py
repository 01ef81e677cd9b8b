"""The run sheet of every order, as the person at the press gets it: run_sheet.py WORK_FOLDER

Each order is printed by the README's command, in both systems of units: at most 100 columns wide, and every number that
must be set by hand is on it. A faulty order gets its error and no sheet.
"""

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
COMMAND = ["cargo", "run", "--locked", "--quiet", "--release", "--example", "run_sheet", "--"]


def run(*arguments):
    done = subprocess.run([*COMMAND, *arguments], cwd=ROOT, capture_output=True, text=True)
    return done.returncode, done.stdout, done.stderr


def main(work):
    results = []

    def check(good, what):
        results.append(good)
        if not good:
            print(f"failed: {what}")

    code, usual, error = run()
    check(code == 0, f"the command without an argument: {error}")
    for order in sorted((ROOT / "examples" / "orders").glob("*.json")):
        for units in ("metric", "us"):
            name = f"{order.name} in {units} units"
            code, sheet, error = run(str(order), "--units", units)
            check(code == 0, f"{name}: {error}")
            check(order.name != "regatta.json" or units == "us" or sheet == usual, f"{name}: regatta is the default order")
            wide = [line for line in sheet.splitlines() if len(line) > 100]
            check(not wide, f"{name}: wider than 100 columns: {wide[:1]}")
            code, text, error = run(str(order), "--units", units, "--json")
            check(code == 0, f"{name}, raw: {error}")
            plan = json.loads(text)
            for screen in plan["screens"]:
                check(screen["name"].split()[0] in sheet, f"{name}: {screen['name']} is missing")
            for part in ("SCREENS TO MAKE", "ON THE PRESS", "INK", "PLACES", "DRYER", "PACE", "BLANKS", "WASH TEST", "SIGN OFF"):
                check(part in sheet, f"{name}: the part {part} is missing")
            check(("FLASH" in sheet) == bool(plan["flash"]), f"{name}: the flash")
            for caution in (note for note in plan["notes"] if note["level"] != "info"):
                words = caution["message"].split()
                check(all(word in sheet for word in words), f"{name}: a caution is hidden: {caution['message']}")
            remembered = any(basis["kind"] == "memory" for basis in plan["basis"])
            check(not remembered or "*" in sheet, f"{name}: no mark on a default from memory")
            check(str(plan["blanks"]["start_with"]) in sheet, f"{name}: the blanks")

    faulty = Path(work) / "faulty.json"
    order = json.loads((ROOT / "examples" / "orders" / "regatta.json").read_text())
    order["pieces"] = 241
    faulty.write_text(json.dumps(order))
    code, sheet, error = run(str(faulty))
    check(code != 0 and not sheet and "/sizes" in error, "sizes that do not add up")
    code, sheet, error = run(str(Path(work) / "no-such-order.json"))
    check(code != 0 and not sheet and "no-such-order.json" in error, "an order that is not there")

    passed = sum(results)
    print(f"{passed} passed, {len(results) - passed} failed")
    return 0 if passed == len(results) else 1


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
