# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def learn(
    *,
    records: Sequence[ShopRecord],
    shop: Optional[Union[Literal["starter-shop"], JobShop, JobShopChanged]] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> ShopLearnAnswer: ...
