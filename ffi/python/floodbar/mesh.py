# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "mesh": mesh geometry, finest detail of a mesh, halftone against mesh, choice of a mesh."""

from ._asked import asked as _asked

__all__ = ["geometry", "detail", "moire", "choose"]


def geometry(
    *, mesh, units=None, explain=None, doubt=None,
):
    """What does this cloth hold?

    Also asked as: How big is the opening of this mesh? How much ink does this screen hold?

    Formula: pitch p = 1 / n; opening w = p - d; open area = (w / p)^2; thickness D as measured, else 1.5 d
        (plain) or 1.77 d (twill); ink volume = open area x D.

    Parameters:
        mesh (needed): The mesh: its designation (threads per cm - thread in um), its count with or without
            the thread, or its parts. Such as "77-55", "195 tpi", "195/55 tpi", "62 /cm"; or MeshParts {count,
            thread?, thickness?, weave?}.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        count: Threads per length of the mesh. In /cm, US: /in.
        thread: Diameter of the thread. In um.
        pitch: Distance from thread to thread. In um.
        opening: Clear width between threads. In um.
        open_area_fraction: Share of the mesh that is open.
        thickness: Thickness of the woven mesh. In um.
        thickness_estimated: Whether the thickness is an estimate from the thread.
        ink_volume: Theoretical ink volume: what the open mesh holds, not what it prints. In cm3/m2.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        standard: ISO 9044: aperture, open area of woven wire cloth
        common practice: weavers' pages: cloth thickness 1.44-1.58 thread diameters in plain weave, 1.77 in
            twill

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.mesh.geometry(
            mesh='77-55',
        )
    """
    return _asked("mesh.geometry", locals())


def detail(
    *, mesh, ruling=None, units=None, explain=None, doubt=None,
):
    """How fine can it print?

    Also asked as: What is the finest line on this mesh? Which halftone ruling does this mesh hold?

    Formula: dot safe 2 d + w, marginal d + w; line the greater of 2 d + w and 0.3 mm, gap of 2 d + w and 0.5
        mm; ruling n / 5 to n / 3.5; tone of a round dot D at ruling r: pi / 4 (D r)^2, and as much open at
        the dark end.

    Parameters:
        mesh (needed): The mesh. Such as "77-55", "195 tpi", "195/55 tpi", "62 /cm"; or MeshParts {count,
            thread?, thickness?, weave?}.
        ruling: Lines per length of the halftone. A count per length in /cm, /mm, /in, /m. Range 0.5 to 200
            /cm. Usual 8 to 32 /cm.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        finest_line: Finest line that this mesh prints. In um.
        finest_gap: Finest gap that stays open on this mesh. In um.
        smallest_dot_safe: Smallest dot that always finds a hold. In um.
        smallest_dot_marginal: Smallest dot that often finds a hold. In um.
        ruling_low: Coarsest of the usual rulings for this mesh. In /cm, US: /in.
        ruling_high: Finest ruling for this mesh. In /cm, US: /in.
        tone_min_fraction: Lightest tone that holds at the ruling.
        tone_max_fraction: Darkest tone that stays open at the ruling.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        memory: 0.3 mm printed, 0.5 mm left open; and no finer than two threads and an opening hold
        memory: a dot of two threads and an opening always finds a hold, one of a thread and an opening often
            does
        common practice: shops and weavers: 3.5 to 5 threads to a halftone line; no ratio rules out a beat
            (mesh.moire)

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.mesh.detail(
            mesh='120-34',
            ruling='55 lpi',
        )
    """
    return _asked("mesh.detail", locals())


def moire(
    *, mesh, ruling, angles, mesh_angle=None, visible_period=None, angle_tolerance=None, units=None,
    explain=None, doubt=None,
):
    """Will the halftone beat against the mesh?

    Also asked as: At which angle do I put my halftone? Why do I see bands in the greys?

    Formula: beat = h1 a + h2 a' - (m1 u + m2 u'), a and a' the halftone's ruling along and across its angle,
        u and u' the mesh count along and across the threads; |h| up to 8, mesh orders (1,0), (0,1), (1,1),
        (-1,1); period 1 / |beat|, none (locked) below 1e-9 of the count; strength 1 / ((h1^2 + h2^2) (m1^2 +
        m2^2)); best angle: of a quadrant in steps of 0.1 deg, the one whose greatest strength x period among
        visible beats is least, each with the longest period within the tolerance of the angle; then the one
        whose longest period of any order is shortest; then the one nearest to the threads.

    Parameters:
        mesh (needed): The mesh. Such as "77-55", "195 tpi", "195/55 tpi", "62 /cm"; or MeshParts {count,
            thread?, thickness?, weave?}.
        mesh_angle: Where the threads of the mesh point on the frame. An angle in deg, rad. Range -360 to 360
            deg. Usual -45 to 45 deg. Default 0 deg. (common practice: frames are stretched with the threads
            along their sides, unless the mesh is turned)
        ruling (needed): Lines per length of the halftone. A count per length in /cm, /mm, /in, /m. Range 0.5
            to 200 /cm. Usual 8 to 32 /cm.
        angles (needed): Angles of the halftone on the frame, counted as that of the mesh; one at least. A
            list, of each: an angle, such as "22.5 deg".
        visible_period: Bands closer than this are not seen. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 0.01 to 1000 mm. Usual 0.3 to 10 mm. Default 1 mm. (memory: bands closer than about
            1 mm pass as texture at arm's length)
        angle_tolerance: How far an angle may be off when the screen is made. An angle in deg, rad. Range 0 to
            5 deg. Usual 0.1 to 2 deg. Default 0.5 deg. (memory: how truly a film is set on a screen and the
            mesh on its frame)
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        beats: Visible beats, by angle as asked, strongest first; at most eight for an angle. A list of
            MeshMoireBeat.
        per_angle: Every angle asked about. A list of MeshMoireAngle.
        best_of_angles: The best of the angles asked about. In deg.
        best_angle: The best angle of all, 0 to 90 degrees. In deg.
        best_angle_mirrored: Mirror image of the best angle in the threads, as good. In deg.
        best_angle_period: Longest period of any order at the best angle, the tolerance included; absent where
            one can lock. In mm, US: in.
        best_angle_clear: Whether no beat is visible at the best angle, the tolerance included.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: Amidror, The Theory of the Moire Phenomenon, vol. 1, ch. 2: a beat is the difference of two
            lattice vectors
        memory: harmonics of dots and threads fall about as their order, so their power as its square
        physics: least of the worst beats, strength times period, over a grid of 0.1 deg; the weighting is
            this library's own

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.mesh.moire(
            mesh='120-34',
            ruling='24 /cm',
            angles=['22.5 deg', '45 deg', '61 deg'],
        )
    """
    return _asked("mesh.moire", locals())


def choose(
    *, ink, meshes=None, strokes=None, most_hits=None, dry_film=None, lightness=None, cloth=None,
    finest_line=None, ruling=None, units=None, explain=None, doubt=None,
):
    """Which mesh for this print?

    Also asked as: Which mesh for white on dark shirts? Which mesh for fine lines or a halftone?

    Formula: hits: the least number whose dry film is 0.85 of the one wanted, or whose lightness is the one
        wanted (ink.opacity); it holds where the film is at most 1.5 of the one wanted, the finest line at
        least max(2 d + w, 0.3 mm), the ruling at most count / 3.5 and the largest particle at most a third of
        the opening; ranked by hits, by clear angles (mesh.moire), by |ln(film / wanted)|, by count.

    Parameters:
        meshes: The meshes to choose from, a shop's own. A list, of each: MeshParts {count, thread?,
            thickness?, weave?}. Default all in stock.
        ink (needed): The ink. One of "discharge", "plastisol", "plastisol-low-bleed-white",
            "plastisol-low-cure", "plastisol-white", "silicone", "water-based", "water-based-high-solids"; or
            Ink {density, water_fraction, solids_by_volume_fraction, release_fraction, flood_strokes,
            print_strokes, stroke_gain_fraction, gel, cure, activation_energy?, never_above,
            flash_never_above, customary_dwell, pot_life?, additives?, chemistry?, covers?, scattering?,
            absorption?, largest_particle?, water_activity?, from?}; or InkChanged {from, and what is other}.
        strokes: Print strokes of one hit. Range 1 to 100. Usual 1 to 4. Default the ink's own.
        most_hits: The most prints of the same screen with a flash between them. Range 1 to 20. Usual 1 to 3.
            Default 2. (common practice: print, flash, print: more than two hits cost more than a coarser
            mesh)
        dry_film: The dry film wanted; or give the lightness. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 0.1 to 5000 um. Usual 2 to 300 um.
        lightness: The lightness L* wanted on the cloth; or give the film. A number without a unit, or a share
            such as "40 %". Range 0 to 100.
        cloth: The cloth on which the lightness is wanted. One of "blend-jersey-160", "cotton-fleece-280",
            "cotton-jersey-180", "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150",
            "triblend-jersey-150"; or Cloth {mass_per_area, thickness, conductivity, specific_heat,
            regain_fraction, never_above, caution_above?, dye?, scorch?, shade, lightness?, fibres?,
            dischargeable?, coated?, surface_take?, from?}; or ClothChanged {from, and what is other}.
        finest_line: The finest line of the art. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range
            0.01 to 1000 mm. Usual 0.1 to 20 mm.
        ruling: Lines per length of the halftone. A count per length in /cm, /mm, /in, /m. Range 0.5 to 200
            /cm. Usual 8 to 32 /cm.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        meshes: Those that do it first, then those of fewest hits, those without bands, those of the nearest
            film, the finest. A list of InkMeshOffer.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        memory: a film from 0.85 to 1.5 of the one wanted will do: releases that were not weighed are no
            better known
        common practice: the largest particle at most a third of the opening: makers of pastes; garments go to
            1 in 2.5
        memory: 0.3 mm printed, 0.5 mm left open; and no finer than two threads and an opening hold

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.mesh.choose(
            ink='plastisol-white',
            lightness=88,
            cloth='cotton-jersey-180-dark',
            finest_line='0.4 mm',
        )
    """
    return _asked("mesh.choose", locals())
