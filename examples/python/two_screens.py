"""Prepares a run on two screens: how many blanks to start with, and how much of each ink to have ready.

    pip install ./ffi
    python3 examples/python/two_screens.py

A scenario of our own.
"""

import floodbar

ORDERED = 180
SCREENS = {
    "underbase": {"mesh": "43-80", "ink": "plastisol-white", "printed_area": "410 +/- 15 cm2"},
    "top colour": {"mesh": "77-55", "ink": "plastisol", "printed_area": "265 cm2"},
}


def main():
    start = floodbar.press.overs(pieces=ORDERED, spoilage_fraction=0.02, confidence=0.95)
    blanks = start["start_with"]
    print(f"{ORDERED} shirts ordered, 2 in 100 spoiled: start with {blanks} blanks")
    print(f"  (enough with a chance of {start['probability']:.1%})")

    cautions = []
    for name, screen in SCREENS.items():
        ink = floodbar.ink.usage(prints=blanks, **screen)
        print(f"{name}: mesh {screen['mesh']}, {ink['wet_film']} wet, have {ink['mass_to_mix']} ready ({ink['mass_to_mix'].to('oz')})")
        cautions += [f"{name}: {note['message']}" for note in ink["notes"] if note["level"] != "info"]
    for caution in cautions:
        print(f"mind: {caution}")

    try:
        floodbar.ink.usage(mesh="43-80", ink="plastisol-white", printed_area="410 mm", prints=blanks)
    except floodbar.FloodbarError as error:
        print(f"a slip in a unit is caught ({error.code}): {error}")


if __name__ == "__main__":
    main()
