# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "ink": ink film, ink for a run, release from a weighing, mixing."""

from ._asked import asked as _asked

__all__ = ["deposit", "usage", "weigh", "mix"]


def deposit(
    *, mesh, ink, over_mesh=None, strokes=None, hits=None, feature_width=None, edge_length_scale=None,
    units=None, explain=None, doubt=None,
):
    """How thick does it print?

    Also asked as: How much ink does one stroke lay down? How thick is the dry film?

    Formula: wet = hits x (1 + stroke_gain (strokes - 1)) x release x (ink_volume + over_mesh x e(W)); e(W) =
        -(2 L / W) expm1(-W / (2 L)); dry = wet x solids by volume.

    Parameters:
        mesh (needed): The mesh of the screen. Such as "77-55", "195 tpi", "195/55 tpi", "62 /cm"; or
            MeshParts {count, thread?, thickness?, weave?}.
        over_mesh: Stencil over the mesh on the print side. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 0 to 5000 um. Usual 2 to 500 um. Default 20 % of the mesh thickness.
        ink (needed): The ink. One of "discharge", "plastisol", "plastisol-low-bleed-white",
            "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"; or
            Ink {density, water_fraction, solids_by_volume_fraction, release_fraction, flood_strokes,
            print_strokes, stroke_gain_fraction, gel, cure, activation_energy?, never_above,
            flash_never_above, customary_dwell, pot_life?, additives?, chemistry?, covers?, scattering?,
            absorption?, largest_particle?, water_activity?, from?}; or InkChanged {from, and what is other}.
        strokes: Print strokes of one hit. Range 1 to 100. Usual 1 to 4. Default the ink's own.
        hits: Prints of the same screen with a flash between them. Range 1 to 20. Usual 1 to 3. Default one.
        feature_width: Width of the printed line. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 1
            to 10000000 um. Usual 50 to 1000000 um. Default a wide solid.
        edge_length_scale: How far an edge of the stencil thickens the film. A length in um, mm, cm, m, in,
            ft, yd, mil, cm3/m2. Range 0.01 to 10 mm. Usual 0.1 to 1.5 mm. Default 0.25 mm.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        wet_film: Thickness of the film as printed. In um.
        dry_film: Thickness of the film when dry. In um.
        release_fraction: Share of the mesh's volume that one print stroke lays down.
        edge_share_fraction: Share of the stencil's thickness that adds to the film: 1 for a hairline, 0 for a
            wide solid.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: doctoral thesis Fundamental investigations into screen printing, EThOS uk.bl.ethos.422613:
            the mesh sets the film, about half its volume is filled
        common practice: trade journals: a third of the mesh volume is printed; the stencil adds ink near its
            edges only
        memory: the exponential fall of the stencil's share away from an edge

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.ink.deposit(
            mesh='55-64',
            ink='plastisol-white',
            feature_width='0.4 mm',
        )
    """
    return _asked("ink.deposit", locals())


def usage(
    *, mesh, ink, prints, over_mesh=None, strokes=None, hits=None, printed_area=None, width=None, height=None,
    coverage_fraction=None, artwork=None, edge_length=None, edge_length_scale=None, surface_take=None,
    waste_fraction=None, left_in_screen=None, units=None, explain=None, doubt=None,
):
    """How much ink for the run?

    Also asked as: How much ink do I mix for this order? How many shirts does a kilogram print?

    Formula: mass per print = area x (wet film + surface take) x density; mass to mix = prints x mass per
        print x (1 + waste) + left in screen; wet film as in ink.deposit with e = min(1, s L / A) for an edge
        of length s, or the edge share of the artwork.

    Parameters:
        mesh (needed): The mesh of the screen. Such as "77-55", "195 tpi", "195/55 tpi", "62 /cm"; or
            MeshParts {count, thread?, thickness?, weave?}.
        over_mesh: Stencil over the mesh on the print side. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 0 to 5000 um. Usual 2 to 500 um. Default 20 % of the mesh thickness.
        ink (needed): The ink. One of "discharge", "plastisol", "plastisol-low-bleed-white",
            "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"; or
            Ink {density, water_fraction, solids_by_volume_fraction, release_fraction, flood_strokes,
            print_strokes, stroke_gain_fraction, gel, cure, activation_energy?, never_above,
            flash_never_above, customary_dwell, pot_life?, additives?, chemistry?, covers?, scattering?,
            absorption?, largest_particle?, water_activity?, from?}; or InkChanged {from, and what is other}.
        strokes: Print strokes of one hit. Range 1 to 100. Usual 1 to 4. Default the ink's own.
        hits: Prints of the same screen with a flash between them. Range 1 to 20. Usual 1 to 3. Default one.
        printed_area: The printed area; or give width, height and coverage_fraction; or the artwork. An area
            in m2, cm2, mm2, in2, ft2. Range 0.0001 to 1000000 cm2. Usual 0.5 to 5000 cm2.
        width: Width of the print's box. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.1 to
            10000 mm. Usual 5 to 1000 mm.
        height: Height of the print's box. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0.1 to
            10000 mm. Usual 5 to 1000 mm.
        coverage_fraction: Covered share of the box. A fraction, such as "40 %". Range 1e-6 to 1.
        artwork: The answer of artwork.measure, whole. ArtworkMeasure {width?, height?, printed_area,
            coverage_fraction?, edge_length?, edge_share_area, finest_line?, finest_line_at?, finest_gap?,
            finest_gap_at?, halftone?, notes?, basis?}.
        edge_length: Length of all edges of the printed area. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 0 to 1000000 m. Usual 0 to 1000 m. Default a wide solid, or the edges of the
            artwork.
        edge_length_scale: How far an edge of the stencil thickens the film. A length in um, mm, cm, m, in,
            ft, yd, mil, cm3/m2. Range 0.01 to 10 mm. Usual 0.1 to 1.5 mm. Default 0.25 mm.
        surface_take: Ink that the surface of the cloth drinks before a film lies on it, where this is the
            first ink on it. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 1000 cm3/m2. Usual
            0 to 100 cm3/m2. Default none, as a smooth jersey.
        prints (needed): Number of pieces to print. Range 1 to 10000000.
        waste_fraction: Ink wasted, as a share of what is printed. A fraction, such as "40 %". Range 0 to 10.
            Usual 0 to 0.5. Default 0.1. (memory: left on tools, in tests and in the pot)
        left_in_screen: Ink that stays in the screen at the end. A mass in g, mg, kg, oz, lb. Range 0 to
            100000 g. Usual 0 to 2000 g. Default 100 g. (memory: what a screen needs to flood)
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Give printed_area, or width and height and coverage_fraction, or artwork.

    Answer:
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

    Sources:
        published: doctoral thesis Fundamental investigations into screen printing, EThOS uk.bl.ethos.422613:
            the mesh sets the film, about half its volume is filled
        common practice: trade journals: a third of the mesh volume is printed; the stencil adds ink near its
            edges only
        memory: the exponential fall of the stencil's share away from an edge

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.ink.usage(
            mesh='55-64',
            ink='plastisol-white',
            width='320 mm',
            height='380 mm',
            coverage_fraction=0.38,
            prints=240,
        )
    """
    return _asked("ink.usage", locals())


def weigh(
    *, mesh, ink, printed_area, prints, mass_before, mass_after, over_mesh=None, strokes=None, hits=None,
    edge_length=None, edge_length_scale=None, surface_take=None, units=None, explain=None, doubt=None,
):
    """What does my press really lay down?

    Also asked as: How do I measure my own ink release? What does a print weigh?

    Formula: mass per print = |after - before| / prints; wet = mass per print / (area x density) - surface
        take; release = wet / (hits x (1 + stroke_gain (strokes - 1)) x (ink_volume + over_mesh x e)), the
        deposit formula turned round.

    Parameters:
        mesh (needed): The mesh of the screen. Such as "77-55", "195 tpi", "195/55 tpi", "62 /cm"; or
            MeshParts {count, thread?, thickness?, weave?}.
        over_mesh: Stencil over the mesh on the print side. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 0 to 5000 um. Usual 2 to 500 um. Default 20 % of the mesh thickness.
        ink (needed): The ink. One of "discharge", "plastisol", "plastisol-low-bleed-white",
            "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"; or
            Ink {density, water_fraction, solids_by_volume_fraction, release_fraction, flood_strokes,
            print_strokes, stroke_gain_fraction, gel, cure, activation_energy?, never_above,
            flash_never_above, customary_dwell, pot_life?, additives?, chemistry?, covers?, scattering?,
            absorption?, largest_particle?, water_activity?, from?}; or InkChanged {from, and what is other}.
        strokes: Print strokes of one hit. Range 1 to 100. Usual 1 to 4. Default the ink's own.
        hits: Prints of the same screen with a flash between them. Range 1 to 20. Usual 1 to 3. Default one.
        printed_area (needed): The printed area of one print. An area in m2, cm2, mm2, in2, ft2. Range 0.0001
            to 1000000 cm2. Usual 0.5 to 5000 cm2.
        edge_length: Length of all edges of the printed area. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 0 to 1000000 m. Usual 0 to 1000 m. Default a wide solid.
        edge_length_scale: How far an edge of the stencil thickens the film. A length in um, mm, cm, m, in,
            ft, yd, mil, cm3/m2. Range 0.01 to 10 mm. Usual 0.1 to 1.5 mm. Default 0.25 mm.
        surface_take: Ink that the surface of the cloth drinks before a film lies on it, where this is the
            first ink on it. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 1000 cm3/m2. Usual
            0 to 100 cm3/m2. Default none, as a smooth jersey.
        prints (needed): Prints between the two weighings. Range 1 to 10000000.
        mass_before (needed): Mass of the garments before printing, or of pot, screen and tools. A mass in g,
            mg, kg, oz, lb. Range 0 to 1000000 g. Usual 0 to 50000 g.
        mass_after (needed): Mass of the same things after printing, wet. A mass in g, mg, kg, oz, lb. Range 0
            to 1000000 g. Usual 0 to 50000 g.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        mass_per_print: Ink on one print. In g, US: oz.
        wet_film: Thickness of the film as printed, mean over the area. In um.
        release_fraction: Share of the mesh's volume that one print stroke lays down: the ink's
            release_fraction from now on.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: doctoral thesis Fundamental investigations into screen printing, EThOS uk.bl.ethos.422613:
            the mesh sets the film, about half its volume is filled
        common practice: trade journals: a third of the mesh volume is printed; the stencil adds ink near its
            edges only
        memory: the exponential fall of the stencil's share away from an edge

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.ink.weigh(
            mesh='55-64',
            ink='plastisol-white',
            printed_area='460 cm2',
            prints=12,
            mass_before='1890.0 g',
            mass_after='1902.6 g',
        )
    """
    return _asked("ink.weigh", locals())


def mix(
    *, batch, parts, pot_life=None, use_rate=None, units=None, explain=None, doubt=None,
):
    """How much of each part, in how many pots?

    Also asked as: How much catalyst goes into the pot? How many pots do I mix, and when?

    Formula: fraction = parts / sum of parts; mass = fraction x batch; pots = ceil(batch / (use rate x pot
        life)), each mixed when the one before it runs out.

    Parameters:
        batch (needed): Mass of the batch, all parts together. A mass in g, mg, kg, oz, lb. Range 0.001 to
            10000000 g. Usual 1 to 100000 g.
        parts (needed): The parts. A list, of each: InkPart {name, parts, most_fraction?}.
        pot_life: How long a mixed pot stays usable. A time in s, ms, us, min, h, d. Range 1 to 1000000 min.
            Usual 15 to 10000 min.
        use_rate: How fast the press uses the ink. A mass per time in g/min, g/h, kg/h, kg/s, oz/min, lb/h.
            Range 1e-6 to 1000000 g/min. Usual 0.01 to 1000 g/min.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        masses: How much of each part, for the whole batch; together they are the batch.
        fractions: Each part's share of the batch.
        pots: The pots, equal in mass; one where nothing limits it. A list of InkPot.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: shares of a whole; a pot must be used up within its life

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.ink.mix(
            batch='1200 g',
            parts=[{'name': 'ink', 'parts': 97}, {'name': 'fixer', 'parts': 3, 'most_fraction': 0.04}],
            pot_life='6 h',
            use_rate='2 g/min',
        )
    """
    return _asked("ink.mix", locals())
