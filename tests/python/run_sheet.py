"""The run sheet of every order, as the person at the press gets it: run_sheet.py WORK_FOLDER

Each order is printed by the README's command, in both systems of units: at most 100 columns wide, and every number that
must be set by hand (BY_HAND) is on it. A faulty order gets its error and no sheet.
"""

import json
import math
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
COMMAND = ["cargo", "run", "--locked", "--quiet", "--release", "--example", "run_sheet", "--"]


# Where the numbers that someone sets by hand stand in the plan; a star walks a list.
BY_HAND = """
/placements/*/width /placements/*/height /placements/*/below_collar
/screens/*/target_tension /screens/*/frame_least/width /screens/*/frame_least/length
/screens/*/stencil/gauge_low /screens/*/stencil/gauge_high /screens/*/stencil/exposure_time
/screens/*/blade/length /screens/*/blade/hardness /screens/*/blade/angle /screens/*/off_contact /screens/*/stroke_speed
/screens/*/strokes/flood /screens/*/strokes/print /screens/*/hits /screens/*/station
/screens/*/mass_to_mix /screens/*/additives/*/mass_per_pot /screens/*/pots/0/mass /screens/*/mix_again_after
/heads/*/station /flash/*/panel /flash/*/dwell_cold /flash/*/dwell_warm /flash/*/height_low /flash/*/height_high
/flash/*/gel /flash/*/gun_most /dryer/recommended /dryer/dwell /dryer/zones/*/air /dryer/zones/*/panel
/flash/*/platen_warm /dryer/slowest /dryer/fastest
/dryer/probe_readings/*/at /dryer/probe_readings/*/expect /dryer/probe_readings/*/most /blanks/start_with /blanks/sizes/*/start_with
/ink_totals/*/mass_to_mix /wash_test/prints /wash_test/washes
""".split()


def members(value, steps):
    """Every value that a path with stars leads to; what an order does not have is skipped."""
    if not steps:
        return [] if value is None else [value]
    first, *rest = steps
    if isinstance(value, list):
        chosen = value if first == "*" else value[int(first) : int(first) + 1]
        return [found for item in chosen for found in members(item, rest)]
    return members(value.get(first), rest) if isinstance(value, dict) else []


def shown(value):
    """A number as a sheet rounds it: three digits, two for films, at most thousandths of an inch."""
    number, unit = (value["value"], value["unit"]) if isinstance(value, dict) else (value, "")
    digits, decimals = {"um": (2, 3), "in": (3, 3), "": (3, 3)}.get(unit, (3, 5))
    size = math.floor(math.log10(abs(number))) if number else 0
    text = f"{number:.{min(max(digits - 1 - size, 0), decimals)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


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
            numbers = set(re.findall(r"[0-9]+(?:\.[0-9]+)?", sheet))
            for path in BY_HAND:
                for value in members(plan, path.split("/")[1:]):
                    # Exactly half a last digit may be rounded either way.
                    near = {shown(value), shown({**value, "value": value["value"] * (1 - 1e-9)} if isinstance(value, dict) else value)}
                    check(bool(near & numbers), f"{name}: {path} = {value} is missing")
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
