"""What is kept of the runs: batches that Spark commits, and one file that says which batch holds each shop and cloth.

    OUT/batches/batch=20270104T020000-0007/kind=quoted/shop=.../cloth=.../*.parquet
    OUT/done.json

A batch is written by one Spark job and never changed. What it holds counts from the moment in which done.json, replaced as a whole, names
it; a batch that is not named there was cut off, or has been replaced, and is deleted when the next run begins. OUT is a folder that the driver
and all executors share.
"""

import contextlib
import fcntl
import json
import os
import shutil
from pathlib import Path

from pyspark.sql import functions as F
from pyspark.sql.pandas.types import from_arrow_schema

from . import tables


class Store:
    """The folder that is written to."""

    def __init__(self, folder):
        self.folder = Path(folder).absolute()
        self.batches = self.folder / "batches"
        self._done = self.folder / "done.json"

    @contextlib.contextmanager
    def held(self):
        """Kept from other runs for a while; ends with the process, however that ends. BlockingIOError where another holds it."""
        self.batches.mkdir(parents=True, exist_ok=True)
        with open(self.folder / "lock", "w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            yield

    def done(self):
        """The batch that holds each (shop, cloth)."""
        if not self._done.exists():
            return {}
        return {(shop, cloth): batch for shop, cloth, batch in json.loads(self._done.read_text())}

    def record(self, done):
        """Makes this the state, whole or not at all."""
        beside = self.folder / "done.json.new"
        with open(beside, "w") as file:
            json.dump(sorted([*place, batch] for place, batch in done.items()), file)
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, self._done)

    def tidy(self):
        """Deletes the batches that nothing names."""
        named = {f"batch={batch}" for batch in self.done().values()}
        for path in self.batches.iterdir():
            if path.name not in named:
                shutil.rmtree(path)

    def path(self, batch):
        """Where a batch is written."""
        return str(self.batches / f"batch={batch}")

    def table(self, spark, kind, batches=None):
        """The rows of a kind, "quoted", "refused" or "work", as they stand, with the batch, shop and cloth of each; of some batches
        only where they are given."""
        state = [(batch, *place) for place, batch in self.done().items() if batches is None or batch in batches]
        place = "batch string, shop string, cloth string"
        current = spark.createDataFrame(state, place)
        columns = [field.name for field in tables.KINDS[kind]] + ["batch", "shop", "cloth"]
        if not state:
            return spark.createDataFrame([], schema_of(tables.WRITTEN).add("batch", "string")).select(columns)
        named = sorted({batch for batch, _, _ in state})
        written = spark.read.schema(schema_of(tables.WRITTEN).add("batch", "string")).parquet(str(self.batches))
        written = written.where((F.col("kind") == kind) & F.col("batch").isin(named))
        return written.join(F.broadcast(current), ["batch", "shop", "cloth"], "left_semi").select(columns)


def schema_of(schema):
    """The schema of Spark for one of Arrow."""
    return from_arrow_schema(schema)
