"""Calls in JSON: what goes into the library and comes out of it."""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any, Dict, Iterable, List, Mapping, Optional, Tuple

from ._error import FloodbarError
from ._library import ffi, lib, text
from ._quantity import shaped


def _plain(value: Any) -> Any:
    """What json does not know: decimals, numbers and arrays of NumPy, mappings and other sequences."""
    if isinstance(value, Decimal):
        if not value.is_finite():
            return float(value)
        if value == value.to_integral_value():
            return int(value)
        # The nearest double is written with the fewest digits that tell it apart: the decimal itself, unless it has more than those.
        return float(value) if Decimal(repr(float(value))) == value else format(value.normalize(), "f")
    if hasattr(value, "tolist"):
        return value.tolist()
    if isinstance(value, Mapping):
        return dict(value)
    if isinstance(value, (bytes, bytearray, set, frozenset)) or not hasattr(value, "__iter__"):
        raise TypeError(type(value).__name__)
    return list(value)


_encode = json.JSONEncoder(allow_nan=False, separators=(",", ":"), default=_plain).encode
# What reads one value and nothing after it: the library's texts have neither space before nor anything behind.
_read = json.JSONDecoder(object_hook=shaped).raw_decode


def _fault(value: Any, at: str = "", depth: int = 0) -> Optional[FloodbarError]:
    """What of a document cannot be written as JSON, and where it stands."""
    if value is None or isinstance(value, (str, bool, int)):
        return None
    if isinstance(value, float):
        if value - value == 0.0:
            return None
        return FloodbarError("out_of_range", at, f"{value!r} is no number to calculate with", repr(value))
    if depth > 64:
        return FloodbarError("too_long", at, "nested deeper than 64, or within itself")
    if isinstance(value, Mapping):
        for name, member in value.items():
            if not isinstance(name, str):
                return FloodbarError("wrong_type", at, f"a member is named by {name!r}, and not by a text")
            found = _fault(member, at + "/" + name.replace("~", "~0").replace("/", "~1"), depth + 1)
            if found:
                return found
        return None
    if not isinstance(value, (list, tuple)):
        try:
            return _fault(_plain(value), at, depth + 1)
        except (TypeError, ValueError, OverflowError):
            return FloodbarError("wrong_type", at, f"{type(value).__name__} is nothing that a request may hold", repr(value)[:100])
    for index, entry in enumerate(value):
        found = _fault(entry, f"{at}/{index}", depth + 1)
        if found:
            return found
    return None


def document(value: Any) -> bytes:
    """A document as JSON text; raises FloodbarError for what has no such text, naming the place."""
    try:
        return _encode(value).encode()
    except (TypeError, ValueError, OverflowError, RecursionError) as error:
        raise _fault(value) or FloodbarError("wrong_type", "", f"the request has no text in JSON: {error}") from None


def answer_of(status: int, said: bytes) -> Any:
    """The document of a call; raises FloodbarError where it tells of one."""
    answer, _ = _read(said.decode())
    if status != 0:
        raise FloodbarError(**answer["error"])
    return answer


class Cache:
    """Keeps the numbers of so many runs through heat (flash, dryer) for the calls that it is given to; what was not asked for the longest
    goes first. Answers are the same with it and without. Threads may share one."""

    def __init__(self, entries: int = 1000) -> None:
        self._handle = ffi.gc(lib.floodbar_cache_new(entries), lib.floodbar_cache_free)

    @property
    def counts(self) -> Tuple[int, int]:
        """How often a run was found in it, and how often it was not."""
        counts = ffi.new("uint64_t[2]")
        lib.floodbar_cache_counts(self._handle, counts, counts + 1)
        return counts[0], counts[1]


def handle_of(cache: Optional[Cache]) -> Any:
    """The handle of a cache, or NULL."""
    return ffi.NULL if cache is None else cache._handle


def name_of(id: str) -> bytes:
    """The name of a calculation as the library takes it."""
    name = id.encode(errors="replace")
    if b"\0" in name:
        raise FloodbarError("unknown_calculation", "", f"no calculation is called {id!r}", id)
    return name


def members_of(request: Optional[Mapping[str, Any]], members: Dict[str, Any]) -> Any:
    """A request from a mapping and members beside it, which go before those in it."""
    if request is None:
        return members
    if not members:
        return request
    if not isinstance(request, Mapping):
        raise FloodbarError("wrong_type", "", f"the request is a mapping, and no {type(request).__name__}")
    return {**request, **members}


def calculate(id: str, request: Optional[Mapping[str, Any]] = None, /, **members: Any) -> Any:
    """The answer of a calculation, as a dict; raises FloodbarError where there is none.

    calculate("mesh.geometry", mesh="77-55") and calculate("mesh.geometry", {"mesh": "77-55"}) are the same; members go before those
    of the mapping, and None is a member left out. Numbers may be NumPy's, and Decimal. The quantities of the answer are Quantity.
    """
    request = members_of(request, members)
    if id == "artwork.measure" and isinstance(request, Mapping) and _is_buffer(request.get("pixels")):
        return measure_artwork(request["pixels"], {name: member for name, member in request.items() if name != "pixels"})
    return answer_of(*text(lib.floodbar_calculate, name_of(id), document(request)))


def calculate_many(id: str, requests: Iterable[Mapping[str, Any]], cache: Optional[Cache] = None) -> List[Any]:
    """The answers to many requests of one calculation, in their order; in the place of one that has none stands {"error": {...}}."""
    texts = []
    refused: Dict[int, FloodbarError] = {}
    for index, request in enumerate(requests):
        try:
            texts.append(document(request))
        except FloodbarError as error:
            refused[index] = error
            texts.append(b"null")
    asked = b"[" + b",".join(texts) + b"]"
    answers: List[Any] = answer_of(*text(lib.floodbar_calculate_many, handle_of(cache), name_of(id), asked))
    for index, fault in refused.items():
        answers[index] = {"error": vars(fault)}
    return answers


def sweep(id: str, request: Mapping[str, Any], spec: Mapping[str, Any], cache: Optional[Cache] = None) -> Any:
    """Answers at many points of one input, at most 10,000.

    The specification is {"vary": "/over_mesh", "from": "0 um", "to": "40 um", "points": 9, "want": ["/wet_film"]}; "spacing" may be
    "geometric"; or "values" is a list of whatever belongs there. The answer has "x", and "answers"; with "want" it has "x", "columns"
    and "errors" instead. A point that fails spoils no other.
    """
    return answer_of(*text(lib.floodbar_sweep, handle_of(cache), name_of(id), document(request), document(spec)))


def solve(id: str, request: Mapping[str, Any], spec: Mapping[str, Any], cache: Optional[Cache] = None) -> Any:
    """The value of an input at which a number of the answer is what is wanted.

    The specification is {"vary": "/prints", "from": 1, "to": 1000, "want": "/mass_to_mix", "equals": "1 kg"}. The answer has "value"
    and "reached", "others" where there is more than one, "evaluations", and "jump".
    """
    return answer_of(*text(lib.floodbar_solve, handle_of(cache), name_of(id), document(request), document(spec)))


def _is_buffer(pixels: Any) -> bool:
    try:
        return not isinstance(pixels, (list, tuple)) and memoryview(pixels).itemsize == 1
    except TypeError:
        return False


def measure_artwork(pixels: Any, request: Optional[Mapping[str, Any]] = None, /, **members: Any) -> Any:
    """What a separation covers: the answer of artwork.measure, which goes into the artwork of ink.usage and job.plan as it stands.

    The pixels are bytes, row by row from the top: bytes, a bytearray, an array of 8-bit numbers. They are read where they are, unless
    they are strided. An array with rows and columns brings pixels_wide and pixels_high with it. How to read them stands in the request:
    {"pixels_wide": 3900, "pixels_high": 4800, "resolution": "300 /in", "ink": "dark"}.
    """
    spec = dict(members_of(request, members))
    try:
        view = memoryview(pixels)
        if view.format not in ("B", "c"):
            raise TypeError(f"{view.format} is no format of 8-bit numbers")
    except TypeError as error:
        raise FloodbarError("wrong_type", "/pixels", f"pixels are bytes: {error}") from None
    if view.ndim == 2 and view.shape:
        spec = {"pixels_wide": view.shape[1], "pixels_high": view.shape[0], **spec}
    elif view.ndim != 1:
        raise FloodbarError("wrong_type", "/pixels", f"an array of {view.ndim} dimensions is no separation: one grey scale has two")
    data = ffi.from_buffer("uint8_t[]", view if view.c_contiguous else view.tobytes())
    return answer_of(*text(lib.floodbar_artwork_measure, data, view.nbytes, document(spec)))


def catalogue() -> Dict[str, Any]:
    """Every calculation: its question, formula, sources, example, and the JSON Schemas of request and answer; and the stock."""
    listed: Dict[str, Any] = json.loads(text(lib.floodbar_catalogue)[1])
    return listed
