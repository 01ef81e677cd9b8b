"""Compares the tension calculations with exact and 60-digit arithmetic: tension_peers.py LIBRARY

Sets of screens against the standard library's statistics on fractions. Off-contact against the triangles in decimals of 60
digits: where ours has a closed form for the blade that prints the end of an image, here the share of mesh on its one side is
halved until it fits; where ours takes care with digits, here there are enough. Gaps go down to a nanometre. Cases are drawn
from a fixed seed. Prints what differs, then the counts.
"""

import math
import random
import statistics
import sys
from decimal import Decimal, getcontext
from fractions import Fraction

from shared import FloodbarError, quantity, run

getcontext().prec = 60


def millimetres(value):
    return quantity(value, "mm")


def shown(answer, name):
    """A number of the answer as it is, to its last bit."""
    value = answer[name]
    if isinstance(value, dict):
        assert value["unit"] in ("mm", "N/cm", "N", "deg"), answer
        value = value["value"]
    return Decimal(value)


def hypotenuse(run, gap):
    return (run * run + gap * gap).sqrt()


def print_growth(span, gap, image):
    """By bisection of the share of mesh on the near side of the blade; none where the end lies beyond reach."""
    share = (span - image) / 2 / span
    low, high = Decimal(0), span / 2
    if gap / (gap + hypotenuse(span, gap)) >= share:
        return None
    for _ in range(190):
        blade = (low + high) / 2
        near, far = hypotenuse(blade, gap), hypotenuse(span - blade, gap)
        low, high = (blade, high) if near / (near + far) < share else (low, blade)
    return span - 2 * low - image


def angle(run, gap):
    """Degrees, in double precision: nothing is lost in a slope."""
    return math.degrees(math.atan2(float(gap), float(run)))


def check_off_contact(floodbar, judge):
    draw = random.Random(20240601)
    refused = 0
    for case in range(800):
        span, width = draw.uniform(150, 2000), draw.uniform(150, 2000)
        # From a nanometre, where the plain formula has no digit left, to what no press has.
        gap = draw.choice([10 ** draw.uniform(-6, 0), draw.uniform(1, 6), draw.uniform(6, 100)])
        image, printed = span * draw.uniform(0.02, 0.97), (width - 30) * draw.uniform(0.1, 0.95)
        blade, tension = span * draw.uniform(0.01, 0.99), draw.uniform(5, 45)
        if image < 1 or printed < 1:
            continue
        request = {
            "span_length": millimetres(span), "span_width": millimetres(width), "gap": millimetres(gap),
            "image_length": millimetres(image), "image_width": millimetres(printed),
            "tension": quantity(tension, "N/cm"), "blade_at": millimetres(blade),
        }  # fmt: skip
        span, width, gap, image, printed, blade, tension = map(Decimal, (span, width, gap, image, printed, blade, tension))
        growth = print_growth(span, gap, image)
        if growth is None:
            refused += 1
            try:
                floodbar.calculate("tension.off_contact", **request)
                judge.holds(False, case, "is answered, though out of reach:", request)
            except FloodbarError as error:
                judge.holds(error.code == "impossible" and error.field == "/gap", case, error)
            continue
        answer = floodbar.calculate("tension.off_contact", **request)
        half, before, after = span / 2, blade, span - blade
        stretch = hypotenuse(half, gap) / half - 1
        judge.near(shown(answer, "stretch_fraction"), stretch, 4e-15, case, "stretch", kind="share")
        judge.near(shown(answer, "image_growth"), stretch * image, 1e-14, case, "image growth", kind="share")
        # The free mesh is a difference of the request's lengths, whose own rounding counts where little of it is left,
        # and twice near the blade's last place.
        reach = (span - image) ** 2 / (4 * gap * gap * image / span)
        slack = 1e-14 + 4e-16 * float(span / (span - image)) * (1 + float(1 / max(reach - 1, Decimal("1e-6"))))
        judge.near(shown(answer, "print_growth_along"), growth, slack, case, "print growth along", kind="share")
        side = (width - printed - 30) / 2
        across = 2 * (hypotenuse(side, gap) - side) / width
        slack = 1e-14 + 4e-16 * float(width / side)
        judge.near(shown(answer, "stretch_across_fraction"), across, slack, case, "stretch across", kind="share")
        judge.near(shown(answer, "print_growth_across"), across * printed, slack, case, "print growth across", kind="share")
        judge.near(shown(answer, "peel_angle"), Decimal(angle(half, gap)), 4e-15, case, "peel angle", kind="share")
        judge.near(shown(answer, "peel_force"), tension * printed / 10 * gap / hypotenuse(half, gap), 1e-14, case, "peel force", kind="share")
        down = 2 * tension * (printed + 30) / 10 * gap / hypotenuse(half, gap)
        judge.near(shown(answer, "blade_force"), down, 1e-14, case, "blade force", kind="share")
        there = answer["at_blade"]
        near, far = hypotenuse(before, gap), hypotenuse(after, gap)
        slack = 1e-14 + 4e-16 * float(span / min(before, after))
        judge.near(shown(there, "stretch_fraction"), (near + far) / span - 1, slack, case, "stretch at the blade", kind="share")
        out = abs(blade - half) - abs(span * near / (near + far) - half)
        slack += 4e-16 * float(span / abs(blade - half))
        judge.near(shown(there, "print_shift"), out, slack, case, "print shift", kind="share")
        judge.near(shown(there, "peel_angle"), Decimal(angle(before, gap)), slack, case, "peel angle at the blade", kind="share")
        judge.near(shown(there, "angle_ahead"), Decimal(angle(after, gap)), slack, case, "angle ahead of the blade", kind="share")
        judge.near(shown(there, "peel_force"), tension * printed / 10 * gap / near, 1e-14, case, "peel force at the blade", kind="share")
    judge.holds(refused > 5, "out of reach only", refused)


def check_assess(floodbar, judge):
    draw = random.Random(20240602)
    seen, odd = set(), 0
    for case in range(600):
        middle, apart, scatter = draw.uniform(16, 34), draw.choice([0.5, 2, 4]), draw.choice([0.6, 1.2, 2.5])
        screens = []
        for index in range(draw.randint(1, 7)):
            mean = middle + draw.uniform(-apart, apart)
            screens.append([round(mean + draw.uniform(-scatter, scatter), 1) for _ in range(draw.choice([1, 3, 5, 9]))])
        request = [
            {"name": str(index), "readings": [quantity(r, "N/cm") for r in readings]}
            for index, readings in enumerate(screens)
        ]
        answer = floodbar.calculate("tension.assess", screens=request)
        exact = [[Fraction(str(r)) for r in readings] for readings in screens]
        means = [statistics.mean(readings) for readings in exact]
        together = statistics.mean(means)
        words = []
        for readings, mean, told in zip(exact, means, answer["per_screen"]):
            judge.near(shown(told, "mean"), Decimal(mean.numerator) / mean.denominator, 4e-15, case, "mean", kind="share")
            judge.within(float(shown(told, "spread")), float(max(readings) - min(readings)), 1e-12, case, "spread")
            far = max(abs(reading - mean) for reading in readings)
            judge.within(abs(float(shown(told, "furthest"))), float(far), 1e-12, case, "furthest")
            judge.within(float(shown(told, "from_set")), float(mean - together), 1e-12, case, "from the set")
            if far <= Fraction("1.5") and abs(mean - together) <= 2:
                words.append("matched")
            elif mean < 18 or max(readings) - min(readings) >= 5:
                words.append("replace")
            else:
                words.append("retension")
            judge.holds(told["verdict"] == words[-1], case, "verdict", told, words[-1])
        worst = next(word for word in ["replace", "retension", "matched"] if word in words)
        judge.holds(answer["verdict"] == worst, case, "verdict of the set", answer["verdict"], worst)
        seen.add(worst)
        judge.within(float(shown(answer, "set_spread")), float(max(means) - min(means)), 1e-12, case, "set spread")
        judge.within(float(shown(answer, "set_mean")), float(together), 1e-12, case, "set mean")
        stands_out = None
        if len(means) > 2 and any(abs(mean - together) > 2 for mean in means):
            rests = [means[:index] + means[index + 1 :] for index in range(len(means))]
            left = [max(rest) - min(rest) for rest in rests]
            if left.count(min(left)) == 1:
                stands_out = str(left.index(min(left)))
                odd += 1
                judge.within(float(shown(answer, "set_spread_without")), float(min(left)), 1e-12, case, "without")
        judge.holds(answer.get("odd_one") == stands_out, case, "odd one", answer.get("odd_one"), stands_out)
    judge.holds(len(seen) == 3 and odd > 20, "seen:", seen, odd)


CHECKS = {"tension.off_contact": check_off_contact, "tension.assess": check_assess}


if __name__ == "__main__":
    sys.exit(run(sys.argv[1], CHECKS))
