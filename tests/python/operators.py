"""Prepared columns, sweeps, searches, many requests and the cache through the Python example, without NumPy: operators.py LIBRARY"""

import ctypes
import math
import random
import struct
import sys
from array import array
from concurrent.futures import ThreadPoolExecutor

from shared import FloodbarError, quantity, run

SCREEN = {"mesh": "77-55", "ink": "plastisol", "edge_length": "12 m"}
INPUTS = [{"at": "/printed_area", "unit": "cm2"}, {"at": "/over_mesh", "unit": "um"}, "/prints", "/waste_fraction"]
OUTPUTS = [{"at": "/mass_to_mix", "unit": "g"}, {"at": "/wet_film", "unit": "um"}]
WINDOW = {"dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180"}
GRAMS = {"g": 1.0, "kg": 1000.0}


def bits(number):
    """To the last bit; one NaN is as good as another."""
    return "NaN" if math.isnan(number) else struct.pack("d", number)


def refusal(call):
    """The error of a call; none where it has an answer."""
    try:
        call()
    except FloodbarError as error:
        return error
    return None


def refused(judge, code, field, call, what):
    error = refusal(call)
    judge.holds(error and (error.code, error.field) == (code, field), what, error and (error.code, error.field), error)


def request_of(row):
    """The request that has the numbers of a row."""
    area, over_mesh, prints, waste = row
    return SCREEN | {"printed_area": quantity(area, "cm2"), "over_mesh": quantity(over_mesh, "um"), "prints": prints, "waste_fraction": waste}  # fmt: skip


def rows_of(count):
    """Random rows, some of them beyond what can be, some unusual; small runs, so that masses are told in grams."""
    draw = random.Random(count)
    rows = []
    for _ in range(count):
        row = [draw.uniform(1, 400), draw.uniform(0, 60), draw.randint(1, 20), draw.uniform(0, 0.4)]
        row[draw.randrange(4)] *= draw.choice([1, 1, 1, 1, -1, 3.7])
        rows.append(row)
    return rows


def columns_of(rows):
    return [list(column) for column in zip(*rows)]


def usage(floodbar):
    return floodbar.prepare("ink.usage", SCREEN, INPUTS, OUTPUTS)


def check_rows(floodbar, judge):
    rows, prepared = rows_of(300), usage(floodbar)
    columns = columns_of(rows)
    done = prepared.run(columns)
    seen = set()
    for index, row in enumerate(rows):
        found = [column[index] for column in done.columns]
        request, names = request_of(row), ["mass_to_mix", "wet_film"]
        error = refusal(lambda request=request: floodbar.calculate("ink.usage", **request))
        seen.add((error is None, done.cautions[index]))
        if error:
            judge.holds(floodbar.status_text(done.status[index]) == error.code, index, "status", done.status[index], error.code)
            judge.holds(all(map(math.isnan, found)), index, "is not NaN", found)
            explained = refusal(lambda row=row: prepared.explain(row))
            # What was got has no text here.
            judge.holds(vars(explained) | {"got": error.got} == vars(error), index, "explained otherwise", vars(explained), vars(error))
            continue
        answer = floodbar.calculate("ink.usage", **request)
        wanted = [answer[name]["value"] for name in names]
        judge.holds([answer[name]["unit"] for name in names] == ["g", "um"], index, "units", answer)
        judge.holds(done.status[index] == 0 and list(map(bits, found)) == list(map(bits, wanted)), index, found, wanted)
        levels = [note["level"] for note in answer["notes"]]
        counts = done.cautions[index], done.limits[index]
        judge.holds(counts == (levels.count("caution"), levels.count("limit")), index, "counts", counts, levels)
        judge.holds(prepared.explain(row) == answer, index, "explained otherwise")
    judge.holds({(True, 0), (True, 1), (False, 0)} <= seen, "too few kinds of rows", seen)
    judge.holds(columns == columns_of(rows), "an input was written")
    judge.holds(done["/wet_film"] is done[1] and done[0] is done.columns[0], "columns by pointer and place")
    judge.holds(all(isinstance(column, list) for column in [*done.columns, done.status, done.cautions, done.limits]), "lists from lists")


def check_columns(floodbar, judge):
    rows, prepared = rows_of(50), usage(floodbar)
    columns = columns_of(rows)
    wanted = [list(map(bits, column)) for column in prepared.run(columns).columns]
    by_name = dict(zip(["/waste_fraction", "/prints", "/over_mesh", "/printed_area"], reversed(columns)))
    doubles = [array("d", column) for column in columns]
    for what, given in {
        "a dict": by_name,
        "tuples": tuple(map(tuple, columns)),
        "arrays of doubles": doubles,
        "views of doubles": [memoryview(column) for column in doubles],
        "locked views": [memoryview(column).toreadonly() for column in doubles],
        "a view of every second one": [memoryview(array("d", [n for value in column for n in (value, 0)]))[::2] for column in columns],
        "arrays of C": [(ctypes.c_double * len(column))(*column) for column in columns],
        "iterators": [iter(column) for column in columns],
    }.items():
        judge.holds([list(map(bits, column)) for column in prepared.run(given).columns] == wanted, what)
    whole = prepared.run([array("i", [100, 200]), range(2), array("f", [3, 4]), [True, False]])
    judge.holds(list(whole.status) == [0, 0], "whole numbers, floats and truth values are numbers", whole.status)

    out = [array("d", bytes(8 * 50)), (ctypes.c_double * 50)()]
    done = prepared.run(doubles, out=out)
    judge.holds(done.columns[0] is out[0] and done[1] is out[1], "the columns are those that were given")
    judge.holds([list(map(bits, column)) for column in out] == wanted, "given columns are written")
    named = {"/wet_film": array("d", bytes(400)), "/mass_to_mix": array("d", bytes(400))}
    prepared.run(doubles, out=named)
    judge.holds(list(map(bits, named["/mass_to_mix"])) == wanted[0], "given columns by their names")

    nothing = prepared.run([[], [], [], []])
    judge.holds(nothing.columns == [[], []] and nothing.status == [], "zero rows")
    judge.holds(prepared.run([array("d")] * 4, out=[array("d"), array("d")]).limits == [], "zero rows of buffers")
    nan = prepared.run([[math.nan, 100.0, math.inf], [1, 1, 1], [5, 5, 5], [0, 0, 0]])
    judge.holds([floodbar.status_text(status) for status in nan.status] == ["out_of_range", "success", "out_of_range"], nan.status)
    judge.holds([math.isnan(number) for number in nan[0]] == [True, False, True], "NaN goes in and out", nan[0])

    fixed = floodbar.prepare("ink.usage", SCREEN | {"printed_area": "300 cm2", "prints": 5}, [], ["/mass_to_mix"])
    judge.holds(fixed.run([])[0] == [floodbar.calculate("ink.usage", **SCREEN, printed_area="300 cm2", prints=5)["mass_to_mix"]["value"]],
                "no inputs make one row")  # fmt: skip
    share = floodbar.prepare("ink.usage", SCREEN | {"printed_area": "300 cm2", "prints": 5}, [{"at": "/waste_fraction", "unit": "%"}], ["/mass_to_mix"])  # fmt: skip
    judge.holds(share.run([[10]])[0] == fixed.run([])[0], "a share in percent is a share")


def check_refused_columns(floodbar, judge):
    prepared = usage(floodbar)
    good = [[100.0, 200.0], [0.0, 0.0], [5, 6], [0.1, 0.1]]
    room = [array("d", bytes(16)), array("d", bytes(16))]

    def with_column(place, column):
        return [column if index == place else other for index, other in enumerate(good)]

    for code, field, columns, out, what in [
        ("impossible", "/inputs", good[:3], None, "a column too few"),
        ("impossible", "/inputs", good + good[:1], None, "a column too many"),
        ("impossible", "/inputs/1", with_column(1, [0.0]), None, "a column too short"),
        ("wrong_type", "/inputs/2", with_column(2, ["5", "6"]), None, "texts"),
        ("wrong_type", "/inputs/2", with_column(2, "56"), None, "a text"),
        ("wrong_type", "/inputs/2", with_column(2, b"56"), None, "bytes"),
        ("wrong_type", "/inputs/2", with_column(2, [5, None]), None, "a hole"),
        ("wrong_type", "/inputs/2", with_column(2, 5), None, "a number alone"),
        ("wrong_type", "/inputs/2", with_column(2, [[5], [6]]), None, "columns within a column"),
        ("unknown_field", "/inputs", {"/nowhere": [1.0]}, None, "a column of another name"),
        ("missing_field", "/inputs/3", dict(zip(prepared.inputs[:3], good)), None, "a column left out"),
        ("impossible", "/outputs", good, room[:1], "an output too few"),
        ("impossible", "/outputs/1", good, [room[0], array("d", bytes(24))], "an output too long"),
        ("wrong_type", "/outputs/1", good, [room[0], [0.0, 0.0]], "a list to be written to"),
        ("wrong_type", "/outputs/0", good, [array("f", bytes(8)), room[1]], "floats to be written to"),
        ("wrong_type", "/outputs/0", good, [memoryview(room[0]).toreadonly(), room[1]], "a locked view to be written to"),
        ("impossible", "/outputs/1", good, [room[0], room[0]], "one buffer for two outputs"),
    ]:
        refused(judge, code, field, lambda columns=columns, out=out: prepared.run(columns, out), what)
    shared = array("d", [100.0, 200.0, 300.0])
    parts = memoryview(shared)
    refused(judge, "impossible", "/outputs/0", lambda: prepared.run(with_column(0, parts[:2]), out=[parts[1:], room[1]]), "an output upon an input")
    judge.holds(list(shared) == [100.0, 200.0, 300.0] and not any(room[0]) and not any(room[1]), "nothing was written")
    judge.holds(list(prepared.run(with_column(0, parts[:2])).status) == [0, 0], "what is good goes on")
    refused(judge, "impossible", "/inputs", lambda: prepared.explain([1.0]), "a row too short")
    refused(judge, "out_of_range", "/waste_fraction", lambda: prepared.explain([100, 0, 5, -1]), "a row that cannot be")
    judge.holds(prepared.explain(dict(zip(prepared.inputs, [100, 0, 5, 0.1])))["mass_to_mix"]["unit"] == "g", "a row by names")

    def prepare(**changes):
        floodbar.prepare(**{"id": "ink.usage", "request": SCREEN, "inputs": INPUTS, "outputs": OUTPUTS} | changes)

    for code, field, changes in [
        ("unknown_calculation", "", {"id": "ink.usaeg"}),
        ("missing_field", "/ink", {"request": {"mesh": "77-55"}, "inputs": ["/prints"]}),
        ("unknown_field", "/inputs/0", {"inputs": ["/nowhere"]}),
        ("wrong_type", "/inputs/0", {"inputs": ["/ink"]}),
        ("bad_quantity", "/inputs/0/unit", {"inputs": [{"at": "/over_mesh", "unit": "kg"}]}),
        ("unknown_field", "/outputs/0", {"outputs": ["/nowhere"]}),
        ("impossible", "/over_mesh", {"request": SCREEN | {"over_mesh": "20 um +/- 2 um"}, "inputs": ["/printed_area", "/prints"]}),
    ]:
        refused(judge, code, field, lambda changes=changes: prepare(**changes), f"prepare with {changes}")


def check_words(floodbar, judge):
    """Words, truth values, and members that some answers lack."""
    outputs = ["/per_angle/0/worst_period", "/per_angle/0/clear", "/per_angle/9/clear"]
    request = {"mesh": "77-55", "ruling": "22 /cm", "angles": ["22.5 deg"]}
    angles = [0.0, 22.5, 45.0, 61.0, 75.0]
    done = floodbar.prepare("mesh.moire", request, [{"at": "/angles/0", "unit": "deg"}], outputs).run([angles])
    answers = [floodbar.calculate("mesh.moire", **request | {"angles": [quantity(angle, "deg")]})["per_angle"][0] for angle in angles]
    absent = ["worst_period" not in answer for answer in answers]
    judge.holds(True in absent and False in absent, "some rows lack it", answers)
    judge.holds([math.isnan(number) for number in done[0]] == absent, "what is absent is NaN", done[0], absent)
    judge.holds(done[1] == [float(answer["clear"]) for answer in answers], "a truth value is 0 or 1", done[1])
    judge.holds(all(map(math.isnan, done[2])) and not any(done.status), "beyond the end of a list is absent", done[2])

    screens = {"screens": [{"name": "a", "readings": ["22 N/cm", "23 N/cm"]}], "within": "1.5 N/cm"}
    words = ["matched", "retension", "replace"]
    outputs = [{"at": "/verdict", "equals": word} for word in words]
    done = floodbar.prepare("tension.assess", screens, ["/screens/0/readings/1"], outputs).run([[23.0, 26.0, 40.0]])
    judge.holds([sum(row) for row in zip(*done.columns)] == [1.0] * 3, "one word is true", done.columns)
    for index, reading in enumerate([23.0, 26.0, 40.0]):
        asked = screens | {"screens": [{"name": "a", "readings": ["22 N/cm", quantity(reading, "N/cm")]}]}
        verdict = floodbar.calculate("tension.assess", **asked)["verdict"]
        judge.holds([column[index] for column in done.columns] == [float(word == verdict) for word in words], reading, verdict)


def check_many(floodbar, judge):
    requests = [request_of(row) for row in rows_of(100)]
    answers = floodbar.calculate_many("ink.usage", requests)
    judge.holds(len(answers) == len(requests) and any("error" in answer for answer in answers), "answers and errors")
    for request, answer in zip(requests, answers):
        error = refusal(lambda request=request: floodbar.calculate("ink.usage", **request))
        alone = {"error": vars(error)} if error else floodbar.calculate("ink.usage", **request)
        judge.holds(answer == alone, "many give another answer than one", answer, alone)
    judge.holds(floodbar.calculate_many("ink.usage", []) == [], "none")
    judge.holds(floodbar.calculate_many("ink.usage", [3])[0]["error"]["code"] == "wrong_type", "an entry that is no request")
    refused(judge, "unknown_calculation", "", lambda: floodbar.calculate_many("ink", []), "an unknown calculation")


def check_sweep(floodbar, judge):
    request = SCREEN | {"printed_area": "300 cm2", "prints": 40}
    spec = {"vary": "/over_mesh", "from": "1 um", "to": "64 um", "points": 7, "spacing": "geometric"}
    swept = floodbar.sweep("ink.usage", request, spec)
    judge.holds(swept["x"]["unit"] == "um" and len(swept["answers"]) == 7, "points", swept["x"])
    for value, answer in zip(swept["x"]["values"], swept["answers"]):
        judge.holds(answer == floodbar.calculate("ink.usage", **request, over_mesh=quantity(value, "um")), "a point is a call", value)
    columns = floodbar.sweep("ink.usage", request, spec | {"want": [{"at": "/wet_film", "unit": "um"}]})
    judge.holds(columns["columns"][0]["values"] == [answer["wet_film"]["value"] for answer in swept["answers"]], "columns")
    meshes = floodbar.sweep("mesh.geometry", {}, {"vary": "/mesh", "values": ["77-55", "no mesh", "55-64"]})["answers"]
    judge.holds(["error" in answer for answer in meshes] == [False, True, False], "a bad point spoils no other")
    refused(judge, "impossible", "/from", lambda: floodbar.sweep("ink.usage", request, spec | {"from": "70 um"}), "backwards")
    refused(judge, "too_long", "/points", lambda: floodbar.sweep("ink.usage", request, spec | {"points": 10001}), "too many points")
    refused(judge, "unknown_field", "/vary", lambda: floodbar.sweep("ink.usage", request, spec | {"vary": "/thread"}), "a pointer to nowhere")


def check_solve(floodbar, judge):
    request = SCREEN | {"printed_area": "300 cm2", "prints": 40}
    spec = {"vary": "/over_mesh", "from": "0 um", "to": "100 um", "want": "/wet_film", "equals": "12 um"}
    solved = floodbar.solve("ink.usage", request, spec)
    film = floodbar.calculate("ink.usage", **request, over_mesh=solved["value"])["wet_film"]
    judge.near(film["value"], 12.0, 1e-10, "solved and asked again")
    judge.holds(solved["reached"] == film and solved["others"] == [], "reached", solved)
    refused(judge, "no_solution", "/equals", lambda: floodbar.solve("ink.usage", request, spec | {"equals": "900 um"}), "out of reach")


def check_cache(floodbar, judge):
    cache = floodbar.cache(50)
    judge.holds(cache.counts == (0, 0), "a new cache", cache.counts)
    alone = floodbar.calculate("dryer.window", **WINDOW)
    judge.holds(floodbar.calculate_many("dryer.window", [WINDOW] * 3, cache=cache) == [alone] * 3, "the same with a cache")
    judge.holds(cache.counts == (2, 1), "one miss, two hits", cache.counts)
    spec = {"vary": "/start", "from": "20 degC", "to": "30 degC", "points": 2}
    without = floodbar.sweep("dryer.window", WINDOW, spec)
    judge.holds(floodbar.sweep("dryer.window", WINDOW, spec, cache=cache) == without, "a sweep with a cache")
    judge.holds(floodbar.sweep("dryer.window", WINDOW, spec, cache=cache) == without, "the same sweep again")
    prepared = floodbar.prepare("dryer.window", WINDOW, [{"at": "/start", "unit": "degC"}], [{"at": "/fastest", "unit": "m/min"}], cache=cache)
    before, cache = cache.counts, None
    speeds = prepared.run([[20.0, 30.0]])[0]
    wanted = floodbar.sweep("dryer.window", WINDOW, spec | {"want": [{"at": "/fastest", "unit": "m/min"}]})["columns"][0]["values"]
    judge.holds(speeds == wanted and before[0] >= 4, "what is prepared outlives its cache", speeds, wanted, before)


def check_threads(floodbar, judge):
    prepared, cache = usage(floodbar), floodbar.cache(10)
    columns = [array("d", column) for column in columns_of(rows_of(20000))]
    wanted = [list(map(bits, column)) for column in prepared.run(columns).columns]
    window = floodbar.calculate_many("dryer.window", [WINDOW])

    def rows():
        return [list(map(bits, column)) for column in prepared.run(columns).columns] == wanted

    def asked():
        return floodbar.calculate_many("dryer.window", [WINDOW], cache=cache) == window

    with ThreadPoolExecutor(8) as pool:
        done = [pool.submit(call) for call in [rows, asked] * 8]
        judge.holds(all(call.result() for call in done), "eight threads get what one gets")
    judge.holds(sum(cache.counts) == 8 and cache.counts[1] < 8, "threads share a cache", cache.counts)


CHECKS = {
    "rows": check_rows,
    "columns": check_columns,
    "refused columns": check_refused_columns,
    "words": check_words,
    "many": check_many,
    "sweep": check_sweep,
    "solve": check_solve,
    "cache": check_cache,
    "threads": check_threads,
}


if __name__ == "__main__":
    sys.exit(run(sys.argv[1], CHECKS))
