"""What the checks in Python share: the library, the vectors, counting comparisons, and running a script's checks in turn."""

import contextlib
import json
import math
import os
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.dont_write_bytecode = True

from floodbar_ctypes import Floodbar, FloodbarError  # noqa: E402, F401

SECONDS = {"s": 1.0, "min": 60.0, "h": 3600.0}


def cases(few, many):
    """How many random cases a long check runs: few in tests/run, many in tests/deep."""
    return many if os.environ.get("FLOODBAR_DEEP") == "1" else few


def read_vectors(folder):
    """The vectors of all files, in the order of the files' names, as every layer takes them."""
    files = sorted(Path(folder).glob("*.json"), key=lambda path: path.name.encode())
    return [vector for path in files for vector in json.loads(path.read_text(encoding="utf-8"))]


def quantity(value, unit):
    return {"value": float(value), "unit": unit}


def seconds(shown):
    """A time of an answer, whichever unit it is shown in."""
    return shown["value"] * SECONDS[shown["unit"]]


def shortest(calls, repeats):
    """The shortest time of each call, timed in turn."""
    times = [math.inf] * len(calls)
    for _ in range(repeats):
        for index, call in enumerate(calls):
            start = time.perf_counter()
            call()
            times[index] = min(times[index], time.perf_counter() - start)
    return times


class Judge:
    """Counts comparisons, keeps how far off each kind of them came, and says which went wrong."""

    def __init__(self):
        self.passed = self.failed = 0
        self.off = {}

    def holds(self, good, *what):
        self.passed += bool(good)
        self.failed += not good
        if not good:
            print("differs:", *what)

    def within(self, got, wanted, most, *what, kind=None):
        """Apart by no more than this. Written so that what is no number is no agreement."""
        self._compare(math.nan if got is None else got - wanted, most, got, wanted, what, kind)

    def near(self, got, wanted, share, *what, kind=None):
        """Apart by no more than a share of the wanted value."""
        off = math.nan if got is None else got - wanted
        self._compare(off and (off / abs(wanted) if wanted else math.inf), share, got, wanted, what, kind)

    def _compare(self, off, most, got, wanted, what, kind):
        if kind is not None:
            least, greatest = self.off.get(kind, (0.0, 0.0))
            self.off[kind] = min(least, float(off)), max(greatest, float(off))
        self.holds(abs(off) <= most, *filter(None, [kind]), *what, "got", got, "wanted", wanted, "off by", off)

    def close(self):
        """Prints how far off things came, and the line that the runner reads; the program's exit code."""
        for kind, (least, greatest) in self.off.items():
            print(f"{kind}: {least:+.2g} to {greatest:+.2g}")
        print(f"{self.passed} passed, {self.failed} failed")
        return 1 if self.failed or not self.passed else 0


@contextlib.contextmanager
def workplace(prefix, folder=None):
    """A folder for the files of a check: the one that is given, which is kept, or a passing one."""
    if folder:
        yield Path(folder)
        return
    with tempfile.TemporaryDirectory(prefix=prefix, ignore_cleanup_errors=True) as passing:
        yield Path(passing)


def run(library, checks):
    """Asks the library at that path; each check, by its name, takes the library and the judge. The program's exit code."""
    floodbar, judge = Floodbar(library), Judge()
    for name, check in checks.items():
        before = judge.passed, judge.failed
        try:
            check(floodbar, judge)
        except FloodbarError as error:
            judge.holds(False, name, "refused:", error.code, error)
        print(f"{name}: {judge.passed - before[0]} agree, {judge.failed - before[1]} do not")
    return judge.close()
