# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def plan(
    *,
    title: Optional[str] = ...,
    pieces: Whole,
    due: Optional[str] = ...,
    cloth: Union[ClothName, Cloth, ClothChanged],
    sizes: Optional[Sequence[JobSizeOrder]] = ...,
    placements: Sequence[JobPlacement],
    trap: Optional[Length] = ...,
    shop: Optional[Union[Literal["starter-shop"], JobShop, JobShopChanged]] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> JobPlanAnswer: ...

def quote(
    *,
    title: Optional[str] = ...,
    pieces: Whole,
    due: Optional[str] = ...,
    cloth: Union[ClothName, Cloth, ClothChanged],
    sizes: Optional[Sequence[JobSizeOrder]] = ...,
    placements: Sequence[JobPlacement],
    trap: Optional[Length] = ...,
    shop: Optional[Union[Literal["starter-shop"], JobShop, JobShopChanged]] = ...,
    currency: str,
    rates: Union[Literal["starter-rates"], JobRates, JobRatesChanged],
    price: JobPrice,
    blanks: Optional[Literal["bought", "supplied"]] = ...,
    quantities: Optional[Sequence[Whole]] = ...,
    at_unit_price: Optional[MoneyGiven] = ...,
    valid_days: Optional[Whole] = ...,
    terms: Optional[str] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> JobQuoteAnswer: ...
