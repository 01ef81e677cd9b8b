# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "tension": screens as a set, off-contact."""

from ._asked import asked as _asked

__all__ = ["assess", "off_contact"]


def assess(
    *, screens, target=None, within=None, across=None, frame=None, units=None, explain=None, doubt=None,
):
    """Are these screens a set?

    Also asked as: Is my screen tight enough? Which screen is out of line with the others?

    Formula: matched: every reading within `within` of its screen's mean, and every mean within `across` of
        the mean of the means; else replace where a mean is below 18 N/cm or a screen's readings spread over 5
        N/cm and more, else retension; set spread = greatest less least mean; target = min(0.23 n (pi d^2 / 4)
        1380 kg/m3 (0.43 N/tex + 4 N/tex um / d), what the frame holds), within 6 %.

    Parameters:
        screens (needed): The screens. A list, of each: TensionScreenReadings {name, readings, mesh?}.
        target: The tension aimed at, for all screens. A tension in N/cm, N/m, lbf/in. Range 0 to 200 N/cm.
            Usual 7 to 40 N/cm. Default by each screen's mesh and the frame.
        within: How far a reading may be from its screen's mean. A tension in N/cm, N/m, lbf/in. Range 0 to 50
            N/cm. Usual 0.5 to 5 N/cm. Default 1.5 N/cm. (common practice: trade journals: nine points within
            1.5 N/cm of the middle)
        across: How far a screen's mean may be from the set's. A tension in N/cm, N/m, lbf/in. Range 0 to 50
            N/cm. Usual 0.5 to 5 N/cm. Default 2 N/cm. (memory: screens of a set within 2 N/cm of each other's
            mean)
        frame: What the meshes are stretched on, for the tension they should have. One of "wood",
            "glued_metal", "retensionable". Default retensionable.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        per_screen: Each screen, in the order of the request. A list of TensionScreenTension.
        set_mean: Mean of the screens' means. In N/cm.
        set_spread: Greatest less least of the screens' means. In N/cm.
        odd_one: The screen without which the set spreads least, where it is one alone of three or more whose
            means are too far apart.
        set_spread_without: Spread of the set without the screen that stands out. In N/cm.
        verdict: What to do with the set: the worst of its screens' verdicts. One of matched, retension,
            replace.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        common practice: trade journals: nine points within 1.5 N/cm of the middle
        memory: screens of a set within 2 N/cm of each other's mean
        common practice: shops: act below 20 N/cm, scrap below 18; a screen whose readings spread over 5 N/cm
            fails
        published: Morton and Hearle, Physical Properties of Textile Fibres, table 13.2: polyester 0.47 to
            0.56 N/tex; EP 3 859 057 A1: screen monofilament from 0.43 N/tex; density 1380 kg/m3
        common practice: trade journals: 35 N/cm at 43-55 /cm, 25-28 at 62-90, 20-22 at 100-120, for
            polyester; 0.23 of the threads' strength is nearest to all of them
        common practice: shops: wooden frames hold 7-12 N/cm, glued metal 15-25, roller frames 30-40

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.tension.assess(
            screens=[{'name': 'base white', 'mesh': '90-48', 'readings': ['25 N/cm', '26 N/cm', '25.5 N/cm']},
                     {'name': 'pennant red', 'mesh': '90-48', 'readings': ['24 N/cm', '24.5 N/cm', '24 N/cm']}],
        )
    """
    return _asked("tension.assess", locals())


def off_contact(
    *, span_length, span_width, gap, image_length=None, image_width=None, tension=None, overlap=None,
    blade_at=None, compare=None, units=None, explain=None, doubt=None,
):
    """How far does the gap stretch the image?

    Also asked as: How high do I set my off-contact? Why is my print larger than the film?

    Formula: stretch = (sqrt(a^2 + g^2) + sqrt(b^2 + g^2)) / (a + b) - 1, gap g, blade at a and b from the
        frame's edges; image growth = stretch at mid span x image length; a mark prints (1 + stretch)^2 times
        as far from mid span as it stands on the screen, stretch with the blade at its print; across: mesh
        flat under the blade B and up on both sides over c = (W - B) / 2, stretch 2 (sqrt(c^2 + g^2) - c) / W;
        peel angle atan(g / a); peel force = tension x sin(peel angle) x width.

    Parameters:
        span_length (needed): Inside of the frame along the stroke. A length in um, mm, cm, m, in, ft, yd,
            mil, cm3/m2. Range 10 to 10000 mm. Usual 200 to 1500 mm.
        span_width (needed): Inside of the frame across the stroke. A length in um, mm, cm, m, in, ft, yd,
            mil, cm3/m2. Range 10 to 10000 mm. Usual 200 to 1500 mm.
        gap (needed): Gap from the mesh down to the garment, not to the platen. A length in um, mm, cm, m, in,
            ft, yd, mil, cm3/m2. Range 0 to 100 mm. Usual 1.5 to 5 mm.
        image_length: The image along the stroke, in the middle of the frame. A length in um, mm, cm, m, in,
            ft, yd, mil, cm3/m2. Range 1 to 10000 mm. Usual 20 to 1000 mm.
        image_width: The image across the stroke, in the middle of the frame. A length in um, mm, cm, m, in,
            ft, yd, mil, cm3/m2. Range 1 to 10000 mm. Usual 20 to 1000 mm.
        tension: Tension of the mesh, as measured with the screen at rest. A tension in N/cm, N/m, lbf/in.
            Range 0 to 200 N/cm. Usual 7 to 40 N/cm.
        overlap: How far the blade stands over the image on each side. A length in um, mm, cm, m, in, ft, yd,
            mil, cm3/m2. Range 0 to 500 mm. Usual 5 to 50 mm. Default 15 mm. (common practice: 1 to 2 cm wider
            than the image on each side)
        blade_at: The blade's distance from the edge of the frame where the stroke begins; mid span for the
            answer's main figures. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 10000 mm.
        compare: Another screen of the set: how far the two prints differ. TensionOtherScreen {gap, tension?}.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        stretch_fraction: How much longer the mesh is than at rest, along the stroke, with the blade at mid
            span.
        image_growth: How much longer the mesh under the image, or under the whole span where no image is
            given, is than at rest; the print grows by more. In mm, US: in.
        stretch_across_fraction: How much longer the mesh under the blade is than at rest, across the stroke.
        print_growth_along: How much longer the print is than the image on the screen, once the blade has
            passed over all of it. In mm, US: in.
        print_growth_across: How much wider the print is than the image on the screen. In mm, US: in.
        peel_angle: Angle between mesh and garment behind the blade, at mid span. In deg.
        peel_force: Force that lifts the mesh off the print behind the blade, at mid span, over the width of
            the image, or of the span where no image is given. In N.
        blade_force: Force down on the blade, at mid span, only to hold the mesh on the garment. In N.
        at_blade: Mesh and print with the blade where it was asked for. TensionAtBlade.
        compared: The other screen, and how far its print differs. TensionScreenCompared.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: exact triangles between the frame's edges and the blade; even strain, no friction
        common practice: suppliers: 1.6 to 3.2 mm for garments, more on fleece and large frames; 5-6 cm of
            free mesh

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.tension.off_contact(
            span_length='500 mm',
            span_width='450 mm',
            gap='3 mm',
            image_length='380 mm',
            image_width='320 mm',
            tension='25 N/cm',
            compare={'gap': '4.5 mm'},
        )
    """
    return _asked("tension.off_contact", locals())
