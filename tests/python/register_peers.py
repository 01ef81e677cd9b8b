"""Compares the register's chances with other methods: register_peers.py LIBRARY

Normal errors: SciPy's multivariate normal distribution. Own errors of two shapes: SciPy's adaptive quadrature of closed
forms. Normal steps: the integral equation on Gauss-Legendre nodes. Everything together: a million jobs drawn by NumPy, from
a fixed seed. Needs what requirements.txt lists. Prints what differs, then the counts.
"""

import math
import sys

import numpy as np
from scipy import integrate, stats

from shared import run

# What the library promises of a chance.
PROMISED = 1e-6
DRAWN = 1_000_000


def source(half_width, shape, **flags):
    return {"name": f"{shape} {half_width}", "half_width": f"{half_width} mm", "shape": shape, **flags}


def sigma(half_width):
    """The standard deviation of a normal error whose half-width holds 95 %."""
    return half_width / stats.norm.ppf(0.975)


def ask(floodbar, sources, colours, trap):
    return floodbar.calculate("register.budget", sources=sources, colours=colours, trap=f"{trap} mm")


def check_normal(floodbar, judge):
    """Own errors and steps, all normal: a rectangle under a multivariate normal density, to the accuracy asked for."""
    for own, step, colours, trap in [
        (0.25, 0.0, 2, 0.3), (0.25, 0.0, 3, 0.4), (0.25, 0.0, 5, 0.5), (0.25, 0.0, 8, 0.6),
        (0.0, 0.4, 3, 0.4), (0.0, 0.4, 5, 0.8), (0.1, 0.4, 4, 0.5), (0.3, 0.1, 6, 0.45), (0.2, 0.3, 7, 0.9),
    ]:  # fmt: skip
        against = np.arange(1, colours)
        cov = sigma(own) ** 2 * (1 + np.eye(colours - 1)) + sigma(step) ** 2 * np.minimum.outer(against, against)
        box = np.full(colours - 1, trap)
        wanted = stats.multivariate_normal.cdf(
            box, cov=cov, lower_limit=-box, maxpts=2_000_000, abseps=1e-6, releps=0, rng=np.random.default_rng(7)
        )
        sources = [source(own, "normal"), source(step, "normal", accumulates=True)]
        answer = ask(floodbar, sources, colours, trap)
        # Its estimate of its own error is that of one axis; the chance is squared.
        judge.within(answer["all_within_probability"], wanted**2, 1e-5, own, step, colours, trap)
        judge.within(answer["standard"]["value"], math.sqrt(cov[0, 0]), 1e-12, own, step, "standard")
        for told, variance in zip(answer["colours"], np.diag(cov), strict=True):
            inside = 1 - 2 * stats.norm.sf(trap / math.sqrt(variance))
            judge.within(told["within_probability"], inside**2, 1e-8, own, step, told)
            judge.within(told["standard"]["value"], math.sqrt(variance), 1e-12, own, step, told)


def check_quadrature(floodbar, judge):
    """A uniform and a normal own error: closed density and distribution, the mean over colour 1 by adaptive quadrature."""
    for a, normal, colours, trap in [(0.25, 0.1, 4, 0.4), (0.3, 0.02, 6, 0.35), (0.1, 0.3, 8, 0.5), (0.4, 0.2, 3, 0.2), (0.2, 0.2, 12, 0.6)]:
        s = sigma(normal)

        def ramp(x):
            """The integral of the normal distribution function up to x."""
            return x * stats.norm.cdf(x / s) + s * stats.norm.pdf(x / s)

        density = lambda x: (stats.norm.cdf((x + a) / s) - stats.norm.cdf((x - a) / s)) / (2 * a)  # noqa: E731
        below = lambda x: (ramp(x + a) - ramp(x - a)) / (2 * a)  # noqa: E731
        mean = lambda power: 2 * integrate.quad(  # noqa: E731
            lambda x: density(x) * (below(x + trap) - below(x - trap)) ** power,
            0, a + 9 * s, points=sorted({a, abs(trap - a), min(trap + a, a + 9 * s)}), limit=400, epsabs=1e-12, epsrel=1e-12,
        )[0]  # fmt: skip
        answer = ask(floodbar, [source(normal, "normal"), source(a, "uniform")], colours, trap)
        judge.within(answer["all_within_probability"], mean(colours - 1) ** 2, PROMISED, a, normal, colours, trap)
        judge.within(answer["pair_within_probability"], mean(1) ** 2, PROMISED / 10, a, normal, "pair")


def check_steps(floodbar, judge):
    """Normal steps, own errors uniform or none: the integral equation on Gauss-Legendre nodes between the kinks."""
    for own, normal, colours, trap in [(0.0, 0.4, 4, 0.5), (0.0, 0.2, 8, 0.6), (0.1, 0.4, 5, 0.6), (0.25, 0.3, 6, 0.7), (0.3, 0.5, 3, 0.2)]:
        s = sigma(normal)
        edges = sorted({0.0, abs(trap - own), trap, trap + own, own} - ({0.0} if trap == own else set()))
        edges = [e for e in edges if e <= trap + own]
        edges = sorted({-e for e in edges} | set(edges))
        x, w = np.polynomial.legendre.leggauss(80)
        nodes = np.concatenate([(a + b) / 2 + (b - a) / 2 * x for a, b in zip(edges, edges[1:])])
        weights = np.concatenate([(b - a) / 2 * w for a, b in zip(edges, edges[1:])])
        kernel = stats.norm.pdf(nodes[:, None] - nodes[None, :], scale=s)
        if own:
            inside = np.clip((np.minimum(nodes + own, trap) - np.maximum(nodes - own, -trap)) / (2 * own), 0, 1)
            first = (stats.norm.cdf((nodes + own) / s) - stats.norm.cdf((nodes - own) / s)) / (2 * own)
        else:
            inside = (np.abs(nodes) <= trap).astype(float)
            first = stats.norm.pdf(nodes, scale=s)
        kept = first * inside
        for _ in range(colours - 2):
            kept = inside * (kernel @ (weights * kept))
        wanted = float(weights @ kept) ** 2
        sources = [source(own, "uniform"), source(normal, "normal", accumulates=True)]
        answer = ask(floodbar, sources, colours, trap)
        judge.within(answer["all_within_probability"], wanted, PROMISED, own, normal, colours, trap)


def draw(generator, half_width, shape):
    if shape == "normal":
        return generator.normal(0, sigma(half_width), DRAWN)
    if shape == "uniform":
        return generator.uniform(-half_width, half_width, DRAWN)
    return generator.triangular(-half_width, 0, half_width, DRAWN)


def check_drawn(floodbar, judge):
    """A million jobs, both axes, every shape, shared and accumulating: within 4 standard errors of the draw."""
    cases = [
        ([source(0.25, "uniform"), source(0.2, "triangular"), source(0.5, "normal", shared=True)], 4, 0.4),
        ([source(0.4, "uniform", accumulates=True)], 3, 0.4),
        ([source(0.4, "triangular", accumulates=True), source(0.1, "uniform")], 5, 0.5),
        ([source(0.2, "normal"), source(0.3, "uniform", accumulates=True), source(0.15, "triangular", accumulates=True)], 6, 0.7),
        ([source(0.1, "uniform"), source(0.2, "normal"), source(0.15, "triangular"), source(0.05, "uniform"),
          source(0.2, "normal", accumulates=True), source(0.2, "uniform", accumulates=True)], 8, 0.8),
    ]  # fmt: skip
    for number, (sources, colours, trap) in enumerate(cases):
        generator = np.random.default_rng([20261125, number])
        answer = ask(floodbar, sources, colours, trap)
        all_in, alone = np.ones(DRAWN, bool), [np.ones(DRAWN, bool) for _ in range(colours)]
        for _ in range(2):
            shared = sum(draw(generator, float(s["half_width"][:-3]), s["shape"]) for s in sources if s.get("shared")) + np.zeros(DRAWN)
            walk = np.zeros(DRAWN)
            for colour in range(colours):
                own = np.zeros(DRAWN)
                for s in sources:
                    if s.get("accumulates") and colour:
                        walk += draw(generator, float(s["half_width"][:-3]), s["shape"])
                    elif not s.get("shared") and not s.get("accumulates"):
                        own += draw(generator, float(s["half_width"][:-3]), s["shape"])
                place = shared + own + walk
                if colour == 0:
                    first = place
                alone[colour] &= np.abs(place - first) <= trap
                all_in &= np.abs(place - first) <= trap
        chances = [("all", answer["all_within_probability"], all_in), ("pair", answer["pair_within_probability"], alone[1])]
        chances += [(c["colour"], c["within_probability"], alone[c["colour"] - 1]) for c in answer["colours"]]
        for what, got, inside in chances:
            judge.within(got, inside.mean(), 4 * math.sqrt(max(got * (1 - got), 1e-12) / DRAWN), number, what)
        again = ask(floodbar, sources, colours, answer["trap_needed"]["value"])
        judge.within(again["all_within_probability"], 0.95, PROMISED, number, "trap needed")


CHECKS = {
    "normal errors": check_normal,
    "own errors by quadrature": check_quadrature,
    "steps by the integral equation": check_steps,
    "a million jobs": check_drawn,
}


if __name__ == "__main__":
    sys.exit(run(sys.argv[1], CHECKS))
