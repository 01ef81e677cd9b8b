"""Rows of a pandas DataFrame; pandas is imported here alone."""

from __future__ import annotations

from typing import Any, Dict, Iterable, List, Mapping, Optional, Tuple, Union

from ._call import Cache, catalogue
from ._error import FloodbarError
from ._library import status_text
from ._prepared import Prepared, prepare

_described: Dict[str, Any] = {}


def _entry(id: str) -> Any:
    """What the catalogue says of a calculation."""
    if not _described:
        listed = catalogue()
        _described.update({entry["id"]: dict(entry, defs=listed["$defs"]) for entry in listed["calculations"]})
    if id not in _described:
        raise FloodbarError("unknown_calculation", "", f"there is no calculation {id!r}", id, list(_described))
    return _described[id]


def _pointer(name: str) -> str:
    """A member by its name, or what is a JSON pointer already."""
    return name if name.startswith("/") else "/" + name.replace("~", "~0").replace("/", "~1")


def _placed(request: Dict[str, Any], pointer: str, value: Any) -> None:
    """Puts a value into a request; what is missing above it is made."""
    steps = [step.replace("~1", "/").replace("~0", "~") for step in pointer.split("/")[1:]]
    place: Any = request
    for step, below in zip(steps, steps[1:] + [None]):
        key: Any = int(step) if isinstance(place, list) and step.isdecimal() else step
        if isinstance(place, list) and (not isinstance(key, int) or key > len(place)):
            raise FloodbarError("unknown_field", pointer, "the list has no such entry")
        if isinstance(place, list) and key == len(place):
            place.append(None)
        if below is None:
            place[key] = value
            return
        inner = place[key] if isinstance(place, list) else place.get(key)
        inner = dict(inner) if isinstance(inner, Mapping) else list(inner) if isinstance(inner, (list, tuple)) else {}
        place[key] = inner
        place = inner


def _words_at(entry: Any, pointer: str) -> Optional[List[str]]:
    """The words that a member of the answer may be; None where it is no word of a list."""
    schema: Any = entry["answer"]
    for step in pointer.split("/")[1:] + [""]:
        while "$ref" in schema:
            schema = entry["defs"][schema["$ref"].rsplit("/", 1)[1]]
        if step:
            schema = schema.get("items") or schema.get("properties", {}).get(step) or {}
    words = schema.get("enum")
    return [word for word in words if isinstance(word, str)] if words else None


class _Output:
    """A wanted column: a number, or a word, which is asked for once for each that it may be."""

    def __init__(self, entry: Any, want: Any) -> None:
        self.name = want["at"] if isinstance(want, Mapping) else want
        asked = {**(want if isinstance(want, Mapping) else {}), "at": _pointer(self.name)}
        self.words = None if "equals" in asked or "unit" in asked else _words_at(entry, asked["at"])
        self.columns = [{**asked, "equals": word} for word in self.words] if self.words else [asked]

    def values(self, found: List[Any], numpy: Any) -> Any:
        if not self.words:
            return found[0]
        values = numpy.full(len(found[0]), None, dtype=object)
        for word, column in zip(self.words, found):
            values[column == 1.0] = word
        return values


def frame(
    rows: Any,
    id: str,
    request: Optional[Mapping[str, Any]] = None,
    *,
    columns: Union[None, Iterable[str], Mapping[str, Union[str, Mapping[str, str]]]] = None,
    want: Optional[Iterable[Union[str, Mapping[str, str]]]] = None,
    cache: Optional[Cache] = None,
) -> Any:
    """A calculation for each row of a pandas DataFrame: a DataFrame with the same index, the wanted columns, "status" and "error".

        floodbar.frame(orders, "ink.usage", {"mesh": "77-55", "ink": "plastisol"},
                       columns={"printed_area": {"column": "area_cm2", "unit": "cm2"}, "prints": "pieces"}, want=["mass_to_mix"])

    request  the members that are the same in all rows
    columns  which columns go in: a list of columns that are named as members of the request or as JSON pointers into it; or a mapping of
             such names to columns, each by itself or as {"column": name, "unit": unit}. All columns, where it is left out.
             Numbers are in that unit, else in the usual one of the field; texts are read as in a request: "12 ft/min".
    want     members of the answer or JSON pointers into it, each by itself or as {"at": pointer, "unit": unit}. The headline of the
             calculation, where it is left out.

    A row that has no answer has NaN, its code as status, and in "error" the field at fault and what is wrong; it spoils no other. An
    empty cell (NaN, None) is such a fault. Rows with the same texts are worked out at once: numbers in columns cost about a microsecond a row,
    each new combination of texts as much as a call.
    """
    import numpy
    import pandas  # type: ignore[import-untyped, unused-ignore]

    if not isinstance(rows, pandas.DataFrame):
        raise FloodbarError("wrong_type", "", f"rows are a pandas DataFrame, and no {type(rows).__name__}")
    entry = _entry(id)
    if columns is None:
        columns = list(rows.columns)
    named = dict(columns) if isinstance(columns, Mapping) else {name: name for name in columns}
    outputs = [_Output(entry, wanted) for wanted in (entry["headline"] if want is None else want)]
    if not outputs:
        raise FloodbarError("missing_field", "/want", f"{id} has no headline: say which members are wanted")
    numbers: List[Any] = []
    numeric: List[Any] = []
    texts: List[Tuple[str, Any]] = []
    for name, column in named.items():
        unit = None if isinstance(column, str) or not isinstance(column, Mapping) else column.get("unit")
        column = column.get("column", name) if isinstance(column, Mapping) else column
        if column not in rows.columns:
            raise FloodbarError("missing_field", _pointer(str(name)), f"the DataFrame has no column {column!r}", allowed=map(str, rows.columns))
        series = rows[column]
        if getattr(series, "ndim", 1) != 1:
            raise FloodbarError("impossible", _pointer(str(name)), f"the DataFrame has more than one column {column!r}")
        at = _pointer(str(name))
        if pandas.api.types.is_numeric_dtype(series.dtype) and not pandas.api.types.is_bool_dtype(series.dtype):
            if series.dtype.kind == "c":
                raise FloodbarError("wrong_type", at, f"column {column!r} has complex numbers")
            numbers.append({"at": at, "unit": unit} if unit else {"at": at})
            numeric.append(numpy.ascontiguousarray(series.to_numpy(dtype="float64", na_value=numpy.nan)))
        elif unit:
            raise FloodbarError("wrong_type", at, f"column {column!r} is to be numbers in {unit}, and has {series.dtype}")
        else:
            texts.append((at, series.to_numpy(dtype=object, na_value=None)))

    count = len(rows)
    found = [numpy.full(count, numpy.nan) for output in outputs for _ in output.columns]
    status = numpy.full(count, "success", dtype=object)
    errors = numpy.full(count, None, dtype=object)

    def refuse(places: Any, error: FloodbarError) -> None:
        for place in places:
            status[place], errors[place] = error.code, str(error)

    groups: Dict[Any, List[int]] = {}
    if texts:
        for place, cells in enumerate(zip(*[cells for _, cells in texts])):
            groups.setdefault(tuple(map(_key, cells)), []).append(place)
    elif count:
        groups[()] = list(range(count))
    ours = {at for at, _ in texts}
    failed: Optional[FloodbarError] = None
    is_any_ready = False
    for members in groups.values():
        places = numpy.array(members)
        try:
            prepared = _ready(id, request, texts, members[0], numbers, outputs, cache)
        except FloodbarError as error:
            if error.field.startswith(("/inputs/", "/outputs/")):
                raise _named(error, numbers, outputs) from None
            if not any(error.field == at or error.field.startswith(at + "/") for at in ours):
                failed = failed or error
            refuse(members, error)
            continue
        is_any_ready = True
        if numbers:
            given = [column[places] for column in numeric]
            done = prepared.run(given)
            for column, values in zip(found, done.columns):
                column[places] = values
            for index in numpy.flatnonzero(done.status):
                empty = next((number["at"] for number, column in zip(numbers, given) if column[index] != column[index]), None)
                try:
                    if empty:
                        raise FloodbarError("missing_field", empty, "the cell is empty")
                    prepared.explain([column[index] for column in given])
                except FloodbarError as error:
                    refuse([members[index]], error)
                else:
                    status[members[index]] = status_text(int(done.status[index]))
        else:
            done = prepared.run([])
            for column, values in zip(found, done.columns):
                column[places] = values[0]
            if done.status[0]:
                try:
                    prepared.explain([])
                except FloodbarError as error:
                    refuse(members, error)
    if failed and not is_any_ready:
        raise failed
    answer: Dict[Any, Any] = {}
    taken = iter(found)
    for output in outputs:
        answer[output.name] = output.values([next(taken) for _ in output.columns], numpy)
    answer["status"], answer["error"] = status, errors
    return pandas.DataFrame(answer, index=rows.index)


def _key(cell: Any) -> Any:
    """What cells that mean the same share."""
    return (type(cell), cell) if isinstance(cell, (str, bool)) or cell is None else (type(cell), repr(cell))


def _ready(
    id: str, request: Optional[Mapping[str, Any]], texts: Any, place: int, numbers: List[Any], outputs: List[_Output], cache: Optional[Cache]
) -> Prepared:
    """The calculation with the texts of a row in it."""
    asked = dict(request or {})
    for at, cells in texts:
        if cells[place] is None or cells[place] != cells[place]:
            raise FloodbarError("missing_field", at, "the cell is empty")
        _placed(asked, at, cells[place])
    return prepare(id, asked, numbers, [column for output in outputs for column in output.columns], cache)


def _named(error: FloodbarError, numbers: List[Any], outputs: List[_Output]) -> FloodbarError:
    """An error of a column, told of the field that the column is of."""
    side, index = error.field.split("/")[1:3]
    columns = numbers if side == "inputs" else [column for output in outputs for column in output.columns]
    return FloodbarError(error.code, columns[int(index)]["at"], error.message, error.got, error.allowed)
