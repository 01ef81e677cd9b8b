"""Two pictures of heat: the flash over a run, and the window of a dryer's belt.

    pip install ./ffi matplotlib
    python3 examples/python/heat_plots.py FOLDER

A scenario of our own: 240 shirts with a white base under a panel flash, and the same print in a hot-air tunnel.
"""

import sys
from pathlib import Path

import floodbar
import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402

INK, CLOTH = "plastisol-white", "cotton-jersey-180-dark"
# The print as layers, for speeds outside the window too: the film of dryer.window's default, and the stock cloth.
LAYERS = [
    {"name": "ink", "thickness": "40 um", "conductivity": "0.17 W/(m.K)", "density": "1.44 g/cm3", "specific_heat": "1500 J/(kg.K)"},
    {"name": "cloth", "thickness": "0.55 mm", "conductivity": "0.055 W/(m.K)", "density": "327.3 kg/m3",
     "specific_heat": "1340 J/(kg.K)", "bound_water": "13.5 g/m2"},
]  # fmt: skip
TUNNEL = 2.0  # m, the stock tunnel: air at 175 degC


def values(quantities):
    return [float(quantity) for quantity in quantities]


def flash_over_a_run(path):
    """What to set turn by turn, what the first setting would do, and the platens under it."""
    run = floodbar.flash.run(
        flash="panel-flash", ink=INK, cloth=CLOTH, platen="rubber-topped", press="automatic-8", pieces=240
    )
    turns = run["rotations"]
    number = [turn["rotation"] for turn in turns]
    figure, (upper, lower) = plt.subplots(2, 1, figsize=(7.2, 6.4), sharex=True, layout="constrained")
    upper.fill_between(number, values(t["least"] for t in turns), values(t["most"] for t in turns), color="#cfe3d4", label="gels, nothing too hot")
    upper.plot(number, values(t["recommended"] for t in turns), color="#1d5c38", lw=2, label="set this")
    first = float(turns[0]["recommended"])
    upper.axhline(first, color="#8a3b12", ls="--", label="the first shirt's dwell, kept")
    upper.set_ylabel("dwell under the flash, s")
    upper.set_ylim(bottom=0)
    upper.legend(loc="upper right", frameon=False)
    upper.set_title("A flash must get shorter as the platens warm up (240 shirts, eight platens)")
    lower.plot(number, values(t["platen_start"] for t in turns), color="#444444", lw=2, label="platen when a shirt goes on")
    lower.plot(number, values(t["top_if_unchanged"] for t in turns), color="#8a3b12", ls="--", label="film's top, first dwell kept")
    lower.set_ylabel("temperature, °C")
    lower.set_xlabel("turn of the carousel")
    lower.legend(loc="center right", frameon=False)
    figure.savefig(path, dpi=110)
    plt.close(figure)


def window_of_the_belt(path):
    """How hot the print leaves the tunnel at each belt speed, and which speeds are allowed."""
    window = floodbar.dryer.window(dryer="air-dryer-2m", ink=INK, cloth=CLOTH)
    speeds = [0.3 * 20 ** (i / 40) for i in range(41)]
    coldest, hottest = [], []
    for speed in speeds:
        seconds = TUNNEL / speed * 60
        answer = floodbar.heat.layers(
            layers=LAYERS,
            start="25 degC",
            stages=[{
                "duration": f"{seconds} s",
                "top": {"air": "175 degC", "transfer": "20 W/(m2.K)"},
                "bottom": {"air": "175 degC", "transfer": "12 W/(m2.K)"},
            }],
            report_at=[f"{seconds} s"],
        )  # fmt: skip
        coldest.append(float(answer["interfaces"][0][0]))
        hottest.append(max(values([answer["top"][0], answer["bottom"][0]])))
    figure, axis = plt.subplots(figsize=(7.2, 4.2), layout="constrained")
    slow, fast = float(window["slowest"]), float(window["fastest"])
    axis.axvspan(slow, fast, color="#cfe3d4", label="allowed")
    axis.axvline(float(window["recommended"]), color="#1d5c38", lw=2, label="start here")
    axis.plot(speeds, coldest, color="#8a3b12", lw=2, label="coldest ink at the exit")
    axis.plot(speeds, hottest, color="#444444", ls=":", label="hottest point at the exit")
    axis.axhline(160, color="#8a3b12", lw=0.8)
    axis.text(4.2, 160.5, "cure", color="#8a3b12")
    axis.axhline(180, color="#444444", lw=0.8)
    axis.text(6.8, 180.5, "scorches in two minutes", color="#444444", ha="right")
    axis.set_ylim(top=188)
    axis.set_xscale("log")
    axis.set_xticks([0.3, 0.5, 1, 2, 3, 6], ["0.3", "0.5", "1", "2", "3", "6"])
    axis.minorticks_off()
    axis.set_xlabel("belt speed, m/min")
    axis.set_ylabel("temperature, °C")
    axis.set_title("Between which belt speeds is it cured and not scorched?")
    axis.legend(loc="lower left", frameon=False)
    figure.savefig(path, dpi=110)
    plt.close(figure)


def main(folder):
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    for name, draw in (("flash-over-a-run", flash_over_a_run), ("window-of-the-belt", window_of_the_belt)):
        path = folder / f"{name}.png"
        draw(path)
        print(path)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(sys.argv[1])
