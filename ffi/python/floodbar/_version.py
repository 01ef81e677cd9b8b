# Written by `floodbar-pack python` from the catalogue: do not edit.
"""Which library these files are for, and the trade steps that it has."""

VERSION = "0.1.0"
STEPS = ["unit", "mesh", "stencil", "exposure", "ink", "artwork", "tension", "register", "press", "dryer", "cure", "flash", "heat", "wash", "shop", "job", "stock"]
