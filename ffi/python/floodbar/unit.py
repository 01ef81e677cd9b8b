# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "unit": unit conversion."""

from ._asked import asked as _asked

__all__ = ["convert"]


def convert(
    *, quantity, to, units=None, explain=None, doubt=None,
):
    """What is that in my unit?

    Also asked as: What is 110 mesh per inch in threads per centimetre? How much is 320 degF in degC?

    Formula: value x factor / factor', with a shift of zero for absolute temperatures only.

    Parameters:
        quantity (needed): The quantity. A length, such as "55 um"; or an area, such as "460 cm2"; or a
            volume, such as "1 l"; or a mass, such as "100 g"; or a time, such as "60 s"; or a speed, such as
            "12 ft/min"; or a rate, such as "300 /h"; or a count per length, such as "77 /cm"; or a force,
            such as "12 N"; or a tension, such as "25 N/cm"; or a mass per area, such as "180 g/m2"; or a mass
            per area and time, such as "60 g/(m2.h)"; or a mass per time, such as "2 g/min"; or an area per
            mass, such as "40 m2/kg"; or a number per mass, such as "400 /kg"; or an energy per area, such as
            "150 mJ/cm2"; or a power per area, such as "15 kW/m2"; or an energy, such as "2 kWh"; or a power,
            such as "12 kW"; or a heat transfer coefficient, such as "20 W/(m2.K)"; or a thermal conductivity,
            such as "0.055 W/(m.K)"; or a specific heat, such as "1340 J/(kg.K)"; or an energy per amount of
            substance, such as "90 kJ/mol"; or a density, such as "1.15 g/cm3"; or an absolute temperature,
            such as "160 degC"; or a temperature difference, such as "3 K"; or an angle, such as "22.5 deg";
            or a number without a unit, or a share such as "40 %".
        to (needed): The unit that it should be in.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Answer:
        quantity: The quantity in the unit asked for.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        standard: NIST SP 811 (2008), appendix B: exact definitions of the inch, pound and gallon

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.unit.convert(
            quantity='12 ft/min',
            to='m/min',
        )
    """
    return _asked("unit.convert", locals())
