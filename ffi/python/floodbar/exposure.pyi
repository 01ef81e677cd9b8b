# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def series(
    *,
    longest: Optional[Time] = ...,
    middle: Optional[Time] = ...,
    steps: Whole,
    ratio: Optional[Number] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> ExposureSeriesAnswer: ...

def step(
    *,
    time: Time,
    solid_step: Number,
    wanted_step: Optional[Number] = ...,
    density_per_step: Optional[Number] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> ExposureStepAnswer: ...

def rescale(
    *,
    time: Time,
    distance: Optional[ExposureDistanceChange] = ...,
    irradiance: Optional[ExposureIrradianceChange] = ...,
    mesh_factor: Optional[ExposureFactorChange] = ...,
    stencil: Optional[ExposureStencilChange] = ...,
    reciprocity_exponent: Optional[Number] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> ExposureRescaleAnswer: ...

def curve(
    *,
    points: Sequence[ExposureCurvePoint],
    stencil_thickness: Length,
    irradiance: Optional[Irradiance] = ...,
    given: Optional[RadiantExposure] = ...,
    stencil_left: Optional[Length] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> ExposureCurveAnswer: ...

def undercut(
    *,
    film_gap: Length,
    half_angle: Angle,
    stencil_thickness: Length,
    line: Optional[Length] = ...,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> ExposureUndercutAnswer: ...
