"""What runs on the workers: Arrow batches of orders in, batches of quotes, refusals and work out."""

import itertools
import json
import math
import os
import resource
import socket
import time
from functools import lru_cache

import floodbar
import pyarrow

from . import request, tables

# Orders that are asked for at a time, and runs through heat that a worker process remembers: some kilobytes each.
CHUNK, REMEMBERED = 500, 10_000
USAGE = [{"at": "/wet_film", "unit": "um"}, {"at": "/mass_per_print", "unit": "g"}, {"at": "/mass_to_mix", "unit": "g"}]


@lru_cache(maxsize=1)
def cache():
    """The cache of this process, which Spark keeps from task to task."""
    return floodbar.Cache(REMEMBERED)


@lru_cache(maxsize=4096)
def usage(fixed):
    """ink.usage of a screen, ready for columns of coverage and pieces; None where it has no answer."""
    try:
        return floodbar.prepare("ink.usage", json.loads(fixed), ["/coverage_fraction", "/prints"], USAGE)
    except floodbar.FloodbarError:
        return None


@lru_cache(maxsize=None)
def _scale(unit, base):
    """What a number in a unit is multiplied by to be in the base unit, and what it is divided by; None where they are of two dimensions."""

    def converted(unit, to):
        return floodbar.unit.convert(quantity={"value": 1.0, "unit": unit}, to=to, explain=False)["quantity"].value

    try:
        times, per = converted(unit, base), converted(base, unit)
    except floodbar.FloodbarError:
        return None
    # 1/1000 has no double of its own and 1000 has, so that only one of both gives the bits that the library works with.
    return (1.0, per) if per == int(per) else (times, 1.0)


def si(quantity, base):
    """A quantity in the SI base unit; None where it is of another dimension."""
    scale = _scale(quantity.unit, base)
    return None if scale is None else quantity.value * scale[0] / scale[1]


def whole(number):
    """Rounded to a whole one, halves up, as for numbers that are never negative."""
    return math.floor(number + 0.5)


def minor(money):
    """Money of an answer, which is written with all digits of its minor unit, in those units."""
    return int(money["value"].replace(".", ""))


def _ink(total, costs):
    """What is used up of an ink is the quantity of its cost line, by mass or by volume as the rate is."""
    mass = si(total["mass_to_mix"], "kg")
    line = next((line for line in costs if line["what"] == f"ink: {total['colour']} ({total['ink']})"), None)
    used = 0.0
    if line is not None:
        volume = si(line["quantity"], "m3")
        used = si(line["quantity"], "kg") if volume is None else volume / si(total["volume_to_mix"], "m3") * mass
    return {"colour": total["colour"], "ink": total["ink"], "ready_milligrams": whole(mass * 1e6), "used_milligrams": whole(used * 1e6)}


def quote(answer):
    """The columns of an answer of job.quote."""
    seconds = {name: whole(si(answer["hours"][name], "s")) for name in ("setup", "run")}
    hours, per_hour = answer["hours"]["total"], answer.get("profit_per_press_hour")
    lines = [{"side": side, "what": line["what"], "amount": minor(line["amount"])} for side in ("price", "cost") for line in answer[side + "_lines"]]
    return {
        "pieces": answer["pieces"], "setup_seconds": seconds["setup"], "run_seconds": seconds["run"], "currency": answer["currency"],
        "unit_price": minor(answer["unit_price"]), "cost": minor(answer["cost"]), "before_tax": minor(answer["price_before_tax"]),
        "tax": minor(answer["tax"]) if answer.get("tax") else 0, "total": minor(answer["total"]), "profit": minor(answer["profit"]),
        "profit_per_press_hour": minor(per_hour) if per_hour else None,
        "stop": next((note["message"] for note in answer["notes"] if note["level"] == "limit"), None),
        "hours": hours.value, "hours_unit": hours.unit, "pieces_per_hour": answer["pieces_per_hour"],
        "lines": lines, "ink_demand": [_ink(total, answer["cost_lines"]) for total in answer["ink_totals"]],
    }  # fmt: skip


def _add_usage(priced):
    """Gives each quote the ink of its screens: screens that differ in nothing but numbers are columns of one prepared calculation."""
    columns = {}
    for asked, row in priced:
        row["ink_usage"] = []
        for placement in asked["placements"]:
            for screen in placement["screens"]:
                found = {"placement": placement.get("name"), "screen": screen.get("name")}
                row["ink_usage"].append(found)
                coverage = screen.get("coverage_fraction")
                if isinstance(coverage, (int, float)):
                    size = {name: placement.get(name) for name in ("width", "height")}
                    fixed = json.dumps({"mesh": screen.get("mesh"), "ink": screen.get("ink"), **size})
                    columns.setdefault(fixed, []).append((coverage, asked["pieces"], found))
    for fixed, rows in columns.items():
        prepared = usage(fixed)
        if prepared is None:
            continue
        done = prepared.run([[row[0] for row in rows], [row[1] for row in rows]])
        for (_, _, found), status, *numbers in zip(rows, done.status, *done.columns):
            if status == 0:
                found.update(zip(("wet_film_um", "mass_per_print_g", "mass_to_mix_g"), numbers))


def _answers(requests):
    try:
        return floodbar.calculate_many("job.quote", requests, cache())
    except floodbar.FloodbarError as error:
        # A text that JSON cannot carry (half of a surrogate pair) spoils the whole document, so each goes by itself.
        if len(requests) == 1:
            return [{"error": vars(error)}]
        return [answer for asked in requests for answer in _answers([asked])]


def _refusal(code, field, message):
    return {"kind": "refused", "code": code, "field": field, "message": message}


def price_rows(rows, shops, library):
    """What becomes of some orders, each a row of one kind, in their order."""
    outcomes, asked = [], []
    for row in rows:
        document = None
        outcome = {}
        try:
            document = request.assemble(row, shops)
            asked.append((document, outcome, row["press"]))
        except request.Refused as refused:
            outcome.update(_refusal(refused.code, refused.field, refused.message))
        outcome.update(shop=row["shop"], cloth=row["cloth"], id=row["id"], request_sha256=request.content_hash(row, document, library))
        outcomes.append(outcome)
    priced = []
    for (document, outcome, press), answer in zip(asked, _answers([document for document, _, _ in asked]) if asked else []):
        error = answer.get("error")
        if error is None:
            outcome.update(quote(answer), kind="quoted", press=press)
            priced.append((document, outcome))
        else:
            outcome.update(_refusal(error["code"], error["field"], error["message"]))
    _add_usage(priced)
    return outcomes


def _orders(batches):
    for batch in batches:
        yield from batch.to_pylist()


def _chunks(rows):
    """Rows of one shop and cloth, so many at a time."""
    for place, group in itertools.groupby(rows, key=lambda row: (row["shop"], row["cloth"])):
        while chunk := list(itertools.islice(group, CHUNK)):
            yield place, chunk


def pricing(shops, library, done):
    """The function for mapInArrow. `shops` is a broadcast of Shops; `done` are two counters, of rows and of those refused."""

    def price(batches):
        work = {}
        for (shop, cloth), rows in _chunks(_orders(batches)):
            began, before = time.process_time(), cache().counts
            outcomes = price_rows(rows, shops.value, library)
            yield pyarrow.RecordBatch.from_pylist(outcomes, schema=tables.WRITTEN)
            refused = sum(outcome["kind"] == "refused" for outcome in outcomes)
            spent = [len(rows), refused, time.process_time() - began, *(now - then for now, then in zip(cache().counts, before))]
            work[shop, cloth] = [sum(pair) for pair in zip(work.get((shop, cloth), [0] * 5), spent)]
            done[0].add(len(rows))
            done[1].add(refused)
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        names = ["kind", "shop", "cloth", "rows", "refused", "seconds", "remembered", "worked_out", "worker", "peak_kilobytes"]
        told = [dict(zip(names, ["work", *place, *spent, f"{socket.gethostname()}:{os.getpid()}", peak])) for place, spent in work.items()]
        yield pyarrow.RecordBatch.from_pylist(told, schema=tables.WRITTEN)

    return price


def hashing(shops, library):
    """The function for mapInArrow that only tells the hash of each order's request."""

    def hashed(row):
        try:
            document = request.assemble(row, shops.value)
        except request.Refused:
            document = None
        told = {name: row[name] for name in ("shop", "cloth", "id")}
        return {**told, "request_sha256": request.content_hash(row, document, library)}

    def hash_all(batches):
        for batch in batches:
            yield pyarrow.RecordBatch.from_pylist([hashed(row) for row in batch.to_pylist()], schema=tables.HASHED)

    return hash_all
