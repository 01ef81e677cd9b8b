"""A picture of doubt: the window of a dryer's belt, over the air that the dryer is set to, known to 5 degrees.

    pip install ./ffi matplotlib
    python3 examples/python/doubt_plots.py FOLDER

A scenario of our own: a plastisol print on dark cotton in a hot-air tunnel of 2 m, its film known to a fifth.
"""

import sys
from pathlib import Path

import floodbar
import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402

WANTED = [("/fastest", "fastest belt that cures", "#1f6f8b"), ("/slowest", "slowest belt without scorching", "#b2492c")]


def main(folder):
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    request = {
        "dryer": {"from": "air-dryer-2m", "air": "180 +/- 5 degC"},
        "ink": "plastisol",
        "film": "40 um +/- 20 %",
        "cloth": "cotton-jersey-180-dark",
    }
    spec = {
        "vary": "/dryer/air", "from": "170 degC", "to": "190 degC", "points": 21,
        "want": [at for at, _, _ in WANTED],
    }
    swept = floodbar.sweep("dryer.window", request, spec)
    x = swept["x"]["values"]
    figure, axes = plt.subplots(figsize=(8, 4.6), dpi=110)
    fastest, slowest = swept["columns"]
    sure = [pair[0] - pair[1] for pair in zip(fastest["values"], fastest["plus_minus"])]
    safe = [sum(pair) for pair in zip(slowest["values"], slowest["plus_minus"])]
    axes.fill_between(x, safe, sure, color="#4c8c4a", alpha=0.10, linewidth=0, label="what is left of the window")
    for column, (_, label, colour) in zip(swept["columns"], WANTED):
        values, doubts = column["values"], column["plus_minus"]
        low, high = ([value + side * doubt for value, doubt in zip(values, doubts)] for side in (-1, 1))
        axes.fill_between(x, low, high, color=colour, alpha=0.22, linewidth=0)
        axes.plot(x, values, color=colour, label=label)
    axes.set_xlabel(f"air of the dryer, set, {swept['x']['unit'].replace('deg', '°')} (known to ± 5 °C; film to ± 20 %)")
    axes.set_ylabel(f"belt, {swept['columns'][0]['unit']}")
    axes.set_title("What a doubt leaves of the window: bands hold 95 %")
    axes.set_ylim(bottom=0)
    axes.legend(frameon=False)
    axes.spines[["top", "right"]].set_visible(False)
    figure.tight_layout()
    path = folder / "window-in-doubt.png"
    figure.savefig(path)
    plt.close(figure)
    print(path)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(sys.argv[1])
