"""What it costs to price a catalogue with Spark: spark_speed.py IN [WORKERS [OUT]], run by hand by the Python of examples/spark/environment

IN is what `examples/spark/main.py demo` writes; OUT is kept, where it is given. Prints the program's own summary, and the most memory that its processes held.
"""

import re
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from pathlib import Path

from spark import MAIN, descendants

KINDS = {"executors (Java)": "CoarseGrainedExecutorBackend", "driver (Java)": "SparkSubmit", "Python workers": "pyspark.daemon"}


def peak(number):
    """The most memory that a process has held, in MB."""
    try:
        return int(re.search(r"VmHWM:\s*(\d+)", Path(f"/proc/{number}/status").read_text())[1]) / 1024
    except (OSError, TypeError):
        return 0.0


def main(source, workers="2", kept=None):
    most = defaultdict(float)
    with tempfile.TemporaryDirectory() as passing:
        command = [sys.executable, "-B", MAIN, "run", source, kept or passing, "--master", f"local-cluster[{workers},1,1024]"]
        began = time.monotonic()
        process = subprocess.Popen(command)
        while process.poll() is None:
            for number, line in descendants(process).items():
                kind = next((kind for kind, word in KINDS.items() if word in line), None)
                if kind:
                    most[kind] = max(most[kind], peak(number))
            time.sleep(1.0)
        print(f"{workers} workers, {time.monotonic() - began:.0f} s in all; most memory of one process:")
        for kind, megabytes in most.items():
            print(f"  {kind}: {megabytes:.0f} MB")
    return process.returncode


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
