"""A picture of an exposure series: how deep each strip hardened, the curve through them, and what a thicker stencil needs.

    pip install ./ffi matplotlib
    python3 examples/python/exposure_plots.py FOLDER

A scenario of our own: five strips around 60 s in 4 mW/cm2, each washed out and measured. The doubt of the exposure is that of the scatter
about the curve.
"""

import math
import sys
from pathlib import Path

import floodbar
import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402

LIGHT = 4.0  # mW/cm2
DEPTHS = [66.0, 93.0, 128.0, 152.0, 185.0]  # um, strip by strip
STENCIL = 110.0  # um


def main(folder):
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    times = [float(time.to("s")) for time in floodbar.exposure.series(middle="60 s", steps=len(DEPTHS))["times"]]
    points = [{"exposure": f"{LIGHT * time} mJ/cm2", "depth": f"{depth} um"} for time, depth in zip(times, DEPTHS)]
    request = {"points": points, "stencil_thickness": f"{STENCIL} um", "irradiance": f"{LIGHT} mW/cm2"}
    curve = floodbar.calculate("exposure.curve", request)
    wanted = ["/time", "/exposure_low", "/exposure_high"]
    swept = floodbar.sweep(
        "exposure.curve", request, {"vary": "/stencil_thickness", "from": "50 um", "to": "200 um", "points": 61, "want": wanted}
    )
    thickness = swept["x"]["values"]
    needed, low, high = (column["values"] for column in swept["columns"])
    seconds = {"s": 1.0, "min": 60.0}[swept["columns"][0]["unit"]]
    needed = [time * seconds for time in needed]
    low, high = ([exposure / LIGHT for exposure in ends] for ends in (low, high))

    figure, axes = plt.subplots(figsize=(7.2, 4.6), layout="constrained")
    axes.fill_betweenx(thickness, low, high, color="#1f6f8b", alpha=0.18, linewidth=0, label="95 % of where it may lie")
    axes.plot(needed, thickness, color="#1f6f8b", lw=2, label="hardened so deep")
    axes.plot(times, DEPTHS, "o", color="#222222", label="the strips, measured")
    time = float(curve["time"].to("s"))
    axes.plot([time, time, 0.1], [0, STENCIL, STENCIL], color="#b2492c", ls="--", label=f"a stencil of {STENCIL:.0f} µm: {time:.0f} s")
    axes.set_xscale("log")
    ticks = [round(time) for time in times]
    axes.set_xticks(ticks, [str(tick) for tick in ticks])
    axes.minorticks_off()
    axes.set_xlim(min(times) / math.sqrt(2), max(times) * math.sqrt(2))
    axes.set_ylim(0, 210)
    axes.set_xlabel("exposure, s")
    axes.set_ylabel("depth hardened, µm")
    axes.set_title("How long until the stencil is hard through?")
    axes.legend(loc="upper left", frameon=False)
    axes.spines[["top", "right"]].set_visible(False)
    path = folder / "exposure-series.png"
    figure.savefig(path, dpi=110)
    plt.close(figure)
    print(path)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(sys.argv[1])
