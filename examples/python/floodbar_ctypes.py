"""Floodbar from Python, with the standard library alone.

    floodbar = Floodbar()                       # or Floodbar("/where/it/is/libfloodbar_ffi.so")
    floodbar.calculate("mesh.geometry", mesh="77-55")["opening"]

As a program it prepares a run on two screens: how many blanks to start with, and how much of each ink to have ready.

    cargo build --release -p floodbar-ffi
    python3 examples/python/floodbar_ctypes.py [LIBRARY]
"""

import ctypes
import json
import os
import sys
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


class Floodbar:
    """The C library, loaded. It may be used from many threads at once."""

    def __init__(self, path=None):
        library = ctypes.CDLL(str(path or built_library()))
        text_out = ctypes.POINTER(ctypes.c_char_p)
        for name, result, arguments in [
            ("calculate", ctypes.c_int32, [ctypes.c_char_p, ctypes.c_char_p, text_out]),
            ("artwork_measure", ctypes.c_int32, [ctypes.c_char_p, ctypes.c_size_t, ctypes.c_char_p, text_out]),
            ("catalogue", ctypes.c_int32, [text_out]),
            ("free", None, [ctypes.c_char_p]),
            ("status_text", ctypes.c_char_p, [ctypes.c_int32]),
            ("version", ctypes.c_char_p, []),
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
            return status, text.value.decode()
        finally:
            self._library.floodbar_free(text)

    def calculate_text(self, id, request):
        """The status and the JSON text that answer a request given as bytes."""
        return self._take(self._library.floodbar_calculate, id.encode(), request)

    def calculate(self, id, /, **request):
        """The answer to a request as a dict; raises FloodbarError where there is none."""
        return self._answer(*self.calculate_text(id, json.dumps(request).encode()))

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


def show(quantity):
    """A quantity as a person reads it."""
    return f"{quantity['value']:.4g} {quantity['unit']}"


def main(path=None):
    floodbar = Floodbar(path)

    ordered = 180
    start = floodbar.calculate("press.overs", pieces=ordered, spoilage_fraction=0.02, confidence=0.95)
    blanks = start["start_with"]
    print(f"{ordered} shirts ordered, 2 in 100 spoiled: start with {blanks} blanks")
    print(f"  (enough with a chance of {start['probability']:.1%})")

    screens = [
        ("underbase", dict(mesh="43-80", ink="plastisol-white", printed_area="410 cm2")),
        ("top colour", dict(mesh="77-55", ink="plastisol", printed_area="265 cm2")),
    ]
    cautions = []
    for name, screen in screens:
        ink = floodbar.calculate("ink.usage", prints=blanks, **screen)
        print(f"{name}: mesh {screen['mesh']}, {show(ink['wet_film'])} wet, have {show(ink['mass_to_mix'])} ready")
        cautions += [f"{name}: {note['message']}" for note in ink["notes"] if note["level"] != "info"]
    for caution in cautions:
        print(f"mind: {caution}")

    try:
        floodbar.calculate("ink.usage", mesh="43-80", ink="plastisol-white", printed_area="410 mm", prints=blanks)
    except FloodbarError as error:
        print(f"a slip in a unit is caught ({error.code}): {error}")


if __name__ == "__main__":
    main(*sys.argv[1:2])
