# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "exposure": exposure step test, exposure from a step scale, exposure after a change, working curve of an emulsion, undercut."""

from ._asked import asked as _asked

__all__ = ["series", "step", "rescale", "curve", "undercut"]


def series(
    *, steps, longest=None, middle=None, ratio=None, units=None, explain=None, doubt=None,
):
    """How do I step-test?

    Also asked as: Which times do I try first? How do I find my exposure time?

    Formula: times t_i = longest / ratio^(steps - i), or middle x ratio^(i - (steps + 1) / 2), i = 1 to steps;
        between moves of the mask t_1, t_2 - t_1, ...

    Parameters:
        longest: The longest exposure; or give the middle one. A time in s, ms, us, min, h, d. Range 0.01 to
            86400 s. Usual 1 to 5400 s.
        middle: The exposure in the middle, where the right one is expected; or give the longest. A time in s,
            ms, us, min, h, d. Range 0.01 to 86400 s. Usual 1 to 5400 s.
        steps (needed): Number of strips. Range 2 to 30. Usual 3 to 10.
        ratio: Time of a strip over that of the strip before. A number without a unit, or a share such as "40
            %". Range 1.01 to 4. Usual 1.1 to 2. Default 1.4142135623730951. (physics: equal steps of density:
            two steps double the light)
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Give longest, or middle.

    Answer:
        times: What each strip gets in all, ascending.
        uncover: Time to expose between two moves of the mask, which covers one more strip each time; all add
            up to the longest.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: a geometric series reads evenly on a step scale

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.exposure.series(
            middle='90 s',
            steps=5,
        )
    """
    return _asked("exposure.series", locals())


def step(
    *, time, solid_step, wanted_step=None, density_per_step=None, units=None, explain=None, doubt=None,
):
    """What time does my step scale give?

    Also asked as: My scale holds at step 5: what time now? Do I expose longer or shorter?

    Formula: a step passes 10^-density of the light, so time' = time x 10^(density_per_step (wanted_step -
        solid_step)).

    Parameters:
        time (needed): The exposure that was tried. A time in s, ms, us, min, h, d. Range 0.01 to 86400 s.
            Usual 1 to 5400 s.
        solid_step (needed): The last step that stayed solid. A number without a unit, or a share such as "40
            %". Range 1 to 41. Usual 1 to 21.
        wanted_step: The step that should be the last solid one. A number without a unit, or a share such as
            "40 %". Range 1 to 41. Usual 1 to 21. Default 7.0. (common practice: emulsion suppliers: step 7
            must stay solid, at least)
        density_per_step: Optical density from step to step. A number without a unit, or a share such as "40
            %". Range 0.01 to 1. Usual 0.05 to 0.31. Default 0.15. (common practice: step scales of 21 steps:
            density 0.15 a step (a platemaking page))
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Answer:
        factor: New time over old time.
        time: The time to use. In s.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        standard: ISO 5-2: transmission density is -log10 of transmittance (from memory)

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.exposure.step(
            time='95 s',
            solid_step=6,
        )
    """
    return _asked("exposure.step", locals())


def rescale(
    *, time, distance=None, irradiance=None, mesh_factor=None, stencil=None, reciprocity_exponent=None,
    units=None, explain=None, doubt=None,
):
    """I changed lamp, distance, mesh or coating: what time now?

    Also asked as: How long do I expose with a new lamp? How long do I expose a yellow mesh?

    Formula: time' = time x the product of: distance (to / from)^(2 / p); irradiance (from / to)^(1 / p); mesh
        factor to / from; stencil exp((to - from) / penetration depth).

    Parameters:
        time (needed): The time that was right. A time in s, ms, us, min, h, d. Range 0.01 to 86400 s. Usual 1
            to 5400 s.
        distance: The lamp was moved. ExposureDistanceChange {from, to}.
        irradiance: The lamp was changed. ExposureIrradianceChange {from, to}.
        mesh_factor: The mesh was changed. ExposureFactorChange {from, to}.
        stencil: The coating was changed. ExposureStencilChange {from, to, penetration_depth}.
        reciprocity_exponent: Exponent p of the light in Schwarzschild's law. A number without a unit, or a
            share such as "40 %". Range 0.3 to 1.5. Usual 0.7 to 1.05. Default 1.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Give distance, or irradiance, or mesh_factor, or stencil.

    Answer:
        factor: New time over old time.
        time: The time to expose for now. In s.
        causes: Each reason with its factor. A list of ExposureFactor.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: K. Schwarzschild, Astrophys. J. 11 (1900) 89: blackening goes with I t^p (from memory)
        published: P. F. Jacobs, Rapid Prototyping & Manufacturing (1992): cured depth Dp ln(E / Ec)
        physics: inverse square law of a point source

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.exposure.rescale(
            time='90 s',
            distance={'from': '60 cm', 'to': '75 cm'},
            mesh_factor={'from': 1.0, 'to': 1.7},
        )
    """
    return _asked("exposure.rescale", locals())


def curve(
    *, points, stencil_thickness, irradiance=None, given=None, stencil_left=None, units=None, explain=None,
    doubt=None,
):
    """What does my series say about this emulsion?

    Also asked as: What exposure hardens my stencil through? How thick does this emulsion cure? Can I save an
        underexposed screen?

    Formula: depth = Dp ln(E / Ec), fitted by least squares of depth on ln E; exposure = Ec exp(stencil
        thickness / Dp); its 95 % interval by Fieller's theorem with Student's t of n - 2; time = exposure /
        irradiance; of a screen that got E: hardened = Dp ln(E / Ec), post-exposure = Ec exp((stencil
        thickness - hardened) / Dp), from the squeegee side.

    Parameters:
        points (needed): The strips: at least two different exposures; three or more for the doubts. A list,
            of each: ExposureCurvePoint {exposure, depth}.
        stencil_thickness (needed): The thickness that must be hardened through. A length in um, mm, cm, m,
            in, ft, yd, mil, cm3/m2. Range 0.1 to 20000 um. Usual 5 to 1000 um.
        irradiance: Light at the stencil; with it comes the time. A power per area in mW/cm2, W/cm2, W/m2,
            kW/m2, W/in2. Range 1e-6 to 100000 mW/cm2. Usual 0.01 to 500 mW/cm2.
        given: The exposure that a screen of this coating got; with it comes what the screen is worth. An
            energy per area in mJ/cm2, J/m2, kJ/m2. Range 0.0001 to 10000000 mJ/cm2. Usual 1 to 10000 mJ/cm2.
        stencil_left: Its stencil after washing out and drying, by the gauge of stencil_thickness: thinner
            means that material was lost. Goes with given. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2.
            Range 0 to 20000 um. Usual 5 to 1000 um. Default nothing lost.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
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

    Sources:
        published: P. F. Jacobs, Rapid Prototyping & Manufacturing (1992): the working curve
        published: E. C. Fieller, J. R. Stat. Soc. B 16 (1954) 175: limits of a ratio (from memory)
        memory: less than half hard: the wash-out takes it; a gauge errs by 2 %

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.exposure.curve(
            points=[{'exposure': '40 mJ/cm2', 'depth': '72 um'}, {'exposure': '80 mJ/cm2', 'depth': '113 um'},
                    {'exposure': '160 mJ/cm2', 'depth': '156 um'}],
            stencil_thickness='110 um',
            irradiance='4 mW/cm2',
        )
    """
    return _asked("exposure.curve", locals())


def undercut(
    *, film_gap, half_angle, stencil_thickness, line=None, units=None, explain=None, doubt=None,
):
    """How much detail does the light eat?

    Also asked as: Why do my fine lines close up? Does my film touch the screen well enough?

    Formula: spread = film gap x tan(half angle) on each side; line left = line - 2 spread; through the
        stencil (film gap + stencil thickness) x tan(half angle) at most, since the stencil bends the light
        inwards.

    Parameters:
        film_gap (needed): Gap between film and stencil: dust, poor vacuum, the film on the wrong side. A
            length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 50000 um. Usual 0 to 2000 um.
        half_angle (needed): Half of the angle over which light reaches a point of the stencil. An angle in
            deg, rad. Range 0 to 85 deg. Usual 0.5 to 45 deg.
        stencil_thickness (needed): Thickness of the stencil. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 0.1 to 20000 um. Usual 5 to 1000 um.
        line: Width of a line of the art. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 1 to
            100000 um. Usual 50 to 10000 um.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Answer:
        spread: How far the light spreads on each side, where it enters the stencil. In um.
        line_left: What is left of the line where the light enters the stencil. In um.
        spread_through: How far the light spreads on each side at the far face of the stencil, were it not
            bent in it: an upper bound. In um.
        line_left_through: What is left of the line at the far face, at least. In um.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: similar triangles

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.exposure.undercut(
            film_gap='50 um',
            half_angle='15 deg',
            stencil_thickness='90 um',
            line='300 um',
        )
    """
    return _asked("exposure.undercut", locals())
