# Written by ffi/python/write_modules.py from the catalogue: do not edit.
"""Which library these files are for, and the trade steps that it has."""

VERSION = "0.1.0"
ABI = 1
STEPS = ["unit", "mesh", "stencil", "exposure", "ink", "artwork", "tension", "register", "press", "dryer", "cure", "flash", "heat", "wash", "job", "stock"]
