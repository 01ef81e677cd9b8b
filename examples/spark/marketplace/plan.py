"""What is to be done: which shops and cloths are done and unchanged, which rows of the others are to be priced, and in which order."""

from dataclasses import dataclass, field

from pyspark import StorageLevel
from pyspark.sql import functions as F

from . import price, tables
from .store import schema_of

PLACE = ["shop", "cloth"]
ROW = [*PLACE, "id"]


class Unusable(Exception):
    """The input makes no sense as a whole."""


@dataclass
class Part:
    """A shop and cloth with something to do."""

    shop: str
    cloth: str
    rows: int
    to_price: int


@dataclass
class Plan:
    """What a run has to do, in waves: the parts that one Spark job writes."""

    waves: list = field(default_factory=list)
    done: int = 0  # parts that are as they were
    done_rows: int = 0
    gone: set = field(default_factory=set)  # places of the state without any order
    same: object = None  # the rows, by their key, whose result of before holds; None where there are none

    @property
    def to_price(self):
        return sum(part.to_price for wave in self.waves for part in wave)

    @property
    def kept(self):
        return sum(part.rows - part.to_price for wave in self.waves for part in wave)


def orders_of(spark, source):
    """The orders; their text as bytes, since it may be none."""
    orders = spark.read.schema(schema_of(tables.ORDERS)).parquet(f"{source}/orders")
    # Spark reads an empty name of a folder as none.
    named = {name: F.coalesce(name, F.lit("")) for name in PLACE}
    return orders.withColumns({**named, "request": F.col("request").cast("binary")})


def make(spark, orders, store, shops, library, wave_rows, again=False):
    """The plan. `again` prices all anew."""
    counts = {(row.shop, row.cloth): row["count"] for row in orders.groupBy(PLACE).count().collect()}
    twice = orders.groupBy("shop", "id").count().where("count > 1").head()
    if twice:
        raise Unusable(f"shop {twice['shop']} has {twice['count']} orders with the number {twice['id']}")
    state = store.done()
    plan = Plan(gone=state.keys() - counts.keys())
    to_price = dict(counts)
    known = [] if again else sorted(state.keys() & counts.keys())
    if known:
        places = F.broadcast(spark.createDataFrame(known, "shop string, cloth string"))
        hashed = orders.join(places, PLACE, "left_semi").mapInArrow(price.hashing(shops, library), schema_of(tables.HASHED))
        before = keys(spark, store).join(places, PLACE, "left_semi")
        plan.same = hashed.join(before, [*ROW, "request_sha256"], "left_semi").select(ROW).persist(StorageLevel.DISK_ONLY)
        same = {(row.shop, row.cloth): row["count"] for row in plan.same.groupBy(PLACE).count().collect()}
        rows = {(row.shop, row.cloth): row["count"] for row in before.groupBy(PLACE).count().collect()}
        for place in known:
            to_price[place] -= same.get(place, 0)
            # An order that is gone leaves a row to be dropped, though there is nothing to price.
            if to_price[place] == 0 and rows.get(place, 0) == counts[place]:
                del to_price[place]
                plan.done += 1
                plan.done_rows += counts[place]
        if not same:
            plan.same = None
    parts = [Part(*place, counts[place], number) for place, number in sorted(to_price.items())]
    wave, size = [], 0
    for part in parts:
        if wave and size + part.to_price > wave_rows:
            plan.waves.append(wave)
            wave, size = [], 0
        wave.append(part)
        size += part.to_price
    if wave:
        plan.waves.append(wave)
    return plan


def keys(spark, store):
    """The key and hash of every row that stands."""
    columns = [*ROW, "request_sha256"]
    return store.table(spark, "quoted").select(columns).union(store.table(spark, "refused").select(columns))
