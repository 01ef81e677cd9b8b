# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def list(
    *,
    kind: Optional[Literal["ink", "cloth", "press", "flash", "platen", "dryer", "shop", "cause", "mesh", "rates"]] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> StockListAnswer: ...
