"""What the peers share: counting comparisons, and running the checks of a script one after the other."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "examples" / "python"))

from floodbar_ctypes import Floodbar, FloodbarError  # noqa: E402


class Judge:
    """Counts comparisons, and says which went wrong."""

    def __init__(self):
        self.passed = self.failed = 0

    def holds(self, good, *what):
        self.passed += bool(good)
        self.failed += not good
        if not good:
            print("differs:", *what)


def run(library, checks, judge):
    """Asks the library at that path; each check, by its name, takes the library and the judge. The program's exit code."""
    floodbar = Floodbar(library)
    for name, check in checks.items():
        before = judge.passed, judge.failed
        try:
            check(floodbar, judge)
        except FloodbarError as error:
            judge.holds(False, name, "refused:", error.code, error)
        print(f"{name}: {judge.passed - before[0]} agree, {judge.failed - before[1]} do not")
    print(f"{judge.passed} passed, {judge.failed} failed")
    return 1 if judge.failed or not judge.passed else 0
