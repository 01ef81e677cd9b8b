"""Compares mesh.moire with pictures of mesh and halftone, and with an enumeration in complex numbers: moire_peers.py LIBRARY

A picture is a mesh of dark threads under a halftone of dots, multiplied; its beats are the peaks of NumPy's Fourier
transform near the middle. Needs what requirements.txt lists. Prints what differs, then the counts.
"""

import functools
import sys

import numpy as np

from shared import cases, quantity, run

# Side of a picture in cm and in pixels: 900 pixels a cm, so that only harmonics far beyond the soft edges fold back.
SIDE, PIXELS = 3.0, 2700
# Threads per cm, lines per cm, mesh angle, halftone angle: the beats of a case, higher orders too, lie several bins apart.
PICTURES = [
    (120, 24, 0.0, 22.5), (90, 20, 0.0, 15.0), (140, 28, 0.0, 30.0), (120, 55 / 2.54, 0.0, 22.5),
    (77, 45 / 2.54, 0.0, 22.5), (43, 35 / 2.54, 0.0, 22.5), (77, 45 / 2.54, 22.5, 37.5), (62, 15.0, -7.5, 45.0),
]  # fmt: skip
PICTURES = PICTURES[:: cases(2, 1)]
SECOND = [1, 1j, 1 + 1j, -1 + 1j]
FIRST = np.array([complex(i, j) for i in range(-8, 9) for j in range(-8, 9) if i or j])


def ask(floodbar, count, ruling, mesh_angle, angles, **more):
    return floodbar.calculate(
        "mesh.moire", mesh={"count": quantity(count, "/cm"), "thread": "2 um"}, mesh_angle=quantity(mesh_angle, "deg"),
        ruling=quantity(ruling, "/cm"), angles=[quantity(angle, "deg") for angle in angles], **more,
    )  # fmt: skip


def turned(degrees):
    return np.exp(1j * np.radians(degrees))


def vector(count, ruling, mesh_angle, angle, order):
    """A beat as a complex number, per cm."""
    h1, h2, m1, m2 = order
    return ruling * complex(h1, h2) * turned(angle) - count * complex(m1, m2) * turned(mesh_angle)


def picture(count, ruling, mesh_angle, angle):
    """Light through a mesh, a third of each pitch thread, where a halftone of 30 % has left it; edges a little soft."""
    at = (np.arange(PIXELS) + 0.5) * (SIDE / PIXELS)
    soft = lambda x, width: 1 / (1 + np.exp(-x / width))  # noqa: E731

    def across(lines, degrees):
        """Cosines along both directions of a lattice."""
        x, y = at[None, :] * (2 * np.pi * lines), at[:, None] * (2 * np.pi * lines)
        cos, sin = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
        return np.cos(x * cos + y * sin), np.cos(y * cos - x * sin)

    one, other = across(count, mesh_angle)
    threads = soft(one + 0.5, 0.15) * soft(other + 0.5, 0.15)
    one, other = across(ruling, angle)
    return threads * (1 - soft(one + other - 0.75, 0.06))


def peaks(light, within):
    """Frequencies per cm and heights of the peaks nearer than `within` to the middle, highest first; one of each pair.

    Under a Gaussian window a peak is a Gaussian: a parabola through the logarithms of three bins finds its top.
    """
    from_middle = (np.arange(PIXELS) + 0.5) / PIXELS - 0.5
    bell = np.exp(-0.5 * (from_middle * 10) ** 2)
    window = bell[:, None] * bell[None, :]
    reach = int(within * SIDE) + 3
    span = np.arange(-reach, reach + 1)
    columns = np.fft.fft((light - (light * window).sum() / window.sum()) * window, axis=0)[span]
    near = np.log(np.abs(np.fft.fft(columns, axis=1)[:, span]) / window.sum() + 1e-30)
    found = []
    for row in range(2, 2 * reach - 1):
        for column in range(2, 2 * reach - 1):
            here = near[row, column]
            if here < near[row - 2 : row + 3, column - 2 : column + 3].max():
                continue
            top = []
            for before, after in [(near[row, column - 1], near[row, column + 1]), (near[row - 1, column], near[row + 1, column])]:
                top.append((before - after) / (2 * (before - 2 * here + after)))
            at = complex(span[column] + top[0], span[row] + top[1]) / SIDE
            if abs(at) < within and (at.imag, at.real) > (0, 0):
                found.append((at, np.exp(here)))
    return sorted(found, key=lambda peak: -peak[1])


@functools.cache
def seen(count, ruling, mesh_angle, angle):
    """The peaks of a picture up to 10 per cm."""
    return peaks(picture(count, ruling, mesh_angle, angle), 10.0)


def upward(beat):
    return beat if (beat.imag, beat.real) > (0, 0) else -beat


def check_pictures(floodbar, judge):
    """Every visible beat is a peak where it should be, to a quarter of a bin; and the highest peak is a beat of the threads.

    Where the threads have none, the weak beats of their diagonals stand beside others as weak, of orders beyond those looked at.
    """
    bin_width, highest_is_known = 1 / SIDE, 0
    for case in PICTURES:
        answer = ask(floodbar, *case[:3], case[3:])
        wanted = {tuple(beat["order"]): upward(vector(*case, beat["order"])) for beat in answer["beats"]}
        judge.holds(wanted, case, "has no beats")
        for beat in answer["beats"]:
            order = tuple(beat["order"])
            at = min((peak for peak, _ in seen(*case)), key=lambda peak: abs(peak - wanted[order]))
            judge.holds(abs(at - wanted[order]) < 0.25 * bin_width, case, order, wanted[order], "nearest peak", at)
            period = beat["period"]["value"]
            judge.holds(abs(10 / abs(at) - period) < 0.02 * period, case, order, period, "mm, seen", 10 / abs(at))
        of_threads = [beat for order, beat in wanted.items() if abs(complex(*order[2:])) == 1]
        highest_is_known += bool(of_threads)
        if of_threads:
            apart = min(abs(seen(*case)[0][0] - beat) for beat in of_threads)
            judge.holds(apart < 0.25 * bin_width, case, "highest peak", seen(*case)[0], "is none of", of_threads)
    judge.holds(highest_is_known >= 0.7 * len(PICTURES), "pictures with a beat of the threads:", highest_is_known)


def check_best_in_pictures(floodbar, judge):
    """At a best angle that is clear the highest peak among visible periods is lower than at the angle of the picture."""
    for case in PICTURES:
        answer = ask(floodbar, *case[:3], case[3:])
        if not answer["best_angle_clear"]:
            continue
        best = answer["best_angle"]["value"]
        bad, good = (seen(*case[:3], angle)[0][1] for angle in (case[3], best))
        judge.holds(good < bad, case, "highest peak", bad, "and at", best, "deg", good)


def enumerated(count, ruling, apart, visible):
    """All visible beats: order, frequency per cm, strength."""
    for second in SECOND:
        for first, frequency in zip(FIRST, np.abs(ruling * FIRST * turned(apart) - count * second)):
            if frequency < 10 / visible:
                order = tuple(int(part) for z in (first, second) for part in (z.real, z.imag))
                yield order, frequency, 1 / (abs(first) ** 2 * abs(second) ** 2)


def check_enumeration(floodbar, judge):
    """Orders, periods and strengths of random cases, to 1e-12 of the count."""
    draw = np.random.default_rng(20240601)
    whole = cut = 0
    for _ in range(300):
        count, threads = draw.uniform(20, 160), draw.uniform(1.5, 7.5)
        ruling, mesh_angle, visible = count / threads, draw.uniform(-45, 45), float(draw.choice([0.6, 1.0, 2.0]))
        angle = draw.uniform(-90, 90)
        case = (count, ruling, mesh_angle, angle, visible)
        answer = ask(floodbar, count, ruling, mesh_angle, [angle], visible_period=quantity(visible, "mm"))
        theirs = sorted(enumerated(count, ruling, angle - mesh_angle, visible), key=lambda beat: (-beat[2], beat[1]))
        frequency = {order: f for order, f, _ in theirs}
        ours = answer["beats"]
        judge.holds(len(ours) == min(8, len(theirs)), case, len(ours), "beats of", len(theirs))
        left_out = any(note["code"] == "weaker_left_out" for note in answer["notes"])
        judge.holds(left_out == (len(theirs) > 8), case, "left out", left_out)
        whole, cut = whole + (not left_out), cut + left_out
        for beat, (_, _, strength) in zip(ours, theirs):
            order = tuple(beat["order"])
            judge.holds(abs(beat["strength"] - strength) <= 1e-12 * strength, case, order, "strength", beat, strength)
            close = order in frequency and abs(10 / beat["period"]["value"] - frequency[order]) <= 1e-12 * count
            judge.holds(close, case, order, beat, frequency.get(order))
        longest = max((10 / f for f in frequency.values()), default=None)
        worst = answer["per_angle"][0].get("worst_period", {}).get("value")
        good = longest == worst if longest is None or worst is None else abs(1 / worst - 1 / longest) <= 1e-13 * count
        judge.holds(good, case, "worst", worst, longest)
    judge.holds(min(whole, cut) > 10, "cases listed whole and cut:", whole, cut)


def badness(count, ruling, degrees, visible, tolerance):
    """By angle: greatest strength over frequency of the visible, least frequency of any; the angle errs by the tolerance.

    By the law of cosines, with the angle between the two vectors less the tolerance, instead of turned vectors.
    """
    weighted, least = np.zeros(len(degrees)), np.full(len(degrees), np.inf)
    for second in SECOND:
        between = np.abs(np.angle(FIRST[:, None] * turned(degrees)[None, :] / second))
        between = np.maximum(between - np.radians(tolerance), 0)
        a, b = ruling * np.abs(FIRST)[:, None], count * abs(second)
        frequency = np.sqrt((a - b) ** 2 + 4 * a * b * np.sin(between / 2) ** 2)
        strength = 1 / (np.abs(FIRST)[:, None] ** 2 * abs(second) ** 2)
        heavy = np.where(frequency < 10 / visible, strength / np.maximum(frequency, 1e-300), 0)
        weighted, least = np.maximum(weighted, heavy.max(0)), np.minimum(least, frequency.min(0))
    return weighted, least


def check_best(floodbar, judge):
    """No angle of a quadrant in tenths of a degree is better than the best one, by either measure in turn."""
    draw = np.random.default_rng(20240602)
    clear = 0
    grid = np.arange(900) / 10
    for _ in range(60):
        count, threads = draw.uniform(30, 160), draw.uniform(2, 7)
        ruling, mesh_angle, tolerance = count / threads, draw.uniform(-45, 45), float(draw.choice([0.1, 0.5, 1.5]))
        answer = ask(floodbar, count, ruling, mesh_angle, [0], angle_tolerance=quantity(tolerance, "deg"))
        case = (count, ruling, mesh_angle, tolerance)
        for name in ("best_angle", "best_angle_mirrored"):
            at = np.array([answer[name]["value"] - mesh_angle])
            weighted, least = badness(count, ruling, np.append(at, grid), 1.0, tolerance)
            judge.holds(weighted[0] <= weighted.min() * (1 + 1e-8), case, name, at, weighted[0], weighted.min())
            equal = weighted <= weighted.min() * (1 + 1e-8)
            judge.holds(least[0] >= least[equal].max() * (1 - 1e-8), case, name, at, least[0], least[equal].max())
        judge.holds(answer["best_angle_clear"] == (weighted[0] == 0), case, "clear", answer["best_angle_clear"])
        longest = answer["best_angle_period"]["value"]
        judge.holds(abs(10 / longest - least[0]) <= 1e-9 * count, case, "longest", longest, 10 / least[0])
        clear += answer["best_angle_clear"]
    judge.holds(5 < clear < 55, "clear of 60:", clear)


CHECKS = {
    "pictures": check_pictures,
    "best angles in pictures": check_best_in_pictures,
    "enumeration": check_enumeration,
    "best angles": check_best,
}


if __name__ == "__main__":
    sys.exit(run(sys.argv[1], CHECKS))
