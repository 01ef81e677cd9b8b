# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def assess(
    *,
    ink: Union[InkName, Ink, InkChanged],
    cloth: Optional[Union[ClothName, Cloth, ClothChanged]] = ...,
    log: Sequence[CureLogReading],
    measured: Literal["in_ink", "surface"],
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> CureAssessAnswer: ...

def equivalent(
    *,
    from_: CureHeld,
    activation_energy: Optional[MolarEnergy] = ...,
    second: Optional[CureHeld] = ...,
    to: CureHeldTo,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> CureEquivalentAnswer: ...
