# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "flash": flash dwell, flash over a run, flash from readings."""

from ._asked import asked as _asked

__all__ = ["dwell", "run", "fit"]


def dwell(
    *, flash, ink, cloth, platen, film=None, start=None, platen_start=None, units=None, explain=None,
    doubt=None,
):
    """How long under the flash?

    Also asked as: How many seconds do I flash? Why does my white not gel?

    Formula: heat.layers of film, cloth and platen; least: the film's bottom reaches gel (dry: its water is
        below 1 % of the start); most: its top reaches flash_never_above or the cloth its limit; recommended
        1.1 least, under a flash that is not fitted no shorter than customary_least, never above most.

    Parameters:
        flash (needed): The flash over the print. One of "panel-flash", "quartz-flash"; or Flash {panel?,
            exchange_fraction?, flux?, air?, transfer?, customary_dwell, customary_least?, fitted?, from?}; or
            FlashChanged {from, and what is other}.
        ink (needed): The ink of the print. One of "discharge", "plastisol", "plastisol-low-bleed-white",
            "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"; or
            Ink {density, water_fraction, solids_by_volume_fraction, release_fraction, flood_strokes,
            print_strokes, stroke_gain_fraction, gel, cure, activation_energy?, never_above,
            flash_never_above, customary_dwell, pot_life?, additives?, chemistry?, covers?, scattering?,
            absorption?, largest_particle?, water_activity?, from?}; or InkChanged {from, and what is other}.
        film: Wet thickness of the ink stack. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 1 to
            5000 um. Usual 5 to 400 um. Default 40 um. (memory: a base and a colour on it)
        cloth (needed): The cloth under the ink. One of "blend-jersey-160", "cotton-fleece-280",
            "cotton-jersey-180", "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150",
            "triblend-jersey-150"; or Cloth {mass_per_area, thickness, conductivity, specific_heat,
            regain_fraction, never_above, caution_above?, dye?, scorch?, shade, lightness?, fibres?,
            dischargeable?, coated?, surface_take?, from?}; or ClothChanged {from, and what is other}.
        platen (needed): The platen under the cloth. One of "aluminium-6mm", "rubber-topped",
            "wood-core-18mm"; or FlashPlaten {layers, underside, width?, length?, bare_fraction?, from?}; or
            FlashPlatenChanged {from, and what is other}.
        start: Temperature of print and shirt before the flash. An absolute temperature in degC, degF, K.
            Range -40 to 1500 degC. Usual 0 to 700 degC. Default 25 degC. (common practice: room temperature)
        platen_start: Temperature of the platen before the flash. An absolute temperature in degC, degF, K.
            Range -40 to 1500 degC. Usual 0 to 700 degC. Default 25 degC. (common practice: room temperature)
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
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

    Sources:
        physics: conduction through the layers, as heat.layers
        memory: stock flashes: panel temperature, exchange and flux, until you measure yours

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.flash.dwell(
            flash='panel-flash',
            ink='plastisol-white',
            cloth='cotton-jersey-180-dark',
            platen='rubber-topped',
        )
    """
    return _asked("flash.dwell", locals())


def run(
    *, flash, ink, cloth, platen, press, pieces, film=None, platen_start=None, cycle=None, units=None,
    explain=None, doubt=None,
):
    """How must the flash change as platens heat up?

    Also asked as: Do I shorten the flash as the platens warm up? How hot do my platens get?

    Formula: heat.layers of film, cloth and platen, turn after turn: a fresh shirt at room temperature, two
        stops, the flash for the dwell in force (recommended of that turn; the same at each of the press's
        flashes, with a stop for a print between), the other stops in room air, then the bare platen for one
        stop; the platen keeps its heat, and takes in a share of what its bare part gets to directly under the
        same flashes: w = bare_fraction / (1 + D^2 h / (pi^2 K)), D = 0.2 m, K the sum of conductivity x
        thickness of its layers, h what both faces lose to the room; cycle = index + the longest of load,
        unload and dwell, before the flash that of the last turn's dwell, in the first turn of its own; of a
        long run some turns are marched, and those between are interpolated over the platen's top, within 0.03
        K of marching each, and 0.01 s for the shortest dwell (0.03 s for inks that must dry).

    Parameters:
        flash (needed): The flash over the press. One of "panel-flash", "quartz-flash"; or Flash {panel?,
            exchange_fraction?, flux?, air?, transfer?, customary_dwell, customary_least?, fitted?, from?}; or
            FlashChanged {from, and what is other}.
        ink (needed): The ink of the print. One of "discharge", "plastisol", "plastisol-low-bleed-white",
            "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"; or
            Ink {density, water_fraction, solids_by_volume_fraction, release_fraction, flood_strokes,
            print_strokes, stroke_gain_fraction, gel, cure, activation_energy?, never_above,
            flash_never_above, customary_dwell, pot_life?, additives?, chemistry?, covers?, scattering?,
            absorption?, largest_particle?, water_activity?, from?}; or InkChanged {from, and what is other}.
        film: Wet thickness of the ink stack. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 1 to
            5000 um. Usual 5 to 400 um. Default 40 um. (memory: a base and a colour on it)
        cloth (needed): The cloth under the ink. One of "blend-jersey-160", "cotton-fleece-280",
            "cotton-jersey-180", "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150",
            "triblend-jersey-150"; or Cloth {mass_per_area, thickness, conductivity, specific_heat,
            regain_fraction, never_above, caution_above?, dye?, scorch?, shade, lightness?, fibres?,
            dischargeable?, coated?, surface_take?, from?}; or ClothChanged {from, and what is other}.
        platen (needed): The platens of the press. One of "aluminium-6mm", "rubber-topped", "wood-core-18mm";
            or FlashPlaten {layers, underside, width?, length?, bare_fraction?, from?}; or FlashPlatenChanged
            {from, and what is other}.
        platen_start: Temperature of the platens when the run starts. An absolute temperature in degC, degF,
            K. Range -40 to 1500 degC. Usual 0 to 700 degC. Default 25 degC. (common practice: room
            temperature)
        press (needed): The press, for its stations and times. One of "automatic-14", "automatic-8",
            "manual-4x4"; or Press {kind, stations, heads, index, stroke_speed, load, unload, flashes?,
            from?}; or PressChanged {from, and what is other}.
        cycle: Time from one piece to the next. A time in s, ms, us, min, h, d. Range 0.5 to 3600 s. Usual 2
            to 60 s. Default index and the longest of load, unload and the dwell in force.
        pieces (needed): Number of pieces to print. Range 1 to 10000000.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        rotations: The turns of the carousel, one by one. A list of FlashRotation.
        settles_at: Where the platens' temperature settles when a shirt goes on. In degC, US: degF.
        overheats_at: The first turn in which the first shirt's dwell, kept, overheats film or cloth under one
            of its flashes, by more than the 0.1 K that a temperature may be off.
        evaluations: Marches through the solver.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: conduction through the layers, as heat.layers
        memory: 10 W/(m2.K) between shirt or platen and the room
        physics: heat spreads along the platen with its slowest mode

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.flash.run(
            flash='panel-flash',
            ink='plastisol-white',
            cloth='cotton-jersey-180-dark',
            platen='rubber-topped',
            press='automatic-8',
            pieces=96,
        )
    """
    return _asked("flash.run", locals())


def fit(
    *, flash, ink, cloth, platen, runs, film=None, units=None, explain=None, doubt=None,
):
    """What makes the model match my flash?

    Also asked as: How do I calibrate my flash? What does my gun say about the flash?

    Formula: least squares of the temperature at the bottom (in_ink) or top (surface) of the film
        (heat.layers) against the readings, over the logarithms of two factors: one on panel exchange and lamp
        flux, one on the transfer coefficient (Levenberg-Marquardt); where the readings cannot tell the
        second, it is held at 1; errors from the Jacobian.

    Parameters:
        flash (needed): The flash as it is believed to be. One of "panel-flash", "quartz-flash"; or Flash
            {panel?, exchange_fraction?, flux?, air?, transfer?, customary_dwell, customary_least?, fitted?,
            from?}; or FlashChanged {from, and what is other}.
        ink (needed): The ink of the print. One of "discharge", "plastisol", "plastisol-low-bleed-white",
            "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"; or
            Ink {density, water_fraction, solids_by_volume_fraction, release_fraction, flood_strokes,
            print_strokes, stroke_gain_fraction, gel, cure, activation_energy?, never_above,
            flash_never_above, customary_dwell, pot_life?, additives?, chemistry?, covers?, scattering?,
            absorption?, largest_particle?, water_activity?, from?}; or InkChanged {from, and what is other}.
        film: Wet thickness of the ink stack. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 1 to
            5000 um. Usual 5 to 400 um. Default 40 um. (memory: a base and a colour on it)
        cloth (needed): The cloth under the ink. One of "blend-jersey-160", "cotton-fleece-280",
            "cotton-jersey-180", "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150",
            "triblend-jersey-150"; or Cloth {mass_per_area, thickness, conductivity, specific_heat,
            regain_fraction, never_above, caution_above?, dye?, scorch?, shade, lightness?, fibres?,
            dischargeable?, coated?, surface_take?, from?}; or ClothChanged {from, and what is other}.
        platen (needed): The platen under the cloth. One of "aluminium-6mm", "rubber-topped",
            "wood-core-18mm"; or FlashPlaten {layers, underside, width?, length?, bare_fraction?, from?}; or
            FlashPlatenChanged {from, and what is other}.
        runs (needed): Flashes of known dwell. A list, of each: FlashTrial {dwell, platen_start?, readings}.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        panel_factor: New panel exchange over old, where there is a panel.
        flux_factor: New lamp flux over old, where there is one.
        heat_factor_error: Standard error of the factor on panel or lamps, where there are readings to spare.
        transfer_factor: New transfer coefficient over old; 1 where there is none or the readings cannot tell
            it.
        transfer_factor_error: Standard error of the factor on the transfer coefficient, where it was fitted
            and there are readings to spare.
        rms: Root mean square of what the readings are off. In K, US: delta_degF.
        distinguishable: Whether the readings can tell the air from panel or lamps.
        flash: The flash with its new numbers. FlashShown.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: Marquardt, SIAM J. Appl. Math. 11 (1963) 431 (from memory)
        physics: conduction through the layers, as heat.layers

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.flash.fit(
            flash='panel-flash',
            ink='plastisol-white',
            cloth='cotton-jersey-180-dark',
            platen='rubber-topped',
            runs=[{'dwell': '4 s',
                   'readings': [{'time': '4.2 s', 'temperature': '93 degC', 'measured': 'surface'}]},
                  {'dwell': '6 s',
                   'readings': [{'time': '6.2 s', 'temperature': '112 degC', 'measured': 'surface'}]}],
        )
    """
    return _asked("flash.fit", locals())
