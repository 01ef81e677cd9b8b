"""What the Python package adds to the C library that it carries: package_speed.py

By hand, not part of tests/run, by an interpreter that has the package and pandas (tests/install/python leaves one in its AWAY); needs gcc.

A C program that does nothing else asks the package's own library in a loop; calculate() and a step's function ask the same from
Python. Then rows from NumPy arrays beside the same through ctypes, which columns_speed.py holds against NumPy; rows of a DataFrame; and
the import. Times are the shortest of several, taken in turn, in one run.
"""

import ctypes
import json
import subprocess
import sys
import tempfile
from pathlib import Path

import floodbar
import numpy as np
import pandas
from shared import Floodbar, shortest

LOOP = """
#include <stddef.h>
int floodbar_calculate(const char *id, const char *request, char **answer);
void floodbar_free(char *text);
void loop(const char *id, const char *request, size_t times) {
    for (size_t i = 0; i < times; i++) {
        char *text = NULL;
        floodbar_calculate(id, request, &text);
        floodbar_free(text);
    }
}
"""
TURNS = 60


def library_of(package):
    """The library that a package carries."""
    return next(path for path in (Path(package.__file__).parent / "_native").iterdir() if path.suffix == ".so")


def built(folder):
    """The loop in C, on the library of the package."""
    library = library_of(floodbar)
    source, loop = folder / "loop.c", folder / "libloop.so"
    source.write_text(LOOP)
    subprocess.run(["gcc", "-O2", "-shared", "-fPIC", source, "-o", loop, library, f"-Wl,-rpath,{library.parent}"], check=True)
    ctypes.CDLL(str(library), ctypes.RTLD_GLOBAL)
    loop = ctypes.CDLL(str(loop)).loop
    loop.argtypes = [ctypes.c_char_p, ctypes.c_char_p, ctypes.c_size_t]
    return loop


def main():
    examples = {entry["id"]: entry["example"] for entry in floodbar.catalogue()["calculations"]}
    with tempfile.TemporaryDirectory() as folder:
        loop = built(Path(folder))
        print("calculate, with its explanations and without: C from C, Python, a function of a step (us)")
        for id, times in [("mesh.geometry", 50), ("ink.usage", 40), ("press.run", 40), ("exposure.curve", 40), ("dryer.window", 2), ("job.plan", 1)]:
            step, name = id.split(".")
            for explain in (True, False):
                request = {**examples[id], "explain": explain}
                text = json.dumps(request).encode()
                function = getattr(getattr(floodbar, step), name)

                def by_name(id=id, request=request, times=times):
                    for _ in range(times):
                        floodbar.calculate(id, request)

                def by_function(function=function, request=request, times=times):
                    for _ in range(times):
                        function(**request)

                found = shortest([lambda id=id, text=text, times=times: loop(id.encode(), text, times), by_name, by_function], TURNS)
                c, python, own = (seconds / times * 1e6 for seconds in found)
                allowed = max(1.5 * c, c + 15.0)
                print(f"  {id}{'' if explain else ' (explain: false)'}: {c:.1f}, {python:.1f}, {own:.1f}; {python / c:.2f} times, {python - c:.1f} us more{'' if python <= allowed else ': more than wanted'}")

    rows = 1_000_000
    areas = np.random.default_rng(1).uniform(1.0, 800.0, rows)
    request = {"mesh": "77-55", "ink": "plastisol", "prints": 240}
    prepared = floodbar.prepare("ink.usage", request, [{"at": "/printed_area", "unit": "cm2"}], [{"at": "/mass_to_mix", "unit": "g"}])
    out = np.empty(rows)
    loaded = Floodbar(library_of(floodbar))
    bare = loaded.prepare("ink.usage", request, inputs=[{"at": "/printed_area", "unit": "cm2"}], outputs=[{"at": "/mass_to_mix", "unit": "g"}])
    frame = pandas.DataFrame({"area": areas, "mesh": np.where(areas > 400.0, "77-55", "55-64")})
    columns = {"printed_area": {"column": "area", "unit": "cm2"}}
    calls = [
        lambda: bare.run([areas], out=[out]),
        lambda: prepared.run([areas], out=[out]),
        lambda: floodbar.frame(frame, "ink.usage", request, columns=columns, want=["mass_to_mix"]),
        lambda: floodbar.frame(frame, "ink.usage", {"ink": "plastisol", "prints": 240}, columns={**columns, "mesh": "mesh"}, want=["mass_to_mix"]),
    ]
    ctyped, run, framed, texts = (seconds / rows * 1e9 for seconds in shortest(calls, 9))
    print(f"a row of ink.usage (ns): through ctypes {ctyped:.0f}, prepared {run:.0f}, by frame {framed:.0f}, with two texts {texts:.0f}")

    def started(code):
        return lambda: subprocess.run([sys.executable, "-c", code], check=True)

    nothing, cffi, ours = (seconds * 1e3 for seconds in shortest([started("pass"), started("import cffi"), started("import floodbar")], 15))
    print(f"import (ms): cffi {cffi - nothing:.0f}, floodbar {ours - nothing:.0f}")


if __name__ == "__main__":
    main()
