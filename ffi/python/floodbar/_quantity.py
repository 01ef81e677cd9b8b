"""Quantities of answers: the mappings that they are on the wire, which print and convert."""

from __future__ import annotations

from decimal import ROUND_CEILING, Decimal
from typing import Any, Dict, Optional, Union


def shown(value: float, places: Optional[int] = None) -> str:
    """A number as a person reads it: three digits, or all before the point; or to so many places (before the point, where less than 0)."""
    if value != value or value in (float("inf"), float("-inf")):
        return str(value)
    if places is None:
        return format(Decimal(f"{value:.0f}" if abs(value) >= 100 else f"{value:.3g}"), "f")
    return f"{round(value, places):.{max(places, 0)}f}"


def places_of(doubt: float) -> Optional[int]:
    """The places that a number in such doubt is told to: two digits of the doubt (JCGM 100, 7.2.6)."""
    return 1 - Decimal(f"{doubt:.1e}").adjusted() if 0.0 < doubt < float("inf") else None


class Quantity(Dict[str, Any]):
    """A quantity of an answer: {"value": 404.1, "unit": "g"}, with "plus_minus" where it is in doubt.

    str() is "404 g", or "404.3 +/- 9.1 g" where it is in doubt, float() its value, .to("oz") the same in another unit. It is a dict, and goes into requests and into JSON as it
    stands. f"{quantity:.2f}" writes the value so, with its unit.
    """

    __slots__ = ()

    @property
    def value(self) -> float:
        """The number, in its unit."""
        number: float = self["value"]
        return number

    @property
    def unit(self) -> str:
        """The unit."""
        unit: str = self["unit"]
        return unit

    @property
    def plus_minus(self) -> Optional[float]:
        """Half-width of its 95 % interval, in its unit; None where it is in no doubt."""
        return self.get("plus_minus")

    def to(self, unit: str) -> Quantity:
        """The same quantity in another unit of its dimension; raises FloodbarError for one of another."""
        from ._call import calculate

        answer = calculate("unit.convert", quantity=dict(self), to=unit, explain=False)
        converted: Quantity = answer["quantity"]
        return converted

    def copy(self) -> Quantity:
        """Another one, which is a quantity too."""
        return type(self)(self)

    def _words(self, number: Any) -> str:
        doubt = "" if self.plus_minus is None else f" +/- {number(self.plus_minus)}"
        unit = "" if self.unit == "1" else f" {self.unit}"
        return f"{number(self.value)}{doubt}{unit}"

    def __float__(self) -> float:
        return float(self["value"])

    def __str__(self) -> str:
        places = places_of(self.plus_minus or 0.0)
        return self._words(lambda number: shown(number, places))

    def __format__(self, form: str) -> str:
        return self._words(lambda number: format(number, form)) if form else str(self)


class Money(Quantity):
    """Money of an answer: {"value": "12.50", "unit": "EUR"}. Its value is a Decimal, to the last digit that was written."""

    __slots__ = ()

    @property
    def value(self) -> Decimal:  # type: ignore[override]
        """The amount."""
        return Decimal(self["value"])

    @property
    def plus_minus(self) -> Optional[Decimal]:  # type: ignore[override]
        """Half-width of its 95 % interval before any rounding; None where it is in no doubt."""
        doubt = self.get("plus_minus")
        return None if doubt is None else Decimal(doubt)

    def to(self, unit: str) -> Quantity:
        """Money has no other unit: raises FloodbarError."""
        from ._error import FloodbarError

        raise FloodbarError("wrong_dimension", "", f"{self} is money, which has no other unit", unit)

    def __str__(self) -> str:
        # The doubt, which is of the amount before any rounding, is told to the places of the amount.
        return self._words(lambda number: str(number.quantize(self.value, rounding=ROUND_CEILING)))


def shaped(members: Dict[str, Any]) -> Union[Dict[str, Any], Quantity]:
    """An object of an answer: a quantity where it has the members of one."""
    if len(members) <= 3 and "unit" in members and "value" in members and (len(members) == 2 or "plus_minus" in members):
        return Money(members) if isinstance(members["value"], str) else Quantity(members)
    return members
