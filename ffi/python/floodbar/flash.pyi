# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def dwell(
    *,
    flash: Union[FlashName, Flash, FlashChanged],
    ink: Union[InkName, Ink, InkChanged],
    film: Optional[Length] = ...,
    cloth: Union[ClothName, Cloth, ClothChanged],
    platen: Union[PlatenName, FlashPlaten, FlashPlatenChanged],
    start: Optional[Temperature] = ...,
    platen_start: Optional[Temperature] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> FlashDwellAnswer: ...

def run(
    *,
    flash: Union[FlashName, Flash, FlashChanged],
    ink: Union[InkName, Ink, InkChanged],
    film: Optional[Length] = ...,
    cloth: Union[ClothName, Cloth, ClothChanged],
    platen: Union[PlatenName, FlashPlaten, FlashPlatenChanged],
    platen_start: Optional[Temperature] = ...,
    press: Union[PressName, Press, PressChanged],
    cycle: Optional[Time] = ...,
    pieces: Whole,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> FlashRunAnswer: ...

def fit(
    *,
    flash: Union[FlashName, Flash, FlashChanged],
    ink: Union[InkName, Ink, InkChanged],
    film: Optional[Length] = ...,
    cloth: Union[ClothName, Cloth, ClothChanged],
    platen: Union[PlatenName, FlashPlaten, FlashPlatenChanged],
    runs: Sequence[FlashTrial],
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> FlashFitAnswer: ...
