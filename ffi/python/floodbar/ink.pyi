# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def deposit(
    *,
    mesh: Union[str, MeshParts],
    over_mesh: Optional[Length] = ...,
    ink: Union[InkName, Ink, InkChanged],
    strokes: Optional[Whole] = ...,
    hits: Optional[Whole] = ...,
    feature_width: Optional[Length] = ...,
    edge_length_scale: Optional[Length] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> InkDepositAnswer: ...

def usage(
    *,
    mesh: Union[str, MeshParts],
    over_mesh: Optional[Length] = ...,
    ink: Union[InkName, Ink, InkChanged],
    strokes: Optional[Whole] = ...,
    hits: Optional[Whole] = ...,
    printed_area: Optional[Area] = ...,
    width: Optional[Length] = ...,
    height: Optional[Length] = ...,
    coverage_fraction: Optional[Number] = ...,
    artwork: Optional[Union[ArtworkMeasure, ArtworkMeasureAnswer]] = ...,
    edge_length: Optional[Length] = ...,
    edge_length_scale: Optional[Length] = ...,
    surface_take: Optional[Length] = ...,
    prints: Whole,
    waste_fraction: Optional[Number] = ...,
    left_in_screen: Optional[Mass] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> InkUsageAnswer: ...

def weigh(
    *,
    mesh: Union[str, MeshParts],
    over_mesh: Optional[Length] = ...,
    ink: Union[InkName, Ink, InkChanged],
    strokes: Optional[Whole] = ...,
    hits: Optional[Whole] = ...,
    printed_area: Area,
    edge_length: Optional[Length] = ...,
    edge_length_scale: Optional[Length] = ...,
    surface_take: Optional[Length] = ...,
    prints: Whole,
    mass_before: Mass,
    mass_after: Mass,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> InkWeighAnswer: ...

def hiding(
    *,
    film: Length,
    over_black: Number,
    over_white: Number,
    black: Number,
    white: Number,
    read_as: Optional[Literal["lightness", "reflectance"]] = ...,
    specular: Optional[Literal["included", "excluded"]] = ...,
    surface_reflection_fraction: Optional[Number] = ...,
    inner_reflection_fraction: Optional[Number] = ...,
    wanted_contrast: Optional[Number] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> InkHidingAnswer: ...

def opacity(
    *,
    ink: Union[InkName, Ink, InkChanged],
    cloth: Optional[Union[ClothName, Cloth, ClothChanged]] = ...,
    lightness: Optional[Number] = ...,
    film: Optional[Length] = ...,
    mesh: Optional[Union[str, MeshParts]] = ...,
    over_mesh: Optional[Length] = ...,
    strokes: Optional[Whole] = ...,
    hits: Optional[Whole] = ...,
    on_top_fraction: Optional[Number] = ...,
    wanted_lightness: Optional[Number] = ...,
    specular: Optional[Literal["included", "excluded"]] = ...,
    surface_reflection_fraction: Optional[Number] = ...,
    inner_reflection_fraction: Optional[Number] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> InkOpacityAnswer: ...

def mix(
    *,
    batch: Mass,
    parts: Sequence[InkPart],
    pot_life: Optional[Time] = ...,
    use_rate: Optional[MassRate] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> InkMixAnswer: ...

def open_time(
    *,
    ink: Union[InkName, Ink, InkChanged],
    mesh: Union[str, MeshParts],
    over_mesh: Optional[Length] = ...,
    flooded: Optional[bool] = ...,
    flood_thickness: Optional[Length] = ...,
    screen_length: Optional[Length] = ...,
    air: InkAir,
    most_loss_fraction: Optional[Number] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> InkOpenTimeAnswer: ...
