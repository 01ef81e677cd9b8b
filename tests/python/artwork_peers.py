"""Compares artwork.measure with SciPy, OpenCV and scikit-image: artwork_peers.py LIBRARY [DISTANCES]

DISTANCES is the program `distances` of tests/, which writes the distances of a picture as they are. Pictures are drawn here, and
the real ones are those that come inside scikit-image. Distances must be SciPy's to the last bit of a 32-bit float, and OpenCV's
to its own precision. What is measured is found again from SciPy's distances and scikit-image's contour, perimeter and medial
axis. Needs what requirements.txt lists. Prints what differs, how near it came, then the counts.
"""

import os
import subprocess
import sys
import tempfile
from functools import partial
from pathlib import Path

import cv2
import numpy as np
import skimage
from scipy import ndimage
from skimage import measure, morphology

from shared import cases, quantity, run

# Pixels of 0.1 mm: a reach of 0.25 mm is 2.5 of them, one of 0.6 mm is 6.
PITCH = 0.1
REACHES = [2.5, 6.0]


def drawn():
    """Greys from 0 to 1 of ink: discs, strokes apart from one another, blobs of soft noise, rings; sharp and anti-aliased."""
    at = np.arange(400) + 0.5
    x, y = np.meshgrid(at, at)
    draw = np.random.default_rng(20241125)
    discs = np.full(x.shape, np.inf)
    for _ in range(25):
        middle_x, middle_y, radius = draw.uniform(30, 370), draw.uniform(30, 370), draw.uniform(6, 26)
        discs = np.minimum(discs, np.hypot(x - middle_x, y - middle_y) - radius)
    strokes = np.full(x.shape, np.inf)
    for k in range(16):
        middle_x, middle_y = 50 + 100 * (k % 4) + draw.uniform(-5, 5), 50 + 100 * (k // 4) + draw.uniform(-5, 5)
        turn, wide = draw.uniform(0, np.pi), draw.uniform(4, 14)
        along, across = ((x - middle_x) * np.cos(turn) + (y - middle_y) * np.sin(turn),
                         (y - middle_y) * np.cos(turn) - (x - middle_x) * np.sin(turn))  # fmt: skip
        strokes = np.minimum(strokes, np.hypot(np.maximum(np.abs(along) - 30, 0), across) - wide / 2)
    soft = ndimage.gaussian_filter(draw.standard_normal(x.shape), 7)
    blobs = -soft / np.hypot(*np.gradient(soft)).mean()
    away = np.hypot(x - 200, y - 200)
    rings = np.maximum(np.abs(away % 31 - 15) - 6, away - 6 * 31)
    for name, beyond in [("discs", discs), ("strokes", strokes), ("blobs", blobs), ("rings", rings)]:
        yield name, np.where(beyond <= 0, 1.0, 0.0)
        # Over the width of a pixel, as the share of it that an edge leaves covered.
        yield f"{name}, soft", np.clip(0.5 - beyond, 0, 1)


def real():
    """Pictures that come inside scikit-image, free of restrictions, dark parts as ink."""
    folder = Path(skimage.__file__).parent / "data"
    for name in ["horse", "text", "page", "coins", "camera", "moon", "clock_motion", "cell"][: cases(4, 8)]:
        grey = cv2.imread(str(folder / f"{name}.png"), cv2.IMREAD_GRAYSCALE)
        level = 127.5 if name == "horse" else skimage.filters.threshold_otsu(grey)
        yield name, np.where(grey <= level, 1.0, 0.0)
        if name in ("horse", "text", "page")[: cases(1, 3)]:
            yield f"{name}, large", np.where(ndimage.zoom(grey, 3, order=1) <= level, 1.0, 0.0)


def distances(program, folder, ink):
    """Distances of the printed side and of the bare one, as the library has them."""
    high, wide = ink.shape
    pixels, out = Path(folder) / "pixels", Path(folder) / "distances"
    pixels.write_bytes((255 - ink).tobytes())
    subprocess.run([program, "exact", str(wide), str(high), pixels, out], check=True)
    return np.fromfile(out, "<f4").reshape(2, high, wide)


def check_distances(judge, program, folder, name, ink):
    """Every distance of either side. Bare cloth lies around: a pixel of it all round for the printed side."""
    printed = ink >= 128
    ours = distances(program, folder, ink)
    around = np.pad(printed, 1)
    exact = [ndimage.distance_transform_edt(around)[1:-1, 1:-1], ndimage.distance_transform_edt(~printed)]
    precise = [cv2.distanceTransform(side.astype(np.uint8), cv2.DIST_L2, cv2.DIST_MASK_PRECISE) for side in (around, ~printed)]
    precise[0] = precise[0][1:-1, 1:-1]
    for side, mine, theirs, other in zip(["printed", "bare"], ours, exact, precise):
        judge.holds(np.array_equal(mine, theirs.astype(np.float32)), name, side, "SciPy", np.abs(mine - theirs).max())
        # OpenCV takes the root in single precision.
        judge.holds(np.allclose(mine, other, rtol=1e-6, atol=1e-5), name, side, "OpenCV", np.abs(mine - other).max())


def spec(ink, reach):
    high, wide = ink.shape
    return {
        "pixels_wide": wide, "pixels_high": high, "resolution": quantity(1 / PITCH, "/mm"), "ink": "light",
        "edge_length_scale": quantity(reach * PITCH, "mm"),
    }  # fmt: skip


def pixels(answer, name):
    """A length or area of the answer, in pixels."""
    quantity = answer[name]
    to_mm = {"mm": 1, "cm": 10, "m": 1000, "mm2": 1, "cm2": 100}[quantity["unit"]]
    return quantity["value"] * to_mm / (PITCH**2 if name.endswith("area") else PITCH)


def contour_length(ink):
    """Along scikit-image's contour at half coverage."""
    total = 0.0
    for line in measure.find_contours(np.pad(ink.astype(float), 1), 127.5):
        total += np.hypot(*np.diff(line, axis=0).T).sum()
    return total


def fine_share(ink, reach):
    """The edge integral on a grid four times as fine, whose edges are those of the greys between the pixels.

    Distances on it are from the middle of a fine pixel to the middle of one beyond the edge: half of one too far.
    """
    fine = 4
    grid = ndimage.zoom(np.pad(ink.astype(float), 1), fine, order=1, grid_mode=True, mode="nearest")
    printed = grid >= 127.5
    depth = (ndimage.distance_transform_edt(printed) - 0.5) / fine
    share = np.exp(-np.maximum(depth, 0) / reach) * np.where(printed, 1, 0)
    return share.sum() / fine**2


def finest_stroke(printed):
    """Of all strokes the least width: twice the greatest distance along scikit-image's medial axis, less the half pixel on
    either side from the edge to the middle of a pixel beyond it."""
    axis, distance = morphology.medial_axis(printed, return_distance=True)
    strokes = measure.label(printed)
    return min(2 * distance[axis & (strokes == stroke)].max() - 1 for stroke in range(1, strokes.max() + 1))


def check_measures(floodbar, judge, name, ink, drawn_here):
    printed = ink >= 128
    for reach in REACHES:
        answer = floodbar.measure_artwork(ink.tobytes(), spec(ink, reach))
        judge.near(pixels(answer, "printed_area"), ink.sum() / 255, 1e-12, name, kind="area")
        kind = "edge share, drawn" if drawn_here else "edge share, real"
        # The steps between black and white stand nearer than the edge does, and fine pixels have steps too: 5 % at a reach of 2.5.
        judge.near(pixels(answer, "edge_share_area"), fine_share(ink, reach), 0.05, name, reach, kind=kind)
    rows, columns = np.flatnonzero(printed.any(1)), np.flatnonzero(printed.any(0))
    judge.near(pixels(answer, "width"), columns[-1] - columns[0] + 1, 1e-12, name, kind="width")
    judge.near(pixels(answer, "height"), rows[-1] - rows[0] + 1, 1e-12, name, kind="height")
    box = ink[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    judge.near(answer["coverage_fraction"], box.mean() / 255, 1e-12, name, kind="coverage")
    if drawn_here:
        # Crofton's formula in four directions is right to some per cent for edges of all directions.
        crofton = measure.perimeter_crofton(np.pad(printed, 1), directions=4)
        judge.near(pixels(answer, "edge_length"), crofton, 0.03, name, kind="edge length, Crofton")
        # A contour between greys runs straight; between black and white it would have corners.
        if name.endswith("soft"):
            judge.near(pixels(answer, "edge_length"), contour_length(ink), 0.015, name, kind="edge length, contour")
    line = pixels(answer, "finest_line")
    depth = ndimage.distance_transform_edt(np.pad(printed, 1))
    judge.holds(0 < line <= 2 * depth.max(), name, "finest line", line, "but the deepest is", depth.max())
    # Half a pixel's diagonal at either edge, seen by both.
    if name.startswith("strokes"):
        wanted = finest_stroke(printed)
        judge.near(line, wanted, 1.42 / wanted, name, kind="finest stroke")
    if name.startswith("rings"):
        judge.near(line, 12, 0.1 if name == "rings" else 0.03, name, kind="finest of rings")


def main(library, program=None):
    program = program or os.environ.get("FLOODBAR_DISTANCES") or Path(library).parent / "distances"
    with tempfile.TemporaryDirectory() as folder:

        def check(pictures, drawn_here, floodbar, judge):
            for name, share in pictures:
                ink = np.round(255 * share).astype(np.uint8)
                check_distances(judge, program, folder, name, ink)
                check_measures(floodbar, judge, name, ink, drawn_here)

        return run(library, {"drawn": partial(check, drawn(), True), "real": partial(check, real(), False)})


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:3]))
