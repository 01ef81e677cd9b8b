# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "dryer": dryer dwell and throughput, window of the belt, dryer from a probe."""

from ._asked import asked as _asked

__all__ = ["dwell", "window", "fit"]


def dwell(
    *, heated_length, belt_speed=None, dwell=None, piece_length=None, gap=None, lanes=None, units=None,
    explain=None, doubt=None,
):
    """Dwell, belt speed, throughput?

    Also asked as: How long is a shirt in the dryer? How fast does my belt run for a minute of heat?

    Formula: dwell = heated length / belt speed; pieces per hour = lanes x belt speed / (piece length + gap).

    Parameters:
        heated_length (needed): Length under heat. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
            0.01 to 100 m. Usual 0.3 to 15 m.
        belt_speed: Belt speed; or give the dwell. A speed in m/min, m/s, cm/s, mm/s, ft/min, in/s. Range
            0.001 to 1000 m/min. Usual 0.1 to 15 m/min.
        dwell: Time under heat; or give the belt speed. A time in s, ms, us, min, h, d. Range 0.1 to 86400 s.
            Usual 10 to 900 s.
        piece_length: Length of belt that a piece takes; with it comes the throughput. A length in um, mm, cm,
            m, in, ft, yd, mil, cm3/m2. Range 0.01 to 10 m. Usual 0.2 to 1.5 m.
        gap: Gap between two pieces along the belt. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
            0 to 10 m. Usual 0 to 1 m. Default none.
        lanes: Pieces that lie side by side on the belt. Range 1 to 100. Usual 1 to 4. Default one.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Give belt_speed, or dwell.

    Answer:
        dwell: Time under heat. In s.
        belt_speed: Belt speed. In m/min, US: ft/min.
        pieces_per_hour: Throughput, where the piece is known.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: distance over speed

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.dryer.dwell(
            heated_length='2 m',
            dwell='60 s',
            piece_length='0.75 m',
        )
    """
    return _asked("dryer.dwell", locals())


def window(
    *, dryer, ink, cloth, film=None, start=None, units=None, explain=None, doubt=None,
):
    """Between which belt speeds is it cured and not scorched?

    Also asked as: How fast may the belt run? Does this ink cure in my dryer without scorching the shirt?

    Formula: heat.layers of film and cloth through the zones, each length / speed long; fastest: the bottom of
        the film just cures at the exit; slowest: the hottest point of ink or cloth meets its never_above, or
        the integral of exp(-(Ea/R)(1/T - 1/T_scorch)) over the hottest cloth its hold; recommended: 1.25 x
        the shortest dwell, in a dryer that is not fitted no shorter than the customary one, but never longer
        than the geometric mean of the window's dwells; for a cloth whose dye moves no longer than the middle
        of the fast half, whatever is customary; always at least a tenth of the window, as logarithms, from
        its ends.

    Parameters:
        dryer (needed): The dryer that cures the print. One of "air-dryer-2m", "long-air-dryer-4m",
            "infrared-dryer-1m2"; or Dryer {zones?, kind?, heated_length?, air?, panel?, belt_width?,
            piece_length?, lane_width?, belt_least?, belt_most?, fitted?, from?}; or DryerChanged {from, and
            what is other}.
        ink (needed): The ink to cure. One of "discharge", "plastisol", "plastisol-low-bleed-white",
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
        start: Temperature of the shirt at the entry. An absolute temperature in degC, degF, K. Range -40 to
            1500 degC. Usual 0 to 700 degC. Default 25 degC. (common practice: room temperature)
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        fastest: Fastest belt that cures. In m/min, US: ft/min.
        slowest: Slowest belt that does not scorch. In m/min, US: ft/min.
        recommended: Belt speed to start with. In m/min, US: ft/min.
        dwell: Time under heat at the recommended speed. In s.
        limits: What ends the window on each side. DryerLimits.
        ranges: Every range of speeds that is allowed, where there are several; the widest is the window. A
            list of DryerRange.
        profile: Temperatures at the recommended speed. FlashProfile.
        dye_time: How long the hottest cloth is warm enough for its dye to move, at the recommended speed;
            with an activation energy, what all its heat is worth at that temperature. For a cloth that says
            from where its dye moves. In s.
        scorch_fraction: Share of the heat that scorches the cloth, at the recommended speed, for a cloth that
            says what does.
        pieces_per_hour: Pieces an hour at the recommended speed, in as many lanes as the belt has room for.
        evaluations: Trips through the dryer that were worked out.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: conduction through the layers, as heat.layers
        memory: stock dryers: air, transfer and panels, until a probe fits them (dryer.fit)

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.dryer.window(
            dryer='air-dryer-2m',
            ink='plastisol',
            cloth='cotton-jersey-180',
        )
    """
    return _asked("dryer.window", locals())


def fit(
    *, dryer, ink, cloth, runs, film=None, units=None, explain=None, doubt=None,
):
    """What makes the model match my probe?

    Also asked as: How do I calibrate my dryer? What does my probe say about the dryer?

    Formula: least squares of the temperature at the bottom of the film (heat.layers) against the readings,
        over the logarithms of two factors: one on all transfer coefficients, one on all panel exchanges
        (Levenberg-Marquardt); errors from the Jacobian.

    Parameters:
        dryer (needed): The dryer as it is believed to be. One of "air-dryer-2m", "long-air-dryer-4m",
            "infrared-dryer-1m2"; or Dryer {zones?, kind?, heated_length?, air?, panel?, belt_width?,
            piece_length?, lane_width?, belt_least?, belt_most?, fitted?, from?}; or DryerChanged {from, and
            what is other}.
        ink (needed): The ink that the probe sat in. One of "discharge", "plastisol",
            "plastisol-low-bleed-white", "plastisol-low-cure", "plastisol-white", "silicone", "water-based",
            "water-based-high-solids"; or Ink {density, water_fraction, solids_by_volume_fraction,
            release_fraction, flood_strokes, print_strokes, stroke_gain_fraction, gel, cure,
            activation_energy?, never_above, flash_never_above, customary_dwell, pot_life?, additives?,
            chemistry?, covers?, scattering?, absorption?, largest_particle?, water_activity?, from?}; or
            InkChanged {from, and what is other}.
        film: Wet thickness of the ink stack. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 1 to
            5000 um. Usual 5 to 400 um. Default 40 um. (memory: a base and a colour on it)
        cloth (needed): The cloth under the ink. One of "blend-jersey-160", "cotton-fleece-280",
            "cotton-jersey-180", "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150",
            "triblend-jersey-150"; or Cloth {mass_per_area, thickness, conductivity, specific_heat,
            regain_fraction, never_above, caution_above?, dye?, scorch?, shade, lightness?, fibres?,
            dischargeable?, coated?, surface_take?, from?}; or ClothChanged {from, and what is other}.
        runs (needed): Trips of the probe, at one belt speed or several. A list, of each: DryerProbeRun
            {belt_speed, readings}.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        transfer_factor: New transfer coefficients over old.
        transfer_factor_error: Standard error of the factor on the transfer coefficients, where there are
            readings to spare.
        panel_factor: New panel exchange over old; 1 without a panel.
        panel_factor_error: Standard error of the factor on the panel exchange, where there is a panel and
            readings to spare.
        rms: Root mean square of what the readings are off. In K, US: delta_degF.
        distinguishable: Whether the readings can tell air from panel.
        dryer: The dryer with its new numbers. DryerShown.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: Marquardt, SIAM J. Appl. Math. 11 (1963) 431 (from memory)
        physics: conduction through the layers, as heat.layers

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.dryer.fit(
            dryer='air-dryer-2m',
            ink='plastisol',
            cloth='cotton-jersey-180',
            runs=[{'belt_speed': '2 m/min',
                   'readings': [{'at': '0.5 m', 'temperature': '118 degC'},
                                {'at': '1.0 m', 'temperature': '157 degC'},
                                {'at': '1.5 m', 'temperature': '169 degC'},
                                {'at': '2.0 m', 'temperature': '173 degC'}]}],
        )
    """
    return _asked("dryer.fit", locals())
