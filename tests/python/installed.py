"""The installed package, away from its source: installed.py VECTORS_DIR WORK_FOLDER [OUT.jsonl]

The vectors through calculate() and through the functions of the steps, whose manuals hold what the catalogue says; what goes in
and comes out as Python has it; NumPy, pandas, pint, uncertainties; threads, memory, other libraries; and what type checkers say.
"""

import copy
import gc
import json
import math
import os
import pickle
import platform
import resource
import shutil
import struct
import subprocess
import sys
import time
import warnings
from array import array
from collections import OrderedDict
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal
from pathlib import Path

import floodbar
import numpy
import pandas
import pint
import uncertainties
from floodbar import FloodbarError, Money, Quantity, _library, _prepared
from floodbar._convert import pint_unit
from shared import ROOT, Judge, cases, read_vectors
from vectors import faults

HERE = Path(__file__).resolve().parent
SCREEN = {"mesh": "77-55", "ink": "plastisol"}
AREA = [{"at": "/printed_area", "unit": "cm2"}]
STATUS = {_library.status_text(status): status for status in range(100)}
CATALOGUE = floodbar.catalogue()


def refusal(call):
    """The error of a call; none where it has an answer."""
    try:
        call()
    except FloodbarError as error:
        return error
    return None


def refused(judge, code, field, words, call):
    """That a call is refused for a field, in a sentence that holds some words."""
    error = refusal(call)
    found = error and (error.code, error.field)
    judge.holds(found == (code, field) and words in error.message, f"{code} of {field!r}, {words!r}:", found, error)


def usage(**changes):
    return floodbar.prepare("ink.usage", {**SCREEN, "prints": 100, **changes}, AREA, [{"at": "/mass_to_mix", "unit": "g"}])


class Names:
    """What the check of a vector asks a layer for."""

    status_text = staticmethod(_library.status_text)


def function_of(id):
    step, name = id.split(".")
    return getattr(getattr(floodbar, step), name)


def parameters(id, request):
    """A request as parameters of the function of its calculation."""
    return {name + "_" if name in ("from", "as") else name: member for name, member in request.items()}


def check_vectors(judge, vectors, out):
    lines = []
    for vector in read_vectors(vectors):
        id, request = vector["calculation"], vector.get("request")
        if "text" in vector:
            status, said = _library.text(_library.lib.floodbar_calculate, id.encode(), vector["text"].encode())
            answer = json.loads(said)
        else:
            try:
                status, answer = 0, floodbar.calculate(id, request)
            except FloodbarError as error:
                status, answer = STATUS[error.code], {"error": vars(error)}
        found = faults(Names, vector, status, answer)
        if status == 0 and request and any(member is not None for member in request.values()):
            if function_of(id)(**parameters(id, request)) != answer:
                found.append("the function of the step gives another answer")
        judge.holds(not found, vector["name"], *found)
        lines.append(json.dumps(answer))
    if out:
        Path(out).write_text("".join(line + "\n" for line in lines), encoding="utf-8", newline="\n")


def check_manual(judge):
    listed = {entry["id"]: entry for entry in CATALOGUE["calculations"]}
    found = {f"{step}.{name}" for step in floodbar._STEPS for name in getattr(floodbar, step).__all__}
    judge.holds(found == set(listed), "functions and catalogue", found ^ set(listed))
    for id, entry in listed.items():
        function = function_of(id)
        text = " ".join(function.__doc__.split())
        wanted = [entry["question"], entry["formula"]]
        wanted += [schema["description"] for part in ("request", "answer") for schema in entry[part]["properties"].values()]
        wanted += [source["source"] for source in entry["sources"]]
        missing = [want for want in wanted if " ".join(want.split()).rstrip(".") not in text]
        judge.holds(not missing, id, "is not in its manual:", missing)
        example = function.__doc__.split("Example:\n")[1]
        answer = eval(example.strip(), {"floodbar": floodbar})  # noqa: S307
        judge.holds(answer == floodbar.calculate(id, entry["example"]), id, "the example of its manual")
        optional = [schema for name, schema in entry["request"]["properties"].items() if name not in entry["request"].get("required", ())]
        judge.holds(len(function.__kwdefaults__ or {}) == len(optional), id, "what may be left out")
    told = subprocess.run([sys.executable, "-c", "import floodbar; help(floodbar.ink.usage)"], capture_output=True, text=True, check=True)
    judge.holds("How much ink for the run?" in told.stdout and "Range " in told.stdout and "Default " in told.stdout, told.stdout[:500])


def check_given(judge):
    """What goes in."""
    asked = dict(SCREEN, printed_area="265 cm2", prints=240, waste_fraction=0.1)
    answer = floodbar.calculate("ink.usage", asked)
    for what, changes in {
        "NumPy scalars": {"prints": numpy.int64(240), "waste_fraction": numpy.float64(0.1)},
        "a quantity with a NumPy scalar": {"printed_area": {"value": numpy.float32(265), "unit": "cm2"}},
        "a NumPy truth value": {"explain": numpy.True_},
        "a NumPy text": {"mesh": numpy.str_("77-55")},
        "decimals": {"prints": Decimal("240.00"), "waste_fraction": Decimal("0.100")},
        "None": {"over_mesh": None},
        "another mapping": {"printed_area": OrderedDict(value=265, unit="cm2")},
    }.items():
        judge.holds(floodbar.calculate("ink.usage", {**asked, **changes}) == answer, what)
        judge.holds(floodbar.ink.usage(**{**asked, **changes}) == answer, what, "by the function")
    judge.holds(floodbar.calculate("ink.usage", dict(asked, prints=1), prints=240) == answer, "members go before the mapping")
    judge.holds(floodbar.calculate("ink.usage", OrderedDict(asked)) == answer, "a mapping")
    angles = {"mesh": "77-55", "ruling": "22 /cm"}
    moire = floodbar.calculate("mesh.moire", angles, angles=["22.5 deg", "45 deg"])
    judge.holds(floodbar.calculate("mesh.moire", angles, angles=numpy.array(["22.5 deg", "45 deg"])) == moire, "an array of texts as a list")
    judge.holds(floodbar.calculate("mesh.moire", angles, angles=(angle for angle in ["22.5 deg", "45 deg"])) == moire, "an iterator")

    # A decimal is written with its own digits: a rate of money to the last of them.
    quoted = {entry["id"]: entry for entry in CATALOGUE["calculations"]}["job.quote"]["example"]
    for text in ("0.1", "12.30", "3", "1e-3"):
        judge.holds(json.loads(floodbar._call.document([Decimal(text)]))[0] == float(text), text, "as a decimal")
    judge.holds(floodbar._call.document([Decimal("0.12345678901234567890123")]) == b'["0.12345678901234567890123"]', "more digits than a double has")
    judge.holds(floodbar.calculate("job.quote", quoted)["total"].value > 0, "the example of a quote")

    for code, field, words, changes in [
        ("out_of_range", "/waste_fraction", "nan", {"waste_fraction": math.nan}),
        ("out_of_range", "/printed_area/value", "inf", {"printed_area": {"value": math.inf, "unit": "cm2"}}),
        ("out_of_range", "/waste_fraction", "nan", {"waste_fraction": numpy.float32("nan")}),
        ("out_of_range", "/waste_fraction", "nan", {"waste_fraction": Decimal("NaN")}),
        ("wrong_type", "/mesh", "object", {"mesh": object()}),
        ("wrong_type", "/mesh", "bytes", {"mesh": b"77-55"}),
        ("wrong_type", "/printed_area", "named by (1, 2)", {"printed_area": {(1, 2): 3}}),
        ("wrong_dimension", "/printed_area", "mm", {"printed_area": "265 mm"}),
    ]:
        refused(judge, code, field, words, lambda changes=changes: floodbar.calculate("ink.usage", {**asked, **changes}))
    for id in ("mesh.geometri", "mesh.geometry\0x", "\ud800", ""):
        refused(judge, "unknown_calculation", "", "", lambda id=id: floodbar.calculate(id, mesh="77-55"))
    endless = []
    endless.append(endless)
    judge.holds(refusal(lambda: floodbar.calculate("ink.usage", asked, mesh=endless)).code == "too_long", "a list within itself")
    many = floodbar.calculate_many("ink.usage", [asked, {**asked, "prints": math.nan}, {**asked, "prints": "x"}])
    judge.holds(many[0] == answer and [entry["error"]["field"] for entry in many[1:]] == ["/prints", "/prints"], "one bad request spoils no other", many[1:])
    error = refusal(lambda: floodbar.mesh.geometry(mesh="no mesh"))
    judge.holds(vars(pickle.loads(pickle.dumps(error))) == vars(error) and str(error).startswith("/mesh: "), "an error is pickled", error)
    for call in (lambda: floodbar.mesh.geometry(mehs="77-55"), lambda: floodbar.mesh.geometry(), lambda: floodbar.nothing):
        try:
            call()
            judge.holds(False, "a name that is none")
        except (TypeError, AttributeError):
            judge.holds(True)

    picture = numpy.full((40, 30), 255, numpy.uint8)
    picture[10:30, 5:25] = 0
    spec = {"resolution": "300 /in", "ink": "dark"}
    measured = floodbar.measure_artwork(picture, spec)
    size = {"pixels_wide": 30, "pixels_high": 40}
    same = [
        floodbar.measure_artwork(picture.tobytes(), spec, **size),
        floodbar.artwork.measure(pixels=picture, **spec, **size),
        floodbar.artwork.measure(pixels=picture.reshape(-1).tolist(), **spec, **size),
        floodbar.measure_artwork(numpy.asfortranarray(picture), spec),
        floodbar.measure_artwork(numpy.repeat(picture, 2, axis=1)[:, ::2], spec),
    ]
    judge.holds(all(other == measured for other in same), "pixels as bytes, arrays, lists")
    refused(judge, "wrong_type", "/pixels", "8-bit", lambda: floodbar.measure_artwork(picture.astype(float), spec))
    refused(judge, "wrong_type", "/pixels", "3 dimensions", lambda: floodbar.measure_artwork(numpy.zeros((2, 2, 3), numpy.uint8), spec))


def check_quantities(judge):
    usage = floodbar.ink.usage(**SCREEN, printed_area="265 +/- 10 cm2", prints=240)
    mass = usage["mass_to_mix"]
    judge.holds(isinstance(mass, Quantity) and mass == {"value": mass.value, "unit": "g", "plus_minus": mass.plus_minus}, "a mapping", mass)
    judge.holds(json.loads(json.dumps(usage)) == usage, "an answer goes through JSON")
    for copied in (copy.deepcopy(mass), pickle.loads(pickle.dumps(mass)), mass.copy()):
        judge.holds(copied == mass and float(copied) == mass.value, "copies")
    # NIST SP 811: an avoirdupois ounce is 28.349 523 125 g.
    ounces = mass.to("oz")
    judge.near(float(ounces), float(mass) / 28.349523125, 1e-15, "ounces")
    judge.near(ounces.plus_minus, mass.plus_minus / 28.349523125, 1e-6, "and their doubt")
    refused(judge, "wrong_dimension", "/quantity", "", lambda: mass.to("mm"))
    for value, unit, words in [
        (404.3, "g", "404 g"), (74.87, "um", "74.9 um"), (0.05712, "mm", "0.0571 mm"), (1234.6, "m", "1235 m"), (0.0, "K", "0 K"),
        (-17.777, "degC", "-17.8 degC"), (0.25, "1", "0.25"), (0.00001234, "m2", "0.0000123 m2"), (99.96, "g", "100 g"), (160.0, "degC", "160 degC"),
    ]:  # fmt: skip
        judge.holds(str(Quantity(value=value, unit=unit)) == words, words, str(Quantity(value=value, unit=unit)))
    # JCGM 100, 7.2.6: two digits of the doubt, and the value to the same place.
    for value, doubt, words in [
        (160.0, 3.0, "160.0 +/- 3.0 degC"), (160.0, 0.0, "160 degC"), (350.97, 9.18, "351.0 +/- 9.2 degC"), (1234.6, 123.4, "1230 +/- 120 degC"),
        (0.05, 0.00123, "0.0500 +/- 0.0012 degC"), (20.04, 0.996, "20.0 +/- 1.0 degC"), (5.0, float("inf"), "5 +/- inf degC"),
    ]:  # fmt: skip
        said = str(Quantity(value=value, unit="degC", **({"plus_minus": doubt} if doubt else {})))
        judge.holds(said == words, words, said)
    judge.holds(f"{Quantity(value=404.3, unit='g'):.2f}" == "404.30 g" and f"{Quantity(value=404.3, unit='g')}" == "404 g", "formats")
    opening = floodbar.mesh.geometry(mesh="77-55")["opening"]
    again = [floodbar.ink.usage(**SCREEN, over_mesh=over, printed_area="1 cm2", prints=1) for over in (opening, dict(opening), f"{opening.value!r} um")]
    judge.holds(again[0] == again[1] == again[2], "a quantity goes into a request")
    judge.holds(floodbar.unit.convert(quantity=mass, to="g")["quantity"].plus_minus is not None, "with its doubt")

    quote = floodbar.calculate("job.quote", {entry["id"]: entry for entry in CATALOGUE["calculations"]}["job.quote"]["example"])
    total = quote["total"]
    judge.holds(isinstance(total, Money) and isinstance(total.value, Decimal) and str(total) == f"{total['value']} {total.unit}", total)
    judge.holds(str(total.value) == total["value"] and total.plus_minus is None, "to the last digit")
    judge.holds(json.loads(json.dumps(quote)) == quote and isinstance(quote["cost"].value + total.value, Decimal), "money goes through JSON")
    judge.holds(str(Money(value="21.00", unit="EUR", plus_minus="1.319608")) == "21.00 +/- 1.32 EUR", "the doubt of money")
    judge.holds(str(Money(value="2100", unit="JPY", plus_minus="0.2")) == "2100 +/- 1 JPY", "of a currency without cents")
    refused(judge, "wrong_dimension", "", "money", lambda: total.to("USD"))

    registry = pint.UnitRegistry()
    refused(judge, "wrong_dimension", "", "money", lambda: floodbar.to_pint(total, registry))
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        number = floodbar.to_uncertain(mass)
        judge.holds(isinstance(number, uncertainties.UFloat) and number.nominal_value == mass.value, "uncertainties")
        judge.near(number.std_dev * 1.959963984540054, mass.plus_minus, 1e-12, "its deviation")
        judge.holds(floodbar.to_uncertain(usage["wet_film"]).std_dev == 0.0, "what is in no doubt")
    judge.holds(floodbar.to_pint(mass, registry).magnitude.std_dev == number.std_dev, "pint with its doubt")
    # Every unit that a field takes is the same in pint.
    seen = set()
    for units in units_of(CATALOGUE):
        for unit in units:
            if (unit, units[0]) in seen:
                continue
            seen.add((unit, units[0]))
            ours = floodbar.unit.convert(quantity={"value": 3.0, "unit": unit}, to=units[0])["quantity"]
            theirs = floodbar.to_pint(Quantity(value=3.0, unit=unit), registry).to(pint_unit(units[0])).magnitude
            judge.near(float(ours), theirs, 1e-12, unit, "in", units[0])
    judge.holds(len(seen) > 60, len(seen), "units")


def units_of(schema):
    """The units of all fields of the catalogue, by field. Depths that are written as volume per area are lengths here alone."""
    if isinstance(schema, list):
        for entry in schema:
            yield from units_of(entry)
    elif isinstance(schema, dict):
        quantity = schema.get("x-quantity")
        if isinstance(quantity, dict) and quantity.get("units", ["1"])[0] not in ("1", "%"):
            yield quantity["units"]
        for entry in schema.values():
            yield from units_of(entry)


def check_columns(judge):
    prepared = usage()
    areas = numpy.linspace(1.0, 400.0, 50)
    wanted = prepared.run([areas.tolist()])[0]
    judge.holds(isinstance(wanted, list) and wanted[0] < wanted[-1], "lists from lists")
    column = _prepared._Column(areas, "")
    judge.holds(column.begin == areas.__array_interface__["data"][0], "a contiguous array of float64 is read where it is")
    strided = numpy.repeat(areas, 2)[::2]
    for what, given, wants in [
        ("float64", areas, wanted),
        ("locked", numpy.frombuffer(areas.tobytes()), wanted),
        ("strided", strided, wanted),
        ("backwards", areas[::-1], wanted[::-1]),
        ("big-endian", areas.astype(">f8"), wanted),
        ("float32", areas.astype("f4"), prepared.run([areas.astype("f4").astype(float).tolist()])[0]),
        ("whole", numpy.arange(1, 51), prepared.run([list(map(float, range(1, 51)))])[0]),
        ("a series", pandas.Series(areas), wanted),
    ]:
        done = prepared.run([given])
        judge.holds(isinstance(done[0], numpy.ndarray) and done["/mass_to_mix"].tolist() == wants and not done.status.any(), what)
        copied = _prepared._Column(given, "").begin != numpy.asarray(given).__array_interface__["data"][0]
        judge.holds(copied == (what in ("strided", "backwards", "big-endian", "float32", "whole")), what, "is copied" if copied else "is not copied")
    out = numpy.empty(50)
    judge.holds(prepared.run({"/printed_area": areas}, out=[out])[0] is out and out.tolist() == wanted, "into an array")
    buffer = array("d", bytes(400))
    judge.holds(prepared.run([array("d", areas)], out=[buffer])[0] is buffer and buffer.tolist() == wanted, "into a buffer")
    judge.holds(prepared.run([memoryview(areas.tobytes()).cast("d")])[0] == wanted, "a locked buffer")
    judge.holds(prepared.run([numpy.empty(0)])[0].size == 0 and prepared.run([[]])[0] == [], "no rows")
    bad = prepared.run([numpy.array([math.nan, 1.0, -1.0])])
    judge.holds([_library.status_text(int(status)) for status in bad.status] == ["out_of_range", "success", "out_of_range"], bad.status)
    judge.holds(numpy.isnan(bad[0]).tolist() == [True, False, True], "rows that failed")
    judge.holds(prepared.explain([1.0])["mass_to_mix"]["unit"] == "g" and prepared.explain({"/printed_area": 1.0})["notes"] is not None, "a row in full")
    refused(judge, "out_of_range", "/printed_area", "", lambda: prepared.explain([-1.0]))
    masked = numpy.ma.array(areas, mask=areas > 9)
    for code, field, words, given, out in [
        ("wrong_type", "/inputs/0", "text", [numpy.array(["1", "2"])], None),
        ("wrong_type", "/inputs/0", "objects", [numpy.array([1, None])], None),
        ("wrong_type", "/inputs/0", "2 dimensions", [areas.reshape(5, 10)], None),
        ("wrong_type", "/inputs/0", "complex", [areas.astype(complex)], None),
        ("wrong_type", "/inputs/0", "datetime", [numpy.array(["2020-01-01"], "M8[D]")], None),
        ("wrong_type", "/inputs/0", "MaskedArray", [masked], None),
        ("wrong_type", "/inputs/0", "a text", ["12"], None),
        ("wrong_type", "/inputs/0", "no column", [["12"]], None),
        ("impossible", "/inputs", "2 columns for 1", [areas, areas], None),
        ("unknown_field", "/inputs", "no such column", {"/nowhere": areas}, None),
        ("missing_field", "/inputs/0", "no column for", {}, None),
        ("impossible", "/outputs/0", "rows", [areas], [numpy.empty(3)]),
        ("impossible", "/outputs/0", "share memory", [areas], [areas]),
        ("wrong_type", "/outputs/0", "float64", [areas], [numpy.empty(50, "f4")]),
        ("wrong_type", "/outputs/0", "float64", [areas], [numpy.frombuffer(areas.tobytes())]),
        ("wrong_type", "/outputs/0", "written", [areas], [[0.0] * 50]),
    ]:
        refused(judge, code, field, words, lambda given=given, out=out: prepared.run(given, out))
    refused(judge, "unknown_field", "/inputs/0", "", lambda: floodbar.prepare("ink.usage", SCREEN, ["/nowhere"], ["/mass_to_mix"]))
    swept = floodbar.sweep("ink.usage", {**SCREEN, "printed_area": "9 cm2"}, {"vary": "/prints", "values": [1, 2], "want": ["/mass_to_mix"]})
    judge.holds(len(swept["columns"][0]["values"]) == 2, "a sweep")
    solved = floodbar.solve("ink.usage", {**SCREEN, "prints": 10}, {"vary": "/printed_area", "from": "1 cm2", "to": "1 m2", "want": "/mass_to_mix", "equals": "150 g"})  # fmt: skip
    judge.holds(isinstance(solved["value"], Quantity) and abs(float(solved["reached"]) - 150) < 1e-6, "a search", solved)


def check_frame(judge):
    rows = pandas.DataFrame(
        {"mesh": ["77-55", "55-64", "no mesh", None, "77-55", "77-55"], "area": [265.0, 300.0, 20.0, 10.0, math.nan, -1.0], "pieces": [10, 20, 30, 40, 50, 60]},
        index=list("abcdef"),
    )  # fmt: skip
    columns = {"mesh": "mesh", "printed_area": {"column": "area", "unit": "cm2"}, "prints": "pieces"}
    before = rows.copy()
    done = floodbar.frame(rows, "ink.usage", {"ink": "plastisol"}, columns=columns, want=["wet_film", {"at": "/mass_to_mix", "unit": "g"}])
    judge.holds(list(done.columns) == ["wet_film", "/mass_to_mix", "status", "error"] and list(done.index) == list("abcdef"), done)
    judge.holds(rows.equals(before), "the rows stay as they are")
    for place, row in enumerate(rows.itertuples()):
        found = done.iloc[place]
        request = {"ink": "plastisol", "mesh": row.mesh, "prints": row.pieces, "printed_area": {"value": row.area, "unit": "cm2"}}
        error = refusal(lambda request=request: floodbar.calculate("ink.usage", request))
        for field, cell in (("/mesh", row.mesh), ("/printed_area", row.area)):
            if pandas.isna(cell):
                error = FloodbarError("missing_field", field, "the cell is empty")
        if error is None:
            answer = floodbar.calculate("ink.usage", request)
            same = found["wet_film"] == answer["wet_film"].value and found["/mass_to_mix"] == float(answer["mass_to_mix"].to("g"))
            judge.holds(same and found["status"] == "success" and pandas.isna(found["error"]), place, found, answer["mass_to_mix"])
        else:
            named = error.field.replace("/value", "")
            judge.holds(found["status"] == error.code and found["error"].startswith(named + ": ") and ("empty" in found["error"]) == ("empty" in str(error)), place, found["status"], found["error"], error)
            judge.holds(math.isnan(found["wet_film"]) and math.isnan(found["/mass_to_mix"]), place, "has no numbers")
    judge.holds(list(floodbar.frame(rows[["mesh"]], "mesh.geometry").columns) == ["opening", "open_area_fraction", "ink_volume", "status", "error"], "the headline")
    screens = {"screens": [{"name": "a", "readings": ["22 N/cm", "23 N/cm"]}], "within": "1.5 N/cm"}
    readings = pandas.DataFrame({"/screens/0/readings/1": [23.0, 26.0, 40.0]})
    words = floodbar.frame(readings, "tension.assess", screens, want=["verdict"])["verdict"]
    judge.holds(list(words) == ["matched", "retension", "replace"] and screens["screens"][0]["readings"][1] == "23 N/cm", "words", list(words))
    written = floodbar.frame(readings.assign(**{"/screens/0/readings/1": ["23 N/cm", "26 N/cm", "x"]}), "tension.assess", screens, want=["/verdict"])
    judge.holds(list(written["/verdict"])[:2] == ["matched", "retension"] and written["error"][2].startswith("/screens/0/readings/1: "), written)
    for dtype in ("Int64", "int32", "float32", "Float64", ">f8"):
        typed = rows.iloc[:2].assign(pieces=pandas.array([10, 20], dtype=dtype) if dtype[0].isupper() else numpy.array([10, 20], dtype))
        again = floodbar.frame(typed, "ink.usage", {"ink": "plastisol"}, columns=columns, want=["wet_film"])
        judge.holds(again["wet_film"].tolist() == done["wet_film"][:2].tolist(), dtype)
    kinds = floodbar.frame(rows.iloc[:2].astype({"mesh": "category"}), "ink.usage", {"ink": "plastisol"}, columns=columns, want=["wet_film"])
    judge.holds(kinds["wet_film"].tolist() == done["wet_film"][:2].tolist(), "categories")
    refused(judge, "wrong_type", "/mesh", "", lambda: floodbar.frame(rows[["pieces"]], "mesh.geometry", columns={"mesh": "pieces"}))
    judge.holds(len(floodbar.frame(rows[:0], "ink.usage", {"ink": "plastisol"}, columns=columns)) == 0, "no rows")
    for code, field, words, call in [
        ("missing_field", "/mesh", "has no column 'cloth'", lambda: floodbar.frame(rows, "mesh.geometry", columns={"mesh": "cloth"})),
        ("unknown_field", "/area", "no such field", lambda: floodbar.frame(rows, "mesh.geometry")),
        ("out_of_range", "/ink", "did you mean", lambda: floodbar.frame(rows, "ink.usage", {"ink": "plastisoll"}, columns=columns)),
        ("unknown_field", "/openin", "no such member", lambda: floodbar.frame(rows[["mesh"]], "mesh.geometry", want=["openin"])),
        ("wrong_type", "/mesh", "numbers in um", lambda: floodbar.frame(rows, "mesh.geometry", columns={"mesh": {"column": "mesh", "unit": "um"}})),
        ("unknown_calculation", "", "mesh.geometri", lambda: floodbar.frame(rows, "mesh.geometri")),
        ("missing_field", "/want", "no headline", lambda: floodbar.frame(rows, "job.plan")),
        ("wrong_type", "", "DataFrame", lambda: floodbar.frame([1], "mesh.geometry")),
    ]:
        refused(judge, code, field, words, call)


def check_imports(judge):
    """Nothing that is not asked for is loaded."""
    script = (
        "import floodbar, sys\n"
        "floodbar.calculate('mesh.geometry', mesh='77-55')['opening'].to('in')\n"
        "floodbar.prepare('ink.usage', dict(mesh='77-55', ink='plastisol', prints=5), ['/printed_area'], ['/mass_to_mix']).run([[1.0]])\n"
        "print(sorted({'numpy', 'pandas', 'pint', 'uncertainties', 'floodbar.mesh', 'floodbar._frame', 'floodbar.records'} & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)
    judge.holds(done.stdout == "[]\n", done.stdout, done.stderr)


def check_threads(judge):
    prepared, cache = usage(), floodbar.Cache(10)
    areas = numpy.linspace(1.0, 400.0, 20000)
    wanted = prepared.run([areas])[0].tolist()
    window = {"dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180"}
    alone = floodbar.calculate("dryer.window", window)
    geometry = floodbar.mesh.geometry(mesh="77-55")
    calls = [
        lambda: prepared.run([areas])[0].tolist() == wanted,
        lambda: floodbar.calculate_many("dryer.window", [window], cache=cache) == [alone],
        lambda: all(floodbar.mesh.geometry(mesh="77-55") == geometry for _ in range(100)),
        lambda: refusal(lambda: floodbar.mesh.geometry(mesh="x")).field == "/mesh",
    ]
    with ThreadPoolExecutor(8) as pool:
        judge.holds(all(done.result() for done in [pool.submit(call) for call in calls * 8]), "eight threads get what one gets")
    judge.holds(sum(cache.counts) == 8, "threads share a cache", cache.counts)


def resident():
    return int(Path("/proc/self/statm").read_text().split()[1]) * resource.getpagesize()


def check_memory(judge):
    if not Path("/proc/self/statm").exists():
        return
    # Four calls each: 100,000 in tests/run.
    areas, count = numpy.linspace(1.0, 2.0, 100), cases(25_000, 100_000)

    def calls(times):
        for _ in range(times):
            floodbar.calculate("mesh.geometry", mesh="77-55", explain=False)
            refusal(lambda: floodbar.calculate("mesh.geometry", mesh="x"))
            usage().run([areas])
            floodbar.Cache(2)

    calls(1000)
    gc.collect()
    before = resident()
    calls(count)
    gc.collect()
    grown = resident() - before
    # Every round makes four texts of 200 bytes and more: one that is lost each time is seen.
    judge.holds(grown < 500_000, f"{count} rounds of calls: {grown} bytes more")
    print(f"{count} rounds of calls leave {grown} bytes more")


STUB = "const char *floodbar_version(void) { return \"%s\"; }\nunsigned floodbar_abi(void) { return %d; }\n"


def check_libraries(judge, work):
    """What is said where the library beside the package is not its own."""
    package = Path(floodbar.__file__).parent
    library = next(path for path in (package / "_native").iterdir() if path.suffix in (".so", ".dylib", ".dll"))

    def told(name, change):
        place = work / name
        shutil.rmtree(place, ignore_errors=True)
        shutil.copytree(package, place / "floodbar")
        change(place / "floodbar" / "_native" / library.name)
        done = subprocess.run([sys.executable, "-c", "import floodbar"], cwd=place, env={**os.environ, "PYTHONPATH": str(place)}, capture_output=True, text=True)  # fmt: skip
        return done.returncode, (done.stderr.strip().splitlines() or [""])[-1]

    def stub(version, abi):
        def build(path):
            source = path.with_suffix(".c")
            source.write_text(STUB % (version, abi))
            subprocess.run(["gcc", "-shared", "-fPIC", "-o", path, source], check=True)

        return build

    def other_machine(path):
        image = bytearray(path.read_bytes())
        machine = struct.unpack_from("<H", image, 18)[0]
        struct.pack_into("<H", image, 18, 183 if machine != 183 else 62)
        path.unlink()
        path.write_bytes(image)

    def empty(path):
        source = path.with_suffix(".c")
        source.write_text("int nothing;\n")
        subprocess.run(["gcc", "-shared", "-fPIC", "-o", path, source], check=True)

    own = floodbar.__version__
    for name, change, words in [
        ("version", stub("9.9.9", 1), f"the library beside floodbar {own} (interface 1) is 9.9.9 (interface 1)"),
        ("interface", stub(own, 2), f"is {own} (interface 2)"),
        ("symbols", empty, "is another one"),
        ("machine", other_machine, f"does not load on {platform.machine()}"),
        ("none", Path.unlink, "does not load on"),
    ]:
        code, line = told(name, change)
        judge.holds(code == 1 and line.startswith("ImportError: ") and words in line, name, line)
    judge.holds(told("own", lambda path: None) == (0, ""), "its own library")


def check_types(judge, work):
    """Type checkers find nothing in a good use, and each slip of a bad one."""
    place = work / "typed"
    shutil.rmtree(place, ignore_errors=True)
    place.mkdir(parents=True)
    for name in ("typed_use.py", "typed_wrong.py"):
        shutil.copy(HERE / name, place)
    wrong = {number for number, line in enumerate((HERE / "typed_wrong.py").read_text().splitlines(), 1) if line.endswith("# wrong")}
    (place / "pyrightconfig.json").write_text('{"typeCheckingMode": "strict"}')
    for checker, command in {
        "mypy": ["mypy", "--strict", "--no-color-output", "--no-error-summary"],
        "pyright": ["pyright", "--pythonpath", sys.executable],
    }.items():
        run = [sys.executable, "-m", *command]
        good = subprocess.run([*run, "typed_use.py"], cwd=place, capture_output=True, text=True)
        judge.holds(good.returncode == 0, checker, good.stdout, good.stderr[-500:])
        bad = subprocess.run([*run, "typed_wrong.py"], cwd=place, capture_output=True, text=True)
        lines = [line for line in bad.stdout.splitlines() if "error" in line and "typed_wrong.py:" in line]
        found = {int(line.split("typed_wrong.py:")[1].split(":")[0]) for line in lines}
        judge.holds(found == wrong, checker, "missed", sorted(wrong - found), "found too much", sorted(found - wrong))
    used = subprocess.run([sys.executable, "typed_use.py"], cwd=place, capture_output=True, text=True)
    judge.holds(used.returncode == 0 and used.stdout.count("\n") == 6, "the good use runs", used.stdout, used.stderr)


def main(vectors, work, out=None):
    judge = Judge()
    place = Path(floodbar.__file__).resolve()
    judge.holds("site-packages" in place.parts and ROOT / "ffi" not in place.parents, "the installed package is asked", place)
    judge.holds(floodbar.__version__ == CATALOGUE["version"], "the version")
    work = Path(work)
    for name, check in {
        "vectors": lambda: check_vectors(judge, vectors, out),
        "manual": lambda: check_manual(judge),
        "given": lambda: check_given(judge),
        "quantities": lambda: check_quantities(judge),
        "columns": lambda: check_columns(judge),
        "frame": lambda: check_frame(judge),
        "imports": lambda: check_imports(judge),
        "threads": lambda: check_threads(judge),
        "memory": lambda: check_memory(judge),
        "libraries": lambda: check_libraries(judge, work),
        "types": lambda: check_types(judge, work),
    }.items():
        before, start = (judge.passed, judge.failed), time.perf_counter()
        try:
            check()
        except FloodbarError as error:
            judge.holds(False, name, "refused:", error.code, error)
        print(f"{name}: {judge.passed - before[0]} good, {judge.failed - before[1]} bad, {time.perf_counter() - start:.1f} s")
    return judge.close()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
