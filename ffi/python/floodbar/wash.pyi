# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def colour(
    *,
    before: Sequence[Number],
    after: Sequence[Number],
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> WashColourAnswer: ...

def samples(
    *,
    reliability_fraction: Number,
    confidence: Number,
    failures: Optional[Whole] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> WashSamplesAnswer: ...

def verdict(
    *,
    washed: Whole,
    failed: Whole,
    confidence: Number,
    cycles: Whole,
    reliability_fraction: Optional[Number] = ...,
    failed_at: Optional[Sequence[Whole]] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> WashVerdictAnswer: ...

def layers(
    *,
    cloth: Union[ClothName, Cloth, ClothChanged],
    layers: Sequence[Union[InkName, Ink, InkChanged]],
    between: Optional[Sequence[Literal["wet", "set", "cured"]]] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> WashLayersAnswer: ...
