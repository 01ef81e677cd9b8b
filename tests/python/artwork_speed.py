"""What artwork.measure costs beside OpenCV and SciPy, and how it grows: artwork_speed.py DISTANCES

By hand, not part of tests/run, on Linux. DISTANCES is the program of tests/, built with `cargo build --release -p floodbar-tests
--bin distances`. Needs what requirements.txt lists.

Pictures of 3900 by 4800 pixels, a print of 33 by 41 cm at 300 an inch: line art with wide fields, a halftone, and a page of
print from scikit-image, tiled. Everything runs on one core; times are the shortest of several, taken in turn:

- the exact distance transform alone, to 32-bit floats, against OpenCV's (DIST_L2, DIST_MASK_PRECISE) and SciPy's;
- the whole measure, against one copy of the pixels within memory;
- the most memory that a measure adds, from the kernel's count, per pixel;
- the whole measure from 1 to 100 megapixels.
"""

import json
import subprocess
import sys
import tempfile
from pathlib import Path

import cv2
import numpy as np
import skimage
from scipy import ndimage

from shared import shortest

WIDE, HIGH = 3900, 4800
TURNS = 5


def line_art(wide, high):
    x, y = np.arange(wide)[None, :] * (WIDE / wide), np.arange(high)[:, None] * (HIGH / high)
    beyond = []
    for middle_x, middle_y in [(1500, 1500), (2400, 3300)]:
        away = np.hypot(x - middle_x, y - middle_y)
        beyond.append(np.where(away < 1300, np.sin(away / 24), away - 1300))
    return np.where(np.minimum(*beyond) <= 0, 0, 255).astype(np.uint8)


def halftone(wide, high):
    """18 dots a centimetre at 22.5 degrees, from light to full."""
    x, y = np.arange(wide)[None, :], np.arange(high)[:, None]
    cos, sin = np.cos(np.radians(22.5)), np.sin(np.radians(22.5))
    turns = 2 * np.pi * 18 * 2.54 / 300
    spot = np.cos(turns * (x * cos - y * sin)) + np.cos(turns * (x * sin + y * cos))
    return np.where(spot >= 4 * x / wide - 2, 0, 255).astype(np.uint8)


def page(wide, high):
    grey = cv2.imread(str(Path(skimage.__file__).parent / "data" / "page.png"), cv2.IMREAD_GRAYSCALE)
    sharp = np.where(grey <= skimage.filters.threshold_otsu(grey), 0, 255).astype(np.uint8)
    return np.tile(sharp, (high // sharp.shape[0] + 1, wide // sharp.shape[1] + 1))[:high, :wide].copy()


def ours(program, folder, picture, turns):
    path = Path(folder) / "pixels"
    path.write_bytes(picture.tobytes())
    high, wide = picture.shape
    command = [program, "time", str(wide), str(high), path, str(turns)]
    return json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)


def main(program):
    cv2.setNumThreads(1)
    with tempfile.TemporaryDirectory() as folder:
        for draw in [line_art, halftone, page]:
            picture = draw(WIDE, HIGH)
            printed = np.pad((picture < 128).astype(np.uint8), 1)
            mine, theirs = [], []
            for _ in range(TURNS):
                mine.append(ours(program, folder, picture, 2))
                theirs += shortest([lambda: cv2.distanceTransform(printed, cv2.DIST_L2, cv2.DIST_MASK_PRECISE)], 2)
            least = {name: min(run[name] for run in mine) for name in mine[0]}
            opencv, [scipy] = min(theirs), shortest([lambda: ndimage.distance_transform_edt(printed)], 2)
            transform, whole, copy = least["transform"], least["measure"], least["copy"]
            print(f"{draw.__name__}, {WIDE} x {HIGH}")
            print(f"  transform {transform:.3f} s; OpenCV {opencv:.3f} s, {opencv / transform:.1f} times; SciPy {scipy:.2f} s, "
                  f"{scipy / transform:.1f} times")  # fmt: skip
            print(f"  measure {whole:.3f} s; a copy {copy * 1e3:.2f} ms: {whole / copy:.0f} copies")
            print(f"  memory {max(run['bytes'] for run in mine):.2f} bytes a pixel")
        print("growth, line art")
        for megapixels in [1, 3, 10, 30, 100]:
            side = (megapixels * 1e6 / (WIDE * HIGH)) ** 0.5
            picture = line_art(round(WIDE * side), round(HIGH * side))
            run = ours(program, folder, picture, 2)
            each = 1e9 / picture.size
            print(f"  {picture.size / 1e6:.1f} megapixels: measure {run['measure']:.3f} s, {run['measure'] * each:.1f} ns a pixel; "
                  f"transform {run['transform'] * each:.1f} ns a pixel; {run['bytes']:.2f} bytes a pixel")  # fmt: skip


if __name__ == "__main__":
    main(*sys.argv[1:2])
