# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "artwork": what a separation covers, growth of halftone dots, tones that the film must carry."""

from ._asked import asked as _asked

__all__ = ["measure", "tone", "curve"]


def measure(
    *, pixels_wide, pixels_high, resolution, ink, stride=None, edge_length_scale=None, pixels=None,
    units=None, explain=None, doubt=None,
):
    """What does this separation really cover?

    Also asked as: How many square centimetres does this film print? What is the finest line in this art?

    Formula: printed area = sum of the pixels' ink; edges run at half coverage (marching squares), in black
        and white along the parabola of least squares through the crossings beside up to eleven sides of
        pixels, up to corners; edge length = sum over the pixels' sides on the boundary of half the way from
        the edge beside the one before to the edge beside the next: in black and white of a whole side at a
        corner, and where an edge bends little of as much less as that way is longer than an arc through its
        ends and middle; in greys along the parabola through seven crossings, each as far out as all ink
        across reaches, and with what chords cut off a bend; edge share area = integral of exp(-x / L) over
        the printed side, x from the exact distance transform; finest line and gap = least width across the
        medial axis, where the axis does not run into a corner.

    Parameters:
        pixels_wide (needed): Number of pixels across the picture. Range 1 to 10000000.
        pixels_high (needed): Number of pixels down the picture. Range 1 to 10000000.
        stride: Bytes from the start of one row to the start of the next. Range 1 to 10000000. Default the
            width.
        resolution (needed): Pixels per length of the print. A count per length in /cm, /mm, /in, /m. Range 1
            to 100000 /in. Usual 100 to 2400 /in.
        ink (needed): Which end of the grey scale is ink. One of "dark", "light".
        edge_length_scale: How far an edge of the stencil thickens the film. A length in um, mm, cm, m, in,
            ft, yd, mil, cm3/m2. Range 0.01 to 10 mm. Usual 0.1 to 1.5 mm. Default 0.25 mm.
        pixels: The pixels as numbers from 0 to 255, left out where they come as bytes.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Answer:
        width: Width of the box around the print. In mm, US: in.
        height: Height of the box around the print. In mm, US: in.
        printed_area: Printed area; grey pixels count by their share of ink. In cm2, US: in2.
        coverage_fraction: Covered share of the box around the print.
        edge_length: Length of all edges of the printed area. In mm, US: in.
        edge_share_area: Integral of exp(-x / L) over the printed area, x the distance to the nearest edge. In
            cm2, US: in2.
        finest_line: Finest printed line; of a halftone its finest dot. In mm, US: in.
        finest_line_at: Where the finest line is in the picture. ArtworkPicturePointShown.
        finest_gap: Finest gap between prints. In mm, US: in.
        finest_gap_at: Where the finest gap is in the picture. ArtworkPicturePointShown.
        halftone: The halftone that this looks like. ArtworkHalftoneShown.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: Meijster, Roerdink and Hesselink 2000: A general algorithm for computing distance
            transforms in linear time
        published: Felzenszwalb and Huttenlocher 2012: Distance transforms of sampled functions, Theory of
            Computing 8, 415-428
        published: Savitzky and Golay 1964: Smoothing and differentiation of data by simplified least squares
            procedures, Analytical Chemistry 36, 1627-1639
        published: Huygens 1654: De circuli magnitudine inventa (the length of an arc by its chords)

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.artwork.measure(
            pixels_wide=4,
            pixels_high=4,
            resolution='100 /cm',
            ink='dark',
            pixels=[255, 255, 255, 255, 255, 0, 0, 255, 255, 0, 0, 255, 255, 255, 255, 255],
        )
    """
    return _asked("artwork.measure", locals())


def tone(
    *, ruling, readings, dot=None, bare_density=None, solid_density=None, yule_nielsen_ratio=None, units=None,
    explain=None, doubt=None,
):
    """How much do my dots grow?

    Also asked as: What is my dot gain? What does a 50 % tone print as?

    Formula: printed = (1 - 10^(-(D - D_bare)/n)) / (1 - 10^(-(D_solid - D_bare)/n)); gain = printed - film;
        growth g by least squares of tone(reach(film) + g x ruling), the reach that of round dots with
        overlaps (euclidean: of dots to half, of holes above).

    Parameters:
        ruling (needed): Lines per length of the halftone. A count per length in /cm, /mm, /in, /m. Range 0.5
            to 200 /cm. Usual 8 to 32 /cm.
        dot: Shape of the dots. Dots that are round to half and round holes above are euclidean here. One of
            "round", "euclidean", "elliptical". Default round.
        readings (needed): The patches, in any order: three or more at light, middle and dark tones tell most.
            A list, of each: ArtworkToneReading {tone_fraction, density?, printed_fraction?}.
        bare_density: Density of the bare cloth, or of the base that is printed on; needed with densities. A
            number without a unit, or a share such as "40 %". Range -1 to 6. Usual -0.1 to 2.5.
        solid_density: Density of the solid; needed with densities. A number without a unit, or a share such
            as "40 %". Range -1 to 6. Usual -0.1 to 2.5.
        yule_nielsen_ratio: The n by which light that spreads in the cloth is reckoned out of densities; 1
            leaves it in. A number without a unit, or a share such as "40 %". Range 1 to 1000. Usual 1 to 4.
            Default 1.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        readings: The patches, as they were sent. A list of ArtworkPrintedTone.
        growth: How far every edge moved out; negative where it moved in. In um.
        growth_error: Standard error of the growth, from two patches on. In um.
        rms_fraction: Root mean square of what the growth misses the printed shares by.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: A. Murray, J. Franklin Inst. 221 (1936) 721: tone from reflection densities
        published: J. A. C. Yule and W. J. Nielsen, TAGA Proc. 3 (1951) 65: the exponent 1/n
        physics: geometry of round dots on a square lattice, overlaps taken off
        memory: 5 points of scatter between patches, 3 points of misfit: what a hand-held meter does on a knit
        memory: round dots to the full tone; many raster programs turn round dots to holes above half: say
            euclidean

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.artwork.tone(
            ruling='55 lpi',
            bare_density=0.06,
            solid_density=1.46,
            readings=[{'tone_fraction': 0.1, 'density': 0.12}, {'tone_fraction': 0.3, 'density': 0.255},
                      {'tone_fraction': 0.5, 'density': 0.43}, {'tone_fraction': 0.7, 'density': 0.71}],
        )
    """
    return _asked("artwork.tone", locals())


def curve(
    *, ruling, dot=None, growth=None, readings=None, bare_density=None, solid_density=None,
    yule_nielsen_ratio=None, mesh=None, tones=None, units=None, explain=None, doubt=None,
):
    """What must the film carry to print these tones?

    Also asked as: Which curve makes up for my dot gain? What is the lightest tone that I can print?

    Formula: film = tone(reach(wanted) - growth x ruling), the reach that of round dots with overlaps
        (euclidean: of dots to half, of holes above); film kept between the tones of mesh.detail, else 0 or 1,
        whichever prints nearer; points 255 x each.

    Parameters:
        ruling (needed): Lines per length of the halftone. A count per length in /cm, /mm, /in, /m. Range 0.5
            to 200 /cm. Usual 8 to 32 /cm.
        dot: Shape of the dots. Dots that are round to half and round holes above are euclidean here. One of
            "round", "euclidean", "elliptical". Default round.
        growth: How far every edge moves out from film to print, as artwork.tone finds it; or give patches. A
            length in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range -2000 to 2000 um. Usual -50 to 100 um.
        readings: Patches of a printed scale; or give the growth. A list, of each: ArtworkToneReading
            {tone_fraction, density?, printed_fraction?}.
        bare_density: Density of the bare cloth, or of the base that is printed on; needed with densities. A
            number without a unit, or a share such as "40 %". Range -1 to 6. Usual -0.1 to 2.5.
        solid_density: Density of the solid; needed with densities. A number without a unit, or a share such
            as "40 %". Range -1 to 6. Usual -0.1 to 2.5.
        yule_nielsen_ratio: The n by which light that spreads in the cloth is reckoned out of densities; 1
            leaves it in. A number without a unit, or a share such as "40 %". Range 1 to 1000. Usual 1 to 4.
            Default 1.
        mesh: The mesh of the screen: dots and holes that it does not hold are cut off. MeshParts {count,
            thread?, thickness?, weave?}.
        tones: The tones that are to be printed. A list, of each: a number without a unit, or a share such as
            "40 %". Default every 5 %.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Give growth, or readings.

    Answer:
        tones: The tones that are to be printed, and their film's. A list of ArtworkFilmTone.
        lightest_fraction: Lightest tone that can be printed, above bare cloth.
        darkest_fraction: Darkest tone that can be printed, below solid.
        growth: How far every edge moves out. In um.
        points: The same curve as 16 points of eight bits. Where a program counts 0 as black, take 255 less
            each. A list of ArtworkCurvePoint8.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: geometry of round dots on a square lattice, overlaps taken off
        published: A. Murray, J. Franklin Inst. 221 (1936) 721: tone from reflection densities
        published: J. A. C. Yule and W. J. Nielsen, TAGA Proc. 3 (1951) 65: the exponent 1/n
        memory: dots and holes that the mesh holds: as mesh.detail says, by its smallest safe dot

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.artwork.curve(
            ruling='55 lpi',
            growth='20 um',
            mesh='120-34',
        )
    """
    return _asked("artwork.curve", locals())
