# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def budget(
    *,
    sources: Sequence[Union[CauseName, RegisterCause, RegisterCauseChanged]],
    colours: Whole,
    trap: Length,
    wanted_probability: Optional[Number] = ...,
    methods: Optional[Sequence[Union[CauseName, RegisterMethod]]] = ...,
    film: Optional[RegisterFilmChange] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> RegisterBudgetAnswer: ...

def marks(
    *,
    reference: str,
    pivot: Optional[RegisterPivot] = ...,
    colours: Sequence[RegisterColourMarks],
    trap: Optional[Length] = ...,
    wanted_probability: Optional[Number] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> RegisterMarksAnswer: ...
