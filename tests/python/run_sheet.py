"""The run sheet of every order, as the person at the press gets it: run_sheet.py WORK_FOLDER [PROGRAM]

Each order is printed by the README's command, or by that program where it is built already, in both systems of units: at most 100 columns wide, and every number that
must be set by hand (BY_HAND) is on it, an order of three screens on one page and any on two. A faulty order gets its error and no sheet. The pictures of regatta-art.json are drawn
anew, their pixels counted here, and the sheet must show what was counted.
"""

import json
import math
import re
import struct
import subprocess
import sys
import zlib
from pathlib import Path

from shared import ROOT, Judge

COMMAND = ["cargo", "run", "--locked", "--quiet", "--release", "--example", "run_sheet", "--"]


# Where the numbers that someone sets by hand stand in the plan; a star walks a list.
BY_HAND = """
/placements/*/width /placements/*/height /placements/*/below_collar
/register/trap /register/trap_needed /screens/*/halftone/ruling /screens/*/halftone/angle
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


# Lines of 8.5 points on 10.3 that an A4 sheet, 842 points high, holds between margins of 19.
PAGE = 78
# A dial, a rule and a balance show no more: half a step of each by unit. A limit is rounded to its safe side, by a whole step.
STEPS = {"degC": 1.0, "degF": 5.0, "in": 1 / 8, "ft/min": 0.05, "in/s": 0.5}


def numbers(sheet):
    """Every number of a sheet, fractions of an inch among them."""
    fractions = re.findall(r"(?:([0-9]+)\u00a0)?([0-9]+)/([0-9]+)", sheet)
    return {float(text) for text in re.findall(r"[0-9]+(?:\.[0-9]+)?", sheet)} | {
        int(whole or 0) + int(over) / int(of) for whole, over, of in fractions
    }


def near(value, number):
    """Whether a sheet's number is this one, as it rounds: to three digits, two for films, or to the step of a dial."""
    wanted, unit = (value["value"], value["unit"]) if isinstance(value, dict) else (value, "")
    if unit == "oz" and wanted < 2:
        wanted, unit = wanted * 28.349523125, "g"
    digits = 2 if unit == "um" or (unit == "g" and wanted < 1) else 3
    step = STEPS.get(unit, 0.0)
    # A 32nd of an inch where a gap is small.
    step = min(step, 1 / 64) if unit == "in" and wanted < 1 else step
    rounding = 0.5 * 10.0 ** (math.floor(math.log10(abs(wanted))) + 1 - digits) if wanted else 0.0
    return abs(wanted - number) <= max(rounding if unit not in STEPS else 0.0, step, 5e-4 if unit == "in" else 0.0) * (1 + 1e-9)


def run(*arguments):
    done = subprocess.run([*COMMAND, *arguments], cwd=ROOT, capture_output=True, text=True)
    return done.returncode, done.stdout, done.stderr


def chunks(png):
    """The parts of a PNG; its data unpacked, since another zlib packs the same pixels otherwise."""
    parts, at = [], 8
    while at < len(png):
        (length,), kind = struct.unpack(">I", png[at : at + 4]), png[at + 4 : at + 8]
        data = png[at + 8 : at + 8 + length]
        parts.append((kind, zlib.decompress(data) if kind == b"IDAT" else data))
        at += 12 + length
    return parts


def counted(png):
    """Printed area in cm2, width and height of the box in mm of a 1-bit PNG whose ink is black; rows without a filter."""
    parts = dict(chunks(png))
    wide, high = struct.unpack(">II", parts[b"IHDR"][:8])
    pixel = 1000 / struct.unpack(">I", parts[b"pHYs"][:4])[0]
    step = 1 + (wide + 7) // 8
    rows = [parts[b"IDAT"][y * step + 1 : (y + 1) * step] for y in range(high)]
    # As a number, a row's leftmost pixel is its highest bit; what pads it is white.
    full = (1 << 8 * (step - 1)) - 1
    inked = [full ^ int.from_bytes(row, "big") for row in rows]
    union = 0
    for row in inked:
        union |= row
    lines = [y for y, row in enumerate(inked) if row]
    across = union.bit_length() - ((union & -union).bit_length() - 1)
    return sum(row.bit_count() for row in inked) * pixel**2 / 100, across * pixel, (lines[-1] - lines[0] + 1) * pixel


def artwork(work, check):
    """The order whose screens name pictures: what was measured is on the sheet, and a bad picture is told by name."""
    orders = ROOT / "examples" / "orders"
    order = json.loads((orders / "regatta-art.json").read_text())
    screens = order["placements"][0]["screens"]
    done = subprocess.run([sys.executable, "-B", str(orders / "draw_regatta.py"), work], capture_output=True, text=True)
    check(done.returncode == 0, f"the drawing: {done.stderr}")
    _, sheet, _ = run(str(orders / "regatta-art.json"), "--sources")
    part = sheet.split("ARTWORK AS MEASURED")[1]
    # The pen of each screen's finest line, and white's finest gap, between mast and pennant: 46.4 - 42 mm; to a pixel and a half, 0.13 mm.
    for screen, pen, gap in zip(screens, (2.4, 0.343, 0.4), (4.4, 0.27, None)):
        name, kept = screen["name"], (orders / screen["art"]).read_bytes()
        check(chunks(kept) == chunks((Path(work) / screen["art"]).read_bytes()), f"{name}: drawn anew it is another picture")
        check(len(kept) < 100_000, f"{name}: a large file")
        area, wide, high = (shown({"value": number, "unit": "mm"}) for number in counted(kept))
        row = next((line for line in part.splitlines() if name.split()[0] in line), "")
        check(f" {area} cm2 " in row, f"{name}: printed {area} cm2: {row}")
        check(f" {wide} x {high} mm " in row, f"{name}: a box of {wide} x {high} mm: {row}")
        widths = [float(text) for text in re.findall(r"([0-9.]+) mm", row)][1:]
        check(len(widths) == 2 and abs(widths[0] - pen) < 0.13, f"{name}: a finest line of {pen} mm: {row}")
        check(gap is None or abs(widths[-1] - gap) < 0.13, f"{name}: a finest gap of {gap} mm: {row}")
        check(("14 /cm" in row) == (name == "pennant red"), f"{name}: the halftone: {row}")
    check(re.search(r"22\.[3-7] +", part), f"the halftone's angle, 22.5 deg: {part}")

    def refused(why, *words, **members):
        faulty = Path(work) / "faulty-art.json"
        art = {"name": "deck blue", "ink": "plastisol", "mesh": "77-55", **members}
        placement = {**order["placements"][0], "screens": [art]}
        faulty.write_text(json.dumps({**order, "placements": [placement]}))
        code, sheet, error = run(str(faulty))
        good = code == 1 and not sheet and "panicked" not in error and all(word in error for word in words)
        check(good, f"{why}: {code}: {error}")

    kept = (orders / screens[1]["art"]).read_bytes()
    bare = kept[:33] + kept[33 + 21 :]
    for name, data in (("cut.png", kept[: len(kept) // 2]), ("unsized.png", bare), ("words.png", b"a picture")):
        (Path(work) / name).write_bytes(data)
    refused("no such picture", "deck blue", "nowhere.png", "No such file", art="nowhere.png")
    refused("half a picture", "deck blue", "cut.png", "not a sound PNG", art="cut.png")
    refused("no picture", "deck blue", "words.png", "neither a PNG nor a TIFF", art="words.png")
    refused("no resolution", "deck blue", "unsized.png", '"art_resolution": "300 /in"', art="unsized.png")
    refused("no unit", "deck blue", "/art_resolution", "unit", art="unsized.png", art_resolution="300")
    refused("no such ink", "deck blue", "/art_ink", "dark, light", art="unsized.png", art_resolution="300 /in", art_ink="blue")
    refused("too coarse to fit", "/artwork/printed_area", art="unsized.png", art_resolution="100 /in")
    refused("a coverage too", "/artwork", "given twice", art=screens[1]["art"], coverage_fraction=0.2)
    refused("an unknown member", "/art_size", "unknown field", art=screens[1]["art"], art_size="1 mm")
    refused("a resolution of nothing", "/art_resolution", "unknown field", coverage_fraction=0.2, art_resolution="300 /in")


def doubts_and_sweeps(work, check):
    """What a doubted release does stands on the sheet; a sweep is a table with bars."""
    order = json.loads((ROOT / "examples" / "orders" / "regatta.json").read_text())
    order["placements"][0]["screens"][0]["ink"] = {"from": "plastisol-white", "release_fraction": "0.40 +/- 0.08"}
    file = Path(work) / "doubted.json"
    file.write_text(json.dumps(order))
    ready = json.loads(run(str(file), "--json")[1])["ink_totals"][0]["mass_to_mix"]
    # All but the 100 g that stay in the screen goes with the release: a fifth of it is in doubt.
    wanted = 0.2 * (ready["value"] - 100)
    check(abs(ready["plus_minus"] - wanted) < 1e-9 * wanted, f"the doubt of the white is {wanted} g: {ready}")
    check(f"{ready['value']:.0f} g +/- {wanted:.0f}" in run(str(file))[1], "the sheet does not print the doubt")
    code, table, error = run("--sweep", "/placements/0/screens/0/coverage_fraction", "--from", "0.2", "--to", "0.4",
                             "--points", "2", "--want", "/screens/0/mass_to_mix g")
    rows = [line.split() for line in table.splitlines() if line.strip().startswith("0.")]
    check(code == 0 and [row[0] for row in rows] == ["0.2", "0.4"], f"the rows of a sweep: {table} {error}")
    # Twice the area takes twice the ink, beside what stays in the screen; numbers are printed to a gram.
    check(abs((float(rows[1][1]) - 100) - 2 * (float(rows[0][1]) - 100)) <= 1.5, f"twice the ink: {rows}")
    check(len(rows[1][2]) == 40 and 0 < len(rows[0][2]) < 40, f"bars: {rows}")
    code, table, error = run("--sweep", "/no_such", "--from", "1", "--to", "2")
    check(code != 0 and not table and "/vary" in error, "a sweep of nothing")


def quotes(work, check):
    """The shop's page has every cost and what is earned, the customer's copy every price and no cost; each on one page."""
    file = ROOT / "examples" / "orders" / "regatta-quote.json"
    quote = json.loads(run(str(file), "--quote", "--json")[1])
    amounts = lambda part: [line["amount"]["value"] for line in quote[part]]
    code, both, error = run(str(file), "--quote")
    check(code == 0, f"the quote: {error}")
    sheet, page = both.split("\f")
    check(sheet.rstrip("\n") == run(str(file))[1].rstrip("\n"), "the sheet before the quote is another")
    offer = run(str(file), "--offer")[1]
    for name, text in (("quote", page), ("offer", offer)):
        check(max(map(len, text.splitlines())) <= 100, f"the {name} is too wide")
        check(len(text.splitlines()) <= PAGE, f"the {name} has {len(text.splitlines())} lines")
    prices = amounts("price_lines") + [quote[name]["value"] for name in ("total", "unit_price")]
    prices += [size["unit_price"]["value"] for size in quote["unit_prices"]]
    prices += [at[name]["value"] for at in quote["price_breaks"] for name in ("unit_price", "total")]
    costs = amounts("cost_lines") + [quote[name]["value"] for name in ("cost", "profit", "profit_per_press_hour")]
    costs += [at[name]["value"] for at in quote["price_breaks"] for name in ("cost", "profit")]
    has = lambda text, amount: re.search(rf"(?<![0-9.]){re.escape(amount)} EUR", text)
    for amount in prices + costs:
        check(has(page, amount), f"{amount} EUR is not on the quote")
    for amount in prices + [quote["once"]["value"], quote["deposit"]["value"]]:
        check(has(offer, amount), f"{amount} EUR is not on the offer")
    for amount in set(costs) - set(prices):
        check(not has(offer, amount), f"the customer reads what costs {amount} EUR")
    for word in ("cost", "profit", "labour", "margin"):
        check(word not in offer.replace("costs least", "").lower(), f"the customer reads of {word}")
    check(f"stands for {quote['valid_days']} days" in offer and quote["terms"][:40] in offer, "terms are missing")
    code, text, error = run("--quote")
    check(code == 1 and not text and "/currency" in error, f"an order without prices: {error}")
    doubted = json.loads(file.read_text())
    doubted["rates"]["labour"] = "32 +/- 4 EUR/h"
    half = Path(work) / "doubted-quote.json"
    half.write_text(json.dumps(doubted))
    check(re.search(r"total +[0-9.]+ EUR \+/- [0-9.]+", run(str(half), "--quote")[1]), "a doubted total")
    supplied = {**doubted, "blanks": "supplied"}
    half.write_text(json.dumps(supplied))
    check("customer's own" in run(str(half), "--offer")[1], "supplied shirts are not told of")


def main(work, program=None):
    if program:
        COMMAND[:] = [str(Path(program).resolve())]
    judge = Judge()
    check = judge.holds
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
            for part in ("SCREENS TO MAKE", "ON THE PRESS", "INK", "DRYER", "WASH TEST", "SIGN OFF", "THE WHOLE ORDER"):
                check(part in sheet, f"{name}: the part {part} is missing")
            lengths = len(sheet.splitlines())
            pages = 1 if len(plan["screens"]) <= 3 else 2
            check(lengths <= pages * PAGE, f"{name}: {lengths} lines are more than {pages} of A4")
            found = numbers(sheet)
            for path in BY_HAND:
                for value in members(plan, path.split("/")[1:]):
                    check(any(near(value, number) for number in found), f"{name}: {path} = {value} is missing")
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

    artwork(work, check)
    doubts_and_sweeps(work, check)
    quotes(work, check)

    return judge.close()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
