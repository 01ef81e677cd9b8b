# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "artwork": what a separation covers."""

from ._asked import asked as _asked

__all__ = ["measure"]


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
