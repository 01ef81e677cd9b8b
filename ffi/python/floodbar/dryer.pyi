# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def dwell(
    *,
    heated_length: Length,
    belt_speed: Optional[Velocity] = ...,
    dwell: Optional[Time] = ...,
    piece_length: Optional[Length] = ...,
    gap: Optional[Length] = ...,
    lanes: Optional[Whole] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> DryerDwellAnswer: ...

def window(
    *,
    dryer: Union[DryerName, Dryer, DryerChanged],
    ink: Union[InkName, Ink, InkChanged],
    film: Optional[Length] = ...,
    cloth: Union[ClothName, Cloth, ClothChanged],
    start: Optional[Temperature] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> DryerWindowAnswer: ...

def fit(
    *,
    dryer: Union[DryerName, Dryer, DryerChanged],
    ink: Union[InkName, Ink, InkChanged],
    film: Optional[Length] = ...,
    cloth: Union[ClothName, Cloth, ClothChanged],
    runs: Sequence[DryerProbeRun],
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> DryerFitAnswer: ...
