# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def assess(
    *,
    screens: Sequence[TensionScreenReadings],
    target: Optional[Tension] = ...,
    within: Optional[Tension] = ...,
    across: Optional[Tension] = ...,
    frame: Optional[Literal["wood", "glued_metal", "retensionable"]] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> TensionAssessAnswer: ...

def off_contact(
    *,
    span_length: Length,
    span_width: Length,
    gap: Length,
    image_length: Optional[Length] = ...,
    image_width: Optional[Length] = ...,
    tension: Optional[Tension] = ...,
    overlap: Optional[Length] = ...,
    blade_at: Optional[Length] = ...,
    compare: Optional[TensionOtherScreen] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> TensionOffContactAnswer: ...
