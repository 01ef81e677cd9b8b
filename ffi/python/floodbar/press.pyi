# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def squeegee(
    *,
    image_width: Length,
    image_length: Length,
    overlap: Optional[Length] = ...,
    free_mesh: Optional[Length] = ...,
    frame_inside: Optional[PressFrameInside] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> PressSqueegeeAnswer: ...

def run(
    *,
    press: Union[PressName, Press, PressChanged],
    colours: Sequence[PressColour],
    dryer_rate: Optional[Frequency] = ...,
    pieces: Whole,
    setup_per_screen: Optional[Time] = ...,
    teardown_per_screen: Optional[Time] = ...,
    efficiency_fraction: Optional[Number] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> PressRunAnswer: ...

def overs(
    *,
    pieces: Whole,
    spoilage_fraction: Number,
    spoilage_known_from: Optional[Number] = ...,
    confidence: Number,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> PressOversAnswer: ...
