# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "wash": fading in the wash, prints to wash, what a wash test proves, ink on ink in the wash."""

from ._asked import asked as _asked

__all__ = ["colour", "samples", "verdict", "layers"]


def colour(
    *, before, after, units=None, explain=None, doubt=None,
):
    """How far has it faded?

    Also asked as: How much has the print faded? Which grey scale grade is this?

    Formula: de_ab = sqrt(dL^2 + da^2 + db^2); de_2000 by ISO/CIE 11664-6 with kL = kC = kH = 1; de_f by ISO
        105-A05 (chroma and hue differences, less D near blue, damped by the mean chroma), its grade by bands
        of de_f; staining by ISO 105-A04: dE_GS = de_ab - 0.4 sqrt(da^2 + db^2), rating 6.1 - 1.45 ln dE_GS,
        or 5 - 0.23 dE_GS where that is above 4.

    Parameters:
        before (needed): L, a and b before the wash.
        after (needed): L, a and b after the wash.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Answer:
        de_ab: CIE 1976 difference.
        de_2000: CIEDE2000 difference.
        de_f: Difference of ISO 105-A05, in steps of the grey scale for change.
        grey_scale_grade: Grey scale grade of change: 5 is none, 1 is most, in halves.
        staining_grade: Grey scale grade of staining, where the readings are of a neighbouring cloth: 5 is
            none, 1 is most, in halves.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        standard: ISO/CIE 11664-4: CIELAB (from memory)
        standard: ISO/CIE 11664-6: CIEDE2000 (from memory)
        published: Sharma, Wu, Dalal, Color Res. Appl. 30 (2005) 21-30: hue differences and means
        memory: ISO 105-A05: formula and bands, checked against the grey scale's own steps of ISO 105-A02 and
            one independent evaluation
        memory: ISO 105-A04: formula and bands, checked against the grey scale's own steps of ISO 105-A03 and
            one independent evaluation

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.wash.colour(
            before=[46.2, 58.4, 31.0],
            after=[48.0, 54.1, 28.2],
        )
    """
    return _asked("wash.colour", locals())


def samples(
    *, reliability_fraction, confidence, failures=None, units=None, explain=None, doubt=None,
):
    """How many test prints?

    Also asked as: How many shirts do I wash? How many test prints prove the batch?

    Formula: the smallest n with P(failed <= failures) <= 1 - confidence, failed binomial with n tries and
        chance 1 - reliability; with no failure n = ceil(ln(1 - confidence) / ln(reliability)).

    Parameters:
        reliability_fraction (needed): The share of the run that must survive. A fraction, such as "40 %".
            Range 1e-6 to 0.999999999. Usual 0.5 to 0.9999.
        confidence (needed): How sure the test must make it. A fraction, such as "40 %". Range 1e-6 to
            0.999999999. Usual 0.5 to 0.999.
        failures: Most prints that may fail. Range 0 to 1000000. Usual 0 to 100. Default 0. (common practice:
            a wash test is passed when nothing fails)
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Answer:
        samples: Prints to wash; they show it when no more than `failures` of them fail.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: binomial distribution, summed term by term
        published: Clopper, Pearson, Biometrika 26 (1934) 404-413 (from memory)

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.wash.samples(
            reliability_fraction=0.9,
            confidence=0.9,
        )
    """
    return _asked("wash.samples", locals())


def verdict(
    *, washed, failed, confidence, cycles, reliability_fraction=None, failed_at=None, units=None,
    explain=None, doubt=None,
):
    """May this batch ship?

    Also asked as: One print failed in the wash: what now? Are these wash results good enough?

    Formula: lower bound s: P(failures <= failed) = 1 - confidence for a binomial with washed tries and chance
        1 - s (one-sided Clopper-Pearson); after three washes at least, pass: s >= reliability, fail: the
        one-sided upper bound lies below the reliability; else not_proven.

    Parameters:
        washed (needed): Number of prints washed. Range 1 to 1000000. Usual 1 to 1000.
        failed (needed): Number of prints that peeled, cracked or faded. Range 0 to 1000000. Usual 0 to 100.
        confidence (needed): How sure the verdict must be. A fraction, such as "40 %". Range 1e-6 to
            0.999999999. Usual 0.5 to 0.999.
        cycles (needed): Washes that each print went through. Range 1 to 10000. Usual 1 to 50.
        reliability_fraction: The share of the run that must survive. A fraction, such as "40 %". Range 1e-6
            to 0.999999999. Usual 0.5 to 0.9999. Default 0.9. (memory: nine prints in ten; a buyer may want
            more)
        failed_at: The wash at which each failure was seen, as far as it is known.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Answer:
        survival_lower_bound_fraction: The share of the run that survives, at least, at the confidence.
        verdict: Whether it is shown that enough survive. One of pass, fail, not_proven.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: Clopper, Pearson, Biometrika 26 (1934) 404-413 (from memory)
        physics: binomial distribution, summed term by term
        memory: a discharge base under plastisol may hold for two washes and peel at the third
        common practice: ink makers and trade journals: heavy under-cure shows at 2-3 washes, fading at 5-10,
            cracking at 12-28

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.wash.verdict(
            washed=22,
            failed=0,
            confidence=0.9,
            cycles=5,
        )
    """
    return _asked("wash.verdict", locals())


def layers(
    *, cloth, layers, between=None, units=None, explain=None, doubt=None,
):
    """Which of these inks on which will peel?

    Also asked as: Can I print plastisol on a discharge base? Which ink holds on which?

    Formula: a table of rules on neighbouring inks: what each is (its chemistry; where that is not given,
        water makes it water-based, else it is a plastisol), how the lower one stood, and whether the upper
        one cures 10 K or more below it.

    Parameters:
        cloth (needed): The cloth. One of "blend-jersey-160", "cotton-fleece-280", "cotton-jersey-180",
            "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150", "triblend-jersey-150"; or
            Cloth {mass_per_area, thickness, conductivity, specific_heat, regain_fraction, never_above,
            caution_above?, dye?, scorch?, shade, lightness?, fibres?, dischargeable?, coated?, surface_take?,
            from?}; or ClothChanged {from, and what is other}.
        layers (needed): The inks, bottom to top. A list, of each: Ink {density, water_fraction,
            solids_by_volume_fraction, release_fraction, flood_strokes, print_strokes, stroke_gain_fraction,
            gel, cure, activation_energy?, never_above, flash_never_above, customary_dwell, pot_life?,
            additives?, chemistry?, covers?, scattering?, absorption?, largest_particle?, water_activity?,
            from?}; or InkChanged {from, and what is other}.
        between: How each layer but the top one stood when the next was printed on it, bottom to top. Default
            as if nobody checked.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        pairs: Neighbouring inks, bottom to top. A list of WashInkPair.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        common practice: ink makers and trade journals: over-flashed and undried bases, silicone, low-cure
            tops
        memory: plastisol over discharge, water-based over plastisol, like on like

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.wash.layers(
            cloth='cotton-jersey-180-dark',
            layers=['discharge', 'plastisol-white', 'plastisol'],
        )
    """
    return _asked("wash.layers", locals())
