"""Quantities for two general libraries, which are imported here and only when asked for."""

from __future__ import annotations

import re
from typing import Any

from ._error import FloodbarError
from ._quantity import Money, Quantity

# Half the width of a 95 % interval of a normal distribution, in standard deviations.
_COVERAGE = 1.959963984540054

_NAMES = {"%": "percent", "1": "dimensionless", "floz": "fluid_ounce", "deg": "degree", "d": "day", "h": "hour", "mil": "thou"}


def to_uncertain(quantity: Quantity) -> Any:
    """The number of a quantity for the library uncertainties: its value, with the standard deviation of which its doubt is the
    half-width of the 95 % interval (plus_minus / 1.959964); none where it is in no doubt."""
    from uncertainties import ufloat  # type: ignore[import-untyped, unused-ignore]

    value, doubt = float(quantity["value"]), float(quantity.get("plus_minus") or 0.0)
    # A deviation of zero is warned of where it is given, and not where it comes out.
    return ufloat(value, doubt / _COVERAGE) if doubt else ufloat(0.0, 1.0) * 0.0 + value


def to_pint(quantity: Quantity, registry: Any) -> Any:
    """A quantity of a registry of the library pint. One in doubt takes its number from to_uncertain()."""
    if isinstance(quantity, Money) or isinstance(quantity["value"], str):
        raise FloodbarError("wrong_dimension", "", f"{quantity} is money, and no quantity of physics", quantity["unit"])
    number = to_uncertain(quantity) if quantity.get("plus_minus") else float(quantity["value"])
    return registry.Quantity(number, pint_unit(quantity["unit"]))


def pint_unit(unit: str) -> str:
    """A unit of an answer, as pint spells it."""
    spelt = re.sub(r"[A-Za-z_]+|%|^1$", lambda name: _NAMES.get(name.group(), name.group()), unit)
    spelt = re.sub(r"([A-Za-z])(\d)", r"\1**\2", spelt).replace(".", "*")
    return "1" + spelt if spelt.startswith("/") else spelt
