"""Calculations made ready for columns of plain numbers."""

from __future__ import annotations

import sys
from array import array
from typing import Any, Dict, List, Mapping, Optional, Sequence, Union

from ._call import Cache, answer_of, document, handle_of, name_of
from ._error import FloodbarError
from ._library import ffi, lib, status_text, text

# How buffers of this machine's doubles tell their format.
_DOUBLES = ("d", "@d", "=d", "<d" if sys.byteorder == "little" else ">d")


def prepare(
    id: str,
    request: Mapping[str, Any],
    inputs: Sequence[Union[str, Mapping[str, str]]],
    outputs: Sequence[Union[str, Mapping[str, str]]],
    cache: Optional[Cache] = None,
) -> Prepared:
    """A calculation made ready for columns of numbers.

    Inputs are JSON pointers into the request, outputs into the answer, each by itself or as {"at": pointer, "unit": unit}, an output that
    is a word as {"at": pointer, "equals": word}, which is 1 or 0. A unit left out is the usual one of that number, never chosen by size.

        usage = prepare("ink.usage", {"mesh": "77-55", "ink": "plastisol", "prints": 100},
                        inputs=[{"at": "/printed_area", "unit": "cm2"}], outputs=[{"at": "/mass_to_mix", "unit": "g"}])
        usage.run([areas])["/mass_to_mix"]
    """
    columns: Dict[str, List[Any]] = {"inputs": list(inputs), "outputs": list(outputs)}
    handle = ffi.new("floodbar_prepared **")
    answer_of(*text(lib.floodbar_prepare, handle_of(cache), name_of(id), document(request), document(columns), handle))
    names = [[column["at"] if isinstance(column, Mapping) else column for column in side] for side in columns.values()]
    return Prepared(ffi.gc(handle[0], lib.floodbar_prepared_free), *names)


class Prepared:
    """A calculation that is ready for columns of numbers; prepare() makes it. It never changes: threads may run one at once."""

    inputs: List[str]
    outputs: List[str]

    def __init__(self, handle: Any, inputs: List[str], outputs: List[str]) -> None:
        self._handle = handle
        self.inputs = inputs
        self.outputs = outputs

    def run(self, columns: Any, out: Any = None) -> Run:
        """Works out all rows of some columns, which are a list in the order of the inputs, or a mapping by their pointers.

        A NumPy array of float64 that is contiguous, and any other buffer of doubles, is read where it is. Other arrays of whole or
        floating numbers (float32, strided, byte-swapped) and lists are copied first. What has more than one dimension, a mask, or no
        real numbers is refused.

        The columns of the answer are NumPy arrays where an array came in, else lists; or they are written into `out`, a list or mapping
        of contiguous float64 arrays or buffers of doubles, as long as the inputs and apart from them. A number that a row does not
        have, and all of a row that failed, is NaN."""
        given = _ordered(columns, self.inputs, "inputs")
        read = [_Column(column, f"/inputs/{index}") for index, column in enumerate(given)]
        numpy = _numpy() if any(column.is_array for column in read) else None
        rows = read[0].rows if read else 1
        room = [_new(numpy, "d", rows) for _ in self.outputs] if out is None else _ordered(out, self.outputs, "outputs")
        written = [_Column(column, f"/outputs/{index}", is_written=True) for index, column in enumerate(room)]
        for column in read + written:
            if column.rows != rows:
                raise FloodbarError("impossible", column.name, f"{column.rows} rows for {rows}")
        _check_apart(read, written)
        said = [_new(numpy, code, rows) for code in "iII"]
        done = lib.floodbar_run(
            self._handle,
            rows,
            ffi.new("double *[]", [column.address for column in read]),
            len(read),
            ffi.new("double *[]", [column.address for column in written]),
            len(written),
            ffi.from_buffer("int32_t[]", said[0]),
            ffi.from_buffer("uint32_t[]", said[1]),
            ffi.from_buffer("uint32_t[]", said[2]),
        )
        if done != 0:
            raise FloodbarError(status_text(done), "", "the columns cannot be run")
        return Run(self.outputs, [_plain(column) for column in room], *[_plain(column) for column in said])

    def explain(self, row: Any) -> Any:
        """The full answer of one row, a list or a mapping as for run(); raises FloodbarError where it has none."""
        numbers = array("d", _ordered(row, self.inputs, "inputs"))
        address = ffi.cast("double *", ffi.from_buffer("double[]", numbers)) if numbers else ffi.new("double *")
        return answer_of(*text(lib.floodbar_explain, self._handle, address, len(numbers)))


class Run:
    """What rows gave: columns by their pointer (the first of that name) or their place, and for each row its status (0 for success),
    and how many cautions and limits it met."""

    names: List[str]
    columns: List[Any]
    status: Any
    cautions: Any
    limits: Any

    def __init__(self, names: List[str], columns: List[Any], status: Any, cautions: Any, limits: Any) -> None:
        self.names = names
        self.columns = columns
        self.status = status
        self.cautions = cautions
        self.limits = limits

    def __getitem__(self, key: Union[str, int]) -> Any:
        return self.columns[self.names.index(key) if isinstance(key, str) else key]


def _ordered(columns: Any, names: List[str], side: str) -> List[Any]:
    """Columns in their order."""
    if not isinstance(columns, Mapping):
        given = list(columns)
        if len(given) != len(names):
            raise FloodbarError("impossible", f"/{side}", f"{len(given)} columns for {len(names)}")
        return given
    for name in columns:
        if name not in names:
            raise FloodbarError("unknown_field", f"/{side}", "no such column", str(name), names)
    for index, name in enumerate(names):
        if name not in columns:
            raise FloodbarError("missing_field", f"/{side}/{index}", f"no column for {name}", allowed=names)
    return [columns[name] for name in names]


def _numpy() -> Any:
    import numpy

    return numpy


class _Column:
    """A column where the library finds it: its address, its number of rows, and what keeps it there."""

    def __init__(self, values: Any, name: str, is_written: bool = False) -> None:
        self.name = name
        self.is_array = hasattr(values, "__array__")
        keeper = self._array(values, is_written) if self.is_array else self._buffer(values, is_written)
        self.keeper = ffi.from_buffer("double[]", keeper, require_writable=is_written)
        self.rows = len(self.keeper)
        self.address = ffi.cast("double *", self.keeper)
        self.begin = int(ffi.cast("uintptr_t", self.keeper))

    def _array(self, values: Any, is_written: bool) -> Any:
        numpy = _numpy()
        values = values if is_written else numpy.asanyarray(values)
        if not isinstance(values, numpy.ndarray) or hasattr(values, "mask"):
            raise self._refused(f"{type(values).__name__} is no plain array")
        if values.ndim != 1 or values.dtype.kind not in "biuf":
            what = {"U": "text", "S": "bytes", "O": "objects"}.get(values.dtype.kind, str(values.dtype))
            raise self._refused(f"an array of {what} with {values.ndim} dimensions is no column of numbers, which has one")
        fits = values.dtype.char == "d" and values.dtype.isnative and values.flags.c_contiguous and values.flags.aligned
        if is_written and not (fits and values.flags.writeable):
            raise self._refused("only an array of float64 that is contiguous and not locked is written to")
        return values if fits else numpy.require(values, "d", "CA")

    def _buffer(self, values: Any, is_written: bool) -> Any:
        try:
            view: Any = memoryview(values)
        except TypeError:
            view = None
        if view is not None and view.format in _DOUBLES and view.ndim == 1 and view.c_contiguous and not (is_written and view.readonly):
            return view
        if is_written:
            raise self._refused("only a buffer of doubles that can be written to is written to")
        try:
            if isinstance(values, (str, bytes, bytearray)):
                raise TypeError("a text")
            return array("d", values)
        except (TypeError, OverflowError, ValueError) as error:
            raise self._refused(f"no column of numbers: {error}") from None

    def _refused(self, message: str) -> FloodbarError:
        return FloodbarError("wrong_type", self.name, message)


class _Own(array):  # type: ignore[type-arg]
    """Numbers that were made here, and that nobody else sees before they are a list."""


def _new(numpy: Any, code: str, rows: int) -> Any:
    """Room for numbers of the type that NumPy and the module array give this code."""
    return numpy.empty(rows, code) if numpy else _Own(code, bytes(array(code).itemsize * rows))


def _plain(numbers: Any) -> Any:
    return numbers.tolist() if isinstance(numbers, _Own) else numbers


def _check_apart(read: List[_Column], written: List[_Column]) -> None:
    """Refuses outputs that lie upon one another or upon inputs."""
    ends = sorted((column.begin, column.begin + 8 * column.rows, column.name) for column in read + written if column.rows)
    outputs = {column.name for column in written}
    reach, owner = 0, ""
    for begin, end, name in ends:
        if begin < reach and (name in outputs or owner in outputs):
            raise FloodbarError("impossible", max(name, owner), f"{name} and {owner} share memory")
        if end > reach:
            reach, owner = end, name
