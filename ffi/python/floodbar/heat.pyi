# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def layers(
    *,
    layers: Sequence[HeatLayer],
    film_water: Optional[MassPerArea] = ...,
    start: Temperature,
    stages: Sequence[HeatStageRequest],
    report_at: Sequence[Time],
    tolerance: Optional[TemperatureDifference] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> HeatLayersAnswer: ...
