# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "ink": ink film, ink for a run, release from a weighing, hiding of an ink, opacity of a print, mixing, open time in the screen."""

from ._asked import asked as _asked

__all__ = ["deposit", "usage", "weigh", "hiding", "opacity", "mix", "open_time"]


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
        coverage_fraction: Covered share of the box. A number without a unit, or a share such as "40 %". Range
            1e-6 to 1.
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
        waste_fraction: Ink wasted, as a share of what is printed. A number without a unit, or a share such as
            "40 %". Range 0 to 10. Usual 0 to 0.5. Default 0.1. (memory: left on tools, in tests and in the
            pot)
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


def hiding(
    *, film, over_black, over_white, black, white, read_as=None, specular=None,
    surface_reflection_fraction=None, inner_reflection_fraction=None, wanted_contrast=None, units=None,
    explain=None, doubt=None,
):
    """How well does my ink hide?

    Also asked as: How opaque is my white? How do I measure the opacity of an ink?

    Formula: R = (1 - Rg (a - b coth(b S X))) / (a - Rg + b coth(b S X)), a = 1 + K / S, b = sqrt(a^2 - 1),
        turned round for S and K from one film over two grounds; readings R' = k1 (gloss included) + (1 -
        k1)(1 - k2) R / (1 - k2 R); reflectance ((L* + 16) / 116)^3; contrast R' over black / R' over white.

    Parameters:
        film (needed): Thickness of the dry film. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
            0.1 to 5000 um. Usual 5 to 300 um.
        over_black (needed): What is read of the ink over black. A number without a unit, or a share such as
            "40 %". Range 0 to 100.
        over_white (needed): What is read of the ink over white. A number without a unit, or a share such as
            "40 %". Range 0 to 100.
        black (needed): What is read of the black of the card. A number without a unit, or a share such as "40
            %". Range 0 to 100.
        white (needed): What is read of the white of the card. A number without a unit, or a share such as "40
            %". Range 0 to 100.
        read_as: What the readings are. One of "lightness", "reflectance". Default lightness.
        specular: Whether the readings hold the gloss. One of "included", "excluded". Default excluded.
        surface_reflection_fraction: Share of light that the surface reflects from outside; 0 leaves the
            surface out. A number without a unit, or a share such as "40 %". Range 0 to 0.2. Usual 0 to 0.06.
            Default 0.04. (published: Saunderson, J. Opt. Soc. Am. 32 (1942) 727: Fresnel, refractive index
            1.5 (from memory))
        inner_reflection_fraction: Share of diffuse light that the surface reflects back inside. A number
            without a unit, or a share such as "40 %". Range 0 to 0.9. Usual 0 to 0.65. Default 0.6.
            (published: Saunderson, J. Opt. Soc. Am. 32 (1942) 727: 0.4 to 0.6 for diffuse light (from
            memory))
        wanted_contrast: The contrast at which the ink counts as hiding. A number without a unit, or a share
            such as "40 %". Range 0.5 to 0.9999. Usual 0.9 to 0.99. Default 0.98. (standard: ISO 6504-1: a
            film counts as hiding at a contrast ratio of 98 %)
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Answer:
        scattering: S: the ink's scattering from now on; a lower bound where the drawdown hides its card. In
            /mm.
        absorption: K: the ink's absorption from now on. In /mm.
        contrast_ratio: What is read over black, of what is read over white.
        film_for_contrast: Dry film that reaches the contrast wanted; an upper bound where the drawdown hides
            its card. In um.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: P. Kubelka and F. Munk, Z. tech. Phys. 12 (1931) 593; P. Kubelka, J. Opt. Soc. Am. 38
            (1948) 448
        published: J. L. Saunderson, J. Opt. Soc. Am. 32 (1942) 727
        standard: CIE 15, ISO/CIE 11664-4: lightness of a reflectance

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.ink.hiding(
            film='40 um',
            over_black=84.0,
            over_white=91.5,
            black=8,
            white=95,
        )
    """
    return _asked("ink.hiding", locals())


def opacity(
    *, ink, cloth=None, lightness=None, film=None, mesh=None, over_mesh=None, strokes=None, hits=None,
    on_top_fraction=None, wanted_lightness=None, specular=None, surface_reflection_fraction=None,
    inner_reflection_fraction=None, units=None, explain=None, doubt=None,
):
    """Does it cover this shirt?

    Also asked as: Why is my white not opaque? How many hits of white does a dark shirt need?

    Formula: R = (1 - Rg (a - b coth(b S X))) / (a - Rg + b coth(b S X)), X the dry film on top (hits x that
        of one), Rg the cloth's reflectance ((L* + 16) / 116)^3; as read, R' = (1 - k1)(1 - k2) R / (1 - k2
        R); L* = 116 R'^(1/3) - 16; film needed by the inverse; hits = ceil(film needed / film of a hit).

    Parameters:
        ink (needed): The ink, with its scattering and absorption (ink.hiding). One of "discharge",
            "plastisol", "plastisol-low-bleed-white", "plastisol-low-cure", "plastisol-white", "silicone",
            "water-based", "water-based-high-solids"; or Ink {density, water_fraction,
            solids_by_volume_fraction, release_fraction, flood_strokes, print_strokes, stroke_gain_fraction,
            gel, cure, activation_energy?, never_above, flash_never_above, customary_dwell, pot_life?,
            additives?, chemistry?, covers?, scattering?, absorption?, largest_particle?, water_activity?,
            from?}; or InkChanged {from, and what is other}.
        cloth: The cloth under it; or give its lightness. One of "blend-jersey-160", "cotton-fleece-280",
            "cotton-jersey-180", "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150",
            "triblend-jersey-150"; or Cloth {mass_per_area, thickness, conductivity, specific_heat,
            regain_fraction, never_above, caution_above?, dye?, scorch?, shade, lightness?, fibres?,
            dischargeable?, coated?, surface_take?, from?}; or ClothChanged {from, and what is other}.
        lightness: Lightness L* of the cloth. A number without a unit, or a share such as "40 %". Range 0 to
            100.
        film: The dry film; or give the mesh. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to
            5000 um. Usual 2 to 300 um.
        mesh: The mesh of the screen. MeshParts {count, thread?, thickness?, weave?}.
        over_mesh: Stencil over the mesh on the print side; a wide solid gets nothing of it. A length in um,
            mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 5000 um. Usual 2 to 500 um. Default 20 % of the
            mesh thickness.
        strokes: Print strokes of one hit. Range 1 to 100. Usual 1 to 4. Default the ink's own.
        hits: Prints of the same screen with a flash between them: they lie wet on dry. Range 1 to 20. Usual 1
            to 3. Default one.
        on_top_fraction: Share of the film that lies on the cloth. A number without a unit, or a share such as
            "40 %". Range 0 to 1. Usual 0.5 to 1. Default 1.0. (memory: a film that lies on the cloth: what
            sinks into the fibres does not hide)
        wanted_lightness: The lightness L* that is wanted. A number without a unit, or a share such as "40 %".
            Range 0 to 100. Default within 10 of a thick film.
        specular: Whether the gloss counts. One of "included", "excluded". Default excluded.
        surface_reflection_fraction: Share of light that the surface reflects from outside; 0 leaves the
            surface out. A number without a unit, or a share such as "40 %". Range 0 to 0.2. Usual 0 to 0.06.
            Default 0.04. (published: Saunderson, J. Opt. Soc. Am. 32 (1942) 727: Fresnel, refractive index
            1.5 (from memory))
        inner_reflection_fraction: Share of diffuse light that the surface reflects back inside. A number
            without a unit, or a share such as "40 %". Range 0 to 0.9. Usual 0 to 0.65. Default 0.6.
            (published: Saunderson, J. Opt. Soc. Am. 32 (1942) 727: 0.4 to 0.6 for diffuse light (from
            memory))
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Give film, or mesh.
    Give cloth, or lightness.

    Answer:
        reflectance: Share of light that the print reflects.
        lightness: Lightness L* of the print.
        difference_to_thick_film: Lightness that it lacks of a thick film of the ink.
        dry_film: The dry film that is reckoned with. In um.
        film_needed: Dry film that the lightness wanted takes; absent where no film of this ink reaches it. In
            um.
        hits_needed: Hits that it takes through this mesh.
        verdict: Whether the cloth shows. One of covers, shows_through.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: P. Kubelka and F. Munk, Z. tech. Phys. 12 (1931) 593; P. Kubelka, J. Opt. Soc. Am. 38
            (1948) 448
        published: J. L. Saunderson, J. Opt. Soc. Am. 32 (1942) 727
        standard: CIE 15, ISO/CIE 11664-4: lightness of a reflectance
        memory: a white ten units of L* darker than its thick film looks grey beside a light shirt; a base
            that colours go on may be as dark

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.ink.opacity(
            ink='plastisol-white',
            cloth='cotton-jersey-180-dark',
            mesh='55-64',
            hits=2,
        )
    """
    return _asked("ink.opacity", locals())


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


def open_time(
    *, ink, mesh, air, over_mesh=None, flooded=None, flood_thickness=None, screen_length=None,
    most_loss_fraction=None, units=None, explain=None, doubt=None,
):
    """How long may it stand in the screen?

    Also asked as: When does my ink dry in the mesh? Is my room too dry for water-based ink? How much does a
        flood help?

    Formula: time = most_loss_fraction x water / rate; water = density x water_fraction x ink over each area:
        what mesh and stencil hold and the flood, or what the print strokes leave of it; rate = h / (rho cp)
        Le^(-2/3) P M / (R T) ln((P - humidity p) / (P - activity p_face)); h the larger of forced (0.664
        Re^(1/2) Pr^(1/3), mixed above 5e5) and free convection (0.27 Ra^(1/4)); face: h (T_air - T) + 0.95
        sigma (T_air^4 - T^4) = latent heat x rate, with activity 1 and without the radiation the wet bulb.

    Parameters:
        ink (needed): The ink. One of "discharge", "plastisol", "plastisol-low-bleed-white",
            "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"; or
            Ink {density, water_fraction, solids_by_volume_fraction, release_fraction, flood_strokes,
            print_strokes, stroke_gain_fraction, gel, cure, activation_energy?, never_above,
            flash_never_above, customary_dwell, pot_life?, additives?, chemistry?, covers?, scattering?,
            absorption?, largest_particle?, water_activity?, from?}; or InkChanged {from, and what is other}.
        mesh (needed): The mesh of the screen. Such as "77-55", "195 tpi", "195/55 tpi", "62 /cm"; or
            MeshParts {count, thread?, thickness?, weave?}.
        over_mesh: Stencil over the mesh on the print side, where ink fills it too: narrow images. A length in
            um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 5000 um. Usual 2 to 500 um. Default none, as in
            a wide image.
        flooded: Whether the screen is flooded while it stands. Default yes.
        flood_thickness: Ink over the mesh after a flood stroke. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 0 to 5000 um. Usual 20 to 1000 um. Default 150 um. (memory: a light flood through
            which the image still shows; gauge or weigh your own)
        screen_length: Length of the screen along the air's way. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 10 to 5000 mm. Usual 100 to 1500 mm. Default 500 mm. (memory: inside of a usual
            frame)
        air (needed): The air over the screen. InkAir {temperature, relative_humidity_fraction, speed?}.
        most_loss_fraction: Share of the ink's water that may leave before it must be wiped. A number without
            a unit, or a share such as "40 %". Range 0.001 to 1. Usual 0.05 to 0.5. Default 0.2. (memory:
            water gone before fine detail closes; try your own ink)
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        time: Time until that share of the water is gone; absent where it does not dry within a week. In s.
        rate: Water that leaves at first, per area of the open face. In g/(m2.h), US: oz/(ft2.h).
        wet_bulb: Temperature that pure water would take from the air alone, as a psychrometer reads it. In
            degC, US: degF.
        face: Temperature of the ink's face, which the room's radiation warms too. In degC, US: degF.
        water: Water in the ink, per area of the screen. In g/m2, US: oz/yd2.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: Chilton and Colburn, Ind. Eng. Chem. 26 (1934) 1183: evaporation from heat transfer
        published: Wagner and Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783: saturation pressure and latent
            heat
        published: Incropera, Fundamentals of Heat and Mass Transfer, chapters 7 and 9: a flat plate in moving
            and in still air (from memory)
        memory: which share of the water may leave: try your own ink

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.ink.open_time(
            ink='water-based',
            mesh='43-80',
            air={'temperature': '23 degC', 'relative_humidity_fraction': 0.45, 'speed': '0.15 m/s'},
        )
    """
    return _asked("ink.open_time", locals())
