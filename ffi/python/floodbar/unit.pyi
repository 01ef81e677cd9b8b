# Written by `floodbar-pack python` from the catalogue: do not edit.
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union

from ._quantity import Money, Quantity
from .records import *

def convert(
    *,
    quantity: Union[Length, Area, Volume, Mass, Time, Velocity, Frequency, Count, Force, Tension, MassPerArea, MassFlux, MassRate, AreaPerMass, PerMass, RadiantExposure, Irradiance, Energy, Power, HeatTransfer, ThermalConductivity, SpecificHeat, MolarEnergy, Density, Temperature, TemperatureDifference, Angle, Number],
    to: str,
    units: Optional[Literal["metric", "us"]] = ...,
    explain: Optional[bool] = ...,
    doubt: Optional[Literal["propagate", "monte_carlo"]] = ...,
) -> UnitConvertAnswer: ...
