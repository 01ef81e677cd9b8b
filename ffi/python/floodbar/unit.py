# Written by ffi/python/write_modules.py from the catalogue: do not edit.
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
        quantity (needed): The quantity. Such as "55 um", "460 cm2", "1 l", "100 g", "60 s", "12 ft/min", "300
            /h", "77 /cm", "12 N", "25 N/cm", "180 g/m2", "2 g/min", "40 m2/kg", "400 /kg", "150 mJ/cm2", "15
            kW/m2", "2 kWh", "12 kW", "20 W/(m2.K)", "0.055 W/(m.K)", "1340 J/(kg.K)", "90 kJ/mol", "1.15
            g/cm3", "160 degC", "3 K", "22.5 deg", "40 %".
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
