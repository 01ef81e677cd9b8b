# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "cure": cure of a logged print, the same cure at another temperature."""

from ._asked import asked as _asked

__all__ = ["assess", "equivalent"]


def assess(
    *, ink, log, measured, cloth=None, units=None, explain=None, doubt=None,
):
    """Did this logged print cure?

    Also asked as: Was this print hot enough for long enough? Is my print cured?

    Formula: without activation_energy: equivalent_hold = time at or above the cure temperature; with it: the
        integral of exp(-(Ea/R) (1/T - 1/T_cure)) over the time at or above gel, T in kelvin, straight between
        readings, by Gauss-Legendre quadrature; cured_fraction = min(1, equivalent_hold / hold).

    Parameters:
        ink (needed): The ink. One of "discharge", "plastisol", "plastisol-low-bleed-white",
            "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"; or
            Ink {density, water_fraction, solids_by_volume_fraction, release_fraction, flood_strokes,
            print_strokes, stroke_gain_fraction, gel, cure, activation_energy?, never_above,
            flash_never_above, customary_dwell, pot_life?, additives?, chemistry?, covers?, scattering?,
            absorption?, largest_particle?, water_activity?, from?}; or InkChanged {from, and what is other}.
        cloth: The cloth under it; its heat limits are judged where it is given. One of "blend-jersey-160",
            "cotton-fleece-280", "cotton-jersey-180", "cotton-jersey-180-dark", "nylon-shell-90",
            "polyester-jersey-150", "triblend-jersey-150"; or Cloth {mass_per_area, thickness, conductivity,
            specific_heat, regain_fraction, never_above, caution_above?, dye?, scorch?, shade, lightness?,
            fibres?, dischargeable?, coated?, surface_take?, from?}; or ClothChanged {from, and what is
            other}.
        log (needed): Readings in order of time, two at least; a straight line is taken from each to the next.
            A list, of each: CureLogReading {time, temperature}.
        measured (needed): Where the temperatures were measured. One of "in_ink", "surface".
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        peak: The hottest reading. In degC, US: degF.
        time_above: Time that the log is at or above the cure temperature. In s.
        equivalent_hold: The hold at the cure temperature that the log is worth. In s.
        cured_fraction: The equivalent hold over the hold that the ink needs, at most 1.
        verdict: What the log says about the cure. One of under, cured, over, not_proven.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: Arrhenius law: the rate of a cure goes with exp(-Ea / (R T)), T in kelvin
        standard: SI brochure, 9th edition (2019): R = 8.31446261815324 J/(mol.K), exact by definition
        published: Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4: Gauss-Legendre
            quadrature
        common practice: ink suppliers and trade journals: a film is cured when all of it, down to the cloth,
            was hot enough for long enough

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.cure.assess(
            ink='silicone',
            cloth='cotton-jersey-180-dark',
            log=[{'time': '0 s', 'temperature': '25 degC'}, {'time': '25 s', 'temperature': '120 degC'},
                 {'time': '40 s', 'temperature': '138 degC'}, {'time': '110 s', 'temperature': '142 degC'},
                 {'time': '130 s', 'temperature': '60 degC'}],
            measured='in_ink',
        )
    """
    return _asked("cure.assess", locals())


def equivalent(
    *, from_, to, activation_energy=None, second=None, units=None, explain=None, doubt=None,
):
    """How long must it be at another temperature, or how hot for another time?

    Also asked as: How long at a lower temperature? How hot for a shorter time?

    Formula: hold' = hold x exp((Ea/R) (1/T' - 1/T)); 1/T' = 1/T + (R/Ea) ln(hold'/hold); from two pairs Ea =
        R ln(hold_1/hold_2) / (1/T_1 - 1/T_2); T in kelvin.

    Parameters:
        from_ (needed): The known cure. CureHeld {temperature, hold}.
        activation_energy: Activation energy of the cure; or give a second cure. An energy per amount of
            substance in kJ/mol, J/mol. Range 1 to 1000 kJ/mol. Usual 30 to 300 kJ/mol.
        second: Another cure known to be worth the same; or give the activation energy. CureHeld {temperature,
            hold}.
        to (needed): The cure that is asked for: its temperature or its hold. CureHeldTo {temperature?,
            hold?}.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Give activation_energy, or second.

    Answer:
        hold: The hold at the temperature asked for. In s.
        temperature: The temperature for the hold asked for. In degC, US: degF.
        activation_energy: The activation energy that was used. In kJ/mol.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: Arrhenius law: the rate of a cure goes with exp(-Ea / (R T)), T in kelvin
        standard: SI brochure, 9th edition (2019): R = 8.31446261815324 J/(mol.K), exact by definition

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.cure.equivalent(
            from_={'temperature': '160 degC', 'hold': '60 s'},
            second={'temperature': '150 degC', 'hold': '105 s'},
            to={'temperature': '145 degC'},
        )
    """
    return _asked("cure.equivalent", {**locals(), "from": from_, "from_": None})
