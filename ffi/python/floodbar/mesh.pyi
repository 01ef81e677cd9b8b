# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def geometry(
    *,
    mesh: Union[str, MeshParts],
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> MeshGeometryAnswer: ...

def detail(
    *,
    mesh: Union[str, MeshParts],
    ruling: Optional[Count] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> MeshDetailAnswer: ...

def moire(
    *,
    mesh: Union[str, MeshParts],
    mesh_angle: Optional[Angle] = ...,
    ruling: Count,
    angles: Sequence[Angle],
    visible_period: Optional[Length] = ...,
    angle_tolerance: Optional[Angle] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> MeshMoireAnswer: ...

def choose(
    *,
    meshes: Optional[Sequence[Union[str, MeshParts]]] = ...,
    ink: Union[InkName, Ink, InkChanged],
    strokes: Optional[Whole] = ...,
    most_hits: Optional[Whole] = ...,
    dry_film: Optional[Length] = ...,
    lightness: Optional[Number] = ...,
    cloth: Optional[Union[ClothName, Cloth, ClothChanged]] = ...,
    finest_line: Optional[Length] = ...,
    ruling: Optional[Count] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> MeshChooseAnswer: ...
