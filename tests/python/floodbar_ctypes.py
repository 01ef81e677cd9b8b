"""The C library from Python with the standard library alone: what the checks ask where the package is not built yet.

    floodbar = Floodbar()                       # or Floodbar("/where/it/is/libfloodbar_ffi.so")
    floodbar.calculate("mesh.geometry", mesh="77-55")["opening"]

    usage = floodbar.prepare("ink.usage", {"mesh": "77-55", "ink": "plastisol", "prints": 100},
                             inputs=[{"at": "/printed_area", "unit": "cm2"}], outputs=[{"at": "/mass_to_mix", "unit": "g"}])
    usage.run([areas])["/mass_to_mix"]          # lists, or NumPy arrays, which go in and out without a copy
"""

import ctypes
import json
import os
import sys
import weakref
from array import array
from collections.abc import Mapping
from pathlib import Path

ABI = 1


class FloodbarError(ValueError):
    """Why there is no answer: a stable code, the field at fault (a JSON pointer), what was got and what is allowed."""

    def __init__(self, code, field, message, got=None, allowed=()):
        super().__init__(f"{field}: {message}" if field else message)
        self.code = code
        self.field = field
        self.message = message
        self.got = got
        self.allowed = list(allowed)


def built_library():
    """The library that FLOODBAR_LIBRARY names, else the one that `cargo build --release` leaves in this repository."""
    if named := os.environ.get("FLOODBAR_LIBRARY"):
        return Path(named)
    name = {"win32": "floodbar_ffi.dll", "darwin": "libfloodbar_ffi.dylib"}.get(sys.platform, "libfloodbar_ffi.so")
    return Path(__file__).resolve().parents[2] / "target" / "release" / name


def _owned(owner, handle, free):
    """A handle of the library that is freed with its owner; at the end of the program it goes with the program."""
    weakref.finalize(owner, free, handle).atexit = False
    return handle


class Cache:
    """Keeps the numbers of runs through heat for the calls that it is given to; their answers are the same without it."""

    def __init__(self, library, entries):
        self._library = library
        self._handle = _owned(self, library.floodbar_cache_new(entries), library.floodbar_cache_free)

    @property
    def counts(self):
        """How often a run was found in it, and how often it was not."""
        hits, misses = ctypes.c_uint64(), ctypes.c_uint64()
        self._library.floodbar_cache_counts(self._handle, ctypes.byref(hits), ctypes.byref(misses))
        return hits.value, misses.value


class Floodbar:
    """The C library, loaded. It may be used from many threads at once; they do not wait for one another."""

    def __init__(self, path=None):
        library = ctypes.CDLL(str(path or built_library()))
        status, size, text, handle = ctypes.c_int32, ctypes.c_size_t, ctypes.c_char_p, ctypes.c_void_p
        text_out = ctypes.POINTER(ctypes.c_char_p)
        for name, result, arguments in [
            ("calculate", status, [text, text, text_out]),
            ("calculate_many", status, [handle, text, text, text_out]),
            ("sweep", status, [handle, text, text, text, text_out]),
            ("solve", status, [handle, text, text, text, text_out]),
            ("prepare", status, [handle, text, text, text, handle, text_out]),
            ("run", status, [handle, size, handle, size, handle, size, handle, handle, handle]),
            ("explain", status, [handle, handle, size, text_out]),
            ("prepared_free", None, [handle]),
            ("cache_new", handle, [size]),
            ("cache_free", None, [handle]),
            ("cache_counts", status, [handle, handle, handle]),
            ("artwork_measure", status, [text, size, text, text_out]),
            ("catalogue", status, [text_out]),
            ("free", None, [text]),
            ("status_text", text, [status]),
            ("version", text, []),
            ("abi", ctypes.c_uint32, []),
        ]:
            function = getattr(library, f"floodbar_{name}")
            function.restype = result
            function.argtypes = arguments
        if library.floodbar_abi() != ABI:
            raise ImportError(f"the library has interface {library.floodbar_abi()}, this module needs {ABI}")
        self._library = library

    def _take(self, function, *arguments):
        """Calls a function that gives a text: its status, and the text as a copy, the library's own being freed."""
        text = ctypes.c_char_p()
        status = function(*arguments, ctypes.byref(text))
        try:
            return status, text.value.decode() if text.value is not None else "null"
        finally:
            self._library.floodbar_free(text)

    def calculate_text(self, id, request):
        """The status and the JSON text that answer a request given as bytes."""
        return self._take(self._library.floodbar_calculate, id.encode(), request)

    def calculate(self, id, /, **request):
        """The answer to a request as a dict; raises FloodbarError where there is none."""
        return self._answer(*self.calculate_text(id, json.dumps(request).encode()))

    def cache(self, entries):
        """A memory for so many runs through heat (flash, dryer), to be handed to the calls that take one."""
        return Cache(self._library, entries)

    def calculate_many(self, id, requests, cache=None):
        """The answers to a list of requests, in their order; in the place of one that has none stands {"error": {...}}."""
        return self._ask(self._library.floodbar_calculate_many, cache, id, list(requests))

    def sweep(self, id, request, spec, cache=None):
        """Answers at many points of one input:
        {"vary": "/over_mesh", "from": "0 um", "to": "40 um", "points": 9, "want": ["/wet_film"]}."""
        return self._ask(self._library.floodbar_sweep, cache, id, request, spec)

    def solve(self, id, request, spec, cache=None):
        """The value of an input at which a number of the answer is what is wanted:
        {"vary": "/prints", "from": 1, "to": 1000, "want": "/mass_to_mix", "equals": "1 kg"}."""
        return self._ask(self._library.floodbar_solve, cache, id, request, spec)

    def prepare(self, id, request, inputs, outputs, cache=None):
        """A calculation made ready for columns of numbers: inputs are JSON pointers into the request, outputs into the answer, each
        by itself or as {"at": pointer, "unit": unit}, an output that is a word as {"at": pointer, "equals": word}."""
        handle, columns = ctypes.c_void_p(), {"inputs": list(inputs), "outputs": list(outputs)}
        self._ask(self._library.floodbar_prepare, cache, id, request, columns, ctypes.byref(handle))
        names = [[column["at"] if isinstance(column, Mapping) else column for column in side] for side in columns.values()]
        return Prepared(self, handle.value, *names)

    def _ask(self, function, cache, id, *documents):
        """What a function says that takes a cache, a name and documents."""
        texts = [json.dumps(document).encode() if isinstance(document, (dict, list)) else document for document in documents]
        return self._answer(*self._take(function, cache and cache._handle, id.encode(), *texts))

    def measure_artwork(self, pixels, spec):
        """What a separation covers; its pixels are bytes, row by row from the top, and spec says how to read them:
        {"pixels_wide": 3900, "pixels_high": 4800, "resolution": "300 /in", "ink": "dark"}."""
        data = bytes(pixels)
        measure = self._library.floodbar_artwork_measure
        return self._answer(*self._take(measure, data, len(data), json.dumps(spec).encode()))

    @staticmethod
    def _answer(status, text):
        """The document of a call; raises FloodbarError where it tells of one."""
        answer = json.loads(text)
        if status != 0:
            raise FloodbarError(**answer["error"])
        return answer

    def catalogue(self):
        """Every calculation: its question, formula, sources, example, and the JSON Schemas of request and answer."""
        return json.loads(self._take(self._library.floodbar_catalogue)[1])

    def status_text(self, status):
        """The name of a status."""
        return self._library.floodbar_status_text(status).decode()

    @property
    def version(self):
        """The version of the library."""
        return self._library.floodbar_version().decode()


class Prepared:
    """A calculation that is ready for columns of numbers. It never changes: threads may run one at once."""

    def __init__(self, floodbar, handle, inputs, outputs):
        self._floodbar = floodbar
        self._library = floodbar._library
        self._handle = _owned(self, handle, self._library.floodbar_prepared_free)
        self.inputs = inputs
        self.outputs = outputs

    def run(self, columns, out=None):
        """Works out all rows of some columns, which are a list in the order of the inputs, or a dict by their pointers.

        A NumPy array of float64 that is contiguous, and a buffer of doubles (array("d"), memoryview) that can be written to,
        are read where they are. Other arrays of whole or floating numbers (float32, strided, byte-swapped) and lists are copied
        first. What has more than one dimension, a mask, or no real numbers is refused.

        The columns of the answer are NumPy arrays where an array came in, else lists; or they are written into `out`, a list or dict
        of contiguous float64 arrays or buffers of doubles, as long as the inputs and apart from them. A number that a row does not
        have, and all of a row that failed, is NaN."""
        given = self._ordered(columns, self.inputs, "inputs")
        read = [_Column(column, f"/inputs/{index}") for index, column in enumerate(given)]
        numpy = sys.modules.get("numpy") if any(column.is_array for column in read) else None
        rows = read[0].rows if read else 1
        if out is None:
            out = [_new(numpy, "d", rows) for _ in self.outputs]
        else:
            out = self._ordered(out, self.outputs, "outputs")
        written = [_Column(column, f"/outputs/{index}", is_written=True) for index, column in enumerate(out)]
        for column in read + written:
            if column.rows != rows:
                raise FloodbarError("impossible", column.name, f"{column.rows} rows for {rows}")
        _check_apart(read, written)
        said = [_new(numpy, code, rows) for code in "iII"]
        pointers = [(ctypes.c_void_p * len(side))(*(column.address for column in side)) for side in (read, written)]
        done = self._library.floodbar_run(
            self._handle, rows, pointers[0], len(read), pointers[1], len(written), *map(_address, said)
        )
        if done != 0:
            raise FloodbarError(self._floodbar.status_text(done), "", "the columns cannot be run")
        return Run(self.outputs, *([_plain(column) for column in side] for side in (out, said)))

    def explain(self, row):
        """The full answer of one row, a list or a dict as for run(); raises FloodbarError where it has none."""
        numbers = array("d", self._ordered(row, self.inputs, "inputs"))
        address, count = numbers.buffer_info()
        return Floodbar._answer(*self._floodbar._take(self._library.floodbar_explain, self._handle, address, count))

    @staticmethod
    def _ordered(columns, names, side):
        """Columns in their order."""
        if not isinstance(columns, Mapping):
            columns = list(columns)
            if len(columns) != len(names):
                raise FloodbarError("impossible", f"/{side}", f"{len(columns)} columns for {len(names)}")
            return columns
        for name in columns:
            if name not in names:
                raise FloodbarError("unknown_field", f"/{side}", "no such column", name, names)
        for index, name in enumerate(names):
            if name not in columns:
                raise FloodbarError("missing_field", f"/{side}/{index}", f"no column for {name}", allowed=names)
        return [columns[name] for name in names]


class Run:
    """What rows gave: columns by their pointer (the first of that name) or their place, and for each row its status (0 for success),
    and how many cautions and limits it met."""

    def __init__(self, names, columns, said):
        self.names = names
        self.columns = columns
        self.status, self.cautions, self.limits = said

    def __getitem__(self, key):
        return self.columns[self.names.index(key) if isinstance(key, str) else key]


# How buffers of this machine's doubles tell their format.
_DOUBLES = ("d", "@d", "=d", "<d" if sys.byteorder == "little" else ">d")


class _Column:
    """A column where the library finds it: its address, its number of rows, and what keeps it there."""

    def __init__(self, values, name, is_written=False):
        self.name = name
        self.is_array = hasattr(values, "__array__")
        if self.is_array:
            self._take_array(values, sys.modules["numpy"], is_written)
        else:
            self._take_buffer(values, is_written)

    def _take_array(self, values, numpy, is_written):
        values = values if is_written else numpy.asanyarray(values)
        if not isinstance(values, numpy.ndarray) or hasattr(values, "mask"):
            raise self._refused(f"{type(values).__name__} is no plain array")
        if values.ndim != 1 or values.dtype.kind not in "biuf":
            raise self._refused(f"an array of {values.ndim} dimensions of {values.dtype} is no column of numbers")
        flags = values.flags
        fits = values.dtype.char == "d" and values.dtype.isnative and flags.c_contiguous and flags.aligned
        if is_written and not (fits and flags.writeable):
            raise self._refused("only an array of float64 that is contiguous and not locked is written to")
        self.keeper = values if fits else numpy.require(values, "d", "CA")
        self.address, self.rows = _address(self.keeper), len(self.keeper)

    def _take_buffer(self, values, is_written):
        try:
            view = memoryview(values)
        except TypeError:
            view = None
        if view is not None and view.format in _DOUBLES and view.ndim == 1 and view.c_contiguous and not view.readonly:
            self.rows = len(view)
            self.keeper = (ctypes.c_double * self.rows).from_buffer(view)
            self.address = ctypes.addressof(self.keeper)
            return
        if is_written:
            raise self._refused("only a buffer of doubles that can be written to is written to")
        try:
            if isinstance(values, (str, bytes, bytearray)):
                raise TypeError("a text")
            self.keeper = array("d", values)
        except (TypeError, OverflowError) as error:
            raise self._refused(f"no column of numbers: {error}") from None
        self.address, self.rows = self.keeper.buffer_info()

    def _refused(self, message):
        return FloodbarError("wrong_type", self.name, message)


class _Own(array):
    """Numbers that were made here, and that nobody else sees before they are a list."""


def _new(numpy, code, rows):
    """Room for numbers of the type that NumPy and the module array give this code."""
    return numpy.empty(rows, code) if numpy else _Own(code, bytes(array(code).itemsize * rows))


def _address(numbers):
    return numbers.buffer_info()[0] if isinstance(numbers, array) else numbers.__array_interface__["data"][0]


def _plain(numbers):
    return numbers.tolist() if isinstance(numbers, _Own) else numbers


def _check_apart(read, written):
    """Refuses outputs that lie upon one another or upon inputs."""
    ends = sorted((column.address, column.address + 8 * column.rows, column.name) for column in read + written if column.rows)
    outputs, reach, owner = {column.name for column in written}, 0, ""
    for begin, end, name in ends:
        if begin < reach and (name in outputs or owner in outputs):
            raise FloodbarError("impossible", max(name, owner), f"{name} and {owner} share memory")
        if end > reach:
            reach, owner = end, name
