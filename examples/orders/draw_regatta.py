"""Draws the three separations of regatta-art.json: draw_regatta.py [FOLDER]; standard library only.

Without a folder it writes beside itself, byte for byte what is there (with zlib 1.3; another packer packs the same pixels
otherwise). A pennant over a hull, 318 mm x 378 mm, as it is printed: 1 bit a pixel, ink black, 300 dpi. All lengths below are in
millimetres, from the picture's left and top; a pixel is inked where its centre is.
"""

import math
import struct
import sys
import zlib
from pathlib import Path

DPI = 300
PIXEL = 25.4 / DPI
WIDE, HIGH = round(320 / PIXEL), round(380 / PIXEL)

STAFF = 46  # the pennant's edge at the mast
PENNANT = [(STAFF, 20), (300, 92), (STAFF, 164)]
HULL = [(12, 236), (308, 236), (262, 322), (58, 322)]
DOTS_FROM, DOTS_TO = 190, 290  # where dots stand in for the pennant's red
RULING, ANGLE = 1.4, math.radians(-22.5)  # dots per mm; down is positive, so this rises


def inset(corners, by):
    """A convex shape, drawn clockwise, with each edge moved inwards."""
    lines = []
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1]):
        length = math.hypot(x1 - x0, y1 - y0)
        across, down = -(y1 - y0) / length, (x1 - x0) / length
        lines.append((across, down, across * x0 + down * y0 + by))
    met = []
    for (a, b, c), (d, e, f) in zip(lines[-1:] + lines[:-1], lines):
        met.append(((c * e - b * f) / (a * e - b * d), (a * f - c * d) / (a * e - b * d)))
    return met


def stroke(line, width):
    """The outline of a smooth line drawn with a round pen of this width, its ends cut straight."""
    left, right = [], []
    for before, (x, y), after in zip(line[:1] + line[:-1], line, line[1:] + line[-1:]):
        across, down = after[0] - before[0], after[1] - before[1]
        length = 2 * math.hypot(across, down) / width
        left.append((x + down / length, y - across / length))
        right.append((x - down / length, y + across / length))
    return left + right[::-1]


def wave(top, height, length):
    """A line of water from side to side."""
    return [(x / 2, top + height * math.sin(math.tau * x / 2 / length)) for x in range(2, 639)]


def plank(share):
    """A line along the hull, sagging a little; share 0 is the deck, 1 the keel."""
    left, right, top = 12 + 46 * share, 308 - 46 * share, 236 + 86 * share
    inner = [left + 8 + (right - left - 16) * step / 200 for step in range(201)]
    return [(x, top + 3 * (1 - ((2 * x - left - right) / (right - left)) ** 2)) for x in inner]


def spans(shape, y):
    """Where a row crosses a shape, as pairs of left and right."""
    found = []
    for (x0, y0), (x1, y1) in zip(shape, shape[1:] + shape[:1]):
        if (y0 <= y) != (y1 <= y):
            found.append(x0 + (y - y0) / (y1 - y0) * (x1 - x0))
    found.sort()
    return zip(found[::2], found[1::2])


def in_dot(x, y):
    """Whether a place of the pennant's dotted end is inked: round dots, from 30 % of the area down to 18 %, none of them cut."""
    cos, sin = math.cos(ANGLE) / RULING, math.sin(ANGLE) / RULING
    u = math.floor((x * cos + y * sin) * RULING**2) + 0.5
    v = math.floor((y * cos - x * sin) * RULING**2) + 0.5
    middle_x, middle_y = u * cos - v * sin, v * cos + u * sin
    share = 0.3 + (0.18 - 0.3) * (middle_x - DOTS_FROM) / (DOTS_TO - DOTS_FROM)
    radius = math.sqrt(share / math.pi) / RULING
    (tip_x, tip_y), top = PENNANT[1], PENNANT[0]
    to_edge = (tip_x - middle_x) * (tip_y - top[1]) / (tip_x - top[0]) - abs(middle_y - tip_y)
    whole = DOTS_FROM + 2 * radius < middle_x < DOTS_TO and to_edge > 1.1 * radius
    return whole and math.hypot(x - middle_x, y - middle_y) < radius


def separation(shapes, dots=False):
    """Rows of packed pixels; every shape is inked, its right end in dots where wanted."""
    tops = [(min(y for _, y in shape), max(y for _, y in shape), shape) for shape in shapes]
    columns = -(-WIDE // 8) * 8
    for number in range(HIGH):
        row, y = bytearray(b"1" * columns), (number + 0.5) * PIXEL
        for top, bottom, shape in tops:
            if top <= y <= bottom:
                for left, right in spans(shape, y):
                    first, beyond = math.ceil(left / PIXEL - 0.5), math.ceil(right / PIXEL - 0.5)
                    row[first:beyond] = b"0" * (beyond - first)
        if dots:
            for column in range(round(DOTS_FROM / PIXEL), WIDE):
                if row[column] == ord("0") and not in_dot((column + 0.5) * PIXEL, y):
                    row[column] = ord("1")
        yield int(row, 2).to_bytes(columns // 8, "big")


def png(rows):
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    per_metre = round(DPI / 0.0254)
    return b"".join(
        [
            b"\x89PNG\r\n\x1a\n",
            chunk(b"IHDR", struct.pack(">IIBBBBB", WIDE, HIGH, 1, 0, 0, 0, 0)),
            chunk(b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1)),
            chunk(b"IDAT", zlib.compress(b"".join(b"\0" + row for row in rows), 9)),
            chunk(b"IEND", b""),
        ]
    )


def separations():
    """The bytes of each file by its name."""
    waves = [wave(top, 4, 62) for top in (338, 352, 366)]
    mast = [(36, 1), (42, 1), (42, 236), (36, 236)]
    # White lies 0.4 mm inside the red that covers it, so that it does not show.
    base = [inset(PENNANT, 0.4), HULL, mast] + [stroke(line, 2.4) for line in waves]
    lines = [stroke(plank(step / 6), 0.4) for step in range(2, 6)]
    lines += [stroke(line, 0.6) for line in waves]
    lines += [stroke([(42.5, 20), (304, 230)], 0.5), stroke([(42.5, 164), (220, 230)], 0.5)]
    lines += [
        [(x + 7 * math.cos(math.tau * step / 180), 250 + 7 * math.sin(math.tau * step / 180)) for step in range(180)]
        for x in (110, 160, 210)
    ]
    return {
        "regatta-base-white.png": png(separation(base)),
        "regatta-pennant-red.png": png(separation([PENNANT], dots=True)),
        "regatta-hull-lines.png": png(separation(lines)),
    }


if __name__ == "__main__":
    folder = Path(*sys.argv[1:2] or [Path(__file__).parent])
    for name, data in separations().items():
        (folder / name).write_bytes(data)
