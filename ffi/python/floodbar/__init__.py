"""Calculations for people who print garments through a screen.

    import floodbar

    usage = floodbar.ink.usage(mesh="77-55", ink="plastisol", printed_area="265 cm2", prints=240)
    print(usage["mass_to_mix"], usage["mass_to_mix"].to("oz"))

Every calculation has a name, such as "ink.usage": floodbar.calculate() asks any of them, and the module of its trade step has a
function of its own for it, with its manual: help(floodbar.ink.usage). floodbar.catalogue() lists all of them, floodbar.stock.list()
the built-in meshes, inks, cloths and machines.

A quantity is written with its unit, "12 ft/min", or as {"value": 12, "unit": "ft/min"}; a fraction is a plain number. What has no
answer raises FloodbarError, which names the field at fault.

All functions may be used from many threads at once; they let other threads run while they work.
"""

from ._call import Cache, calculate, calculate_many, catalogue, measure_artwork, solve, sweep
from ._convert import to_pint, to_uncertain
from ._error import FloodbarError
from ._prepared import Prepared, Run, prepare
from ._quantity import Money, Quantity
from ._version import STEPS as _STEPS
from ._version import VERSION as __version__

__all__ = [
    "Cache",
    "FloodbarError",
    "Money",
    "Prepared",
    "Quantity",
    "Run",
    "calculate",
    "calculate_many",
    "catalogue",
    "frame",
    "measure_artwork",
    "prepare",
    "solve",
    "sweep",
    "to_pint",
    "to_uncertain",
    *_STEPS,
]


def __getattr__(name):
    # The modules of the trade steps are mostly manual, and `frame` is for those who have pandas: loaded when asked for.
    import importlib

    if name in _STEPS or name == "records":
        return importlib.import_module("." + name, __name__)
    if name == "frame":
        from ._frame import frame

        globals()["frame"] = frame
        return frame
    raise AttributeError("module {!r} has no attribute {!r}".format(__name__, name))


def __dir__():
    return sorted({*globals(), *__all__})
