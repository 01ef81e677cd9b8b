# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The records of requests and answers, as types."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, SupportsIndex, TypedDict, Union

from ._quantity import Money, Quantity

__all__ = [
    "Angle",
    "Area",
    "AreaPerMass",
    "ArtworkCurveAnswer",
    "ArtworkCurvePoint8",
    "ArtworkFilmTone",
    "ArtworkHalftone",
    "ArtworkHalftoneShown",
    "ArtworkMeasure",
    "ArtworkMeasureAnswer",
    "ArtworkPicturePoint",
    "ArtworkPicturePointShown",
    "ArtworkPrintedTone",
    "ArtworkToneAnswer",
    "ArtworkToneReading",
    "Basis",
    "CauseName",
    "Cloth",
    "ClothChanged",
    "ClothDye",
    "ClothFibres",
    "ClothName",
    "ClothScorch",
    "Count",
    "CureAssessAnswer",
    "CureEquivalentAnswer",
    "CureHeld",
    "CureHeldTo",
    "CureLogReading",
    "Density",
    "Doubt",
    "Dryer",
    "DryerChanged",
    "DryerDwellAnswer",
    "DryerFitAnswer",
    "DryerLimits",
    "DryerName",
    "DryerProbeReading",
    "DryerProbeRun",
    "DryerRange",
    "DryerShown",
    "DryerWindowAnswer",
    "DryerZone",
    "DryerZoneShown",
    "Energy",
    "ExposureCurveAnswer",
    "ExposureCurvePoint",
    "ExposureDistanceChange",
    "ExposureFactor",
    "ExposureFactorChange",
    "ExposureIrradianceChange",
    "ExposureRescaleAnswer",
    "ExposureSeriesAnswer",
    "ExposureStencilChange",
    "ExposureStepAnswer",
    "ExposureUndercutAnswer",
    "Flash",
    "FlashChanged",
    "FlashDwellAnswer",
    "FlashFitAnswer",
    "FlashName",
    "FlashPlaten",
    "FlashPlatenChanged",
    "FlashPlatenShown",
    "FlashProfile",
    "FlashReading",
    "FlashRotation",
    "FlashRunAnswer",
    "FlashShown",
    "FlashTrial",
    "Force",
    "Frequency",
    "HeatAirFace",
    "HeatAirFaceShown",
    "HeatEnergyBalance",
    "HeatFaceRequest",
    "HeatLayer",
    "HeatLayerShown",
    "HeatLayersAnswer",
    "HeatStageRequest",
    "HeatTransfer",
    "Ink",
    "InkAdditive",
    "InkAdditiveShown",
    "InkAir",
    "InkAirShown",
    "InkChanged",
    "InkCure",
    "InkCureShown",
    "InkDepositAnswer",
    "InkHidingAnswer",
    "InkMeshOffer",
    "InkMixAnswer",
    "InkName",
    "InkOpacityAnswer",
    "InkOpenTimeAnswer",
    "InkPart",
    "InkPot",
    "InkShown",
    "InkUsageAnswer",
    "InkWeighAnswer",
    "Irradiance",
    "JobAdditiveSheet",
    "JobBladeSheet",
    "JobBlanksSheet",
    "JobCostLine",
    "JobCrew",
    "JobDetailSheet",
    "JobDryerSheet",
    "JobDryingHeat",
    "JobEarned",
    "JobExpectedReading",
    "JobExposureTest",
    "JobExposureTestShown",
    "JobExtra",
    "JobFlashSheet",
    "JobHalftoneSheet",
    "JobHeadSheet",
    "JobHidingSheet",
    "JobHoursSheet",
    "JobInkPrice",
    "JobInkTotal",
    "JobKeyTone",
    "JobPlacement",
    "JobPlacementSheet",
    "JobPlanAnswer",
    "JobPressHours",
    "JobPressSheet",
    "JobPrice",
    "JobPriceBreak",
    "JobPriceLine",
    "JobQuoteAnswer",
    "JobRates",
    "JobRatesChanged",
    "JobRegisterSheet",
    "JobRegistering",
    "JobRegisteringShown",
    "JobRunSheet",
    "JobScreenOrder",
    "JobScreenSheet",
    "JobScreenWork",
    "JobShop",
    "JobShopChanged",
    "JobShopShown",
    "JobSignOff",
    "JobSizeOrder",
    "JobSizePrice",
    "JobSizeSheet",
    "JobSizeUnitPrice",
    "JobStackSheet",
    "JobStencilSheet",
    "JobStrokes",
    "JobSupplied",
    "JobWashTest",
    "JobWork",
    "Length",
    "Mass",
    "MassFlux",
    "MassPerArea",
    "MassRate",
    "MeshChooseAnswer",
    "MeshDetailAnswer",
    "MeshGeometryAnswer",
    "MeshMoireAngle",
    "MeshMoireAnswer",
    "MeshMoireBeat",
    "MeshParts",
    "MeshPartsShown",
    "MolarEnergy",
    "MoneyArea",
    "MoneyGiven",
    "MoneyInDoubt",
    "MoneyParts",
    "MoneyPerEnergy",
    "MoneyPerMassVolume",
    "MoneyPerTime",
    "Note",
    "Number",
    "NumberParts",
    "PerMass",
    "PlatenName",
    "Power",
    "Press",
    "PressChanged",
    "PressColour",
    "PressFrameInside",
    "PressFrameInsideShown",
    "PressName",
    "PressOversAnswer",
    "PressRound",
    "PressRunAnswer",
    "PressShown",
    "PressSqueegeeAnswer",
    "PressStationTime",
    "QuantityInDoubt",
    "QuantityParts",
    "RadiantExposure",
    "Real",
    "RegisterBudgetAnswer",
    "RegisterCause",
    "RegisterCauseChanged",
    "RegisterCauseShown",
    "RegisterColourMarks",
    "RegisterColourRegister",
    "RegisterColourWithin",
    "RegisterContribution",
    "RegisterFilmChange",
    "RegisterMark",
    "RegisterMarkOffset",
    "RegisterMarksAnswer",
    "RegisterMethod",
    "RegisterMethodCompared",
    "RegisterMethodShown",
    "RegisterPivot",
    "ShopLearnAnswer",
    "ShopLearnedRow",
    "ShopOutlier",
    "ShopRecord",
    "SolveAnswer",
    "SolveSpec",
    "SpecificHeat",
    "StencilThicknessAnswer",
    "StockBasis",
    "StockListAnswer",
    "StockRow",
    "StockShelf",
    "SweepAnswer",
    "SweepSpec",
    "Temperature",
    "TemperatureDifference",
    "Tension",
    "TensionAssessAnswer",
    "TensionAtBlade",
    "TensionOffContactAnswer",
    "TensionOtherScreen",
    "TensionScreenCompared",
    "TensionScreenReadings",
    "TensionScreenTension",
    "ThermalConductivity",
    "Time",
    "UnitConvertAnswer",
    "Velocity",
    "Volume",
    "WashColourAnswer",
    "WashInkPair",
    "WashLayersAnswer",
    "WashSamplesAnswer",
    "WashVerdictAnswer",
    "Whole",
]


Real = Union[float, Decimal]
Whole = Union[int, SupportsIndex]


class QuantityParts(TypedDict):
    """A quantity by its parts."""

    value: Real
    unit: str


class QuantityInDoubt(QuantityParts):
    """A quantity by its parts, with the half-width of its 95 % interval."""

    plus_minus: Optional[Real]


class NumberParts(TypedDict, total=False):
    """A number by its parts; its unit is 1 or %."""

    value: Real
    unit: Optional[str]
    plus_minus: Optional[Real]


class MoneyParts(TypedDict):
    """Money by its parts: the amount as a decimal, a currency and what it is per."""

    value: Union[str, Real]
    unit: str


class MoneyInDoubt(MoneyParts):
    """Money by its parts, with the half-width of its 95 % interval."""

    plus_minus: Union[str, Real, None]

CauseName = Literal["film-on-platen", "off-contact", "pins", "platen-play", "printed-tape", "shirt-creep"]
ClothName = Literal["blend-jersey-160", "cotton-fleece-280", "cotton-jersey-180", "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150", "triblend-jersey-150"]
DryerName = Literal["air-dryer-2m", "long-air-dryer-4m", "infrared-dryer-1m2"]
FlashName = Literal["panel-flash", "quartz-flash"]
InkName = Literal["discharge", "plastisol", "plastisol-low-bleed-white", "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"]
PlatenName = Literal["aluminium-6mm", "rubber-topped", "wood-core-18mm"]
PressName = Literal["automatic-14", "automatic-8", "manual-4x4"]

# an angle, such as "22.5 deg", or with its 95 % half-width after +/-.
Angle = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# an area, such as "460 cm2", or with its 95 % half-width after +/-.
Area = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# an area per mass, such as "40 m2/kg", or with its 95 % half-width after +/-.
AreaPerMass = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a count per length, such as "77 /cm", or with its 95 % half-width after +/-.
Count = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a density, such as "1.15 g/cm3", or with its 95 % half-width after +/-.
Density = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# an energy, such as "2 kWh", or with its 95 % half-width after +/-.
Energy = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a force, such as "12 N", or with its 95 % half-width after +/-.
Force = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a rate, such as "300 /h", or with its 95 % half-width after +/-.
Frequency = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a heat transfer coefficient, such as "20 W/(m2.K)", or with its 95 % half-width after +/-.
HeatTransfer = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a power per area, such as "15 kW/m2", or with its 95 % half-width after +/-.
Irradiance = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a length, such as "55 um", or with its 95 % half-width after +/-.
Length = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a mass, such as "100 g", or with its 95 % half-width after +/-.
Mass = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a mass per area and time, such as "60 g/(m2.h)", or with its 95 % half-width after +/-.
MassFlux = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a mass per area, such as "180 g/m2", or with its 95 % half-width after +/-.
MassPerArea = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a mass per time, such as "2 g/min", or with its 95 % half-width after +/-.
MassRate = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# an energy per amount of substance, such as "90 kJ/mol", or with its 95 % half-width after +/-.
MolarEnergy = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# money for each or per area, such as 3 EUR or 20 EUR/m2, or with its 95 % half-width after +/-.
MoneyArea = Union[str, Money, MoneyParts, MoneyInDoubt]
# an amount of money, such as 12.50 EUR, or with its 95 % half-width after +/-.
MoneyGiven = Union[str, Money, MoneyParts, MoneyInDoubt]
# money per energy, such as 0.30 EUR/kWh, or with its 95 % half-width after +/-.
MoneyPerEnergy = Union[str, Money, MoneyParts, MoneyInDoubt]
# money per mass or volume, such as 14 EUR/kg, or with its 95 % half-width after +/-.
MoneyPerMassVolume = Union[str, Money, MoneyParts, MoneyInDoubt]
# money per time, such as 28 EUR/h, or with its 95 % half-width after +/-.
MoneyPerTime = Union[str, Money, MoneyParts, MoneyInDoubt]
# a number without a unit, or a share such as "40 %", or with its 95 % half-width after +/-.
Number = Union[Real, str, Quantity, NumberParts]
# a number per mass, such as "400 /kg", or with its 95 % half-width after +/-.
PerMass = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a power, such as "12 kW", or with its 95 % half-width after +/-.
Power = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# an energy per area, such as "150 mJ/cm2", or with its 95 % half-width after +/-.
RadiantExposure = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a specific heat, such as "1340 J/(kg.K)", or with its 95 % half-width after +/-.
SpecificHeat = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# an absolute temperature, such as "160 degC", or with its 95 % half-width after +/-.
Temperature = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a temperature difference, such as "3 K", or with its 95 % half-width after +/-.
TemperatureDifference = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a tension, such as "25 N/cm", or with its 95 % half-width after +/-.
Tension = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a thermal conductivity, such as "0.055 W/(m.K)", or with its 95 % half-width after +/-.
ThermalConductivity = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a time, such as "60 s", or with its 95 % half-width after +/-.
Time = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a speed, such as "12 ft/min", or with its 95 % half-width after +/-.
Velocity = Union[str, Quantity, QuantityParts, QuantityInDoubt]
# a volume, such as "1 l", or with its 95 % half-width after +/-.
Volume = Union[str, Quantity, QuantityParts, QuantityInDoubt]


class _ArtworkCurveAnswerNeeded(TypedDict):
    tones: List[ArtworkFilmTone]
    lightest_fraction: float
    darkest_fraction: float
    growth: Quantity
    points: List[ArtworkCurvePoint8]
    notes: List[Note]
    basis: List[Basis]


class ArtworkCurveAnswer(_ArtworkCurveAnswerNeeded, total=False):
    """What the film must carry.

    tones: The tones that are to be printed, and their film's. A list of ArtworkFilmTone.
    lightest_fraction: Lightest tone that can be printed, above bare cloth.
    darkest_fraction: Darkest tone that can be printed, below solid.
    growth: How far every edge moves out. In um.
    points: The same curve as 16 points of eight bits. Where a program counts 0 as black, take 255 less each.
        A list of ArtworkCurvePoint8.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class ArtworkCurvePoint8(TypedDict):
    """A point of a curve in eight bits: 0 is bare, 255 solid ink. Rounded, so that it is in no doubt.

    input: Level of the tone that is to be printed.
    output: Level of the film's tone.
    """

    input: int
    output: int


class ArtworkFilmTone(TypedDict):
    """A tone, and the film that prints it.

    wanted_fraction: The tone that is to be printed.
    film_fraction: The tone that the film must have.
    printed_fraction: The tone that this film prints: the one wanted, or the nearest that can be had.
    """

    wanted_fraction: float
    film_fraction: float
    printed_fraction: float


class _ArtworkHalftoneNeeded(TypedDict):
    ruling: Count
    angle: Angle


class ArtworkHalftone(_ArtworkHalftoneNeeded, total=False):
    """The dots of a halftone.

    ruling: Rows of dots per length. A count per length in /cm, /mm, /in, /m. Range 0.5 to 200 /cm. Usual 8 to
        32 /cm.
    angle: Direction of the rows, from the picture's width. An angle in deg, rad. Range -360 to 360 deg.
    dots: Number of dots and holes, as artwork.measure counts them. Range 0 to 10000000.
    """

    dots: Optional[Whole]


class _ArtworkHalftoneShownNeeded(TypedDict):
    ruling: Quantity
    angle: Quantity


class ArtworkHalftoneShown(_ArtworkHalftoneShownNeeded, total=False):
    """The dots of a halftone.

    ruling: Rows of dots per length. In /cm, US: /in.
    angle: Direction of the rows, from the picture's width. In deg.
    dots: Number of dots and holes, as artwork.measure counts them.
    """

    dots: int


class _ArtworkMeasureNeeded(TypedDict):
    printed_area: Area
    edge_share_area: Area


class ArtworkMeasure(_ArtworkMeasureNeeded, total=False):
    """What a separation covers, as artwork.measure answers it.

    width: Width of the box around the print. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to
        1e12 mm.
    height: Height of the box around the print. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to
        1e12 mm.
    printed_area: Printed area; grey pixels count by their share of ink. An area in m2, cm2, mm2, in2, ft2.
        Range 1e-12 to 1e12 cm2.
    coverage_fraction: Covered share of the box around the print. A number without a unit, or a share such as
        "40 %". Range 0 to 1.
    edge_length: Length of all edges of the printed area. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2.
        Range 0 to 1e12 mm.
    edge_share_area: Integral of exp(-x / L) over the printed area, x the distance to the nearest edge. An
        area in m2, cm2, mm2, in2, ft2. Range 0 to 1e12 cm2.
    finest_line: Finest printed line; of a halftone its finest dot. A length in um, mm, cm, m, in, ft, yd,
        mil, cm3/m2. Range 0 to 1e12 mm.
    finest_line_at: Where the finest line is in the picture. ArtworkPicturePoint {from_left, from_top}.
    finest_gap: Finest gap between prints. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 1e12
        mm.
    finest_gap_at: Where the finest gap is in the picture. ArtworkPicturePoint {from_left, from_top}.
    halftone: The halftone that this looks like. ArtworkHalftone {ruling, angle, dots?}.
    notes: Taken and not looked at.
    basis: Taken and not looked at.
    """

    width: Optional[Length]
    height: Optional[Length]
    coverage_fraction: Optional[Number]
    edge_length: Optional[Length]
    finest_line: Optional[Length]
    finest_line_at: Optional[ArtworkPicturePoint]
    finest_gap: Optional[Length]
    finest_gap_at: Optional[ArtworkPicturePoint]
    halftone: Optional[ArtworkHalftone]
    notes: Any
    basis: Any


class _ArtworkMeasureAnswerNeeded(TypedDict):
    printed_area: Quantity
    edge_share_area: Quantity
    notes: List[Note]
    basis: List[Basis]


class ArtworkMeasureAnswer(_ArtworkMeasureAnswerNeeded, total=False):
    """What a separation covers, as artwork.measure answers it.

    width: Width of the box around the print. In mm, US: in.
    height: Height of the box around the print. In mm, US: in.
    printed_area: Printed area; grey pixels count by their share of ink. In cm2, US: in2.
    coverage_fraction: Covered share of the box around the print.
    edge_length: Length of all edges of the printed area. In mm, US: in.
    edge_share_area: Integral of exp(-x / L) over the printed area, x the distance to the nearest edge. In
        cm2, US: in2.
    finest_line: Finest printed line; of a halftone its finest dot. In mm, US: in.
    finest_line_at: Where the finest line is in the picture. ArtworkPicturePointShown.
    finest_gap: Finest gap between prints. In mm, US: in.
    finest_gap_at: Where the finest gap is in the picture. ArtworkPicturePointShown.
    halftone: The halftone that this looks like. ArtworkHalftoneShown.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    width: Quantity
    height: Quantity
    coverage_fraction: float
    edge_length: Quantity
    finest_line: Quantity
    finest_line_at: ArtworkPicturePointShown
    finest_gap: Quantity
    finest_gap_at: ArtworkPicturePointShown
    halftone: ArtworkHalftoneShown
    doubt: List[Doubt]


class ArtworkPicturePoint(TypedDict):
    """A point of a picture.

    from_left: Distance from the picture's left side. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2.
        Range 0 to 1e12 mm.
    from_top: Distance from the picture's top. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to
        1e12 mm.
    """

    from_left: Length
    from_top: Length


class ArtworkPicturePointShown(TypedDict):
    """A point of a picture.

    from_left: Distance from the picture's left side. In mm, US: in.
    from_top: Distance from the picture's top. In mm, US: in.
    """

    from_left: Quantity
    from_top: Quantity


class ArtworkPrintedTone(TypedDict):
    """What became of a tone.

    tone_fraction: Tone on the film.
    printed_fraction: Share that is printed.
    gain_fraction: Printed share less the film's.
    fitted_fraction: What the growth makes of the film's tone.
    """

    tone_fraction: float
    printed_fraction: float
    gain_fraction: float
    fitted_fraction: float


class _ArtworkToneAnswerNeeded(TypedDict):
    readings: List[ArtworkPrintedTone]
    growth: Quantity
    rms_fraction: float
    notes: List[Note]
    basis: List[Basis]


class ArtworkToneAnswer(_ArtworkToneAnswerNeeded, total=False):
    """How much the dots grew.

    readings: The patches, as they were sent. A list of ArtworkPrintedTone.
    growth: How far every edge moved out; negative where it moved in. In um.
    growth_error: Standard error of the growth, from two patches on. In um.
    rms_fraction: Root mean square of what the growth misses the printed shares by.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    growth_error: Quantity
    doubt: List[Doubt]


class _ArtworkToneReadingNeeded(TypedDict):
    tone_fraction: Number


class ArtworkToneReading(_ArtworkToneReadingNeeded, total=False):
    """A printed patch of an even tone.

    tone_fraction: Tone on the film. A number without a unit, or a share such as "40 %". Range 0 to 1.
    density: Reflection density of the printed patch; or give the printed share. A number without a unit, or a
        share such as "40 %". Range -1 to 6. Usual -0.1 to 2.5.
    printed_fraction: Share that is printed, as a microscope or a meter of tones shows it; or give the
        density. A number without a unit, or a share such as "40 %". Range 0 to 1.
    """

    density: Optional[Number]
    printed_fraction: Optional[Number]


_BasisNeededWords = TypedDict("_BasisNeededWords", {"for": "str"})


class Basis(_BasisNeededWords):
    """Where a built-in number came from.

    for: The number that was used.
    kind: How far it can be trusted: a value from memory says so. One of standard, published, physics,
        common_practice, memory, user.
    source: Where it came from.
    """

    kind: Literal["standard", "published", "physics", "common_practice", "memory", "user"]
    source: str


_ClothMoreWords = TypedDict("_ClothMoreWords", {"from": "None"}, total=False)


class _ClothNeeded(TypedDict):
    mass_per_area: MassPerArea
    thickness: Length
    conductivity: ThermalConductivity
    specific_heat: SpecificHeat
    regain_fraction: Number
    never_above: Temperature
    shade: Literal["light", "dark"]


class Cloth(_ClothMoreWords, _ClothNeeded, total=False):
    """A cloth.

    mass_per_area: Mass per area of the cloth. A mass per area in g/m2, kg/m2, oz/yd2. Range 1 to 5000 g/m2.
        Usual 60 to 500 g/m2.
    thickness: Thickness of the cloth under no load. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        0.01 to 50 mm. Usual 0.1 to 5 mm.
    conductivity: Thermal conductivity of the cloth. A thermal conductivity in W/(m.K). Range 0.0001 to 5000
        W/(m.K). Usual 0.02 to 450 W/(m.K).
    specific_heat: Heat per mass and kelvin, dry. A specific heat in J/(kg.K), kJ/(kg.K). Range 10 to 20000
        J/(kg.K). Usual 100 to 5000 J/(kg.K).
    regain_fraction: Water bound in the fibre, over its dry mass. A number without a unit, or a share such as
        "40 %". Range 0 to 1. Usual 0 to 0.2.
    never_above: Temperature above which the cloth scorches, melts or shrinks. An absolute temperature in
        degC, degF, K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    caution_above: Temperature above which the dye of the cloth starts to move. An absolute temperature in
        degC, degF, K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    dye: Dye that heat moves into the print; it takes the place of the temperature alone. ClothDye
        {temperature, activation_energy?}.
    scorch: Heat that scorches the cloth, as a dose. ClothScorch {temperature, hold, activation_energy}.
    shade: Whether a print needs a base under it. One of "light", "dark".
    lightness: Lightness L* of the cloth. A number without a unit, or a share such as "40 %". Range 0 to 100.
        Default as its shade.
    fibres: What the cloth is spun of. ClothFibres {cotton_fraction?, polyester_fraction?, nylon_fraction?,
        other_fraction?}.
    dischargeable: Whether a discharge agent takes the dye out.
    coated: Whether the cloth is coated, so that ink finds no fibre.
    surface_take: Ink that sinks into the surface before a film lies on it, as a volume per area. A length in
        um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 1000 cm3/m2. Usual 0 to 100 cm3/m2.
    from: No stock item: all stands here.
    """

    caution_above: Optional[Temperature]
    dye: Optional[ClothDye]
    scorch: Optional[ClothScorch]
    lightness: Optional[Number]
    fibres: Optional[ClothFibres]
    dischargeable: Optional[bool]
    coated: Optional[bool]
    surface_take: Optional[Length]


_ClothChangedNeededWords = TypedDict("_ClothChangedNeededWords", {"from": "ClothName"})


class ClothChanged(_ClothChangedNeededWords, total=False):
    """A cloth.

    mass_per_area: Mass per area of the cloth. A mass per area in g/m2, kg/m2, oz/yd2. Range 1 to 5000 g/m2.
        Usual 60 to 500 g/m2.
    thickness: Thickness of the cloth under no load. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        0.01 to 50 mm. Usual 0.1 to 5 mm.
    conductivity: Thermal conductivity of the cloth. A thermal conductivity in W/(m.K). Range 0.0001 to 5000
        W/(m.K). Usual 0.02 to 450 W/(m.K).
    specific_heat: Heat per mass and kelvin, dry. A specific heat in J/(kg.K), kJ/(kg.K). Range 10 to 20000
        J/(kg.K). Usual 100 to 5000 J/(kg.K).
    regain_fraction: Water bound in the fibre, over its dry mass. A number without a unit, or a share such as
        "40 %". Range 0 to 1. Usual 0 to 0.2.
    never_above: Temperature above which the cloth scorches, melts or shrinks. An absolute temperature in
        degC, degF, K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    caution_above: Temperature above which the dye of the cloth starts to move. An absolute temperature in
        degC, degF, K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    dye: Dye that heat moves into the print; it takes the place of the temperature alone. ClothDye
        {temperature, activation_energy?}.
    scorch: Heat that scorches the cloth, as a dose. ClothScorch {temperature, hold, activation_energy}.
    shade: Whether a print needs a base under it. One of "light", "dark".
    lightness: Lightness L* of the cloth. A number without a unit, or a share such as "40 %". Range 0 to 100.
        Default as its shade.
    fibres: What the cloth is spun of. ClothFibres {cotton_fraction?, polyester_fraction?, nylon_fraction?,
        other_fraction?}.
    dischargeable: Whether a discharge agent takes the dye out.
    coated: Whether the cloth is coated, so that ink finds no fibre.
    surface_take: Ink that sinks into the surface before a film lies on it, as a volume per area. A length in
        um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 1000 cm3/m2. Usual 0 to 100 cm3/m2.
    from: The stock item to start from. One of "blend-jersey-160", "cotton-fleece-280", "cotton-jersey-180",
        "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150", "triblend-jersey-150".
    """

    mass_per_area: Optional[MassPerArea]
    thickness: Optional[Length]
    conductivity: Optional[ThermalConductivity]
    specific_heat: Optional[SpecificHeat]
    regain_fraction: Optional[Number]
    never_above: Optional[Temperature]
    caution_above: Optional[Temperature]
    dye: Optional[ClothDye]
    scorch: Optional[ClothScorch]
    shade: Optional[Literal["light", "dark"]]
    lightness: Optional[Number]
    fibres: Optional[ClothFibres]
    dischargeable: Optional[bool]
    coated: Optional[bool]
    surface_take: Optional[Length]


class _ClothDyeNeeded(TypedDict):
    temperature: Temperature


class ClothDye(_ClothDyeNeeded, total=False):
    """The dye of a cloth.

    temperature: Temperature above which the dye moves into the print. An absolute temperature in degC, degF,
        K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    activation_energy: Activation energy of its migration, where it is known. An energy per amount of
        substance in kJ/mol, J/mol. Range 1 to 1000 kJ/mol. Usual 30 to 300 kJ/mol.
    """

    activation_energy: Optional[MolarEnergy]


class ClothFibres(TypedDict, total=False):
    """What a cloth is spun of, by mass; the shares add up to 1.

    cotton_fraction: Share of cotton. A number without a unit, or a share such as "40 %". Range 0 to 1.
    polyester_fraction: Share of polyester. A number without a unit, or a share such as "40 %". Range 0 to 1.
    nylon_fraction: Share of nylon. A number without a unit, or a share such as "40 %". Range 0 to 1.
    other_fraction: Share of anything else. A number without a unit, or a share such as "40 %". Range 0 to 1.
    """

    cotton_fraction: Optional[Number]
    polyester_fraction: Optional[Number]
    nylon_fraction: Optional[Number]
    other_fraction: Optional[Number]


class ClothScorch(TypedDict):
    """What scorches a cloth: as much heat as a hold at a temperature, by its activation energy.

    temperature: Temperature of the hold. An absolute temperature in degC, degF, K. Range -40 to 1500 degC.
        Usual 0 to 700 degC.
    hold: How long the cloth bears that temperature. A time in s, ms, us, min, h, d. Range 0 to 86400 s. Usual
        0 to 900 s.
    activation_energy: Activation energy of the scorching. An energy per amount of substance in kJ/mol, J/mol.
        Range 1 to 1000 kJ/mol. Usual 30 to 300 kJ/mol.
    """

    temperature: Temperature
    hold: Time
    activation_energy: MolarEnergy


class _CureAssessAnswerNeeded(TypedDict):
    peak: Quantity
    time_above: Quantity
    equivalent_hold: Quantity
    cured_fraction: float
    verdict: Literal["under", "cured", "over", "not_proven"]
    notes: List[Note]
    basis: List[Basis]


class CureAssessAnswer(_CureAssessAnswerNeeded, total=False):
    """How far it cured.

    peak: The hottest reading. In degC, US: degF.
    time_above: Time that the log is at or above the cure temperature. In s.
    equivalent_hold: The hold at the cure temperature that the log is worth. In s.
    cured_fraction: The equivalent hold over the hold that the ink needs, at most 1.
    verdict: What the log says about the cure. One of under, cured, over, not_proven.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _CureEquivalentAnswerNeeded(TypedDict):
    activation_energy: Quantity
    notes: List[Note]
    basis: List[Basis]


class CureEquivalentAnswer(_CureEquivalentAnswerNeeded, total=False):
    """The same cure elsewhere.

    hold: The hold at the temperature asked for. In s.
    temperature: The temperature for the hold asked for. In degC, US: degF.
    activation_energy: The activation energy that was used. In kJ/mol.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    hold: Quantity
    temperature: Quantity
    doubt: List[Doubt]


class CureHeld(TypedDict):
    """A cure: so hot for so long.

    temperature: The temperature of the film. An absolute temperature in degC, degF, K. Range -40 to 1500
        degC. Usual 0 to 700 degC.
    hold: How long the film is held at that temperature. A time in s, ms, us, min, h, d. Range 0.001 to 86400
        s. Usual 1 to 900 s.
    """

    temperature: Temperature
    hold: Time


class CureHeldTo(TypedDict, total=False):
    """The other cure, by one of its two sides.

    temperature: The other temperature; or give the hold. An absolute temperature in degC, degF, K. Range -40
        to 1500 degC. Usual 0 to 700 degC.
    hold: The other hold; or give the temperature. A time in s, ms, us, min, h, d. Range 0.001 to 86400 s.
        Usual 1 to 900 s.
    """

    temperature: Optional[Temperature]
    hold: Optional[Time]


class CureLogReading(TypedDict):
    """One reading of a log.

    time: When it was read, on the logger's clock. A time in s, ms, us, min, h, d. Range 0 to 604800 s.
    temperature: What the probe read. An absolute temperature in degC, degF, K. Range -40 to 1500 degC.
    """

    time: Time
    temperature: Temperature


class _DoubtNeeded(TypedDict):
    at: str
    plus_minus: float
    contributor: str
    share_fraction: float


class Doubt(_DoubtNeeded, total=False):
    """How far a number of the answer may be off.

    at: JSON pointer into the answer.
    plus_minus: Half-width of the 95 % interval.
    unit: The unit of these numbers, that of the value; none of a plain number.
    least: Low end of the shortest 95 % interval of draws.
    most: High end of it.
    contributor: JSON pointer to the field of the request that contributes most.
    share_fraction: Its share of the variance.
    """

    unit: str
    least: float
    most: float


_DryerMoreWords = TypedDict("_DryerMoreWords", {"from": "None"}, total=False)


class Dryer(_DryerMoreWords, total=False):
    """A belt dryer: by its zones, or by what a shop knows of it.

    zones: The zones, in the order in which a shirt meets them; or give kind and heated length. A list, of
        each: DryerZone {length, air, transfer_top, transfer_bottom, panel?, exchange_fraction?,
        humidity_ratio?}.
    kind: How it heats; its heat transfer is then that of the stock's dryer of that kind. One of "air",
        "infrared", "gas_jet".
    heated_length: Length under heat; of a stock dryer, what its zones are stretched to. A length in um, mm,
        cm, m, in, ft, yd, mil, cm3/m2. Range 0.01 to 100 m. Usual 0.3 to 15 m.
    air: Temperature of the air in every zone. An absolute temperature in degC, degF, K. Range -40 to 1500
        degC. Usual 0 to 700 degC.
    panel: Temperature of the panel over every zone. An absolute temperature in degC, degF, K. Range -40 to
        1500 degC. Usual 0 to 700 degC.
    belt_width: Width of the belt. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.05 to 10 m.
        Usual 0.3 to 2.5 m. Default room for one lane.
    piece_length: Length of belt that a piece takes, its gap included. A length in um, mm, cm, m, in, ft, yd,
        mil, cm3/m2. Range 0.01 to 10 m. Usual 0.2 to 1.5 m. Default 0.75 m. (memory: a shirt takes 0.75 m of
        the belt)
    lane_width: Width of belt that a piece takes. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        0.01 to 10 m. Usual 0.2 to 1.5 m. Default 0.6 m. (memory: a shirt takes 0.6 m of the belt's width)
    belt_least: Slowest belt speed. A speed in m/min, m/s, cm/s, mm/s, ft/min, in/s. Range 0.001 to 1000
        m/min. Usual 0.1 to 15 m/min. Default 0.3 m/min. (memory: about 1 ft/min)
    belt_most: Fastest belt speed. A speed in m/min, m/s, cm/s, mm/s, ft/min, in/s. Range 0.001 to 1000 m/min.
        Usual 0.1 to 15 m/min. Default 6 m/min. (memory: about 20 ft/min)
    fitted: Whether the dryer's numbers were fitted to a probe. Default no.
    from: No stock item: all stands here.
    """

    zones: Optional[Sequence[DryerZone]]
    kind: Optional[Literal["air", "infrared", "gas_jet"]]
    heated_length: Optional[Length]
    air: Optional[Temperature]
    panel: Optional[Temperature]
    belt_width: Optional[Length]
    piece_length: Optional[Length]
    lane_width: Optional[Length]
    belt_least: Optional[Velocity]
    belt_most: Optional[Velocity]
    fitted: Optional[bool]


_DryerChangedNeededWords = TypedDict("_DryerChangedNeededWords", {"from": "DryerName"})


class DryerChanged(_DryerChangedNeededWords, total=False):
    """A belt dryer: by its zones, or by what a shop knows of it.

    zones: The zones, in the order in which a shirt meets them; or give kind and heated length. A list, of
        each: DryerZone {length, air, transfer_top, transfer_bottom, panel?, exchange_fraction?,
        humidity_ratio?}.
    kind: How it heats; its heat transfer is then that of the stock's dryer of that kind. One of "air",
        "infrared", "gas_jet".
    heated_length: Length under heat; of a stock dryer, what its zones are stretched to. A length in um, mm,
        cm, m, in, ft, yd, mil, cm3/m2. Range 0.01 to 100 m. Usual 0.3 to 15 m.
    air: Temperature of the air in every zone. An absolute temperature in degC, degF, K. Range -40 to 1500
        degC. Usual 0 to 700 degC.
    panel: Temperature of the panel over every zone. An absolute temperature in degC, degF, K. Range -40 to
        1500 degC. Usual 0 to 700 degC.
    belt_width: Width of the belt. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.05 to 10 m.
        Usual 0.3 to 2.5 m. Default room for one lane.
    piece_length: Length of belt that a piece takes, its gap included. A length in um, mm, cm, m, in, ft, yd,
        mil, cm3/m2. Range 0.01 to 10 m. Usual 0.2 to 1.5 m. Default 0.75 m. (memory: a shirt takes 0.75 m of
        the belt)
    lane_width: Width of belt that a piece takes. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        0.01 to 10 m. Usual 0.2 to 1.5 m. Default 0.6 m. (memory: a shirt takes 0.6 m of the belt's width)
    belt_least: Slowest belt speed. A speed in m/min, m/s, cm/s, mm/s, ft/min, in/s. Range 0.001 to 1000
        m/min. Usual 0.1 to 15 m/min. Default 0.3 m/min. (memory: about 1 ft/min)
    belt_most: Fastest belt speed. A speed in m/min, m/s, cm/s, mm/s, ft/min, in/s. Range 0.001 to 1000 m/min.
        Usual 0.1 to 15 m/min. Default 6 m/min. (memory: about 20 ft/min)
    fitted: Whether the dryer's numbers were fitted to a probe. Default no.
    from: The stock item to start from. One of "air-dryer-2m", "long-air-dryer-4m", "infrared-dryer-1m2".
    """

    zones: Optional[Sequence[DryerZone]]
    kind: Optional[Literal["air", "infrared", "gas_jet"]]
    heated_length: Optional[Length]
    air: Optional[Temperature]
    panel: Optional[Temperature]
    belt_width: Optional[Length]
    piece_length: Optional[Length]
    lane_width: Optional[Length]
    belt_least: Optional[Velocity]
    belt_most: Optional[Velocity]
    fitted: Optional[bool]


class _DryerDwellAnswerNeeded(TypedDict):
    dwell: Quantity
    belt_speed: Quantity
    notes: List[Note]
    basis: List[Basis]


class DryerDwellAnswer(_DryerDwellAnswerNeeded, total=False):
    """Dwell, speed and throughput of a belt.

    dwell: Time under heat. In s.
    belt_speed: Belt speed. In m/min, US: ft/min.
    pieces_per_hour: Throughput, where the piece is known.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    pieces_per_hour: float
    doubt: List[Doubt]


class _DryerFitAnswerNeeded(TypedDict):
    transfer_factor: float
    panel_factor: float
    rms: Quantity
    distinguishable: bool
    dryer: DryerShown
    notes: List[Note]
    basis: List[Basis]


class DryerFitAnswer(_DryerFitAnswerNeeded, total=False):
    """The fit.

    transfer_factor: New transfer coefficients over old.
    transfer_factor_error: Standard error of the factor on the transfer coefficients, where there are readings
        to spare.
    panel_factor: New panel exchange over old; 1 without a panel.
    panel_factor_error: Standard error of the factor on the panel exchange, where there is a panel and
        readings to spare.
    rms: Root mean square of what the readings are off. In K, US: delta_degF.
    distinguishable: Whether the readings can tell air from panel.
    dryer: The dryer with its new numbers. DryerShown.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    transfer_factor_error: float
    panel_factor_error: float
    doubt: List[Doubt]


class DryerLimits(TypedDict):
    """What ends the window on each side.

    fastest: What ends the window at the fastest belt. One of cure, ink_never_above, cloth_never_above,
        cloth_scorch, belt.
    slowest: What ends the window at the slowest belt. One of cure, ink_never_above, cloth_never_above,
        cloth_scorch, belt.
    """

    fastest: Literal["cure", "ink_never_above", "cloth_never_above", "cloth_scorch", "belt"]
    slowest: Literal["cure", "ink_never_above", "cloth_never_above", "cloth_scorch", "belt"]


class DryerProbeReading(TypedDict):
    """One reading of a probe.

    at: Where the probe was, from the entry, or when, after the entry. A length, such as "55 um"; or a time,
        such as "60 s".
    temperature: What the probe in the ink showed. An absolute temperature in degC, degF, K. Range -40 to 1500
        degC. Usual 0 to 700 degC.
    """

    at: Union[Length, Time]
    temperature: Temperature


class DryerProbeRun(TypedDict):
    """One pass of a probe through the dryer.

    belt_speed: Belt speed of the pass. A speed in m/min, m/s, cm/s, mm/s, ft/min, in/s. Range 0.001 to 1000
        m/min. Usual 0.1 to 15 m/min.
    readings: The readings, in any order. A list, of each: DryerProbeReading {at, temperature}.
    """

    belt_speed: Velocity
    readings: Sequence[DryerProbeReading]


class DryerRange(TypedDict):
    """A range of belt speeds.

    slowest: Slowest belt of the range. In m/min, US: ft/min.
    fastest: Fastest belt of the range. In m/min, US: ft/min.
    """

    slowest: Quantity
    fastest: Quantity


class _DryerShownNeeded(TypedDict):
    piece_length: Quantity
    lane_width: Quantity
    belt_least: Quantity
    belt_most: Quantity


class DryerShown(_DryerShownNeeded, total=False):
    """A belt dryer: by its zones, or by what a shop knows of it.

    zones: The zones, in the order in which a shirt meets them; or give kind and heated length. A list of
        DryerZoneShown.
    kind: How it heats; its heat transfer is then that of the stock's dryer of that kind. One of air,
        infrared, gas_jet.
    heated_length: Length under heat; of a stock dryer, what its zones are stretched to. In m, US: ft.
    air: Temperature of the air in every zone. In degC, US: degF.
    panel: Temperature of the panel over every zone. In degC, US: degF.
    belt_width: Width of the belt. In m, US: ft.
    piece_length: Length of belt that a piece takes, its gap included. In m, US: ft.
    lane_width: Width of belt that a piece takes. In m, US: ft.
    belt_least: Slowest belt speed. In m/min, US: ft/min.
    belt_most: Fastest belt speed. In m/min, US: ft/min.
    fitted: Whether the dryer's numbers were fitted to a probe.
    """

    zones: List[DryerZoneShown]
    kind: Literal["air", "infrared", "gas_jet"]
    heated_length: Quantity
    air: Quantity
    panel: Quantity
    belt_width: Quantity
    fitted: bool


class _DryerWindowAnswerNeeded(TypedDict):
    fastest: Quantity
    slowest: Quantity
    recommended: Quantity
    dwell: Quantity
    limits: DryerLimits
    ranges: List[DryerRange]
    profile: FlashProfile
    pieces_per_hour: float
    evaluations: int
    notes: List[Note]
    basis: List[Basis]


class DryerWindowAnswer(_DryerWindowAnswerNeeded, total=False):
    """The window of the belt.

    fastest: Fastest belt that cures. In m/min, US: ft/min.
    slowest: Slowest belt that does not scorch. In m/min, US: ft/min.
    recommended: Belt speed to start with. In m/min, US: ft/min.
    dwell: Time under heat at the recommended speed. In s.
    limits: What ends the window on each side. DryerLimits.
    ranges: Every range of speeds that is allowed, where there are several; the widest is the window. A list
        of DryerRange.
    profile: Temperatures at the recommended speed. FlashProfile.
    dye_time: How long the hottest cloth is warm enough for its dye to move, at the recommended speed; with an
        activation energy, what all its heat is worth at that temperature. For a cloth that says from where
        its dye moves. In s.
    scorch_fraction: Share of the heat that scorches the cloth, at the recommended speed, for a cloth that
        says what does.
    pieces_per_hour: Pieces an hour at the recommended speed, in as many lanes as the belt has room for.
    evaluations: Trips through the dryer that were worked out.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    dye_time: Quantity
    scorch_fraction: float
    doubt: List[Doubt]


class _DryerZoneNeeded(TypedDict):
    length: Length
    air: Temperature
    transfer_top: HeatTransfer
    transfer_bottom: HeatTransfer


class DryerZone(_DryerZoneNeeded, total=False):
    """A heated zone of the tunnel.

    length: Length of the zone along the belt. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.01
        to 100 m. Usual 0.3 to 15 m.
    air: Temperature of the air. An absolute temperature in degC, degF, K. Range -40 to 1500 degC. Usual 0 to
        700 degC.
    transfer_top: Convection coefficient on the print's side. A heat transfer coefficient in W/(m2.K). Range 0
        to 1000000 W/(m2.K). Usual 0 to 500 W/(m2.K).
    transfer_bottom: Convection coefficient under the shirt. A heat transfer coefficient in W/(m2.K). Range 0
        to 1000000 W/(m2.K). Usual 0 to 500 W/(m2.K).
    panel: Temperature of a radiant panel over the belt. An absolute temperature in degC, degF, K. Range -40
        to 1500 degC. Usual 0 to 700 degC.
    exchange_fraction: Share of black-body exchange between panel and print. A number without a unit, or a
        share such as "40 %". Range 0 to 1.
    humidity_ratio: Mass of water vapour over mass of dry air. A number without a unit, or a share such as "40
        %". Range 0 to 1. Usual 0 to 0.2. Default 0.020, a dryer at work.
    """

    panel: Optional[Temperature]
    exchange_fraction: Optional[Number]
    humidity_ratio: Optional[Number]


class _DryerZoneShownNeeded(TypedDict):
    length: Quantity
    air: Quantity
    transfer_top: Quantity
    transfer_bottom: Quantity


class DryerZoneShown(_DryerZoneShownNeeded, total=False):
    """A heated zone of the tunnel.

    length: Length of the zone along the belt. In m, US: ft.
    air: Temperature of the air. In degC, US: degF.
    transfer_top: Convection coefficient on the print's side. In W/(m2.K).
    transfer_bottom: Convection coefficient under the shirt. In W/(m2.K).
    panel: Temperature of a radiant panel over the belt. In degC, US: degF.
    exchange_fraction: Share of black-body exchange between panel and print.
    humidity_ratio: Mass of water vapour over mass of dry air.
    """

    panel: Quantity
    exchange_fraction: float
    humidity_ratio: float


class _ExposureCurveAnswerNeeded(TypedDict):
    penetration_depth: Quantity
    critical_exposure: Quantity
    r_squared: float
    exposure: Quantity
    brackets: bool
    notes: List[Note]
    basis: List[Basis]


class ExposureCurveAnswer(_ExposureCurveAnswerNeeded, total=False):
    """The working curve and what it asks for.

    penetration_depth: Dp: the depth in which the light falls by a factor e. In um.
    penetration_depth_error: Standard error of the penetration depth, from three strips on. In um.
    critical_exposure: Ec: the exposure at which hardening starts. In mJ/cm2.
    critical_exposure_error: Standard error of the critical exposure, from three strips on. In mJ/cm2.
    r_squared: Share of the scatter in depth that the curve explains.
    exposure: The exposure that hardens the stencil through. In mJ/cm2.
    exposure_low: Lower end of the 95 % interval of the exposure needed, from three strips on. In mJ/cm2.
    exposure_high: Upper end of the 95 % interval of the exposure needed, from three strips on. In mJ/cm2.
    time: Time that the exposure takes in this light. In s.
    brackets: Whether the series has strips on both sides of the stencil's thickness.
    hardened_depth: How deep the exposure it got hardened the stencil, from the print side. In um.
    hardened_fraction: The same as a share of the stencil.
    post_exposure: Exposure through the squeegee side that hardens the rest, where that helps. In mJ/cm2.
    post_time: Time that the post-exposure takes in this light. In s.
    verdict: What to do with the screen. One of through, post_expose, expose_again.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    penetration_depth_error: Quantity
    critical_exposure_error: Quantity
    exposure_low: Quantity
    exposure_high: Quantity
    time: Quantity
    hardened_depth: Quantity
    hardened_fraction: float
    post_exposure: Quantity
    post_time: Quantity
    verdict: Literal["through", "post_expose", "expose_again"]
    doubt: List[Doubt]


class ExposureCurvePoint(TypedDict):
    """One strip of a test.

    exposure: Exposure that the strip got. An energy per area in mJ/cm2, J/m2, kJ/m2. Range 0.0001 to 10000000
        mJ/cm2. Usual 1 to 10000 mJ/cm2.
    depth: Thickness of the stencil that stayed, by gauge. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2.
        Range 0.1 to 10000 um. Usual 10 to 500 um.
    """

    exposure: RadiantExposure
    depth: Length


_ExposureDistanceChangeNeededWords = TypedDict("_ExposureDistanceChangeNeededWords", {"from": "Length"})


class ExposureDistanceChange(_ExposureDistanceChangeNeededWords):
    """A lamp moved.

    from: Distance from lamp to stencil before. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.1
        to 10000 cm. Usual 5 to 300 cm.
    to: Distance from lamp to stencil now. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.1 to
        10000 cm. Usual 5 to 300 cm.
    """

    to: Length


class ExposureFactor(TypedDict):
    """One reason for another time.

    cause: What changed, in words.
    factor: New time over old time, for this reason alone.
    """

    cause: str
    factor: float


_ExposureFactorChangeNeededWords = TypedDict("_ExposureFactorChangeNeededWords", {"from": "Number"})


class ExposureFactorChange(_ExposureFactorChangeNeededWords):
    """A mesh changed for one that wants another time.

    from: Exposure factor of the old mesh against white mesh. A number without a unit, or a share such as "40
        %". Range 0.1 to 20. Usual 0.9 to 4.
    to: Exposure factor of the new mesh against white mesh; 1.5 to 2 for dyed (from memory). A number without
        a unit, or a share such as "40 %". Range 0.1 to 20. Usual 0.9 to 4.
    """

    to: Number


_ExposureIrradianceChangeNeededWords = TypedDict("_ExposureIrradianceChangeNeededWords", {"from": "Irradiance"})


class ExposureIrradianceChange(_ExposureIrradianceChangeNeededWords):
    """A lamp changed, by a light meter.

    from: Light at the stencil before. A power per area in mW/cm2, W/cm2, W/m2, kW/m2, W/in2. Range 1e-6 to
        100000 mW/cm2. Usual 0.01 to 500 mW/cm2.
    to: Light at the stencil now. A power per area in mW/cm2, W/cm2, W/m2, kW/m2, W/in2. Range 1e-6 to 100000
        mW/cm2. Usual 0.01 to 500 mW/cm2.
    """

    to: Irradiance


class _ExposureRescaleAnswerNeeded(TypedDict):
    factor: float
    time: Quantity
    causes: List[ExposureFactor]
    notes: List[Note]
    basis: List[Basis]


class ExposureRescaleAnswer(_ExposureRescaleAnswerNeeded, total=False):
    """The new time and its reasons.

    factor: New time over old time.
    time: The time to expose for now. In s.
    causes: Each reason with its factor. A list of ExposureFactor.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _ExposureSeriesAnswerNeeded(TypedDict):
    times: List[Quantity]
    uncover: List[Quantity]
    notes: List[Note]
    basis: List[Basis]


class ExposureSeriesAnswer(_ExposureSeriesAnswerNeeded, total=False):
    """The exposures of the strips.

    times: What each strip gets in all, ascending.
    uncover: Time to expose between two moves of the mask, which covers one more strip each time; all add up
        to the longest.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


_ExposureStencilChangeNeededWords = TypedDict("_ExposureStencilChangeNeededWords", {"from": "Length"})


class ExposureStencilChange(_ExposureStencilChangeNeededWords):
    """A coating of another thickness.

    from: Coated thickness before. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.1 to 20000 um.
        Usual 5 to 1000 um.
    to: Coated thickness now. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.1 to 20000 um. Usual
        5 to 1000 um.
    penetration_depth: The depth in which the light falls by a factor e: exposure.curve finds it. A length in
        um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.1 to 10000 um. Usual 10 to 500 um.
    """

    to: Length
    penetration_depth: Length


class _ExposureStepAnswerNeeded(TypedDict):
    factor: float
    time: Quantity
    notes: List[Note]
    basis: List[Basis]


class ExposureStepAnswer(_ExposureStepAnswerNeeded, total=False):
    """The corrected exposure.

    factor: New time over old time.
    time: The time to use. In s.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _ExposureUndercutAnswerNeeded(TypedDict):
    spread: Quantity
    spread_through: Quantity
    notes: List[Note]
    basis: List[Basis]


class ExposureUndercutAnswer(_ExposureUndercutAnswerNeeded, total=False):
    """What the light takes.

    spread: How far the light spreads on each side, where it enters the stencil. In um.
    line_left: What is left of the line where the light enters the stencil. In um.
    spread_through: How far the light spreads on each side at the far face of the stencil, were it not bent in
        it: an upper bound. In um.
    line_left_through: What is left of the line at the far face, at least. In um.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    line_left: Quantity
    line_left_through: Quantity
    doubt: List[Doubt]


_FlashMoreWords = TypedDict("_FlashMoreWords", {"from": "None"}, total=False)


class _FlashNeeded(TypedDict):
    customary_dwell: Time


class Flash(_FlashMoreWords, _FlashNeeded, total=False):
    """A flash unit.

    panel: Temperature of a radiant panel. An absolute temperature in degC, degF, K. Range -40 to 1500 degC.
        Usual 0 to 700 degC.
    exchange_fraction: Share of black-body exchange between panel and print. A number without a unit, or a
        share such as "40 %". Range 0 to 1.
    flux: Heat flux that the print takes up from lamps. A power per area in mW/cm2, W/cm2, W/m2, kW/m2, W/in2.
        Range 0 to 1000 kW/m2. Usual 0 to 200 kW/m2.
    air: Temperature of the air over the print. An absolute temperature in degC, degF, K. Range -40 to 1500
        degC. Usual 0 to 700 degC.
    transfer: Convection coefficient over the print. A heat transfer coefficient in W/(m2.K). Range 0 to
        1000000 W/(m2.K). Usual 0 to 500 W/(m2.K).
    customary_dwell: The dwell that shops use. A time in s, ms, us, min, h, d. Range 0.1 to 600 s. Usual 1 to
        30 s.
    customary_least: The shortest dwell that shops use; while the flash is not fitted, none shorter is
        recommended. A time in s, ms, us, min, h, d. Range 0.1 to 600 s. Usual 1 to 30 s. Default none.
    fitted: Whether the flash's numbers were fitted to a probe or a gun. Default no.
    from: No stock item: all stands here.
    """

    panel: Optional[Temperature]
    exchange_fraction: Optional[Number]
    flux: Optional[Irradiance]
    air: Optional[Temperature]
    transfer: Optional[HeatTransfer]
    customary_least: Optional[Time]
    fitted: Optional[bool]


_FlashChangedNeededWords = TypedDict("_FlashChangedNeededWords", {"from": "FlashName"})


class FlashChanged(_FlashChangedNeededWords, total=False):
    """A flash unit.

    panel: Temperature of a radiant panel. An absolute temperature in degC, degF, K. Range -40 to 1500 degC.
        Usual 0 to 700 degC.
    exchange_fraction: Share of black-body exchange between panel and print. A number without a unit, or a
        share such as "40 %". Range 0 to 1.
    flux: Heat flux that the print takes up from lamps. A power per area in mW/cm2, W/cm2, W/m2, kW/m2, W/in2.
        Range 0 to 1000 kW/m2. Usual 0 to 200 kW/m2.
    air: Temperature of the air over the print. An absolute temperature in degC, degF, K. Range -40 to 1500
        degC. Usual 0 to 700 degC.
    transfer: Convection coefficient over the print. A heat transfer coefficient in W/(m2.K). Range 0 to
        1000000 W/(m2.K). Usual 0 to 500 W/(m2.K).
    customary_dwell: The dwell that shops use. A time in s, ms, us, min, h, d. Range 0.1 to 600 s. Usual 1 to
        30 s.
    customary_least: The shortest dwell that shops use; while the flash is not fitted, none shorter is
        recommended. A time in s, ms, us, min, h, d. Range 0.1 to 600 s. Usual 1 to 30 s. Default none.
    fitted: Whether the flash's numbers were fitted to a probe or a gun. Default no.
    from: The stock item to start from. One of "panel-flash", "quartz-flash".
    """

    panel: Optional[Temperature]
    exchange_fraction: Optional[Number]
    flux: Optional[Irradiance]
    air: Optional[Temperature]
    transfer: Optional[HeatTransfer]
    customary_dwell: Optional[Time]
    customary_least: Optional[Time]
    fitted: Optional[bool]


class _FlashDwellAnswerNeeded(TypedDict):
    verdict: Literal["works", "overheats", "never_gels"]
    profile: FlashProfile
    notes: List[Note]
    basis: List[Basis]


class FlashDwellAnswer(_FlashDwellAnswerNeeded, total=False):
    """How long under the flash.

    least: The film's bottom gels, or the film dries, after this. In s.
    most: The film's top or the cloth gets too hot after this. In s.
    recommended: The dwell to set first. In s.
    verdict: What becomes of the print. One of works, overheats, never_gels.
    why: Why there is no least, no most, or nothing between them.
    profile: Temperatures up to the recommended dwell, else up to the least, the most or a minute.
        FlashProfile.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    least: Quantity
    most: Quantity
    recommended: Quantity
    why: str
    doubt: List[Doubt]


class _FlashFitAnswerNeeded(TypedDict):
    transfer_factor: float
    rms: Quantity
    distinguishable: bool
    flash: FlashShown
    notes: List[Note]
    basis: List[Basis]


class FlashFitAnswer(_FlashFitAnswerNeeded, total=False):
    """The fit.

    panel_factor: New panel exchange over old, where there is a panel.
    flux_factor: New lamp flux over old, where there is one.
    heat_factor_error: Standard error of the factor on panel or lamps, where there are readings to spare.
    transfer_factor: New transfer coefficient over old; 1 where there is none or the readings cannot tell it.
    transfer_factor_error: Standard error of the factor on the transfer coefficient, where it was fitted and
        there are readings to spare.
    rms: Root mean square of what the readings are off. In K, US: delta_degF.
    distinguishable: Whether the readings can tell the air from panel or lamps.
    flash: The flash with its new numbers. FlashShown.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    panel_factor: float
    flux_factor: float
    heat_factor_error: float
    transfer_factor_error: float
    doubt: List[Doubt]


_FlashPlatenMoreWords = TypedDict("_FlashPlatenMoreWords", {"from": "None"}, total=False)


class _FlashPlatenNeeded(TypedDict):
    layers: Sequence[HeatLayer]
    underside: HeatAirFace


class FlashPlaten(_FlashPlatenMoreWords, _FlashPlatenNeeded, total=False):
    """What a shirt lies on while it is printed.

    layers: The layers, from the shirt down. A list, of each: HeatLayer {name, thickness, conductivity,
        density, specific_heat, bound_water?}.
    underside: What the platen's lower face meets. HeatAirFace {transfer, air}.
    width: Width of the platen, across the stroke. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        10 to 5000 mm. Usual 80 to 1200 mm.
    length: Length of the platen, along the stroke. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        10 to 5000 mm. Usual 80 to 1200 mm.
    bare_fraction: Share of the platen's top that is under the flash and under no cloth: it sees the flash
        directly. A number without a unit, or a share such as "40 %". Range 0 to 0.9. Usual 0 to 0.5. Default
        0.3. (memory: beyond the collar and beside narrow shirts a fifth to two fifths; with it platens settle
        where shops read them, at 130-160 F)
    from: No stock item: all stands here.
    """

    width: Optional[Length]
    length: Optional[Length]
    bare_fraction: Optional[Number]


_FlashPlatenChangedNeededWords = TypedDict("_FlashPlatenChangedNeededWords", {"from": "PlatenName"})


class FlashPlatenChanged(_FlashPlatenChangedNeededWords, total=False):
    """What a shirt lies on while it is printed.

    layers: The layers, from the shirt down. A list, of each: HeatLayer {name, thickness, conductivity,
        density, specific_heat, bound_water?}.
    underside: What the platen's lower face meets. HeatAirFace {transfer, air}.
    width: Width of the platen, across the stroke. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        10 to 5000 mm. Usual 80 to 1200 mm.
    length: Length of the platen, along the stroke. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        10 to 5000 mm. Usual 80 to 1200 mm.
    bare_fraction: Share of the platen's top that is under the flash and under no cloth: it sees the flash
        directly. A number without a unit, or a share such as "40 %". Range 0 to 0.9. Usual 0 to 0.5. Default
        0.3. (memory: beyond the collar and beside narrow shirts a fifth to two fifths; with it platens settle
        where shops read them, at 130-160 F)
    from: The stock item to start from. One of "aluminium-6mm", "rubber-topped", "wood-core-18mm".
    """

    layers: Optional[Sequence[HeatLayer]]
    underside: Optional[HeatAirFace]
    width: Optional[Length]
    length: Optional[Length]
    bare_fraction: Optional[Number]


class _FlashPlatenShownNeeded(TypedDict):
    layers: List[HeatLayerShown]
    underside: HeatAirFaceShown
    bare_fraction: float


class FlashPlatenShown(_FlashPlatenShownNeeded, total=False):
    """What a shirt lies on while it is printed.

    layers: The layers, from the shirt down. A list of HeatLayerShown.
    underside: What the platen's lower face meets. HeatAirFaceShown.
    width: Width of the platen, across the stroke. In mm, US: in.
    length: Length of the platen, along the stroke. In mm, US: in.
    bare_fraction: Share of the platen's top that is under the flash and under no cloth: it sees the flash
        directly.
    """

    width: Quantity
    length: Quantity


class FlashProfile(TypedDict):
    """Temperatures of a print over time.

    time: The moments, from the start.
    top: Temperature of the film's top at each moment.
    bottom_of_ink: Temperature of the film's bottom, the coldest ink, at each moment.
    cloth: Temperature of the cloth's back at each moment.
    """

    time: List[Quantity]
    top: List[Quantity]
    bottom_of_ink: List[Quantity]
    cloth: List[Quantity]


class FlashReading(TypedDict):
    """One reading of a print under a flash.

    time: When it was read, from the moment the flash came on; after the dwell the print stands in the room. A
        time in s, ms, us, min, h, d. Range 0 to 600 s. Usual 0 to 60 s.
    temperature: What the probe or the gun showed. An absolute temperature in degC, degF, K. Range -40 to 1500
        degC. Usual 0 to 700 degC.
    measured: Where the temperature was measured. One of "in_ink", "surface".
    """

    time: Time
    temperature: Temperature
    measured: Literal["in_ink", "surface"]


class _FlashRotationNeeded(TypedDict):
    rotation: int
    platen_start: Quantity
    top_if_unchanged: Quantity


class FlashRotation(_FlashRotationNeeded, total=False):
    """One turn of the carousel: a platen from one load to the next.

    rotation: Number of the turn, counted from 1.
    platen_start: Temperature of the platen's top when the shirt goes on. In degC, US: degF.
    least: The film gels under the first flash after this, on a platen that comes to it in the cycle of the
        last turn's dwell. In s.
    most: Something gets too hot after this; of several flashes in a turn, under any, each kept for as long.
        In s.
    recommended: The dwell in force. In s.
    top_if_unchanged: What the film's top would reach under the flashes of the turn, had the first shirt's
        dwell been kept all along. In degC, US: degF.
    """

    least: Quantity
    most: Quantity
    recommended: Quantity


class _FlashRunAnswerNeeded(TypedDict):
    rotations: List[FlashRotation]
    settles_at: Quantity
    evaluations: int
    notes: List[Note]
    basis: List[Basis]


class FlashRunAnswer(_FlashRunAnswerNeeded, total=False):
    """The flash over a run.

    rotations: The turns of the carousel, one by one. A list of FlashRotation.
    settles_at: Where the platens' temperature settles when a shirt goes on. In degC, US: degF.
    overheats_at: The first turn in which the first shirt's dwell, kept, overheats film or cloth under one of
        its flashes, by more than the 0.1 K that a temperature may be off.
    evaluations: Marches through the solver.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    overheats_at: int
    doubt: List[Doubt]


class _FlashShownNeeded(TypedDict):
    customary_dwell: Quantity


class FlashShown(_FlashShownNeeded, total=False):
    """A flash unit.

    panel: Temperature of a radiant panel. In degC, US: degF.
    exchange_fraction: Share of black-body exchange between panel and print.
    flux: Heat flux that the print takes up from lamps. In mW/cm2.
    air: Temperature of the air over the print. In degC, US: degF.
    transfer: Convection coefficient over the print. In W/(m2.K).
    customary_dwell: The dwell that shops use. In s.
    customary_least: The shortest dwell that shops use; while the flash is not fitted, none shorter is
        recommended. In s.
    fitted: Whether the flash's numbers were fitted to a probe or a gun.
    """

    panel: Quantity
    exchange_fraction: float
    flux: Quantity
    air: Quantity
    transfer: Quantity
    customary_least: Quantity
    fitted: bool


class _FlashTrialNeeded(TypedDict):
    dwell: Time
    readings: Sequence[FlashReading]


class FlashTrial(_FlashTrialNeeded, total=False):
    """One flash of a fresh print.

    dwell: How long the flash was on. A time in s, ms, us, min, h, d. Range 0.1 to 600 s. Usual 1 to 30 s.
    platen_start: Temperature of the platen before the flash. An absolute temperature in degC, degF, K. Range
        -40 to 1500 degC. Usual 0 to 700 degC. Default 25 degC. (common practice: room temperature)
    readings: The readings, in any order. A list, of each: FlashReading {time, temperature, measured}.
    """

    platen_start: Optional[Temperature]


class HeatAirFace(TypedDict):
    """A face in air.

    transfer: Convection coefficient of the face. A heat transfer coefficient in W/(m2.K). Range 0 to 1000000
        W/(m2.K). Usual 0 to 500 W/(m2.K).
    air: Temperature of the air. An absolute temperature in degC, degF, K. Range -40 to 1500 degC. Usual 0 to
        700 degC.
    """

    transfer: HeatTransfer
    air: Temperature


class HeatAirFaceShown(TypedDict):
    """A face in air.

    transfer: Convection coefficient of the face. In W/(m2.K).
    air: Temperature of the air. In degC, US: degF.
    """

    transfer: Quantity
    air: Quantity


class HeatEnergyBalance(TypedDict):
    """Where the heat went, per area.

    in_top: Heat in through the top face. In mJ/cm2.
    in_bottom: Heat in through the bottom face. In mJ/cm2.
    stored: Heat stored above the start. In mJ/cm2.
    evaporated: Heat gone with water, free and bound. In mJ/cm2.
    latent: Latent heat of the film's water alone. In mJ/cm2.
    imbalance_fraction: What does not add up, as a share of the heat that crossed the faces.
    """

    in_top: Quantity
    in_bottom: Quantity
    stored: Quantity
    evaporated: Quantity
    latent: Quantity
    imbalance_fraction: float


class HeatFaceRequest(TypedDict, total=False):
    """What one face meets; nothing at all is an insulated face.

    air: Temperature of the air; goes with transfer. An absolute temperature in degC, degF, K. Range -40 to
        1500 degC. Usual 0 to 700 degC.
    transfer: Convection coefficient; goes with air. A heat transfer coefficient in W/(m2.K). Range 0 to
        1000000 W/(m2.K). Usual 0 to 500 W/(m2.K).
    humidity_ratio: Mass of water vapour over mass of dry air. A number without a unit, or a share such as "40
        %". Range 0 to 1. Usual 0 to 0.2. Default 0.010, a room.
    panel: Temperature of a radiant panel; goes with exchange_fraction. An absolute temperature in degC, degF,
        K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    exchange_fraction: Share of black-body exchange with the panel; goes with panel. A number without a unit,
        or a share such as "40 %". Range 0 to 1.
    flux: Heat flux into the face. A power per area in mW/cm2, W/cm2, W/m2, kW/m2, W/in2. Range -100000 to
        100000 kW/m2. Usual -200 to 200 kW/m2.
    temperature: The face is held at this temperature; goes with nothing else. An absolute temperature in
        degC, degF, K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    """

    air: Optional[Temperature]
    transfer: Optional[HeatTransfer]
    humidity_ratio: Optional[Number]
    panel: Optional[Temperature]
    exchange_fraction: Optional[Number]
    flux: Optional[Irradiance]
    temperature: Optional[Temperature]


class _HeatLayerNeeded(TypedDict):
    name: str
    thickness: Length
    conductivity: ThermalConductivity
    density: Density
    specific_heat: SpecificHeat


class HeatLayer(_HeatLayerNeeded, total=False):
    """A layer of one material.

    name: What the layer is made of.
    thickness: How thick it is. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.1 to 10000000 um.
        Usual 1 to 100000 um.
    conductivity: How well it conducts heat. A thermal conductivity in W/(m.K). Range 0.0001 to 5000 W/(m.K).
        Usual 0.02 to 450 W/(m.K).
    density: Mass per volume of the layer. A density in g/cm3, kg/m3, kg/l, lb/gal. Range 0.1 to 30000 kg/m3.
        Usual 0.5 to 12000 kg/m3.
    specific_heat: Heat per mass and kelvin. A specific heat in J/(kg.K), kJ/(kg.K). Range 10 to 20000
        J/(kg.K). Usual 100 to 5000 J/(kg.K).
    bound_water: Water bound in the fibre, spread evenly; it leaves between 60 and 120 degC and does not come
        back. A mass per area in g/m2, kg/m2, oz/yd2. Range 0 to 100000 g/m2. Usual 0 to 100 g/m2.
    """

    bound_water: Optional[MassPerArea]


class _HeatLayerShownNeeded(TypedDict):
    name: str
    thickness: Quantity
    conductivity: Quantity
    density: Quantity
    specific_heat: Quantity


class HeatLayerShown(_HeatLayerShownNeeded, total=False):
    """A layer of one material.

    name: What the layer is made of.
    thickness: How thick it is. In mm, US: in.
    conductivity: How well it conducts heat. In W/(m.K).
    density: Mass per volume of the layer. In g/cm3, US: lb/gal.
    specific_heat: Heat per mass and kelvin. In J/(kg.K).
    bound_water: Water bound in the fibre, spread evenly; it leaves between 60 and 120 degC and does not come
        back. In g/m2, US: oz/yd2.
    """

    bound_water: Quantity


class _HeatLayersAnswerNeeded(TypedDict):
    times: List[Quantity]
    top: List[Quantity]
    interfaces: List[List[Quantity]]
    bottom: List[Quantity]
    film_water: List[Quantity]
    energy: HeatEnergyBalance
    notes: List[Note]
    basis: List[Basis]


class HeatLayersAnswer(_HeatLayersAnswerNeeded, total=False):
    """Temperatures of the stack.

    times: Moments that were asked for.
    top: Temperature of the top face at each moment.
    interfaces: Temperature of the joints, top to bottom, each at each moment.
    bottom: Temperature of the bottom face at each moment.
    film_water: Water left in the film at each moment.
    energy: Where the heat went, over all stages. HeatEnergyBalance.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class HeatStageRequest(TypedDict):
    """What both faces meet for a while.

    duration: How long the stage lasts. A time in s, ms, us, min, h, d. Range 1e-9 to 10000000 s.
    top: What the top face meets. HeatFaceRequest {air?, transfer?, humidity_ratio?, panel?,
        exchange_fraction?, flux?, temperature?}.
    bottom: What the bottom face meets. HeatFaceRequest {air?, transfer?, humidity_ratio?, panel?,
        exchange_fraction?, flux?, temperature?}.
    """

    duration: Time
    top: HeatFaceRequest
    bottom: HeatFaceRequest


_InkMoreWords = TypedDict("_InkMoreWords", {"from": "None"}, total=False)


class _InkNeeded(TypedDict):
    density: Density
    water_fraction: Number
    solids_by_volume_fraction: Number
    release_fraction: Number
    flood_strokes: Whole
    print_strokes: Whole
    stroke_gain_fraction: Number
    gel: Union[Literal["dry"], Temperature]
    cure: InkCure
    never_above: Temperature
    flash_never_above: Temperature
    customary_dwell: Time


class Ink(_InkMoreWords, _InkNeeded, total=False):
    """An ink.

    density: Mass per volume, wet. A density in g/cm3, kg/m3, kg/l, lb/gal. Range 0.1 to 25 g/cm3. Usual 0.9
        to 2.5 g/cm3.
    water_fraction: Share of water, by mass. A number without a unit, or a share such as "40 %". Range 0 to
        0.99.
    solids_by_volume_fraction: Share that stays when the ink is dry, by volume; not the same as by mass. A
        number without a unit, or a share such as "40 %". Range 0.0001 to 1.
    release_fraction: Share of the mesh's volume that one print stroke lays down. A number without a unit, or
        a share such as "40 %". Range 0.01 to 1. Usual 0.25 to 0.8.
    flood_strokes: Flood strokes before the print strokes. Range 0 to 100. Usual 0 to 4.
    print_strokes: Print strokes of one hit. Range 1 to 100. Usual 1 to 4.
    stroke_gain_fraction: What each further print stroke adds, as a share of the first. A number without a
        unit, or a share such as "40 %". Range 0 to 2. Usual 0 to 0.5.
    gel: When the film is firm enough for the next colour. An absolute temperature, such as "160 degC"; or one
        of "dry".
    cure: When the film is cured. InkCure {temperature, hold, after_dry}.
    activation_energy: Activation energy of the cure, for an ink that has one. An energy per amount of
        substance in kJ/mol, J/mol. Range 1 to 1000 kJ/mol. Usual 30 to 300 kJ/mol.
    never_above: Temperature above which the ink fumes, scorches or turns sticky. An absolute temperature in
        degC, degF, K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    flash_never_above: Temperature above which the film cures under the flash: the next colour flakes off. An
        absolute temperature in degC, degF, K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    customary_dwell: The dwell in a dryer that shops use. A time in s, ms, us, min, h, d. Range 1 to 86400 s.
        Usual 10 to 900 s.
    pot_life: How long it stays usable once mixed. A time in s, ms, us, min, h, d. Range 1 to 1000000 min.
        Usual 15 to 10000 min.
    additives: What is stirred in before use. A list, of each: InkAdditive {name, fraction, role?}.
    chemistry: What kind of ink it is. One of "plastisol", "water_based", "discharge", "silicone". Default
        water-based for an ink with water, else plastisol.
    covers: Whether the ink hides what it is printed on. One of "opaque", "transparent".
    scattering: Scattering coefficient S of Kubelka and Munk, per length of dry film. A count per length in
        /cm, /mm, /in, /m. Range 0 to 100000 /mm. Usual 0 to 500 /mm.
    absorption: Absorption coefficient K of Kubelka and Munk, per length of dry film. A count per length in
        /cm, /mm, /in, /m. Range 0 to 100000 /mm. Usual 0 to 500 /mm.
    largest_particle: Size of the ink's largest particle: glitter, pigment clusters. A length in um, mm, cm,
        m, in, ft, yd, mil, cm3/m2. Range 0.01 to 5000 um. Usual 0.1 to 500 um.
    water_activity: Vapour pressure over the ink against that over water: below 1 for a retarded ink. A number
        without a unit, or a share such as "40 %". Range 0.01 to 1. Usual 0.5 to 1.
    from: No stock item: all stands here.
    """

    activation_energy: Optional[MolarEnergy]
    pot_life: Optional[Time]
    additives: Optional[Sequence[InkAdditive]]
    chemistry: Optional[Literal["plastisol", "water_based", "discharge", "silicone"]]
    covers: Optional[Literal["opaque", "transparent"]]
    scattering: Optional[Count]
    absorption: Optional[Count]
    largest_particle: Optional[Length]
    water_activity: Optional[Number]


class _InkAdditiveNeeded(TypedDict):
    name: str
    fraction: Number


class InkAdditive(_InkAdditiveNeeded, total=False):
    """Something stirred into an ink before use.

    name: What the additive is.
    fraction: Mass of the additive over the mass of the ink. A number without a unit, or a share such as "40
        %". Range 0 to 1. Usual 0 to 0.3.
    role: What it is for; rules go by this, never by the name. One of "discharging", "bonding",
        "cross_linking", "low_cure", "thinning", "retarding", "other".
    """

    role: Optional[Literal["discharging", "bonding", "cross_linking", "low_cure", "thinning", "retarding", "other"]]


class _InkAdditiveShownNeeded(TypedDict):
    name: str
    fraction: float


class InkAdditiveShown(_InkAdditiveShownNeeded, total=False):
    """Something stirred into an ink before use.

    name: What the additive is.
    fraction: Mass of the additive over the mass of the ink.
    role: What it is for; rules go by this, never by the name. One of discharging, bonding, cross_linking,
        low_cure, thinning, retarding, other.
    """

    role: Literal["discharging", "bonding", "cross_linking", "low_cure", "thinning", "retarding", "other"]


class _InkAirNeeded(TypedDict):
    temperature: Temperature
    relative_humidity_fraction: Number


class InkAir(_InkAirNeeded, total=False):
    """The air over a screen.

    temperature: Temperature of the room. An absolute temperature in degC, degF, K. Range 0 to 60 degC. Usual
        10 to 40 degC.
    relative_humidity_fraction: Relative humidity. A number without a unit, or a share such as "40 %". Range 0
        to 1. Usual 0.15 to 0.9.
    speed: Speed of the air over the screen. A speed in m/min, m/s, cm/s, mm/s, ft/min, in/s. Range 0 to 20
        m/s. Usual 0 to 2 m/s. Default 0.15 m/s. (memory: air of a room in which people and machines move; a
        fan makes 1 m/s and more)
    """

    speed: Optional[Velocity]


class InkAirShown(TypedDict):
    """The air over a screen.

    temperature: Temperature of the room. In degC, US: degF.
    relative_humidity_fraction: Relative humidity.
    speed: Speed of the air over the screen. In m/min, US: ft/min.
    """

    temperature: Quantity
    relative_humidity_fraction: float
    speed: Quantity


_InkChangedNeededWords = TypedDict("_InkChangedNeededWords", {"from": "InkName"})


class InkChanged(_InkChangedNeededWords, total=False):
    """An ink.

    density: Mass per volume, wet. A density in g/cm3, kg/m3, kg/l, lb/gal. Range 0.1 to 25 g/cm3. Usual 0.9
        to 2.5 g/cm3.
    water_fraction: Share of water, by mass. A number without a unit, or a share such as "40 %". Range 0 to
        0.99.
    solids_by_volume_fraction: Share that stays when the ink is dry, by volume; not the same as by mass. A
        number without a unit, or a share such as "40 %". Range 0.0001 to 1.
    release_fraction: Share of the mesh's volume that one print stroke lays down. A number without a unit, or
        a share such as "40 %". Range 0.01 to 1. Usual 0.25 to 0.8.
    flood_strokes: Flood strokes before the print strokes. Range 0 to 100. Usual 0 to 4.
    print_strokes: Print strokes of one hit. Range 1 to 100. Usual 1 to 4.
    stroke_gain_fraction: What each further print stroke adds, as a share of the first. A number without a
        unit, or a share such as "40 %". Range 0 to 2. Usual 0 to 0.5.
    gel: When the film is firm enough for the next colour. An absolute temperature, such as "160 degC"; or one
        of "dry".
    cure: When the film is cured. InkCure {temperature, hold, after_dry}.
    activation_energy: Activation energy of the cure, for an ink that has one. An energy per amount of
        substance in kJ/mol, J/mol. Range 1 to 1000 kJ/mol. Usual 30 to 300 kJ/mol.
    never_above: Temperature above which the ink fumes, scorches or turns sticky. An absolute temperature in
        degC, degF, K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    flash_never_above: Temperature above which the film cures under the flash: the next colour flakes off. An
        absolute temperature in degC, degF, K. Range -40 to 1500 degC. Usual 0 to 700 degC.
    customary_dwell: The dwell in a dryer that shops use. A time in s, ms, us, min, h, d. Range 1 to 86400 s.
        Usual 10 to 900 s.
    pot_life: How long it stays usable once mixed. A time in s, ms, us, min, h, d. Range 1 to 1000000 min.
        Usual 15 to 10000 min.
    additives: What is stirred in before use. A list, of each: InkAdditive {name, fraction, role?}.
    chemistry: What kind of ink it is. One of "plastisol", "water_based", "discharge", "silicone". Default
        water-based for an ink with water, else plastisol.
    covers: Whether the ink hides what it is printed on. One of "opaque", "transparent".
    scattering: Scattering coefficient S of Kubelka and Munk, per length of dry film. A count per length in
        /cm, /mm, /in, /m. Range 0 to 100000 /mm. Usual 0 to 500 /mm.
    absorption: Absorption coefficient K of Kubelka and Munk, per length of dry film. A count per length in
        /cm, /mm, /in, /m. Range 0 to 100000 /mm. Usual 0 to 500 /mm.
    largest_particle: Size of the ink's largest particle: glitter, pigment clusters. A length in um, mm, cm,
        m, in, ft, yd, mil, cm3/m2. Range 0.01 to 5000 um. Usual 0.1 to 500 um.
    water_activity: Vapour pressure over the ink against that over water: below 1 for a retarded ink. A number
        without a unit, or a share such as "40 %". Range 0.01 to 1. Usual 0.5 to 1.
    from: The stock item to start from. One of "discharge", "plastisol", "plastisol-low-bleed-white",
        "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids".
    """

    density: Optional[Density]
    water_fraction: Optional[Number]
    solids_by_volume_fraction: Optional[Number]
    release_fraction: Optional[Number]
    flood_strokes: Optional[Whole]
    print_strokes: Optional[Whole]
    stroke_gain_fraction: Optional[Number]
    gel: Optional[Union[Literal["dry"], Temperature]]
    cure: Optional[InkCure]
    activation_energy: Optional[MolarEnergy]
    never_above: Optional[Temperature]
    flash_never_above: Optional[Temperature]
    customary_dwell: Optional[Time]
    pot_life: Optional[Time]
    additives: Optional[Sequence[InkAdditive]]
    chemistry: Optional[Literal["plastisol", "water_based", "discharge", "silicone"]]
    covers: Optional[Literal["opaque", "transparent"]]
    scattering: Optional[Count]
    absorption: Optional[Count]
    largest_particle: Optional[Length]
    water_activity: Optional[Number]


class InkCure(TypedDict):
    """When an ink counts as cured.

    temperature: The temperature that the whole film must reach. An absolute temperature in degC, degF, K.
        Range -40 to 1500 degC. Usual 0 to 700 degC.
    hold: How long the film must stay at that temperature; 0 s for an ink that is cured once it gets there. A
        time in s, ms, us, min, h, d. Range 0 to 86400 s. Usual 0 to 900 s.
    after_dry: Whether the clock starts only when the film is dry.
    """

    temperature: Temperature
    hold: Time
    after_dry: bool


class InkCureShown(TypedDict):
    """When an ink counts as cured.

    temperature: The temperature that the whole film must reach. In degC, US: degF.
    hold: How long the film must stay at that temperature; 0 s for an ink that is cured once it gets there. In
        s.
    after_dry: Whether the clock starts only when the film is dry.
    """

    temperature: Quantity
    hold: Quantity
    after_dry: bool


class _InkDepositAnswerNeeded(TypedDict):
    wet_film: Quantity
    dry_film: Quantity
    release_fraction: float
    edge_share_fraction: float
    notes: List[Note]
    basis: List[Basis]


class InkDepositAnswer(_InkDepositAnswerNeeded, total=False):
    """How thick it prints.

    wet_film: Thickness of the film as printed. In um.
    dry_film: Thickness of the film when dry. In um.
    release_fraction: Share of the mesh's volume that one print stroke lays down.
    edge_share_fraction: Share of the stencil's thickness that adds to the film: 1 for a hairline, 0 for a
        wide solid.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _InkHidingAnswerNeeded(TypedDict):
    scattering: Quantity
    absorption: Quantity
    contrast_ratio: float
    notes: List[Note]
    basis: List[Basis]


class InkHidingAnswer(_InkHidingAnswerNeeded, total=False):
    """How well it hides.

    scattering: S: the ink's scattering from now on; a lower bound where the drawdown hides its card. In /mm.
    absorption: K: the ink's absorption from now on. In /mm.
    contrast_ratio: What is read over black, of what is read over white.
    film_for_contrast: Dry film that reaches the contrast wanted; an upper bound where the drawdown hides its
        card. In um.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    film_for_contrast: Quantity
    doubt: List[Doubt]


class _InkMeshOfferNeeded(TypedDict):
    mesh: str
    holds: bool
    hits: int
    wet_film: Quantity
    dry_film: Quantity
    finest_line: Quantity
    ruling_high: Quantity
    why: List[Literal["film_too_thin", "film_too_thick", "shows_through", "line_lost", "line_breaks", "ruling_too_fine", "particles_clog", "more_than_one_hit", "bands_at_every_angle"]]


class InkMeshOffer(_InkMeshOfferNeeded, total=False):
    """A mesh, and how it does.

    mesh: Threads per centimetre and diameter of the thread in micrometres, as the trade names it.
    holds: Whether it does all that is wanted.
    hits: Prints of the screen, with a flash between them.
    wet_film: Film of all hits as printed, on a wide solid. In um.
    dry_film: The same when dry. In um.
    lightness: Lightness L* of the print on the cloth, where the ink's optics are known.
    finest_line: Finest line that this mesh prints. In um.
    ruling_high: Finest ruling for this mesh. In /cm, US: /in.
    why: What speaks against it, or has to be known.
    """

    lightness: float


class _InkMixAnswerNeeded(TypedDict):
    masses: List[Quantity]
    fractions: List[float]
    pots: List[InkPot]
    notes: List[Note]
    basis: List[Basis]


class InkMixAnswer(_InkMixAnswerNeeded, total=False):
    """What to weigh in, and when.

    masses: How much of each part, for the whole batch; together they are the batch.
    fractions: Each part's share of the batch.
    pots: The pots, equal in mass; one where nothing limits it. A list of InkPot.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _InkOpacityAnswerNeeded(TypedDict):
    reflectance: float
    lightness: float
    difference_to_thick_film: float
    dry_film: Quantity
    verdict: Literal["covers", "shows_through"]
    notes: List[Note]
    basis: List[Basis]


class InkOpacityAnswer(_InkOpacityAnswerNeeded, total=False):
    """How it covers.

    reflectance: Share of light that the print reflects.
    lightness: Lightness L* of the print.
    difference_to_thick_film: Lightness that it lacks of a thick film of the ink.
    dry_film: The dry film that is reckoned with. In um.
    film_needed: Dry film that the lightness wanted takes; absent where no film of this ink reaches it. In um.
    hits_needed: Hits that it takes through this mesh.
    verdict: Whether the cloth shows. One of covers, shows_through.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    film_needed: Quantity
    hits_needed: int
    doubt: List[Doubt]


class _InkOpenTimeAnswerNeeded(TypedDict):
    rate: Quantity
    wet_bulb: Quantity
    face: Quantity
    water: Quantity
    notes: List[Note]
    basis: List[Basis]


class InkOpenTimeAnswer(_InkOpenTimeAnswerNeeded, total=False):
    """How long the ink may stand.

    time: Time until that share of the water is gone; absent where it does not dry within a week. In s.
    rate: Water that leaves at first, per area of the open face. In g/(m2.h), US: oz/(ft2.h).
    wet_bulb: Temperature that pure water would take from the air alone, as a psychrometer reads it. In degC,
        US: degF.
    face: Temperature of the ink's face, which the room's radiation warms too. In degC, US: degF.
    water: Water in the ink, per area of the screen. In g/m2, US: oz/yd2.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    time: Quantity
    doubt: List[Doubt]


class _InkPartNeeded(TypedDict):
    name: str
    parts: Number


class InkPart(_InkPartNeeded, total=False):
    """A part of a mix.

    name: What the part is.
    parts: How many parts of it, by mass; any scale. A number without a unit, or a share such as "40 %". Range
        1e-6 to 1e09.
    most_fraction: At most this share of the batch, such as the most of a fixer or a reducer. A number without
        a unit, or a share such as "40 %". Range 0 to 1. Usual 0 to 0.3.
    """

    most_fraction: Optional[Number]


class InkPot(TypedDict):
    """A pot and when to mix it.

    mass: Mass of the pot. In g, US: oz.
    mix_at: When to mix it, from the start of the run. In s.
    """

    mass: Quantity
    mix_at: Quantity


class _InkShownNeeded(TypedDict):
    density: Quantity
    water_fraction: float
    solids_by_volume_fraction: float
    release_fraction: float
    flood_strokes: int
    print_strokes: int
    stroke_gain_fraction: float
    gel: Union[Literal["dry"], Quantity]
    cure: InkCureShown
    never_above: Quantity
    flash_never_above: Quantity
    customary_dwell: Quantity


class InkShown(_InkShownNeeded, total=False):
    """An ink.

    density: Mass per volume, wet. In g/cm3, US: lb/gal.
    water_fraction: Share of water, by mass.
    solids_by_volume_fraction: Share that stays when the ink is dry, by volume; not the same as by mass.
    release_fraction: Share of the mesh's volume that one print stroke lays down.
    flood_strokes: Flood strokes before the print strokes.
    print_strokes: Print strokes of one hit.
    stroke_gain_fraction: What each further print stroke adds, as a share of the first.
    gel: When the film is firm enough for the next colour. One of dry.
    cure: When the film is cured. InkCureShown.
    activation_energy: Activation energy of the cure, for an ink that has one. In kJ/mol.
    never_above: Temperature above which the ink fumes, scorches or turns sticky. In degC, US: degF.
    flash_never_above: Temperature above which the film cures under the flash: the next colour flakes off. In
        degC, US: degF.
    customary_dwell: The dwell in a dryer that shops use. In s.
    pot_life: How long it stays usable once mixed. In s.
    additives: What is stirred in before use. A list of InkAdditiveShown.
    chemistry: What kind of ink it is. One of plastisol, water_based, discharge, silicone.
    covers: Whether the ink hides what it is printed on. One of opaque, transparent.
    scattering: Scattering coefficient S of Kubelka and Munk, per length of dry film. In /mm.
    absorption: Absorption coefficient K of Kubelka and Munk, per length of dry film. In /mm.
    largest_particle: Size of the ink's largest particle: glitter, pigment clusters. In mm, US: in.
    water_activity: Vapour pressure over the ink against that over water: below 1 for a retarded ink.
    """

    activation_energy: Quantity
    pot_life: Quantity
    additives: List[InkAdditiveShown]
    chemistry: Literal["plastisol", "water_based", "discharge", "silicone"]
    covers: Literal["opaque", "transparent"]
    scattering: Quantity
    absorption: Quantity
    largest_particle: Quantity
    water_activity: float


class _InkUsageAnswerNeeded(TypedDict):
    wet_film: Quantity
    mass_per_print: Quantity
    mass_printed: Quantity
    mass_to_mix: Quantity
    volume_to_mix: Quantity
    area_per_mass: Quantity
    prints_per_mass: Quantity
    notes: List[Note]
    basis: List[Basis]


class InkUsageAnswer(_InkUsageAnswerNeeded, total=False):
    """Ink for the run.

    wet_film: Thickness of the film as printed, mean over the area. In um.
    mass_per_print: Ink on one print. In g, US: oz.
    mass_printed: Ink on all prints. In g, US: oz.
    mass_to_mix: Ink to have ready: printed, waste, and what stays in the screen. In g, US: oz.
    volume_to_mix: Volume of the ink to have ready. In ml, US: floz.
    area_per_mass: Area covered per mass of ink. In m2/kg, US: ft2/lb.
    prints_per_mass: Prints per mass of ink. In /kg, US: /lb.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _InkWeighAnswerNeeded(TypedDict):
    mass_per_print: Quantity
    wet_film: Quantity
    release_fraction: float
    notes: List[Note]
    basis: List[Basis]


class InkWeighAnswer(_InkWeighAnswerNeeded, total=False):
    """What the press lays down.

    mass_per_print: Ink on one print. In g, US: oz.
    wet_film: Thickness of the film as printed, mean over the area. In um.
    release_fraction: Share of the mesh's volume that one print stroke lays down: the ink's release_fraction
        from now on.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class JobAdditiveSheet(TypedDict):
    """Something to stir in.

    name: What the additive is.
    fraction: Mass of the additive over the mass of the ink.
    mass: How much of the additive for all the ink of the screen. In g, US: oz.
    mass_per_pot: How much of the additive goes into each pot. In g, US: oz.
    """

    name: str
    fraction: float
    mass: Quantity
    mass_per_pot: Quantity


class JobBladeSheet(TypedDict):
    """The blade of a screen.

    length: Length of the blade. In mm, US: in.
    hardness: Hardness of the blade, shore A.
    angle: Angle from blade to mesh; 90 degrees is upright. In deg.
    pressure: How hard to press, in words: no gauge of a press is like another's.
    """

    length: Quantity
    hardness: float
    angle: Quantity
    pressure: str


class JobBlanksSheet(TypedDict):
    """Blanks to start with.

    start_with: Blanks to start with, all sizes.
    probability: The chance that every size comes out complete.
    sizes: Blanks by size, where the order names sizes. A list of JobSizeSheet.
    for_wash_test: Further blanks of the same cloth, any size, to print and wash to pieces.
    """

    start_with: int
    probability: float
    sizes: List[JobSizeSheet]
    for_wash_test: int


class _JobCostLineNeeded(TypedDict):
    what: str
    amount: Money
    why: str


class JobCostLine(_JobCostLineNeeded, total=False):
    """A line of what the order costs the shop.

    what: What it is for.
    quantity: How much of it, in the unit of the rate, to 6 decimals; none of a share of other lines.
    rate: What a unit of it costs, as the request has it.
    amount: What it costs.
    why: Where the quantity comes from.
    """

    quantity: Quantity
    rate: Money


class JobCrew(TypedDict):
    """How many persons work on an order.

    setup: Persons who set up and clear the press. A number without a unit, or a share such as "40 %". Range 0
        to 100. Usual 0.5 to 6.
    run: Persons at the press while it runs. A number without a unit, or a share such as "40 %". Range 0 to
        100. Usual 0.5 to 6.
    """

    setup: Number
    run: Number


class _JobDetailSheetNeeded(TypedDict):
    finest_line: Quantity
    finest_gap: Quantity


class JobDetailSheet(_JobDetailSheetNeeded, total=False):
    """Whether the screen holds its art.

    finest_line: Finest line that this mesh prints. In um.
    wanted: Finest line of the art, where it is known. In um.
    verdict: Whether the mesh holds the finest line of the art. One of holds, marginal, lost.
    finest_gap: The finest gap that stays open on this mesh. In um.
    gap_wanted: The finest gap of the art, where it is known. In um.
    """

    wanted: Quantity
    verdict: Literal["holds", "marginal", "lost"]
    gap_wanted: Quantity


class JobDryerSheet(TypedDict):
    """The dryer.

    slowest: Slowest belt that does not scorch. In m/min, US: ft/min.
    fastest: Fastest belt that cures. In m/min, US: ft/min.
    recommended: The belt speed to start with. In m/min, US: ft/min.
    dwell: Time under heat at the belt speed to start with. In s.
    limits: What ends the window at each end. DryerLimits.
    zones: The zones to set, in the order of the belt. A list of DryerZoneShown.
    pieces_per_hour: Pieces an hour on the belt.
    hardest_ink: The ink that sets the dwell.
    probe_readings: What to look for with a probe. A list of JobExpectedReading.
    """

    slowest: Quantity
    fastest: Quantity
    recommended: Quantity
    dwell: Quantity
    limits: DryerLimits
    zones: List[DryerZoneShown]
    pieces_per_hour: float
    hardest_ink: str
    probe_readings: List[JobExpectedReading]


class JobDryingHeat(TypedDict):
    """The heat that the dryer gives the whole run.

    cloth: Into the cloth. In kWh.
    water: Into the water of cloth and ink, till it leaves as vapour. In kWh.
    air: Into the air that carries the vapour off. In kWh.
    drawn: What the dryer draws for all of it, by its efficiency. In kWh.
    """

    cloth: Quantity
    water: Quantity
    air: Quantity
    drawn: Quantity


class _JobEarnedNeeded(TypedDict):
    unit_price: Money
    total: Money
    profit: Money


class JobEarned(_JobEarnedNeeded, total=False):
    """What another unit price earns.

    unit_price: The unit price asked about.
    total: All that is charged.
    profit: What is left.
    margin_fraction: The profit as a share of the price before tax and freight.
    profit_per_press_hour: Profit for each hour of the press.
    """

    margin_fraction: float
    profit_per_press_hour: Money


class _JobExpectedReadingNeeded(TypedDict):
    at: Quantity
    time: Quantity
    expect: Quantity
    most: Quantity


class JobExpectedReading(_JobExpectedReadingNeeded, total=False):
    """What a wired probe in the ink should show.

    at: Distance from the entry of the tunnel. In m, US: ft.
    time: Time after the entry. In s.
    expect: Temperature that the model expects there. In degC, US: degF.
    least: Least that the probe must show, where the ink must have reached something. In degC, US: degF.
    most: Most that the probe may show. In degC, US: degF.
    """

    least: Quantity


class _JobExposureTestNeeded(TypedDict):
    time: Time
    solid_step: Number
    tested_on: Union[str, MeshParts]


class JobExposureTest(_JobExposureTestNeeded, total=False):
    """An exposure that was read off a step scale.

    time: The time that was tried. A time in s, ms, us, min, h, d. Range 0.01 to 86400 s. Usual 1 to 5400 s.
    solid_step: The last step that stayed solid. A number without a unit, or a share such as "40 %". Range 1
        to 41. Usual 1 to 21.
    wanted_step: The step that should be the last solid one. A number without a unit, or a share such as "40
        %". Range 1 to 41. Usual 1 to 21. Default 7.0. (common practice: emulsion suppliers: step 7 must stay
        solid, at least)
    density_per_step: Optical density from step to step. A number without a unit, or a share such as "40 %".
        Range 0.01 to 1. Usual 0.05 to 0.31. Default 0.15. (common practice: step scales of 21 steps: density
        0.15 a step (a platemaking page))
    tested_on: The mesh it was tried on. Such as "77-55", "195 tpi", "195/55 tpi", "62 /cm"; or MeshParts
        {count, thread?, thickness?, weave?}.
    mesh_factor: Exposure factor of the tested mesh against white mesh; 1 is white. A number without a unit,
        or a share such as "40 %". Range 0.1 to 20. Usual 0.9 to 4.
    coated_thickness: Thickness of mesh and stencil together on the tested screen. A length in um, mm, cm, m,
        in, ft, yd, mil, cm3/m2. Range 1 to 20000 um. Usual 30 to 1500 um.
    penetration_depth: The depth in which the light falls by a factor e in this emulsion: exposure.curve finds
        it. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.1 to 10000 um. Usual 10 to 500 um.
    """

    wanted_step: Optional[Number]
    density_per_step: Optional[Number]
    mesh_factor: Optional[Number]
    coated_thickness: Optional[Length]
    penetration_depth: Optional[Length]


class _JobExposureTestShownNeeded(TypedDict):
    time: Quantity
    solid_step: float
    wanted_step: float
    density_per_step: float
    tested_on: MeshPartsShown


class JobExposureTestShown(_JobExposureTestShownNeeded, total=False):
    """An exposure that was read off a step scale.

    time: The time that was tried. In s.
    solid_step: The last step that stayed solid.
    wanted_step: The step that should be the last solid one.
    density_per_step: Optical density from step to step.
    tested_on: The mesh it was tried on. MeshPartsShown.
    mesh_factor: Exposure factor of the tested mesh against white mesh; 1 is white.
    coated_thickness: Thickness of mesh and stencil together on the tested screen. In mm, US: in.
    penetration_depth: The depth in which the light falls by a factor e in this emulsion: exposure.curve finds
        it. In mm, US: in.
    """

    mesh_factor: float
    coated_thickness: Quantity
    penetration_depth: Quantity


_JobExtraNeededWords = TypedDict("_JobExtraNeededWords", {"as": "Literal[\"cost\", \"price\"]"})


class _JobExtraNeeded(TypedDict):
    name: str


class JobExtra(_JobExtraNeededWords, _JobExtraNeeded, total=False):
    """Something beside the print: folding, a colour match, a neck label.

    name: What it is.
    each: Money for each piece ordered; or give once. An amount of money, such as 12.50 EUR.
    once: Money for the whole order; or give each. An amount of money, such as 12.50 EUR.
    as: Whether it is what the shop pays, or what the customer is charged. One of "cost", "price".
    """

    each: Optional[MoneyGiven]
    once: Optional[MoneyGiven]


class _JobFlashSheetNeeded(TypedDict):
    screen: str
    placement: str
    dwell_cold: Quantity
    dwell_warm: Quantity
    platen_warm: Quantity
    height_low: Quantity
    height_high: Quantity
    flash: str
    gun_most: Quantity


class JobFlashSheet(_JobFlashSheetNeeded, total=False):
    """The flash after a screen.

    screen: The screen that the flash follows.
    placement: The print it belongs to.
    dwell_cold: Dwell while the platens are cold. In s.
    dwell_warm: Dwell once the platens are warm. In s.
    platen_warm: Where the platens' temperature settles when a shirt goes on. In degC, US: degF.
    overheats_at: The turn of the carousel in which the cold dwell, kept, overheats the print.
    height_low: Lower end of the usual height over the print. In mm, US: in.
    height_high: Upper end of the usual height over the print. In mm, US: in.
    flash: The flash: its stock name, or the shop's own.
    panel: Temperature to set the flash's panel to, where it has one. In degC, US: degF.
    gel: The film must reach this to be firm; an ink with water must be dry instead. In degC, US: degF.
    gun_most: The most that an infrared gun may read on the print, right after the flash. In degC, US: degF.
    """

    overheats_at: int
    panel: Quantity
    gel: Quantity


class _JobHalftoneSheetNeeded(TypedDict):
    ruling: Quantity
    angle: Quantity
    best_angle: Quantity
    tones: List[JobKeyTone]


class JobHalftoneSheet(_JobHalftoneSheetNeeded, total=False):
    """A halftone on its mesh.

    ruling: Rows of dots per length. In /cm, US: /in.
    angle: Direction of the rows on the frame. In deg.
    widest_beat: Widest bands that the halftone's beat against the mesh shows. In mm, US: in.
    best_angle: Angle at which the halftone beats least against the mesh. In deg.
    tone_min_fraction: Lightest tone that this mesh holds.
    tone_max_fraction: Darkest tone that stays open on this mesh.
    tones: What film tones of 10, 50 and 90 % print as. A list of JobKeyTone.
    """

    widest_beat: Quantity
    tone_min_fraction: float
    tone_max_fraction: float


class _JobHeadSheetNeeded(TypedDict):
    placement: str
    station: int
    role: Literal["load", "print", "flash", "cool", "free", "unload"]


class JobHeadSheet(_JobHeadSheetNeeded, total=False):
    """A place on the press.

    placement: The print it serves.
    station: Station, 1 being the load; by hand, the arm.
    role: What happens at the place. One of load, print, flash, cool, free, unload.
    screen: The screen it serves.
    """

    screen: str


class JobHidingSheet(TypedDict):
    """What an ink that hides makes of a dark cloth.

    lightness: Lightness L* of the print, of a wide solid.
    covers_from: The lightness from which on it covers.
    covers: Whether it covers.
    """

    lightness: float
    covers_from: float
    covers: bool


class JobHoursSheet(TypedDict):
    """The hours of the whole order.

    setup: Work on all screens before the runs. In s.
    run: Printing all pieces, rest and stops included. In s.
    clearing: Work on all screens after the runs. In s.
    total: All of it. In s.
    """

    setup: Quantity
    run: Quantity
    clearing: Quantity
    total: Quantity


class JobInkPrice(TypedDict):
    """What one ink costs.

    ink: The ink: its colour in the order, or its stock name.
    rate: Its cost by mass or volume. Money per mass or volume, such as 14 EUR/kg.
    """

    ink: str
    rate: MoneyPerMassVolume


class JobInkTotal(TypedDict):
    """All ink of one kind.

    ink: The ink.
    colour: The colour.
    screens: Screens that use it.
    mass_printed: Mass of the ink on the prints. In g, US: oz.
    mass_to_mix: Mass of the ink to have ready. In g, US: oz.
    volume_to_mix: Volume of the ink to have ready. In ml, US: floz.
    """

    ink: str
    colour: str
    screens: List[str]
    mass_printed: Quantity
    mass_to_mix: Quantity
    volume_to_mix: Quantity


class JobKeyTone(TypedDict):
    """What a tone prints as.

    film_fraction: Tone on the film.
    printed_fraction: Share that is printed, where the mesh holds it.
    held: Whether the mesh holds its dots and holes; where it does not, they are cut off.
    """

    film_fraction: float
    printed_fraction: float
    held: bool


class _JobPlacementNeeded(TypedDict):
    name: str
    width: Length
    height: Length
    screens: Sequence[JobScreenOrder]


class JobPlacement(_JobPlacementNeeded, total=False):
    """A print on the shirt.

    name: Where the print is on the shirt.
    width: Width of the print, across the stroke. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        0.1 to 10000 mm. Usual 5 to 1000 mm.
    height: Height of the print, along the stroke. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        0.1 to 10000 mm. Usual 5 to 1000 mm.
    below_collar: From the collar seam to the top of the print. A length in um, mm, cm, m, in, ft, yd, mil,
        cm3/m2. Range 0 to 2000 mm. Usual 20 to 300 mm.
    screens: The screens, in print order. A list, of each: JobScreenOrder {name, ink, colour?, mesh?,
        coverage_fraction?, artwork?, halftone?, hits?, flash?, flood_strokes?, print_strokes?, finest_line?,
        coated_thickness?, mesh_factor?, stored?}.
    """

    below_collar: Optional[Length]


class _JobPlacementSheetNeeded(TypedDict):
    name: str
    width: Quantity
    height: Quantity


class JobPlacementSheet(_JobPlacementSheetNeeded, total=False):
    """A print on the shirt.

    name: Where the print is on the shirt.
    width: Width of the print, across the stroke. In mm, US: in.
    height: Height of the print, along the stroke. In mm, US: in.
    below_collar: From the collar seam to the top of the print. In mm, US: in.
    """

    below_collar: Quantity


class _JobPlanAnswerNeeded(TypedDict):
    pieces: int
    cloth: str
    placements: List[JobPlacementSheet]
    screens: List[JobScreenSheet]
    heads: List[JobHeadSheet]
    flash: List[JobFlashSheet]
    dryer: JobDryerSheet
    press: JobPressSheet
    hours: JobHoursSheet
    blanks: JobBlanksSheet
    ink_totals: List[JobInkTotal]
    wash_test: JobWashTest
    sign_off: List[JobSignOff]
    notes: List[Note]
    basis: List[Basis]


class JobPlanAnswer(_JobPlanAnswerNeeded, total=False):
    """The run sheet of an order.

    title: What the order is called.
    pieces: Good pieces ordered.
    due: When the order is due.
    cloth: The cloth, by its stock name; the order's own where it describes one.
    placements: The prints on a shirt. A list of JobPlacementSheet.
    screens: The screens, in print order, placement by placement. A list of JobScreenSheet.
    heads: What each place on the press is for. A list of JobHeadSheet.
    flash: The flashes, each after its screen. A list of JobFlashSheet.
    dryer: The dryer. JobDryerSheet.
    press: The press. JobPressSheet.
    hours: The hours of the whole order. JobHoursSheet.
    register: Whether the colours will meet. JobRegisterSheet.
    blanks: Blanks to start with. JobBlanksSheet.
    ink_totals: Total of each kind of ink. A list of JobInkTotal.
    wash_test: The wash test. JobWashTest.
    sign_off: What is signed for by hand. A list of JobSignOff.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    title: str
    due: str
    register: JobRegisterSheet
    doubt: List[Doubt]


class JobPressHours(TypedDict):
    """The hours of the press that an order takes.

    setup: Setting up and clearing all screens. In s.
    run: Printing, with all that keeps the press from printing in between. In s.
    total: Both. In s.
    """

    setup: Quantity
    run: Quantity
    total: Quantity


class JobPressSheet(TypedDict):
    """The press: all placements together.

    pieces_per_hour: Shirts an hour with all their prints, while running.
    bottleneck: What sets the pace of the slowest print.
    next_bottleneck: What would set the pace were the bottleneck gone.
    setup_time: Time for work on the screens, before and after the run. In s.
    run_time: Time for printing all pieces, rest and stops included. In s.
    runs: The run of each print by itself. A list of JobRunSheet.
    """

    pieces_per_hour: float
    bottleneck: str
    next_bottleneck: str
    setup_time: Quantity
    run_time: Quantity
    runs: List[JobRunSheet]


class JobPrice(TypedDict, total=False):
    """How a price is made.

    margin_fraction: Profit as a share of the price; or give markup_fraction. A number without a unit, or a
        share such as "40 %". Range 0 to 0.99. Usual 0.05 to 0.7.
    markup_fraction: Profit as a share of the cost; or give margin_fraction. A number without a unit, or a
        share such as "40 %". Range 0 to 99. Usual 0.05 to 2.5.
    blank_markup_fraction: Profit on the blanks, as a share of what they cost; the other profit is then not on
        them. A number without a unit, or a share such as "40 %". Range 0 to 99. Usual 0.05 to 2.5. Default
        that of all else.
    rush_fraction: What the work costs more where it is wanted soon. A number without a unit, or a share such
        as "40 %". Range 0 to 10. Usual 0 to 1.
    discount_fraction: What is taken off. A number without a unit, or a share such as "40 %". Range 0 to 1.
        Usual 0 to 0.5.
    least_order: No order is charged less, before freight and tax. An amount of money, such as 12.50 EUR.
    round_unit_price_to: Unit prices are whole multiples of this. An amount of money, such as 12.50 EUR.
        Default the minor unit of the currency.
    tax_fraction: The tax on the price. A number without a unit, or a share such as "40 %". Range 0 to 1.
        Usual 0 to 0.3.
    prices_include_tax: Whether the prices are told with the tax in them. Default no.
    deposit_fraction: What is paid before the work begins, as a share of the total. A number without a unit,
        or a share such as "40 %". Range 0 to 1.
    blanks_charged: Which blanks are charged. One of "expected", "all". Default expected.
    """

    margin_fraction: Optional[Number]
    markup_fraction: Optional[Number]
    blank_markup_fraction: Optional[Number]
    rush_fraction: Optional[Number]
    discount_fraction: Optional[Number]
    least_order: Optional[MoneyGiven]
    round_unit_price_to: Optional[MoneyGiven]
    tax_fraction: Optional[Number]
    prices_include_tax: Optional[bool]
    deposit_fraction: Optional[Number]
    blanks_charged: Optional[Literal["expected", "all"]]


class JobPriceBreak(TypedDict):
    """The quote for another number of pieces.

    pieces: Number of pieces.
    unit_price: Price of a piece, of the size that costs least.
    total: All that is charged.
    cost: What it costs the shop.
    profit: What is left of it.
    hours: The hours of the press that it takes. In s.
    held_up_by: What holds the press up.
    """

    pieces: int
    unit_price: Money
    total: Money
    cost: Money
    profit: Money
    hours: Quantity
    held_up_by: str


class JobPriceLine(TypedDict):
    """A line of what the customer is charged.

    what: What it is for.
    amount: What is charged for it.
    """

    what: str
    amount: Money


class _JobQuoteAnswerNeeded(TypedDict):
    pieces: int
    currency: str
    ink_totals: List[JobInkTotal]
    pieces_per_hour: float
    held_up_by: str
    hours: JobPressHours
    drying: JobDryingHeat
    cost_lines: List[JobCostLine]
    cost: Money
    price_lines: List[JobPriceLine]
    price_before_tax: Money
    unit_price: Money
    unit_prices: List[JobSizeUnitPrice]
    once: Money
    total: Money
    profit: Money
    price_breaks: List[JobPriceBreak]
    notes: List[Note]
    basis: List[Basis]


class JobQuoteAnswer(_JobQuoteAnswerNeeded, total=False):
    """A quote.

    title: What the order is called.
    pieces: Good pieces ordered, or blanks supplied.
    due: When the order is due.
    currency: The currency of all amounts.
    blanks: Blanks to start with, where the shop buys them. JobBlanksSheet.
    supplied: What becomes of the customer's own blanks. JobSupplied.
    ink_totals: Total of each kind of ink. A list of JobInkTotal.
    pieces_per_hour: Shirts an hour with all their prints, while running.
    held_up_by: What holds the press up.
    hours: The hours of the press. JobPressHours.
    drying: The heat that the dryer gives. JobDryingHeat.
    cost_lines: What it costs the shop, line by line. A list of JobCostLine.
    cost: What it costs the shop.
    price_lines: What the customer is charged, line by line. A list of JobPriceLine.
    price_before_tax: The price without tax.
    unit_price: Price of a piece, of the size that costs least.
    unit_prices: Price of a piece by size, where the order names sizes. A list of JobSizeUnitPrice.
    once: What is charged once for the whole order, beside the pieces.
    tax: The tax, in or on the price.
    total: All that is charged.
    deposit: What is paid before the work begins.
    profit: What is left of the price after cost, tax and freight.
    margin_fraction: The profit as a share of the price before tax and freight.
    profit_per_press_hour: Profit for each hour of the press.
    price_breaks: The quote for other numbers of pieces. A list of JobPriceBreak.
    at_unit_price: What the unit price asked about earns. JobEarned.
    valid_days: For how many days the quote stands.
    terms: Terms of the sale, as they were given.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    title: str
    due: str
    blanks: JobBlanksSheet
    supplied: JobSupplied
    tax: Money
    deposit: Money
    margin_fraction: float
    profit_per_press_hour: Money
    at_unit_price: JobEarned
    valid_days: int
    terms: str
    doubt: List[Doubt]


_JobRatesMoreWords = TypedDict("_JobRatesMoreWords", {"from": "None"}, total=False)


class _JobRatesNeeded(TypedDict):
    labour: MoneyPerTime
    productive_fraction: Number
    press: MoneyPerTime
    art: JobWork
    film: MoneyArea
    screen: JobScreenWork
    ink: MoneyPerMassVolume
    energy: MoneyPerEnergy
    dryer_efficiency_fraction: Number
    packing: MoneyGiven
    overhead_fraction: Number


class JobRates(_JobRatesMoreWords, _JobRatesNeeded, total=False):
    """What things cost a shop.

    labour: A person's paid hour, with all that the shop pays on top of the wage. Money per time, such as 28
        EUR/h.
    crew: How many persons work on it. JobCrew {setup, run}. Default 1 to set up; to print 1 by hand, 2 on an
        automatic.
    productive_fraction: Share of the paid hours at the press in which it prints. A number without a unit, or
        a share such as "40 %". Range 0.01 to 1. Usual 0.25 to 0.95.
    press: An hour of the press, without people: what it cost, its repairs, its room. Money per time, such as
        28 EUR/h.
    art: Work on the art of each screen that is made. JobWork {minutes}.
    film: A film, each or by its area, that of the print's box. Money for each or per area, such as 3 EUR or
        20 EUR/m2.
    screen: Making a screen. JobScreenWork {materials, minutes}.
    blank: A blank of any size that blank_by_size does not name. An amount of money, such as 12.50 EUR.
    blank_by_size: Blanks of sizes that cost something else. A list, of each: JobSizePrice {size, each}.
    ink: An ink that ink_by_name does not name. Money per mass or volume, such as 14 EUR/kg.
    ink_by_name: Inks that cost something else; the first that fits counts. A list, of each: JobInkPrice {ink,
        rate}.
    energy: Energy for dryer and flash. Money per energy, such as 0.30 EUR/kWh.
    dryer_power: What keeps the dryer hot, beside the heat that passes into the shirts, as long as it runs. A
        power in W, kW. Range 0 to 1000 kW. Usual 0.1 to 60 kW. Default left out of the reckoning.
    flash_power: What keeps all flashes hot as long as they run. A power in W, kW. Range 0 to 1000 kW. Usual
        0.1 to 60 kW. Default left out of the reckoning.
    dryer_efficiency_fraction: Heat taken up in the dryer, over the energy that it draws for it. A number
        without a unit, or a share such as "40 %". Range 0.01 to 1. Usual 0.1 to 0.9.
    cloth_per_piece: Cloth of one piece, both layers and the sleeves. An area in m2, cm2, mm2, in2, ft2. Range
        0.001 to 100 m2. Usual 0.1 to 5 m2. Default 0.85 m2. (memory: a shirt of 180 g/m2 weighs about 150 g)
    packing: Packing, for each piece. An amount of money, such as 12.50 EUR.
    overhead_fraction: Rent, light, office: on what labour and press cost. A number without a unit, or a share
        such as "40 %". Range 0 to 10. Usual 0 to 2.
    extras: What comes on top. A list, of each: JobExtra {name, each?, once?, as}.
    freight: Freight, passed on as it is. An amount of money, such as 12.50 EUR.
    from: No stock item: all stands here.
    """

    crew: Optional[JobCrew]
    blank: Optional[MoneyGiven]
    blank_by_size: Optional[Sequence[JobSizePrice]]
    ink_by_name: Optional[Sequence[JobInkPrice]]
    dryer_power: Optional[Power]
    flash_power: Optional[Power]
    cloth_per_piece: Optional[Area]
    extras: Optional[Sequence[JobExtra]]
    freight: Optional[MoneyGiven]


_JobRatesChangedNeededWords = TypedDict("_JobRatesChangedNeededWords", {"from": "Literal[\"starter-rates\"]"})


class JobRatesChanged(_JobRatesChangedNeededWords, total=False):
    """What things cost a shop.

    labour: A person's paid hour, with all that the shop pays on top of the wage. Money per time, such as 28
        EUR/h.
    crew: How many persons work on it. JobCrew {setup, run}. Default 1 to set up; to print 1 by hand, 2 on an
        automatic.
    productive_fraction: Share of the paid hours at the press in which it prints. A number without a unit, or
        a share such as "40 %". Range 0.01 to 1. Usual 0.25 to 0.95.
    press: An hour of the press, without people: what it cost, its repairs, its room. Money per time, such as
        28 EUR/h.
    art: Work on the art of each screen that is made. JobWork {minutes}.
    film: A film, each or by its area, that of the print's box. Money for each or per area, such as 3 EUR or
        20 EUR/m2.
    screen: Making a screen. JobScreenWork {materials, minutes}.
    blank: A blank of any size that blank_by_size does not name. An amount of money, such as 12.50 EUR.
    blank_by_size: Blanks of sizes that cost something else. A list, of each: JobSizePrice {size, each}.
    ink: An ink that ink_by_name does not name. Money per mass or volume, such as 14 EUR/kg.
    ink_by_name: Inks that cost something else; the first that fits counts. A list, of each: JobInkPrice {ink,
        rate}.
    energy: Energy for dryer and flash. Money per energy, such as 0.30 EUR/kWh.
    dryer_power: What keeps the dryer hot, beside the heat that passes into the shirts, as long as it runs. A
        power in W, kW. Range 0 to 1000 kW. Usual 0.1 to 60 kW. Default left out of the reckoning.
    flash_power: What keeps all flashes hot as long as they run. A power in W, kW. Range 0 to 1000 kW. Usual
        0.1 to 60 kW. Default left out of the reckoning.
    dryer_efficiency_fraction: Heat taken up in the dryer, over the energy that it draws for it. A number
        without a unit, or a share such as "40 %". Range 0.01 to 1. Usual 0.1 to 0.9.
    cloth_per_piece: Cloth of one piece, both layers and the sleeves. An area in m2, cm2, mm2, in2, ft2. Range
        0.001 to 100 m2. Usual 0.1 to 5 m2. Default 0.85 m2. (memory: a shirt of 180 g/m2 weighs about 150 g)
    packing: Packing, for each piece. An amount of money, such as 12.50 EUR.
    overhead_fraction: Rent, light, office: on what labour and press cost. A number without a unit, or a share
        such as "40 %". Range 0 to 10. Usual 0 to 2.
    extras: What comes on top. A list, of each: JobExtra {name, each?, once?, as}.
    freight: Freight, passed on as it is. An amount of money, such as 12.50 EUR.
    from: The stock item to start from. One of "starter-rates".
    """

    labour: Optional[MoneyPerTime]
    crew: Optional[JobCrew]
    productive_fraction: Optional[Number]
    press: Optional[MoneyPerTime]
    art: Optional[JobWork]
    film: Optional[MoneyArea]
    screen: Optional[JobScreenWork]
    blank: Optional[MoneyGiven]
    blank_by_size: Optional[Sequence[JobSizePrice]]
    ink: Optional[MoneyPerMassVolume]
    ink_by_name: Optional[Sequence[JobInkPrice]]
    energy: Optional[MoneyPerEnergy]
    dryer_power: Optional[Power]
    flash_power: Optional[Power]
    dryer_efficiency_fraction: Optional[Number]
    cloth_per_piece: Optional[Area]
    packing: Optional[MoneyGiven]
    overhead_fraction: Optional[Number]
    extras: Optional[Sequence[JobExtra]]
    freight: Optional[MoneyGiven]


class _JobRegisterSheetNeeded(TypedDict):
    placement: str
    colours: int
    method: str
    trap: Quantity
    wanted_probability: float
    trap_needed: Quantity
    pair_within_probability: float
    all_within_probability: float
    setup_within_probability: float
    adjusted_within_probability: float


class JobRegisterSheet(_JobRegisterSheetNeeded, total=False):
    """Whether the colours will meet.

    placement: The print with the most colours.
    colours: Number of colours of that print.
    method: How the print's screens are set to one another.
    trap: By how much neighbouring colours overlap. In mm, US: in.
    wanted_probability: The chance wanted that all colours lie within the trap.
    trap_needed: Overlap that the colours need for the chance wanted. In mm, US: in.
    pair_within_probability: The chance that the second colour lies within the trap of the first.
    all_within_probability: The chance that all colours lie within the trap of the first: a good set.
    leaves_trap_at: The first colour whose own chance is below the one wanted.
    setup_within_probability: The chance that all colours of the first print lie within the trap, before
        anything is adjusted.
    adjusted_within_probability: The share of the prints with all colours within the trap, once the set-up is
        adjusted on a test print.
    """

    leaves_trap_at: int


class _JobRegisteringNeeded(TypedDict):
    method: Union[CauseName, RegisterMethod]
    sources: Sequence[Union[CauseName, RegisterCause, RegisterCauseChanged]]


class JobRegistering(_JobRegisteringNeeded, total=False):
    """How a shop sets its screens to one another.

    method: The way of setting them: a stock cause of misregister by its name, or one of the shop's own. One
        of "film-on-platen", "off-contact", "pins", "platen-play", "printed-tape", "shirt-creep"; or
        RegisterMethod {name, sources}.
    sources: What moves the colours beside the method. A list, of each: RegisterCause {name, half_width,
        shape, shared?, accumulates?, per?, from?}; or RegisterCauseChanged {from, and what is other}.
    wanted_probability: The chance wanted that all colours lie within the trap. A number without a unit, or a
        share such as "40 %". Range 0.001 to 0.9999. Usual 0.5 to 0.999. Default 0.95. (common practice: 19
        prints of 20, the level at which doubts are usually stated)
    """

    wanted_probability: Optional[Number]


class JobRegisteringShown(TypedDict):
    """How a shop sets its screens to one another.

    method: The way of setting them: a stock cause of misregister by its name, or one of the shop's own.
        RegisterMethodShown.
    sources: What moves the colours beside the method. A list of RegisterCauseShown.
    wanted_probability: The chance wanted that all colours lie within the trap.
    """

    method: RegisterMethodShown
    sources: List[RegisterCauseShown]
    wanted_probability: float


class JobRunSheet(TypedDict):
    """The run of one placement.

    placement: The print.
    cycle: Time from one index of the carousel to the next; by hand, from one piece to the next. In s.
    rounds: How often a shirt goes round the carousel; by hand, once.
    by_round: Which heads are down in each round, on a carousel. A list of PressRound.
    time_per_piece: Time from one piece to the next on the press: rounds times cycle. In s.
    pieces_per_hour: Pieces an hour while running.
    bottleneck: What sets the pace.
    next_bottleneck: What would set the pace were the bottleneck gone.
    setup_time: Time for work on the screens, before and after the run. In s.
    run_time: Time for printing all pieces, rest and stops included. In s.
    """

    placement: str
    cycle: Quantity
    rounds: int
    by_round: List[PressRound]
    time_per_piece: Quantity
    pieces_per_hour: float
    bottleneck: str
    next_bottleneck: str
    setup_time: Quantity
    run_time: Quantity


class _JobScreenOrderNeeded(TypedDict):
    name: str
    ink: Union[InkName, Ink, InkChanged]


class JobScreenOrder(_JobScreenOrderNeeded, total=False):
    """A screen of a placement, in print order.

    name: What the screen is called.
    ink: The ink of the screen. One of "discharge", "plastisol", "plastisol-low-bleed-white",
        "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"; or Ink
        {density, water_fraction, solids_by_volume_fraction, release_fraction, flood_strokes, print_strokes,
        stroke_gain_fraction, gel, cure, activation_energy?, never_above, flash_never_above, customary_dwell,
        pot_life?, additives?, chemistry?, covers?, scattering?, absorption?, largest_particle?,
        water_activity?, from?}; or InkChanged {from, and what is other}.
    colour: The colour of the ink; screens of one colour are mixed together. Default the screen's name.
    mesh: The mesh of the screen. MeshParts {count, thread?, thickness?, weave?}. Default the one of
        mesh.choose that suits ink, art and cloth.
    coverage_fraction: Covered share of the placement's box; or give the artwork. A number without a unit, or
        a share such as "40 %". Range 1e-6 to 1.
    artwork: The answer of artwork.measure for the screen's separation; or give the covered share.
        ArtworkMeasure {width?, height?, printed_area, coverage_fraction?, edge_length?, edge_share_area,
        finest_line?, finest_line_at?, finest_gap?, finest_gap_at?, halftone?, notes?, basis?}.
    halftone: The halftone of the screen. ArtworkHalftone {ruling, angle, dots?}. Default as the artwork shows
        it.
    hits: Prints of the same screen with a flash between them. Range 1 to 20. Usual 1 to 3. Default one.
    flash: Whether the screen's print is flashed before the next colour. Default no.
    flood_strokes: Flood strokes before the print strokes. Range 0 to 100. Usual 0 to 4. Default the ink's
        own.
    print_strokes: Print strokes of one hit. Range 1 to 100. Usual 1 to 4. Default the ink's own.
    finest_line: The finest line of the art. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.01 to
        1000 mm. Usual 0.1 to 20 mm.
    coated_thickness: Thickness of mesh and stencil together, by gauge. A length in um, mm, cm, m, in, ft, yd,
        mil, cm3/m2. Range 1 to 20000 um. Usual 30 to 1500 um.
    mesh_factor: The mesh's exposure factor against white mesh; 1.5 to 2 for dyed (from memory). A number
        without a unit, or a share such as "40 %". Range 0.1 to 20. Usual 0.9 to 4.
    stored: Whether the screen is kept from an earlier order, its stencil on it: nothing is exposed, and it
        only has to be set up. Default no.
    """

    colour: Optional[str]
    mesh: Optional[Union[str, MeshParts]]
    coverage_fraction: Optional[Number]
    artwork: Optional[Union[ArtworkMeasure, ArtworkMeasureAnswer]]
    halftone: Optional[ArtworkHalftone]
    hits: Optional[Whole]
    flash: Optional[bool]
    flood_strokes: Optional[Whole]
    print_strokes: Optional[Whole]
    finest_line: Optional[Length]
    coated_thickness: Optional[Length]
    mesh_factor: Optional[Number]
    stored: Optional[bool]


class _JobScreenSheetNeeded(TypedDict):
    name: str
    placement: str
    station: int
    ink: str
    mesh: MeshGeometryAnswer
    target_tension: Quantity
    set: int
    stencil: JobStencilSheet
    detail: JobDetailSheet
    frame_least: PressFrameInsideShown
    blade: JobBladeSheet
    off_contact: Quantity
    stroke_speed: Quantity
    strokes: JobStrokes
    hits: int
    wet_film: Quantity
    dry_film: Quantity
    mass_per_print: Quantity
    mass_to_mix: Quantity
    additives: List[JobAdditiveSheet]
    pots: List[InkPot]


class JobScreenSheet(_JobScreenSheetNeeded, total=False):
    """A screen, in print order.

    name: What the screen is called.
    placement: The print it belongs to.
    station: The station of the press it stands at; by hand, its arm.
    ink: The ink: the stock name, or the screen whose own ink it is.
    mesh: The mesh of the screen. MeshGeometry.
    target_tension: The tension to stretch it to. In N/cm.
    set: When to set the screen to the others of its print: first, second, and so on.
    stencil: The stencil of the screen. JobStencilSheet.
    detail: Whether the screen holds its art. JobDetailSheet.
    halftone: The halftone of the screen. JobHalftoneSheet.
    frame_least: Least inside of the screen's frame. PressFrameInsideShown.
    blade: The blade of the screen. JobBladeSheet.
    off_contact: Gap from the mesh to the garment. In mm, US: in.
    stroke_speed: Speed of blade and flood bar to start with. In cm/s, US: in/s.
    strokes: Strokes of one hit. JobStrokes.
    hits: Prints of this screen, with a flash between them.
    wet_film: Thickness of the film as printed. In um.
    dry_film: Thickness of the film when dry. In um.
    hiding: What it makes of a dark cloth, where the optics of the ink are known. JobHidingSheet.
    mass_per_print: Ink on one print. In g, US: oz.
    mass_to_mix: Ink to have ready. In g, US: oz.
    additives: What to stir in. A list of JobAdditiveSheet.
    mix_again_after: Time that a mixed pot lasts; mix no more than it holds, and again after it. In s.
    open_time: How long a water-based ink stays open in the flooded, lowered screen; in a lifted one half of
        that. In a longer stop it is wiped. In s.
    pots: The pots, where the ink does not keep. A list of InkPot.
    """

    halftone: JobHalftoneSheet
    hiding: JobHidingSheet
    mix_again_after: Quantity
    open_time: Quantity


class JobScreenWork(TypedDict):
    """Making a screen: degreased, coated, exposed, washed out, taped; reclaimed after it.

    materials: What a screen uses up: emulsion, tape, cleaners. An amount of money, such as 12.50 EUR.
    minutes: Work on a screen away from the press. A time in s, ms, us, min, h, d. Range 0 to 10000 min. Usual
        0 to 240 min.
    """

    materials: MoneyGiven
    minutes: Time


_JobShopMoreWords = TypedDict("_JobShopMoreWords", {"from": "None"}, total=False)


class _JobShopNeeded(TypedDict):
    press: Union[PressName, Press, PressChanged]
    flash: Union[FlashName, Flash, FlashChanged]
    platen: Union[PlatenName, FlashPlaten, FlashPlatenChanged]
    dryer: Union[DryerName, Dryer, DryerChanged]
    over_mesh_fraction: Number
    spoilage_fraction: Number
    confidence: Number
    off_contact: Length
    blade_hardness: Number
    blade_hardness_water_based: Number
    blade_angle: Angle
    setup_per_screen: Time
    teardown_per_screen: Time


class JobShop(_JobShopMoreWords, _JobShopNeeded, total=False):
    """A shop.

    press: The press. One of "automatic-14", "automatic-8", "manual-4x4"; or Press {kind, stations, heads,
        index, stroke_speed, load, unload, flashes?, from?}; or PressChanged {from, and what is other}.
    flash: The flash. One of "panel-flash", "quartz-flash"; or Flash {panel?, exchange_fraction?, flux?, air?,
        transfer?, customary_dwell, customary_least?, fitted?, from?}; or FlashChanged {from, and what is
        other}.
    platen: The platens. One of "aluminium-6mm", "rubber-topped", "wood-core-18mm"; or FlashPlaten {layers,
        underside, width?, length?, bare_fraction?, from?}; or FlashPlatenChanged {from, and what is other}.
    dryer: The dryer. One of "air-dryer-2m", "long-air-dryer-4m", "infrared-dryer-1m2"; or Dryer {zones?,
        kind?, heated_length?, air?, panel?, belt_width?, piece_length?, lane_width?, belt_least?, belt_most?,
        fitted?, from?}; or DryerChanged {from, and what is other}.
    over_mesh_fraction: Stencil over the mesh as a share of the mesh thickness, where a screen was not
        measured. A number without a unit, or a share such as "40 %". Range 0 to 20. Usual 0.05 to 0.5.
    waste_fraction: Ink wasted, as a share of what is printed. A number without a unit, or a share such as "40
        %". Range 0 to 10. Usual 0 to 0.5. Default 0.1. (memory: left on tools, in tests and in the pot)
    left_in_screen: Ink that stays in the screen at the end. A mass in g, mg, kg, oz, lb. Range 0 to 100000 g.
        Usual 0 to 2000 g. Default 100 g. (memory: what a screen needs to flood)
    spoilage_fraction: Share of the pieces that are spoiled. A number without a unit, or a share such as "40
        %". Range 0 to 0.5. Usual 0 to 0.1.
    spoilage_known_from: Pieces that the spoiled share is as well known from as by counting it on them;
        shop.learn tells them. A number without a unit, or a share such as "40 %". Range 1 to 1e09. Usual 10
        to 10000000. Default the share is exact.
    confidence: The chance wanted of a complete order. A number without a unit, or a share such as "40 %".
        Range 1e-6 to 0.999999999. Usual 0.5 to 0.999.
    blade_overlap: How far the blade stands over the image on each side. A length in um, mm, cm, m, in, ft,
        yd, mil, cm3/m2. Range 0 to 500 mm. Usual 5 to 50 mm. Default 15 mm. (common practice: 1 to 2 cm wider
        than the image on each side)
    free_mesh: Free mesh between blade or stroke end and frame, at each end. A length in um, mm, cm, m, in,
        ft, yd, mil, cm3/m2. Range 0 to 1000 mm. Usual 30 to 250 mm. Default 60 mm. (common practice:
        suppliers: at least 5-6 cm of free mesh at each end, 15 cm for fine process work)
    frame_inside: The inside of its frames. PressFrameInside {width, length}.
    dot_growth: How far every edge of a halftone's dots moves out on its prints (artwork.tone). A length in
        um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range -2000 to 2000 um. Usual -50 to 100 um. Default 20 um.
    off_contact: Gap from the mesh to the garment, not to the platen. A length in um, mm, cm, m, in, ft, yd,
        mil, cm3/m2. Range 0 to 50 mm. Usual 0.5 to 8 mm.
    blade_hardness: Hardness of the blade, shore A. A number without a unit, or a share such as "40 %". Range
        20 to 100. Usual 50 to 95.
    blade_hardness_water_based: Hardness of the blade for water-based ink, shore A. A number without a unit,
        or a share such as "40 %". Range 20 to 100. Usual 50 to 95.
    blade_angle: Angle from blade to mesh; 90 degrees is upright. An angle in deg, rad. Range 1 to 90 deg.
        Usual 45 to 85 deg.
    setup_per_screen: Time for work on each screen before the run. A time in s, ms, us, min, h, d. Range 0 to
        1440 min. Usual 0 to 60 min.
    teardown_per_screen: Time for work on each screen after the run. A time in s, ms, us, min, h, d. Range 0
        to 1440 min. Usual 0 to 60 min.
    efficiency_fraction: Share of the running time in which the press really prints, rest and stops taken off.
        A number without a unit, or a share such as "40 %". Range 0.05 to 1. Usual 0.5 to 1. Default 0.85.
        (memory: nine minutes of rest and stops in an hour)
    register: How the shop sets its screens to one another. JobRegistering {method, sources,
        wanted_probability?}.
    stencil_resists: What its stencils resist. One of "water", "solvent", "both".
    exposure: An exposure read off a step scale. JobExposureTest {time, solid_step, wanted_step?,
        density_per_step?, tested_on, mesh_factor?, coated_thickness?, penetration_depth?}.
    frame: What the meshes are stretched on: no target tension is higher than it holds. One of "wood",
        "glued_metal", "retensionable". Default retensionable.
    air: The air of the print room, in which water-based ink dries in the screen. InkAir {temperature,
        relative_humidity_fraction, speed?}.
    from: No stock item: all stands here.
    """

    waste_fraction: Optional[Number]
    left_in_screen: Optional[Mass]
    spoilage_known_from: Optional[Number]
    blade_overlap: Optional[Length]
    free_mesh: Optional[Length]
    frame_inside: Optional[PressFrameInside]
    dot_growth: Optional[Length]
    efficiency_fraction: Optional[Number]
    register: Optional[JobRegistering]
    stencil_resists: Optional[Literal["water", "solvent", "both"]]
    exposure: Optional[JobExposureTest]
    frame: Optional[Literal["wood", "glued_metal", "retensionable"]]
    air: Optional[InkAir]


_JobShopChangedNeededWords = TypedDict("_JobShopChangedNeededWords", {"from": "Literal[\"starter-shop\"]"})


class JobShopChanged(_JobShopChangedNeededWords, total=False):
    """A shop.

    press: The press. One of "automatic-14", "automatic-8", "manual-4x4"; or Press {kind, stations, heads,
        index, stroke_speed, load, unload, flashes?, from?}; or PressChanged {from, and what is other}.
    flash: The flash. One of "panel-flash", "quartz-flash"; or Flash {panel?, exchange_fraction?, flux?, air?,
        transfer?, customary_dwell, customary_least?, fitted?, from?}; or FlashChanged {from, and what is
        other}.
    platen: The platens. One of "aluminium-6mm", "rubber-topped", "wood-core-18mm"; or FlashPlaten {layers,
        underside, width?, length?, bare_fraction?, from?}; or FlashPlatenChanged {from, and what is other}.
    dryer: The dryer. One of "air-dryer-2m", "long-air-dryer-4m", "infrared-dryer-1m2"; or Dryer {zones?,
        kind?, heated_length?, air?, panel?, belt_width?, piece_length?, lane_width?, belt_least?, belt_most?,
        fitted?, from?}; or DryerChanged {from, and what is other}.
    over_mesh_fraction: Stencil over the mesh as a share of the mesh thickness, where a screen was not
        measured. A number without a unit, or a share such as "40 %". Range 0 to 20. Usual 0.05 to 0.5.
    waste_fraction: Ink wasted, as a share of what is printed. A number without a unit, or a share such as "40
        %". Range 0 to 10. Usual 0 to 0.5. Default 0.1. (memory: left on tools, in tests and in the pot)
    left_in_screen: Ink that stays in the screen at the end. A mass in g, mg, kg, oz, lb. Range 0 to 100000 g.
        Usual 0 to 2000 g. Default 100 g. (memory: what a screen needs to flood)
    spoilage_fraction: Share of the pieces that are spoiled. A number without a unit, or a share such as "40
        %". Range 0 to 0.5. Usual 0 to 0.1.
    spoilage_known_from: Pieces that the spoiled share is as well known from as by counting it on them;
        shop.learn tells them. A number without a unit, or a share such as "40 %". Range 1 to 1e09. Usual 10
        to 10000000. Default the share is exact.
    confidence: The chance wanted of a complete order. A number without a unit, or a share such as "40 %".
        Range 1e-6 to 0.999999999. Usual 0.5 to 0.999.
    blade_overlap: How far the blade stands over the image on each side. A length in um, mm, cm, m, in, ft,
        yd, mil, cm3/m2. Range 0 to 500 mm. Usual 5 to 50 mm. Default 15 mm. (common practice: 1 to 2 cm wider
        than the image on each side)
    free_mesh: Free mesh between blade or stroke end and frame, at each end. A length in um, mm, cm, m, in,
        ft, yd, mil, cm3/m2. Range 0 to 1000 mm. Usual 30 to 250 mm. Default 60 mm. (common practice:
        suppliers: at least 5-6 cm of free mesh at each end, 15 cm for fine process work)
    frame_inside: The inside of its frames. PressFrameInside {width, length}.
    dot_growth: How far every edge of a halftone's dots moves out on its prints (artwork.tone). A length in
        um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range -2000 to 2000 um. Usual -50 to 100 um. Default 20 um.
    off_contact: Gap from the mesh to the garment, not to the platen. A length in um, mm, cm, m, in, ft, yd,
        mil, cm3/m2. Range 0 to 50 mm. Usual 0.5 to 8 mm.
    blade_hardness: Hardness of the blade, shore A. A number without a unit, or a share such as "40 %". Range
        20 to 100. Usual 50 to 95.
    blade_hardness_water_based: Hardness of the blade for water-based ink, shore A. A number without a unit,
        or a share such as "40 %". Range 20 to 100. Usual 50 to 95.
    blade_angle: Angle from blade to mesh; 90 degrees is upright. An angle in deg, rad. Range 1 to 90 deg.
        Usual 45 to 85 deg.
    setup_per_screen: Time for work on each screen before the run. A time in s, ms, us, min, h, d. Range 0 to
        1440 min. Usual 0 to 60 min.
    teardown_per_screen: Time for work on each screen after the run. A time in s, ms, us, min, h, d. Range 0
        to 1440 min. Usual 0 to 60 min.
    efficiency_fraction: Share of the running time in which the press really prints, rest and stops taken off.
        A number without a unit, or a share such as "40 %". Range 0.05 to 1. Usual 0.5 to 1. Default 0.85.
        (memory: nine minutes of rest and stops in an hour)
    register: How the shop sets its screens to one another. JobRegistering {method, sources,
        wanted_probability?}.
    stencil_resists: What its stencils resist. One of "water", "solvent", "both".
    exposure: An exposure read off a step scale. JobExposureTest {time, solid_step, wanted_step?,
        density_per_step?, tested_on, mesh_factor?, coated_thickness?, penetration_depth?}.
    frame: What the meshes are stretched on: no target tension is higher than it holds. One of "wood",
        "glued_metal", "retensionable". Default retensionable.
    air: The air of the print room, in which water-based ink dries in the screen. InkAir {temperature,
        relative_humidity_fraction, speed?}.
    from: The stock item to start from. One of "starter-shop".
    """

    press: Optional[Union[PressName, Press, PressChanged]]
    flash: Optional[Union[FlashName, Flash, FlashChanged]]
    platen: Optional[Union[PlatenName, FlashPlaten, FlashPlatenChanged]]
    dryer: Optional[Union[DryerName, Dryer, DryerChanged]]
    over_mesh_fraction: Optional[Number]
    waste_fraction: Optional[Number]
    left_in_screen: Optional[Mass]
    spoilage_fraction: Optional[Number]
    spoilage_known_from: Optional[Number]
    confidence: Optional[Number]
    blade_overlap: Optional[Length]
    free_mesh: Optional[Length]
    frame_inside: Optional[PressFrameInside]
    dot_growth: Optional[Length]
    off_contact: Optional[Length]
    blade_hardness: Optional[Number]
    blade_hardness_water_based: Optional[Number]
    blade_angle: Optional[Angle]
    setup_per_screen: Optional[Time]
    teardown_per_screen: Optional[Time]
    efficiency_fraction: Optional[Number]
    register: Optional[JobRegistering]
    stencil_resists: Optional[Literal["water", "solvent", "both"]]
    exposure: Optional[JobExposureTest]
    frame: Optional[Literal["wood", "glued_metal", "retensionable"]]
    air: Optional[InkAir]


class _JobShopShownNeeded(TypedDict):
    press: PressShown
    flash: FlashShown
    platen: FlashPlatenShown
    dryer: DryerShown
    over_mesh_fraction: float
    waste_fraction: float
    left_in_screen: Quantity
    spoilage_fraction: float
    confidence: float
    blade_overlap: Quantity
    free_mesh: Quantity
    off_contact: Quantity
    blade_hardness: float
    blade_hardness_water_based: float
    blade_angle: Quantity
    setup_per_screen: Quantity
    teardown_per_screen: Quantity
    efficiency_fraction: float


class JobShopShown(_JobShopShownNeeded, total=False):
    """A shop.

    press: The press. PressShown.
    flash: The flash. FlashShown.
    platen: The platens. FlashPlatenShown.
    dryer: The dryer. DryerShown.
    over_mesh_fraction: Stencil over the mesh as a share of the mesh thickness, where a screen was not
        measured.
    waste_fraction: Ink wasted, as a share of what is printed.
    left_in_screen: Ink that stays in the screen at the end. In g, US: oz.
    spoilage_fraction: Share of the pieces that are spoiled.
    spoilage_known_from: Pieces that the spoiled share is as well known from as by counting it on them;
        shop.learn tells them.
    confidence: The chance wanted of a complete order.
    blade_overlap: How far the blade stands over the image on each side. In mm, US: in.
    free_mesh: Free mesh between blade or stroke end and frame, at each end. In mm, US: in.
    frame_inside: The inside of its frames. PressFrameInsideShown.
    dot_growth: How far every edge of a halftone's dots moves out on its prints (artwork.tone). In um.
    off_contact: Gap from the mesh to the garment, not to the platen. In mm, US: in.
    blade_hardness: Hardness of the blade, shore A.
    blade_hardness_water_based: Hardness of the blade for water-based ink, shore A.
    blade_angle: Angle from blade to mesh; 90 degrees is upright. In deg.
    setup_per_screen: Time for work on each screen before the run. In s.
    teardown_per_screen: Time for work on each screen after the run. In s.
    efficiency_fraction: Share of the running time in which the press really prints, rest and stops taken off.
    register: How the shop sets its screens to one another. JobRegisteringShown.
    stencil_resists: What its stencils resist. One of water, solvent, both.
    exposure: An exposure read off a step scale. JobExposureTestShown.
    frame: What the meshes are stretched on: no target tension is higher than it holds. One of wood,
        glued_metal, retensionable.
    air: The air of the print room, in which water-based ink dries in the screen. InkAirShown.
    """

    spoilage_known_from: float
    frame_inside: PressFrameInsideShown
    dot_growth: Quantity
    register: JobRegisteringShown
    stencil_resists: Literal["water", "solvent", "both"]
    exposure: JobExposureTestShown
    frame: Literal["wood", "glued_metal", "retensionable"]
    air: InkAirShown


class JobSignOff(TypedDict):
    """Something to be signed for by hand.

    what: What is looked at.
    check: What it must show.
    fill_in: What is filled in by hand.
    """

    what: str
    check: str
    fill_in: List[str]


class JobSizeOrder(TypedDict):
    """Pieces of one size.

    size: The size on the label.
    pieces: Pieces of that size. Range 0 to 10000000.
    """

    size: str
    pieces: Whole


class JobSizePrice(TypedDict):
    """What a blank of one size costs.

    size: The size on the label.
    each: Cost of a blank of that size. An amount of money, such as 12.50 EUR.
    """

    size: str
    each: MoneyGiven


class JobSizeSheet(TypedDict):
    """Blanks of one size.

    size: The size on the label.
    pieces: Pieces ordered.
    start_with: Blanks of this size to start with.
    """

    size: str
    pieces: int
    start_with: int


class JobSizeUnitPrice(TypedDict):
    """The price of a piece of one size.

    size: The size on the label.
    pieces: Pieces of it.
    unit_price: Price of a piece of it.
    """

    size: str
    pieces: int
    unit_price: Money


class JobStackSheet(TypedDict):
    """Inks that lie on one another.

    placement: The print.
    inks: The inks, from the cloth up.
    bonds: How each ink holds on the one below it. A list of WashInkPair.
    """

    placement: str
    inks: List[str]
    bonds: List[WashInkPair]


class _JobStencilSheetNeeded(TypedDict):
    target_low: Quantity
    target_high: Quantity
    gauge_low: Quantity
    gauge_high: Quantity
    over_mesh: Quantity
    measured: bool
    coats: str
    exposure_causes: List[ExposureFactor]


class JobStencilSheet(_JobStencilSheetNeeded, total=False):
    """The stencil of a screen.

    target_low: Lower end of the range aimed at for the stencil over the mesh. In um.
    target_high: Upper end of the range aimed at for the stencil over the mesh. In um.
    gauge_low: What a gauge reads at the lower end of the target, mesh and stencil together. In um.
    gauge_high: What a gauge reads at the upper end of the target, mesh and stencil together. In um.
    over_mesh: Stencil over the mesh that the film is reckoned with. In um.
    measured: Whether the stencil was measured; without a gauge there is no verdict.
    verdict: What a measured stencil amounts to. One of thin, good, thick.
    coats: A coating that usually builds the target, print side : squeegee side.
    exposure_time: Exposure for this screen, where the shop has an exposure test. In s.
    after_test: What the test says of a screen of this mesh and coating that got the tested time: hard as far
        as the scale tells, to be exposed once more from the squeegee side, or anew; absent where it would be
        hard, and mesh and coating are not known to be as tested. One of through, post_expose, expose_again.
    exposure_causes: Why the exposure is not the tested time: each reason with its factor. A list of
        ExposureFactor.
    """

    verdict: Literal["thin", "good", "thick"]
    exposure_time: Quantity
    after_test: Literal["through", "post_expose", "expose_again"]


class JobStrokes(TypedDict):
    """Strokes of one hit.

    flood: Number of flood strokes.
    print: Number of print strokes.
    """

    flood: int
    print: int


class JobSupplied(TypedDict):
    """What becomes of the customer's own blanks.

    pieces: Blanks that the customer supplies.
    for_wash_test: Of these, for the wash test.
    expected_good: Good pieces to expect.
    least_good: Good pieces that there are with the chance that the shop wants.
    probability: The chance of so many.
    """

    pieces: int
    for_wash_test: int
    expected_good: float
    least_good: int
    probability: float


class JobWashTest(TypedDict):
    """The wash test.

    stacks: Every stack of inks to test. A list of JobStackSheet.
    take: When to take a print of each stack.
    prints: Prints to take of each stack.
    washes: Washes that each print goes through.
    survival_lower_bound_fraction: Share of the run that survives, at least, if all pass.
    confidence: How sure the surviving share is.
    proves: What the test proves and what it does not.
    """

    stacks: List[JobStackSheet]
    take: List[str]
    prints: int
    washes: int
    survival_lower_bound_fraction: float
    confidence: float
    proves: str


class JobWork(TypedDict):
    """Work by the clock.

    minutes: How long it takes. A time in s, ms, us, min, h, d. Range 0 to 10000 min. Usual 0 to 240 min.
    """

    minutes: Time


class _MeshChooseAnswerNeeded(TypedDict):
    meshes: List[InkMeshOffer]
    notes: List[Note]
    basis: List[Basis]


class MeshChooseAnswer(_MeshChooseAnswerNeeded, total=False):
    """The meshes, the best first.

    meshes: Those that do it first, then those of fewest hits, those without bands, those of the nearest film,
        the finest. A list of InkMeshOffer.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _MeshDetailAnswerNeeded(TypedDict):
    finest_line: Quantity
    finest_gap: Quantity
    smallest_dot_safe: Quantity
    smallest_dot_marginal: Quantity
    ruling_low: Quantity
    ruling_high: Quantity
    notes: List[Note]
    basis: List[Basis]


class MeshDetailAnswer(_MeshDetailAnswerNeeded, total=False):
    """How fine it prints.

    finest_line: Finest line that this mesh prints. In um.
    finest_gap: Finest gap that stays open on this mesh. In um.
    smallest_dot_safe: Smallest dot that always finds a hold. In um.
    smallest_dot_marginal: Smallest dot that often finds a hold. In um.
    ruling_low: Coarsest of the usual rulings for this mesh. In /cm, US: /in.
    ruling_high: Finest ruling for this mesh. In /cm, US: /in.
    tone_min_fraction: Lightest tone that holds at the ruling.
    tone_max_fraction: Darkest tone that stays open at the ruling.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    tone_min_fraction: float
    tone_max_fraction: float
    doubt: List[Doubt]


class _MeshGeometryAnswerNeeded(TypedDict):
    count: Quantity
    thread: Quantity
    pitch: Quantity
    opening: Quantity
    open_area_fraction: float
    thickness: Quantity
    thickness_estimated: bool
    ink_volume: Quantity
    notes: List[Note]
    basis: List[Basis]


class MeshGeometryAnswer(_MeshGeometryAnswerNeeded, total=False):
    """What a mesh is and holds.

    count: Threads per length of the mesh. In /cm, US: /in.
    thread: Diameter of the thread. In um.
    pitch: Distance from thread to thread. In um.
    opening: Clear width between threads. In um.
    open_area_fraction: Share of the mesh that is open.
    thickness: Thickness of the woven mesh. In um.
    thickness_estimated: Whether the thickness is an estimate from the thread.
    ink_volume: Theoretical ink volume: what the open mesh holds, not what it prints. In cm3/m2.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _MeshMoireAngleNeeded(TypedDict):
    angle: Quantity
    clear: bool


class MeshMoireAngle(_MeshMoireAngleNeeded, total=False):
    """An angle asked about.

    angle: Angle of the halftone. In deg.
    worst_period: Longest visible period at exactly this angle; absent where there is none. In mm, US: in.
    locked: True where a beat is locked at exactly this angle.
    clear: Whether no beat is visible even with the angle off by the tolerance.
    """

    worst_period: Quantity
    locked: bool


class _MeshMoireAnswerNeeded(TypedDict):
    beats: List[MeshMoireBeat]
    per_angle: List[MeshMoireAngle]
    best_of_angles: Quantity
    best_angle: Quantity
    best_angle_mirrored: Quantity
    best_angle_clear: bool
    notes: List[Note]
    basis: List[Basis]


class MeshMoireAnswer(_MeshMoireAnswerNeeded, total=False):
    """How a halftone beats against a mesh.

    beats: Visible beats, by angle as asked, strongest first; at most eight for an angle. A list of
        MeshMoireBeat.
    per_angle: Every angle asked about. A list of MeshMoireAngle.
    best_of_angles: The best of the angles asked about. In deg.
    best_angle: The best angle of all, 0 to 90 degrees. In deg.
    best_angle_mirrored: Mirror image of the best angle in the threads, as good. In deg.
    best_angle_period: Longest period of any order at the best angle, the tolerance included; absent where one
        can lock. In mm, US: in.
    best_angle_clear: Whether no beat is visible at the best angle, the tolerance included.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    best_angle_period: Quantity
    doubt: List[Doubt]


class _MeshMoireBeatNeeded(TypedDict):
    angle: Quantity
    order: List[int]
    strength: float


class MeshMoireBeat(_MeshMoireBeatNeeded, total=False):
    """A beat of the halftone against the mesh.

    angle: Angle of the halftone. In deg.
    period: Distance from band to band; absent where locked. In mm, US: in.
    order: Orders h1, h2 of the halftone and m1, m2 of the mesh.
    strength: Strength of the beat: 1 / ((h1^2 + h2^2) (m1^2 + m2^2)).
    locked: True where halftone and mesh keep step: no bands, until either turns or stretches.
    """

    period: Quantity
    locked: bool


class _MeshPartsNeeded(TypedDict):
    count: Count


class MeshParts(_MeshPartsNeeded, total=False):
    """A mesh by its parts.

    count: Threads per length of the mesh. A count per length in /cm, /mm, /in, /m. Range 1 to 1000 /cm. Usual
        8 to 200 /cm.
    thread: Diameter of the thread before weaving. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 1
        to 5000 um. Usual 20 to 500 um. Default the usual thread of that count, from stock.
    thickness: Thickness of the woven mesh. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 1 to
        10000 um. Usual 25 to 1000 um. Default an estimate from the thread.
    weave: How the mesh is woven. One of "plain", "twill". Default plain.
    """

    thread: Optional[Length]
    thickness: Optional[Length]
    weave: Optional[Literal["plain", "twill"]]


class _MeshPartsShownNeeded(TypedDict):
    count: Quantity


class MeshPartsShown(_MeshPartsShownNeeded, total=False):
    """A mesh by its parts.

    count: Threads per length of the mesh. In /cm, US: /in.
    thread: Diameter of the thread before weaving. In mm, US: in.
    thickness: Thickness of the woven mesh. In mm, US: in.
    weave: How the mesh is woven. One of plain, twill.
    """

    thread: Quantity
    thickness: Quantity
    weave: Literal["plain", "twill"]


class Note(TypedDict):
    """What an answer wants its reader to know.

    level: An info explains; a caution wants a look; a limit means that the print as asked for cannot work or
        breaks something. One of info, caution, limit.
    code: What it is about: one code, one meaning.
    field: JSON pointer into the request; empty for the whole.
    message: In words, for the person at the press.
    """

    level: Literal["info", "caution", "limit"]
    code: str
    field: str
    message: str


_PressMoreWords = TypedDict("_PressMoreWords", {"from": "None"}, total=False)


class _PressNeeded(TypedDict):
    kind: Literal["manual", "automatic"]
    stations: Whole
    heads: Whole
    index: Time
    stroke_speed: Velocity
    load: Time
    unload: Time


class Press(_PressMoreWords, _PressNeeded, total=False):
    """A press.

    kind: Who moves the press. One of "manual", "automatic".
    stations: Number of platens, a station each. Range 1 to 100. Usual 1 to 24.
    heads: Places for a screen, a flash or a rest between loading and unloading. Range 1 to 100. Usual 1 to
        24.
    index: Time to move every platen on by one; by hand, to turn to a screen or a flash, lower it and lift it.
        A time in s, ms, us, min, h, d. Range 0 to 3600 s. Usual 0 to 60 s.
    stroke_speed: Speed of blade and flood bar. A speed in m/min, m/s, cm/s, mm/s, ft/min, in/s. Range 0.1 to
        1000 cm/s. Usual 5 to 120 cm/s.
    load: Time to load a shirt. A time in s, ms, us, min, h, d. Range 0 to 3600 s. Usual 0 to 60 s.
    unload: Time to take a shirt off. A time in s, ms, us, min, h, d. Range 0 to 3600 s. Usual 0 to 60 s.
    flashes: Number of flash units. Range 1 to 100. Usual 1 to 24. Default one.
    from: No stock item: all stands here.
    """

    flashes: Optional[Whole]


_PressChangedNeededWords = TypedDict("_PressChangedNeededWords", {"from": "PressName"})


class PressChanged(_PressChangedNeededWords, total=False):
    """A press.

    kind: Who moves the press. One of "manual", "automatic".
    stations: Number of platens, a station each. Range 1 to 100. Usual 1 to 24.
    heads: Places for a screen, a flash or a rest between loading and unloading. Range 1 to 100. Usual 1 to
        24.
    index: Time to move every platen on by one; by hand, to turn to a screen or a flash, lower it and lift it.
        A time in s, ms, us, min, h, d. Range 0 to 3600 s. Usual 0 to 60 s.
    stroke_speed: Speed of blade and flood bar. A speed in m/min, m/s, cm/s, mm/s, ft/min, in/s. Range 0.1 to
        1000 cm/s. Usual 5 to 120 cm/s.
    load: Time to load a shirt. A time in s, ms, us, min, h, d. Range 0 to 3600 s. Usual 0 to 60 s.
    unload: Time to take a shirt off. A time in s, ms, us, min, h, d. Range 0 to 3600 s. Usual 0 to 60 s.
    flashes: Number of flash units. Range 1 to 100. Usual 1 to 24. Default one.
    from: The stock item to start from. One of "automatic-14", "automatic-8", "manual-4x4".
    """

    kind: Optional[Literal["manual", "automatic"]]
    stations: Optional[Whole]
    heads: Optional[Whole]
    index: Optional[Time]
    stroke_speed: Optional[Velocity]
    load: Optional[Time]
    unload: Optional[Time]
    flashes: Optional[Whole]


class _PressColourNeeded(TypedDict):
    name: str
    image_length: Length
    flood_strokes: Whole
    print_strokes: Whole


class PressColour(_PressColourNeeded, total=False):
    """A colour of the run, in print order.

    name: What the colour is called.
    image_length: Length of the image along the stroke. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2.
        Range 1 to 10000 mm. Usual 10 to 1000 mm.
    flood_strokes: Flood strokes of one hit. Range 0 to 100. Usual 0 to 4.
    print_strokes: Print strokes of one hit. Range 1 to 100. Usual 1 to 4.
    flash: Dwell under the flash after the colour. A time in s, ms, us, min, h, d. Range 0.1 to 600 s. Usual 1
        to 30 s. Default none.
    hits: Prints of the same screen, on a carousel one in each round of the shirt. Range 1 to 20. Usual 1 to
        3. Default one.
    """

    flash: Optional[Time]
    hits: Optional[Whole]


class PressFrameInside(TypedDict):
    """The inside of a frame.

    width: Inside of the frame across the stroke. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 1
        to 10000 mm. Usual 20 to 1000 mm.
    length: Inside of the frame along the stroke. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 1
        to 10000 mm. Usual 20 to 1000 mm.
    """

    width: Length
    length: Length


class PressFrameInsideShown(TypedDict):
    """The inside of a frame.

    width: Inside of the frame across the stroke. In mm, US: in.
    length: Inside of the frame along the stroke. In mm, US: in.
    """

    width: Quantity
    length: Quantity


class _PressOversAnswerNeeded(TypedDict):
    start_with: int
    expected_good: float
    probability: float
    notes: List[Note]
    basis: List[Basis]


class PressOversAnswer(_PressOversAnswerNeeded, total=False):
    """Blanks to start with.

    start_with: Blanks to start with.
    expected_good: Good pieces to expect from the blanks.
    probability: The chance that at least the ordered pieces are good.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class PressRound(TypedDict):
    """One round of a shirt on the carousel: which heads come down on it.

    round: The round, 1 being the one after the shirt is loaded.
    down: The colours that print in this round, each followed by its flash.
    up: The colours whose head stays up, their flash off.
    """

    round: int
    down: List[str]
    up: List[str]


class _PressRunAnswerNeeded(TypedDict):
    cycle: Quantity
    rounds: int
    by_round: List[PressRound]
    time_per_piece: Quantity
    pieces_per_hour: float
    bottleneck: str
    next_bottleneck: str
    next_pieces_per_hour: float
    run_time: Quantity
    setup_time: Quantity
    stations: List[PressStationTime]
    notes: List[Note]
    basis: List[Basis]


class PressRunAnswer(_PressRunAnswerNeeded, total=False):
    """A run.

    cycle: Time from one index of the carousel to the next; by hand, from one finished piece to the next. In
        s.
    rounds: How often a shirt goes round the carousel; by hand, once.
    by_round: Which heads are down in each round, on a carousel. A list of PressRound.
    time_per_piece: Time from one finished piece to the next on the press: rounds times cycle. In s.
    pieces_per_hour: Pieces an hour while running, the dryer taken into account.
    bottleneck: What sets the pace.
    next_bottleneck: What would set the pace were the bottleneck gone.
    next_pieces_per_hour: Pieces an hour if the first bottleneck were gone.
    run_time: Time for printing all pieces, rest and stops included where a share of them was given. In s.
    setup_time: Time for work on the screens, before and after the run. In s.
    stations: What each station is busy with. A list of PressStationTime.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _PressShownNeeded(TypedDict):
    kind: Literal["manual", "automatic"]
    stations: int
    heads: int
    index: Quantity
    stroke_speed: Quantity
    load: Quantity
    unload: Quantity


class PressShown(_PressShownNeeded, total=False):
    """A press.

    kind: Who moves the press. One of manual, automatic.
    stations: Number of platens, a station each.
    heads: Places for a screen, a flash or a rest between loading and unloading.
    index: Time to move every platen on by one; by hand, to turn to a screen or a flash, lower it and lift it.
        In s.
    stroke_speed: Speed of blade and flood bar. In m/min, US: ft/min.
    load: Time to load a shirt. In s.
    unload: Time to take a shirt off. In s.
    flashes: Number of flash units.
    """

    flashes: int


class _PressSqueegeeAnswerNeeded(TypedDict):
    blade_length: Quantity
    frame_least: PressFrameInsideShown
    notes: List[Note]
    basis: List[Basis]


class PressSqueegeeAnswer(_PressSqueegeeAnswerNeeded, total=False):
    """Blade and frame.

    blade_length: Length of the blade. In mm, US: in.
    frame_least: Least inside of the frame. PressFrameInsideShown.
    fits: Whether the frame at hand is large enough.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    fits: bool
    doubt: List[Doubt]


class _PressStationTimeNeeded(TypedDict):
    station: int
    role: Literal["load", "print", "flash", "unload"]
    time: Quantity


class PressStationTime(_PressStationTimeNeeded, total=False):
    """What one station is busy with, in each cycle.

    station: The station's place from loading on, 1 being the load.
    role: What the station does. One of load, print, flash, unload.
    colour: The colour that the station serves.
    time: How long the station is busy in a cycle, without the index. In s.
    """

    colour: str


class _RegisterBudgetAnswerNeeded(TypedDict):
    standard: Quantity
    worst_case: Quantity
    pair_within_probability: float
    all_within_probability: float
    trap_needed: Quantity
    colours: List[RegisterColourWithin]
    contributions: List[RegisterContribution]
    setup_within_probability: float
    adjusted_within_probability: float
    notes: List[Note]
    basis: List[Basis]


class RegisterBudgetAnswer(_RegisterBudgetAnswerNeeded, total=False):
    """Whether the colours meet. With methods, the first of them.

    standard: Standard deviation of colour 2 against colour 1, along one axis. In mm, US: in.
    worst_case: The most that the half-widths together can set colour 2 off colour 1, along one axis. In mm,
        US: in.
    pair_within_probability: The chance that colour 2 lies within the trap of colour 1.
    all_within_probability: The chance that all colours lie within the trap of colour 1.
    trap_needed: The least trap in which all colours lie with the chance wanted. In mm, US: in.
    leaves_trap_at: The first colour whose own chance within the trap is below the chance wanted.
    colours: Every further colour against the first. A list of RegisterColourWithin.
    contributions: What each unshared cause adds, the largest first. A list of RegisterContribution.
    compared: The methods side by side, where there are any. A list of RegisterMethodCompared.
    setup_within_probability: The chance that a set-up lands within the trap without being adjusted: that all
        colours of its first print do, by all causes.
    adjusted_within_probability: The share of the prints with all colours within the trap, once the set-up is
        adjusted on a test print: by the causes that act anew on every print, as far as the adjusting itself
        is exact.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    leaves_trap_at: int
    compared: List[RegisterMethodCompared]
    doubt: List[Doubt]


_RegisterCauseMoreWords = TypedDict("_RegisterCauseMoreWords", {"from": "None"}, total=False)


class _RegisterCauseNeeded(TypedDict):
    name: str
    half_width: Length
    shape: Literal["normal", "uniform", "triangular"]


class RegisterCause(_RegisterCauseMoreWords, _RegisterCauseNeeded, total=False):
    """Something that moves a colour out of register.

    name: What the cause is.
    half_width: How far the cause moves a colour to either side, along one axis: the half-width of its spread.
        A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 100 mm. Usual 0 to 2 mm.
    shape: How the error is spread over its half-width. One of "normal", "uniform", "triangular".
    shared: Whether the cause moves all colours alike, so that they still meet. Default no.
    accumulates: Whether each colour is set to the print of the one before it, so that errors add up. Default
        no.
    per: Whether the cause acts once per set-up (film, tape, pins, frame) or anew on every print (shirt creep,
        platen play). One of "setup", "print". Default print.
    from: No stock item: all stands here.
    """

    shared: Optional[bool]
    accumulates: Optional[bool]
    per: Optional[Literal["setup", "print"]]


_RegisterCauseChangedNeededWords = TypedDict("_RegisterCauseChangedNeededWords", {"from": "CauseName"})


class RegisterCauseChanged(_RegisterCauseChangedNeededWords, total=False):
    """Something that moves a colour out of register.

    name: What the cause is.
    half_width: How far the cause moves a colour to either side, along one axis: the half-width of its spread.
        A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 100 mm. Usual 0 to 2 mm.
    shape: How the error is spread over its half-width. One of "normal", "uniform", "triangular".
    shared: Whether the cause moves all colours alike, so that they still meet. Default no.
    accumulates: Whether each colour is set to the print of the one before it, so that errors add up. Default
        no.
    per: Whether the cause acts once per set-up (film, tape, pins, frame) or anew on every print (shirt creep,
        platen play). One of "setup", "print". Default print.
    from: The stock item to start from. One of "film-on-platen", "off-contact", "pins", "platen-play",
        "printed-tape", "shirt-creep".
    """

    name: Optional[str]
    half_width: Optional[Length]
    shape: Optional[Literal["normal", "uniform", "triangular"]]
    shared: Optional[bool]
    accumulates: Optional[bool]
    per: Optional[Literal["setup", "print"]]


class _RegisterCauseShownNeeded(TypedDict):
    name: str
    half_width: Quantity
    shape: Literal["normal", "uniform", "triangular"]


class RegisterCauseShown(_RegisterCauseShownNeeded, total=False):
    """Something that moves a colour out of register.

    name: What the cause is.
    half_width: How far the cause moves a colour to either side, along one axis: the half-width of its spread.
        In mm, US: in.
    shape: How the error is spread over its half-width. One of normal, uniform, triangular.
    shared: Whether the cause moves all colours alike, so that they still meet.
    accumulates: Whether each colour is set to the print of the one before it, so that errors add up.
    per: Whether the cause acts once per set-up (film, tape, pins, frame) or anew on every print (shirt creep,
        platen play). One of setup, print.
    """

    shared: bool
    accumulates: bool
    per: Literal["setup", "print"]


class RegisterColourMarks(TypedDict):
    """A colour and its marks.

    name: What the colour is called.
    marks: Its marks: one shows the shift, two the turn as well, three not on a line all that is asked for. A
        list, of each: RegisterMark {x, y, offsets}.
    """

    name: str
    marks: Sequence[RegisterMark]


class _RegisterColourRegisterNeeded(TypedDict):
    name: str
    prints: int
    shift_x: Quantity
    shift_y: Quantity
    move_x: Quantity
    move_y: Quantity
    remaining: Quantity
    moved_by: List[Literal["setup", "print", "stretch"]]


class RegisterColourRegister(_RegisterColourRegisterNeeded, total=False):
    """How a colour lies against the reference, and what to do.

    name: The colour.
    prints: How many prints were read.
    shift_x: How far the colour lies to the right, at the pivot. In mm, US: in.
    shift_x_error: Standard error of the shift across, from two prints on. In mm, US: in.
    shift_y: How far the colour lies away from the printer, at the pivot. In mm, US: in.
    shift_y_error: Standard error of the shift along, from two prints on. In mm, US: in.
    turn: How far the colour is turned anticlockwise, from two marks on. In deg.
    turn_error: Standard error of the turn, from two prints on. In deg.
    stretch_x_fraction: Growth across the stroke, as a share of the length; below nothing where it shrank.
        From three marks not on a line, or on a line across.
    stretch_x_fraction_error: Standard error of the growth across, from two prints on.
    stretch_y_fraction: Growth along the stroke, likewise. From three marks not on a line, or on a line along
        the stroke.
    stretch_y_fraction_error: Standard error of the growth along, from two prints on.
    stretch_fraction: Growth both ways, taken for alike: all that two marks, or marks on a line aslant, show.
    stretch_fraction_error: Standard error of the growth both ways, from two prints on.
    misfit: What shift, turn and stretch leave of the mean offsets: their standard error along one axis, by
        the offsets to spare, where there are more than these have numbers. Large where a mark was misread, or
        a print is bent. In mm, US: in.
    spread_per_print: Standard deviation of a mark from print to print, along one axis, both axes taken
        together. In mm, US: in.
    spread_x: The same across the stroke alone. In mm, US: in.
    spread_y: The same along the stroke alone. In mm, US: in.
    move_x: How far to move the screen to the right; to the left where it is below nothing. In mm, US: in.
    move_y: How far to move the screen away from the printer; towards him where it is below nothing. In mm,
        US: in.
    turn_by: How far to turn the screen anticlockwise about the pivot, after it was moved; clockwise where it
        is below nothing. In deg.
    turn_moves: How far that turn moves the mark farthest from the pivot: what to look for while turning. In
        mm, US: in.
    remaining: The most that a mark then still lies off along an axis, as a mean of the prints. In mm, US: in.
    film_or_frame: Whether a stretch is beyond three standard errors: the film, the frame or the tension,
        which no adjusting of the screen cures. Absent where no stretch or no error is known, and where the
        marks do not fit one another.
    moved_by: What moves the colour, as far as it is beyond three standard errors, the largest first.
    within_trap_now: The share of prints on which the colour lies within the trap at all its marks, as set
        now.
    within_trap_adjusted: The same once the screen is moved and turned so.
    """

    shift_x_error: Quantity
    shift_y_error: Quantity
    turn: Quantity
    turn_error: Quantity
    stretch_x_fraction: float
    stretch_x_fraction_error: float
    stretch_y_fraction: float
    stretch_y_fraction_error: float
    stretch_fraction: float
    stretch_fraction_error: float
    misfit: Quantity
    spread_per_print: Quantity
    spread_x: Quantity
    spread_y: Quantity
    turn_by: Quantity
    turn_moves: Quantity
    film_or_frame: bool
    within_trap_now: float
    within_trap_adjusted: float


class RegisterColourWithin(TypedDict):
    """A colour against the first.

    colour: Number of the colour, in the order in which the screens are set.
    standard: Standard deviation of the colour against the first, along one axis. In mm, US: in.
    within_probability: The chance that the colour lies within the trap of the first, along both axes.
    """

    colour: int
    standard: Quantity
    within_probability: float


class RegisterContribution(TypedDict):
    """What one cause adds.

    name: What the cause is.
    share_fraction: Share of the cause in the variance of the last colour against the first.
    """

    name: str
    share_fraction: float


class _RegisterFilmChangeNeeded(TypedDict):
    length: Length


class RegisterFilmChange(_RegisterFilmChangeNeeded, total=False):
    """How far the rooms differ in which the films of the colours were made or kept.

    length: From where the colours are set to each other to the farthest edge of the image. A length in um,
        mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 10000 mm. Usual 50 to 1000 mm.
    temperature_difference: How much warmer or colder, to either side. A temperature difference in K,
        delta_degF. Range 0 to 100 K. Usual 0 to 20 K.
    humidity_difference_fraction: How much damper or drier, to either side: 0.10 is 10 points of relative
        humidity. A number without a unit, or a share such as "40 %". Range 0 to 1. Usual 0 to 0.5.
    growth_per_kelvin_ratio: Growth of the film per kelvin, as a share of its length. A number without a unit,
        or a share such as "40 %". Range 0 to 0.001. Usual 1e-6 to 0.0001. Default 1.7e-05. (memory: polyester
        film grows by about 17 ppm/K)
    growth_per_humidity_ratio: Growth of the film over the whole scale of relative humidity, as a share of its
        length. A number without a unit, or a share such as "40 %". Range 0 to 0.1. Usual 0.00001 to 0.01.
        Default 0.0009. (memory: polyester film grows by 6-12 ppm for each per cent of relative humidity)
    shared: Whether all films of the job changed alike, made in the same hour. Default no.
    """

    temperature_difference: Optional[TemperatureDifference]
    humidity_difference_fraction: Optional[Number]
    growth_per_kelvin_ratio: Optional[Number]
    growth_per_humidity_ratio: Optional[Number]
    shared: Optional[bool]


class RegisterMark(TypedDict):
    """A mark, and how far a colour lies off there.

    x: Place of the mark across the stroke, to the right, from any point that all marks share. A length in um,
        mm, cm, m, in, ft, yd, mil, cm3/m2. Range -10000 to 10000 mm. Usual -1000 to 1000 mm.
    y: Place of the mark along the stroke, away from the printer. A length in um, mm, cm, m, in, ft, yd, mil,
        cm3/m2. Range -10000 to 10000 mm. Usual -1000 to 1000 mm.
    offsets: How far the colour lies off the reference at the mark, print by print: the same prints in the
        same order at each mark of the colour. A list, of each: RegisterMarkOffset {x, y}.
    """

    x: Length
    y: Length
    offsets: Sequence[RegisterMarkOffset]


class RegisterMarkOffset(TypedDict):
    """How far a mark of one print lies off the same mark of the reference: print minus reference.

    x: Across the stroke: positive where the colour lies to the right of the reference. A length in um, mm,
        cm, m, in, ft, yd, mil, cm3/m2. Range -100 to 100 mm. Usual -3 to 3 mm.
    y: Along the stroke: positive where the colour lies beyond the reference, farther from the printer. A
        length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range -100 to 100 mm. Usual -3 to 3 mm.
    """

    x: Length
    y: Length


class _RegisterMarksAnswerNeeded(TypedDict):
    colours: List[RegisterColourRegister]
    notes: List[Note]
    basis: List[Basis]


class RegisterMarksAnswer(_RegisterMarksAnswerNeeded, total=False):
    """What the marks say.

    colours: Colour by colour, in the order of the request. A list of RegisterColourRegister.
    within_trap_now: The share of prints on which all colours lie within the trap at all marks, as set now;
        colours taken for independent.
    within_trap_adjusted: The same once all screens are moved and turned so.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    within_trap_now: float
    within_trap_adjusted: float
    doubt: List[Doubt]


class RegisterMethod(TypedDict):
    """A way of setting the colours to each other: a stock cause by its name, or one of the caller's own.

    name: What the method is called.
    sources: What moves the colours with the method. A list, of each: RegisterCause {name, half_width, shape,
        shared?, accumulates?, per?, from?}; or RegisterCauseChanged {from, and what is other}.
    """

    name: str
    sources: Sequence[Union[CauseName, RegisterCause, RegisterCauseChanged]]


class _RegisterMethodComparedNeeded(TypedDict):
    name: str
    standard: Quantity
    worst_case: Quantity
    pair_within_probability: float
    all_within_probability: float
    trap_needed: Quantity
    adjusted_within_probability: float


class RegisterMethodCompared(_RegisterMethodComparedNeeded, total=False):
    """One method beside the others.

    name: What the method is called.
    standard: Standard deviation of colour 2 against colour 1, along one axis. In mm, US: in.
    worst_case: The most that the half-widths together can set colour 2 off colour 1, along one axis. In mm,
        US: in.
    pair_within_probability: The chance that colour 2 lies within the trap of colour 1.
    all_within_probability: The chance that all colours lie within the trap of colour 1.
    trap_needed: The least trap in which all colours lie with the chance wanted. In mm, US: in.
    leaves_trap_at: The first colour whose own chance within the trap is below the chance wanted.
    adjusted_within_probability: The share of the prints with all colours within the trap, once the set-up is
        adjusted on a test print.
    """

    leaves_trap_at: int


class RegisterMethodShown(TypedDict):
    """A way of setting the colours to each other: a stock cause by its name, or one of the caller's own.

    name: What the method is called.
    sources: What moves the colours with the method. A list of RegisterCauseShown.
    """

    name: str
    sources: List[RegisterCauseShown]


class RegisterPivot(TypedDict):
    """The place about which screens are turned.

    x: Across the stroke, to the right. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range -10000 to
        10000 mm. Usual -1000 to 1000 mm.
    y: Along the stroke, away from the printer. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
        -10000 to 10000 mm. Usual -1000 to 1000 mm.
    """

    x: Length
    y: Length


class _ShopLearnAnswerNeeded(TypedDict):
    rows: List[ShopLearnedRow]
    outliers: List[ShopOutlier]
    shop: JobShopShown
    notes: List[Note]
    basis: List[Basis]


class ShopLearnAnswer(_ShopLearnAnswerNeeded, total=False):
    """What a shop's records teach.

    rows: The numbers that were learned. A list of ShopLearnedRow.
    outliers: The records that were left out, and why. A list of ShopOutlier.
    shop: The shop with what was learned in place. JobShopShown.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _ShopLearnedRowNeeded(TypedDict):
    kind: Literal["weigh", "probe", "flash", "step_scale", "setup", "spoilage"]
    name: str
    field: str
    value: Quantity
    half_width: Quantity
    records: int


class ShopLearnedRow(_ShopLearnedRowNeeded, total=False):
    """What records teach of one number.

    kind: The kind of the records. One of weigh, probe, flash, step_scale, setup, spoilage.
    name: What the number is of: an ink on a mesh, a mesh, a machine, the shop.
    field: The number.
    built_in: Its value without the records, where there is one.
    value: Its value from now on.
    half_width: Half of the width within which it lies with 95 %.
    records: The records that count.
    known_from: Of a spoiled share: the pieces that it is known from, the built-in value's own among them.
    ink: Of a release: the ink with it, for this mesh. InkShown.
    """

    built_in: Quantity
    known_from: float
    ink: InkShown


class ShopOutlier(TypedDict):
    """A record that does not count, because it disagrees.

    record: Which of the records, counted from 0.
    kind: The kind of the record. One of weigh, probe, flash, step_scale, setup, spoilage.
    name: What its number is of.
    field: The number.
    value: What the record says of it.
    expected: What was to be expected.
    why: Why it does not count.
    """

    record: int
    kind: Literal["weigh", "probe", "flash", "step_scale", "setup", "spoilage"]
    name: str
    field: str
    value: Quantity
    expected: Quantity
    why: str


class _ShopRecordNeeded(TypedDict):
    kind: Literal["weigh", "probe", "flash", "step_scale", "setup", "spoilage"]


class ShopRecord(_ShopRecordNeeded, total=False):
    """A record of a past job: its kind says which of the other fields it has.

    kind: What the record tells of. One of "weigh", "probe", "flash", "step_scale", "setup", "spoilage".
    ink: The ink that was weighed, or under the probe or the gun. One of "discharge", "plastisol",
        "plastisol-low-bleed-white", "plastisol-low-cure", "plastisol-white", "silicone", "water-based",
        "water-based-high-solids"; or Ink {density, water_fraction, solids_by_volume_fraction,
        release_fraction, flood_strokes, print_strokes, stroke_gain_fraction, gel, cure, activation_energy?,
        never_above, flash_never_above, customary_dwell, pot_life?, additives?, chemistry?, covers?,
        scattering?, absorption?, largest_particle?, water_activity?, from?}; or InkChanged {from, and what is
        other}.
    mesh: The mesh of the screen. MeshParts {count, thread?, thickness?, weave?}.
    cloth: The cloth under the ink. One of "blend-jersey-160", "cotton-fleece-280", "cotton-jersey-180",
        "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150", "triblend-jersey-150"; or Cloth
        {mass_per_area, thickness, conductivity, specific_heat, regain_fraction, never_above, caution_above?,
        dye?, scorch?, shade, lightness?, fibres?, dischargeable?, coated?, surface_take?, from?}; or
        ClothChanged {from, and what is other}.
    film: Wet thickness of the ink stack under the probe or the gun. A length in um, mm, cm, m, in, ft, yd,
        mil, cm3/m2. Range 1 to 5000 um. Usual 5 to 400 um. Default 40 um: a base and a colour on it.
    over_mesh: Stencil over the mesh on the print side. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2.
        Range 0 to 5000 um. Usual 2 to 500 um. Default 20 % of the mesh thickness.
    strokes: Print strokes of one hit. Range 1 to 100. Usual 1 to 4. Default the ink's own.
    hits: Prints of the same screen with a flash between them. Range 1 to 20. Usual 1 to 3. Default one.
    printed_area: The printed area of one print. An area in m2, cm2, mm2, in2, ft2. Range 0.0001 to 1000000
        cm2. Usual 0.5 to 5000 cm2.
    edge_length: Length of all edges of the printed area. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2.
        Range 0 to 1000000 m. Usual 0 to 1000 m. Default a wide solid.
    edge_length_scale: How far an edge of the stencil thickens the film. A length in um, mm, cm, m, in, ft,
        yd, mil, cm3/m2. Range 0.01 to 10 mm. Usual 0.1 to 1.5 mm. Default 0.25 mm.
    surface_take: Ink that the surface of the cloth drinks before a film lies on it, where this is the first
        ink on it. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 1000 cm3/m2. Usual 0 to 100
        cm3/m2. Default none, as a smooth jersey.
    prints: Prints between the two weighings. Range 1 to 10000000.
    mass_before: Mass of the garments before printing, or of pot, screen and tools. A mass in g, mg, kg, oz,
        lb. Range 0 to 1000000 g. Usual 0 to 50000 g.
    mass_after: Mass of the same things after printing, wet. A mass in g, mg, kg, oz, lb. Range 0 to 1000000
        g. Usual 0 to 50000 g.
    runs: Trips of a probe through the shop's dryer. A list, of each: DryerProbeRun {belt_speed, readings}.
    flashes: Flashes of known dwell under the shop's flash. A list, of each: FlashTrial {dwell, platen_start?,
        readings}.
    time: The exposure that was tried. A time in s, ms, us, min, h, d. Range 0.01 to 86400 s. Usual 1 to 5400
        s.
    solid_step: The last step that stayed solid. A number without a unit, or a share such as "40 %". Range 1
        to 41. Usual 1 to 21.
    wanted_step: The step that should be the last solid one. A number without a unit, or a share such as "40
        %". Range 1 to 41. Usual 1 to 21. Default that of the shop's exposure test, else 7.
    density_per_step: Optical density from step to step. A number without a unit, or a share such as "40 %".
        Range 0.01 to 1. Usual 0.05 to 0.31. Default that of the shop's exposure test, else 0.15.
    setup_time: Time for setting up all screens of the job. A time in s, ms, us, min, h, d. Range 0.1 to 1440
        min. Usual 1 to 600 min.
    screens: Screens that were set up in that time. Range 1 to 100. Usual 1 to 24.
    pieces: Pieces started. Range 1 to 10000000.
    spoiled: Those of them that were spoiled. Range 0 to 10000000.
    """

    ink: Optional[Union[InkName, Ink, InkChanged]]
    mesh: Optional[Union[str, MeshParts]]
    cloth: Optional[Union[ClothName, Cloth, ClothChanged]]
    film: Optional[Length]
    over_mesh: Optional[Length]
    strokes: Optional[Whole]
    hits: Optional[Whole]
    printed_area: Optional[Area]
    edge_length: Optional[Length]
    edge_length_scale: Optional[Length]
    surface_take: Optional[Length]
    prints: Optional[Whole]
    mass_before: Optional[Mass]
    mass_after: Optional[Mass]
    runs: Optional[Sequence[DryerProbeRun]]
    flashes: Optional[Sequence[FlashTrial]]
    time: Optional[Time]
    solid_step: Optional[Number]
    wanted_step: Optional[Number]
    density_per_step: Optional[Number]
    setup_time: Optional[Time]
    screens: Optional[Whole]
    pieces: Optional[Whole]
    spoiled: Optional[Whole]


class SolveAnswer(TypedDict):
    """vary: JSON pointer into the request.

    value: The first value.
    reached: What the answer is there.
    jump: Whether the answer passes over what is wanted without taking it.
    evaluations:
    others: Further values.
    """

    vary: str
    value: Any
    reached: Any
    jump: bool
    evaluations: int
    others: List[Any]


_SolveSpecNeededWords = TypedDict("_SolveSpecNeededWords", {"from": "Any"})


class SolveSpec(_SolveSpecNeededWords):
    """vary: JSON pointer into the request.

    from: A quantity, or a plain number where the field is one.
    to: A quantity, or a plain number where the field is one.
    want:
    equals: A quantity, or a plain number where the field is one.
    """

    vary: str
    to: Any
    want: Union[str, Mapping[str, Any]]
    equals: Any


class _StencilThicknessAnswerNeeded(TypedDict):
    over_mesh: Quantity
    over_mesh_fraction: float
    target_low: Quantity
    target_high: Quantity
    verdict: Literal["thin", "good", "thick"]
    notes: List[Note]
    basis: List[Basis]


class StencilThicknessAnswer(_StencilThicknessAnswerNeeded, total=False):
    """How the stencil stands over the mesh.

    over_mesh: Coated thickness less mesh thickness. In um.
    over_mesh_fraction: Stencil over the mesh as a share of the mesh thickness.
    target_low: Lower end of the range aimed at for the stencil over the mesh. In um.
    target_high: Upper end of the range aimed at for the stencil over the mesh. In um.
    verdict: What the stencil's thickness amounts to. One of thin, good, thick.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class StockBasis(TypedDict):
    """Where a value came from.

    field: The field of the row.
    kind: The kind of source.
    source: The source.
    """

    field: str
    kind: str
    source: str


class _StockListAnswerNeeded(TypedDict):
    kinds: List[StockShelf]
    notes: List[Note]
    basis: List[Basis]


class StockListAnswer(_StockListAnswerNeeded, total=False):
    """What is built in.

    kinds: The kinds, in the order in which a print meets them. A list of StockShelf.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class StockRow(TypedDict):
    """A built-in thing.

    name: Its name in requests.
    label: Its name on a form.
    values: Its values, as an answer writes them.
    basis: Where each value came from. A list of StockBasis.
    """

    name: str
    label: str
    values: Any
    basis: List[StockBasis]


class StockShelf(TypedDict):
    """All things of a kind.

    kind: The kind.
    rows: The things. A list of StockRow.
    """

    kind: str
    rows: List[StockRow]


class _SweepAnswerNeeded(TypedDict):
    x: Dict[str, Any]


class SweepAnswer(_SweepAnswerNeeded, total=False):
    """x:

    answers: An answer or {error} for each point.
    columns:
    errors:
    """

    answers: List[Any]
    columns: List[Dict[str, Any]]
    errors: List[Dict[str, Any]]


_SweepSpecMoreWords = TypedDict("_SweepSpecMoreWords", {"from": "Any"}, total=False)


class _SweepSpecNeeded(TypedDict):
    vary: str


class SweepSpec(_SweepSpecMoreWords, _SweepSpecNeeded, total=False):
    """vary: JSON pointer into the request.

    from: A quantity, or a plain number where the field is one.
    to: A quantity, or a plain number where the field is one.
    points:
    spacing: One of "linear", "geometric". Default linear.
    values: In the place of from, to and points: whatever belongs there.
    want: Columns in the place of whole answers.
    """

    to: Any
    points: Whole
    spacing: Literal["linear", "geometric"]
    values: Sequence[Any]
    want: Sequence[Union[str, Mapping[str, Any]]]


class _TensionAssessAnswerNeeded(TypedDict):
    per_screen: List[TensionScreenTension]
    set_mean: Quantity
    set_spread: Quantity
    verdict: Literal["matched", "retension", "replace"]
    notes: List[Note]
    basis: List[Basis]


class TensionAssessAnswer(_TensionAssessAnswerNeeded, total=False):
    """How the set stands.

    per_screen: Each screen, in the order of the request. A list of TensionScreenTension.
    set_mean: Mean of the screens' means. In N/cm.
    set_spread: Greatest less least of the screens' means. In N/cm.
    odd_one: The screen without which the set spreads least, where it is one alone of three or more whose
        means are too far apart.
    set_spread_without: Spread of the set without the screen that stands out. In N/cm.
    verdict: What to do with the set: the worst of its screens' verdicts. One of matched, retension, replace.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    odd_one: str
    set_spread_without: Quantity
    doubt: List[Doubt]


class _TensionAtBladeNeeded(TypedDict):
    stretch_fraction: float
    print_shift: Quantity
    peel_angle: Quantity
    angle_ahead: Quantity


class TensionAtBlade(_TensionAtBladeNeeded, total=False):
    """Mesh and print where the blade was asked for.

    stretch_fraction: How much longer the mesh is than at rest, along the stroke.
    print_shift: How much further from mid span the print under the blade lies than on the screen. In mm, US:
        in.
    peel_angle: Angle between mesh and garment behind the blade. In deg.
    angle_ahead: Angle between mesh and garment before the blade. In deg.
    peel_force: Force that lifts the mesh off the print behind the blade. In N.
    """

    peel_force: Quantity


class _TensionOffContactAnswerNeeded(TypedDict):
    stretch_fraction: float
    image_growth: Quantity
    peel_angle: Quantity
    notes: List[Note]
    basis: List[Basis]


class TensionOffContactAnswer(_TensionOffContactAnswerNeeded, total=False):
    """What the gap does.

    stretch_fraction: How much longer the mesh is than at rest, along the stroke, with the blade at mid span.
    image_growth: How much longer the mesh under the image, or under the whole span where no image is given,
        is than at rest; the print grows by more. In mm, US: in.
    stretch_across_fraction: How much longer the mesh under the blade is than at rest, across the stroke.
    print_growth_along: How much longer the print is than the image on the screen, once the blade has passed
        over all of it. In mm, US: in.
    print_growth_across: How much wider the print is than the image on the screen. In mm, US: in.
    peel_angle: Angle between mesh and garment behind the blade, at mid span. In deg.
    peel_force: Force that lifts the mesh off the print behind the blade, at mid span, over the width of the
        image, or of the span where no image is given. In N.
    blade_force: Force down on the blade, at mid span, only to hold the mesh on the garment. In N.
    at_blade: Mesh and print with the blade where it was asked for. TensionAtBlade.
    compared: The other screen, and how far its print differs. TensionScreenCompared.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    stretch_across_fraction: float
    print_growth_along: Quantity
    print_growth_across: Quantity
    peel_force: Quantity
    blade_force: Quantity
    at_blade: TensionAtBlade
    compared: TensionScreenCompared
    doubt: List[Doubt]


class _TensionOtherScreenNeeded(TypedDict):
    gap: Length


class TensionOtherScreen(_TensionOtherScreenNeeded, total=False):
    """Another screen on a frame of the same size.

    gap: Gap from the other screen's mesh down to the garment. A length in um, mm, cm, m, in, ft, yd, mil,
        cm3/m2. Range 0 to 100 mm. Usual 1.5 to 5 mm.
    tension: Tension of the other screen's mesh. A tension in N/cm, N/m, lbf/in. Range 0 to 200 N/cm. Usual 7
        to 40 N/cm.
    """

    tension: Optional[Tension]


class _TensionScreenComparedNeeded(TypedDict):
    stretch_fraction: float
    image_growth: Quantity
    peel_angle: Quantity


class TensionScreenCompared(_TensionScreenComparedNeeded, total=False):
    """The other screen, and how far its print differs.

    stretch_fraction: How much longer the other screen's mesh is than at rest, along the stroke, with the
        blade at mid span.
    image_growth: How much longer the mesh under the image is than at rest, along the stroke. In mm, US: in.
    print_growth_along: How much longer the other screen's print is than its image, along the stroke. In mm,
        US: in.
    print_growth_across: How much wider the other screen's print is than its image, across the stroke. In mm,
        US: in.
    peel_angle: Angle between the other screen's mesh and the garment behind the blade, at mid span. In deg.
    peel_force: Force that lifts the other screen's mesh off the print, at mid span. In N.
    half_width_along: How far the two prints part at each end, along the stroke, set to each other in the
        middle: a half-width for register.budget, uniform. In mm, US: in.
    half_width_across: How far the two prints part at each side, across the stroke, set to each other in the
        middle: a half-width for register.budget, uniform. In mm, US: in.
    """

    print_growth_along: Quantity
    print_growth_across: Quantity
    peel_force: Quantity
    half_width_along: Quantity
    half_width_across: Quantity


class _TensionScreenReadingsNeeded(TypedDict):
    name: str
    readings: Sequence[Tension]


class TensionScreenReadings(_TensionScreenReadingsNeeded, total=False):
    """A screen and what the meter read on it.

    name: What the screen is called.
    readings: Tension at nine points, or as many as were taken, 10 cm and more from the frame. A list, of
        each: a tension, such as "25 N/cm".
    mesh: The mesh of the screen, for the tension it should have. MeshParts {count, thread?, thickness?,
        weave?}.
    """

    mesh: Optional[Union[str, MeshParts]]


class _TensionScreenTensionNeeded(TypedDict):
    name: str
    mean: Quantity
    spread: Quantity
    least: Quantity
    most: Quantity
    furthest: Quantity
    from_set: Quantity
    verdict: Literal["matched", "retension", "replace"]


class TensionScreenTension(_TensionScreenTensionNeeded, total=False):
    """How one screen stands.

    name: What the screen is called.
    mean: Mean of the screen's readings. In N/cm.
    spread: Greatest less least reading. In N/cm.
    least: Least reading on the screen. In N/cm.
    most: Greatest reading on the screen. In N/cm.
    furthest: The reading furthest from the mean, less the mean. In N/cm.
    from_set: Mean of the screen less the set's mean. In N/cm.
    target_low: Lower end of the tension that the screen should have. In N/cm.
    target_high: Upper end of the tension that the screen should have. In N/cm.
    off_target: Mean of the screen less the nearer end of its target; none between the ends. In N/cm.
    verdict: What to do with the screen. One of matched, retension, replace.
    """

    target_low: Quantity
    target_high: Quantity
    off_target: Quantity


class _UnitConvertAnswerNeeded(TypedDict):
    quantity: Quantity
    notes: List[Note]
    basis: List[Basis]


class UnitConvertAnswer(_UnitConvertAnswerNeeded, total=False):
    """The same quantity in another unit.

    quantity: The quantity in the unit asked for.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _WashColourAnswerNeeded(TypedDict):
    de_ab: float
    de_2000: float
    de_f: float
    grey_scale_grade: float
    staining_grade: float
    notes: List[Note]
    basis: List[Basis]


class WashColourAnswer(_WashColourAnswerNeeded, total=False):
    """How far the colour moved.

    de_ab: CIE 1976 difference.
    de_2000: CIEDE2000 difference.
    de_f: Difference of ISO 105-A05, in steps of the grey scale for change.
    grey_scale_grade: Grey scale grade of change: 5 is none, 1 is most, in halves.
    staining_grade: Grey scale grade of staining, where the readings are of a neighbouring cloth: 5 is none, 1
        is most, in halves.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class WashInkPair(TypedDict):
    """Two inks of which one lies on the other.

    lower: The ink below the joint.
    upper: The ink on top of the joint.
    risk: How likely they are to part. One of low, medium, high.
    why: Why the risk is what it is.
    """

    lower: str
    upper: str
    risk: Literal["low", "medium", "high"]
    why: str


class _WashLayersAnswerNeeded(TypedDict):
    pairs: List[WashInkPair]
    notes: List[Note]
    basis: List[Basis]


class WashLayersAnswer(_WashLayersAnswerNeeded, total=False):
    """The bonds of a stack.

    pairs: Neighbouring inks, bottom to top. A list of WashInkPair.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _WashSamplesAnswerNeeded(TypedDict):
    samples: int
    notes: List[Note]
    basis: List[Basis]


class WashSamplesAnswer(_WashSamplesAnswerNeeded, total=False):
    """How many prints to wash.

    samples: Prints to wash; they show it when no more than `failures` of them fail.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]


class _WashVerdictAnswerNeeded(TypedDict):
    survival_lower_bound_fraction: float
    verdict: Literal["pass", "fail", "not_proven"]
    notes: List[Note]
    basis: List[Basis]


class WashVerdictAnswer(_WashVerdictAnswerNeeded, total=False):
    """What it proves.

    survival_lower_bound_fraction: The share of the run that survives, at least, at the confidence.
    verdict: Whether it is shown that enough survive. One of pass, fail, not_proven.
    notes: What to know beside the numbers. A list of Note.
    basis: Where each built-in number came from. A list of Basis.
    doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.
    """

    doubt: List[Doubt]
