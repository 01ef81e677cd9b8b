# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def measure(
    *,
    pixels_wide: Whole,
    pixels_high: Whole,
    stride: Optional[Whole] = ...,
    resolution: Count,
    ink: Literal["dark", "light"],
    edge_length_scale: Optional[Length] = ...,
    pixels: Optional[Any] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> ArtworkMeasureAnswer: ...

def tone(
    *,
    ruling: Count,
    dot: Optional[Literal["round", "euclidean", "elliptical"]] = ...,
    readings: Sequence[ArtworkToneReading],
    bare_density: Optional[Number] = ...,
    solid_density: Optional[Number] = ...,
    yule_nielsen_ratio: Optional[Number] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> ArtworkToneAnswer: ...

def curve(
    *,
    ruling: Count,
    dot: Optional[Literal["round", "euclidean", "elliptical"]] = ...,
    growth: Optional[Length] = ...,
    readings: Optional[Sequence[ArtworkToneReading]] = ...,
    bare_density: Optional[Number] = ...,
    solid_density: Optional[Number] = ...,
    yule_nielsen_ratio: Optional[Number] = ...,
    mesh: Optional[Union[str, MeshParts]] = ...,
    tones: Optional[Sequence[Number]] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> ArtworkCurveAnswer: ...
