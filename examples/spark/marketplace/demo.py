"""A marketplace to try it with: the demo databases of the quoting example, one a shop, as Parquet."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pyarrow
import pyarrow.dataset
import pyarrow.parquet

from . import tables

BLOCK = 5_000


def export(databases, source, quantities=()):
    """Writes the orders and the shops of some databases, each shop called by the name of its file. With quantities, a product of the catalogue is
    each order in each of them."""
    source = Path(source)
    rows = {name: [] for name in tables.SHOPS}
    for path in databases:
        with closing(sqlite3.connect(path)) as database:
            _shop(database, Path(path).stem, rows)
    for name, schema in tables.SHOPS.items():
        (source / name).mkdir(parents=True, exist_ok=True)
        pyarrow.parquet.write_table(pyarrow.Table.from_pylist(rows[name], schema=schema), source / name / "part.parquet")
    blocks = (block for path in databases for block in _blocks(path, quantities))
    layout = pyarrow.dataset.partitioning(pyarrow.schema([("shop", tables.TEXT), ("cloth", tables.TEXT)]), flavor="hive")
    pyarrow.dataset.write_dataset(
        blocks, source / "orders", schema=tables.ORDERS, format="parquet", partitioning=layout, max_partitions=100_000, max_open_files=64
    )


def _shop(database, shop, rows):
    (settings,) = database.execute("SELECT shop FROM shop").fetchone()
    rates = database.execute("SELECT currency, rates, price, valid_days FROM rates ORDER BY version DESC LIMIT 1").fetchone()
    rows["shops"].append({"shop": shop, "settings": settings, **dict(zip(("currency", "rates", "price", "valid_days"), rates))})
    for name, columns in (("presses", "name, press, rate"), ("garments", "name, blank, by_size"), ("inks", "colour, rate")):
        for found in database.execute(f"SELECT {columns} FROM {name} ORDER BY rowid"):
            rows[name].append({"shop": shop, **dict(zip(columns.split(", "), found))})


def _blocks(path, quantities):
    """The orders of a database, block by block."""
    with closing(sqlite3.connect(path)) as database:
        found = database.execute("SELECT id, garment, press, rush, tax_exempt, request FROM orders ORDER BY id")
        while some := found.fetchmany(BLOCK):
            rows = []
            for number, garment, press, rush, exempt, text in some:
                row = {"garment": garment, "press": press, "rush": bool(rush), "tax_exempt": bool(exempt), "shop": Path(path).stem}
                cloth, texts = _cloth_and_texts(text, quantities)
                first = number * max(len(quantities), 1)
                rows += [{**row, "id": first + place, "cloth": cloth, "request": text} for place, text in enumerate(texts)]
            yield pyarrow.RecordBatch.from_pylist(rows, schema=tables.ORDERS)


def _cloth_and_texts(text, quantities):
    """The name of an order's cloth, and its text, or its texts in all quantities; an order in which there is no cloth is as it is."""
    try:
        order = json.loads(text)
        cloth, sizes, pieces = order["cloth"], order["sizes"], order["pieces"]
    except (ValueError, KeyError, TypeError, RecursionError):
        return "unknown", [text] * max(len(quantities), 1)
    texts = [] if quantities else [text]
    add_up = sum(size["pieces"] for size in sizes) == pieces
    for wanted in quantities:
        split = [{**size, "pieces": size["pieces"] * wanted // pieces} for size in sizes]
        # What rounding down left goes to the first size. Sizes that did not add up are not made to.
        split[0]["pieces"] += (wanted - sum(size["pieces"] for size in split)) if add_up else 0
        texts.append(json.dumps({**order, "pieces": wanted, "sizes": [size for size in split if size["pieces"]]}, separators=(",", ":")))
    return cloth if isinstance(cloth, str) else cloth["from"], texts
