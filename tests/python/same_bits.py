"""All layers give the same bits: same_bits.py VECTORS_DIR FOLDER LAYER...

FOLDER holds LAYER.jsonl, one answer or error a line, in the order of the vectors. Numbers are compared as doubles, bit
for bit: JavaScript writes 1 where Rust writes 1.0. Where a calculation goes through a third party's transcendental code,
named here, they agree to 1e-12 instead.
"""

import json
import struct
import sys
from pathlib import Path

from shared import Judge, read_vectors

# Student's t, for the interval of the exposure, comes from a statistics crate.
THIRD_PARTY = {"exposure.curve"}


def bits(number):
    return struct.pack("<d", number)


def differ(a, b, close, at=""):
    """Where two documents differ, or None."""
    if isinstance(a, bool) or isinstance(b, bool) or not isinstance(a, (int, float)) or not isinstance(b, (int, float)):
        if type(a) is not type(b):
            return at
        if isinstance(a, dict):
            if list(a) != list(b):
                return at + " (members or their order)"
            return next((d for k in a if (d := differ(a[k], b[k], close, f"{at}/{k}"))), None)
        if isinstance(a, list):
            if len(a) != len(b):
                return at + " (length)"
            return next((d for i, (x, y) in enumerate(zip(a, b)) if (d := differ(x, y, close, f"{at}/{i}"))), None)
        return None if a == b else at
    same = bits(a) == bits(b) or (close and abs(a - b) <= 1e-12 * max(abs(a), abs(b)))
    return None if same else f"{at} ({a!r} and {b!r})"


def main(vectors, folder, first, *others):
    vectors = read_vectors(vectors)
    answers = {}
    for layer in (first, *others):
        lines = (Path(folder) / f"{layer}.jsonl").read_text().splitlines()
        if len(lines) != len(vectors):
            print(f"{layer}: {len(lines)} answers to {len(vectors)} vectors")
            print("0 passed, 1 failed")
            return 1
        answers[layer] = [json.loads(line) for line in lines]
    judge = Judge()
    for index, vector in enumerate(vectors):
        for layer in others:
            close = vector["calculation"] in THIRD_PARTY
            place = differ(answers[first][index], answers[layer][index], close)
            judge.holds(place is None, vector["name"], first, "and", layer, "at", place or "the root")
    return judge.close()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
