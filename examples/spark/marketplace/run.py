"""A run: wave after wave of shops and cloths, each written by one Spark job and then named as done."""

import hashlib
import json
import math
import time
from datetime import datetime, timezone

import floodbar
import pyarrow.parquet
from pyspark.sql import functions as F

from . import plan, price, tables
from .progress import Progress
from .request import Shops
from .store import schema_of

# A task has rows of one shop and cloth, so that the cache of its worker hits, and no more than this, so that a large shop holds up no other.
TASK_ROWS = 5_000


def library():
    """What stands for the formulas and the built-in stock in the hash of a request: with another library all is priced anew."""
    stock = json.dumps(floodbar.catalogue()["stock"], sort_keys=True)
    return f"{floodbar.__version__} {hashlib.sha256(stock.encode()).hexdigest()}"


def read_shops(source):
    """What all shops have."""
    return Shops(*(pyarrow.parquet.read_table(f"{source}/{name}", schema=schema).to_pylist() for name, schema in tables.SHOPS.items()))


def price_all(spark, source, store, wave_rows, again=False, tell=print):
    """Prices what is not priced, or has changed since, and tells how far it is. What was done, as a mapping for the summary."""
    began = time.monotonic()
    store.tidy()
    shops = spark.sparkContext.broadcast(read_shops(source))
    orders = plan.orders_of(spark, source)
    stock = library()
    todo = plan.make(spark, orders, store, shops, stock, wave_rows, again)
    tell(
        f"{todo.done} shops and cloths with {todo.done_rows:,} rows are done and unchanged; "
        f"{todo.to_price:,} rows to price, {todo.kept:,} to keep, in {len(todo.waves)} waves"
    )
    planned = time.monotonic() - began
    state = store.done()
    for place in todo.gone:
        del state[place]
    store.record(state)
    done = spark.sparkContext.accumulator(0), spark.sparkContext.accumulator(0)
    name = datetime.now(timezone.utc).strftime("%Y%m%dT%H%M%S%f")
    batches = []
    with Progress(spark.sparkContext, done, todo.to_price, len(todo.waves), tell) as progress:
        for number, wave in enumerate(todo.waves, 1):
            progress.wave = number
            batch = f"{name}-{number:05}"
            _write(spark, orders, wave, todo, store, batch, price.pricing(shops, stock, done))
            state.update({(part.shop, part.cloth): batch for part in wave})
            store.record(state)
            batches.append(batch)
    seconds = time.monotonic() - began
    return {"batches": batches, "priced": todo.to_price, "kept": todo.kept, "done": todo.done_rows, "seconds": seconds, "planned": planned}


def _write(spark, orders, wave, todo, store, batch, function):
    """One wave: its rows priced, and those that are as they were copied from where they stand."""
    rows, first = [], 0
    for part in wave:
        tasks = max(1, math.ceil(part.to_price / TASK_ROWS))
        rows.append((part.shop, part.cloth, first, tasks))
        first += tasks
    places = F.broadcast(spark.createDataFrame(rows, "shop string, cloth string, first int, tasks int"))
    to_price = orders.join(places, plan.PLACE)
    same = None if todo.same is None else todo.same.join(places, plan.PLACE, "left_semi")
    if same is not None:
        to_price = to_price.join(same, plan.ROW, "left_anti")
    # By its number an order comes into the same task each time, and in the same order, so that an attempt writes what the one before did.
    task = F.col("first") + F.pmod(F.xxhash64("id"), F.col("tasks")).cast("int")
    tasked = to_price.withColumn("task", task).repartitionById(first, "task").sortWithinPartitions(*plan.ROW).drop("first", "tasks", "task")
    written = tasked.mapInArrow(function, schema_of(tables.WRITTEN))
    if same is not None:
        for kind in ("quoted", "refused"):
            kept = store.table(spark, kind).join(places, plan.PLACE, "left_semi").join(same, plan.ROW, "left_semi")
            written = written.unionByName(kept.drop("batch").withColumn("kind", F.lit(kind)), allowMissingColumns=True)
    written.write.partitionBy("kind", *plan.PLACE).parquet(store.path(batch))
