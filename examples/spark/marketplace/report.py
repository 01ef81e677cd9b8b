"""What came of it: the summary of a run, and which shops cost most."""

from pyspark.sql import functions as F

MOST = 10


def _table(head, rows):
    rows = [[str(cell) for cell in row] for row in (head, *rows)]
    first, *others = (max(map(len, column)) for column in zip(*rows))
    return "\n".join("  ".join([row[0].ljust(first), *map(str.rjust, row[1:], others)]) for row in rows)


def summary(spark, store, done):
    """What a run did, and what stands now."""
    speed = done["priced"] / max(done["seconds"] - done["planned"], 0.001)
    lines = [
        f"PRICED  {done['priced']:,} rows in {done['seconds']:.1f} s, {done['planned']:.1f} s of it to plan: {speed:,.0f} rows a second; "
        f"{done['kept']:,} kept beside them, {done['done']:,} untouched"
    ]
    work = store.table(spark, "work", set(done["batches"])).agg(
        F.sum("seconds"), F.sum("rows"), F.sum("remembered"), F.sum("worked_out"), F.countDistinct("worker"), F.max("peak_kilobytes")
    ).head()  # fmt: skip
    if work[1]:
        lines.append(
            f"WORK    {1000 * work[0] / work[1]:.2f} ms of a core a row on {work[4]} Python workers, none above {work[5] / 1024:,.0f} MB; "
            f"heat: {work[2]:,} times remembered, {work[3]:,} times worked out"
        )
    quoted, refused = store.table(spark, "quoted"), store.table(spark, "refused")
    sums = [F.sum(name) for name in ("pieces", "cost", "profit", "total")]
    totals = quoted.groupBy("currency").agg(F.count("*"), *sums).orderBy("currency").collect()
    head = ["currency, minor units", "quotes", "pieces", "cost", "profit", "total"]
    lines += ["", _table(head, ([row[0], *(f"{cell:,}" for cell in row[1:])] for row in totals))]
    reasons = refused.groupBy("code").count().orderBy(F.desc("count"), "code").collect()
    lines += ["", _table(["refused", "rows"], ([row.code, f"{row['count']:,}"] for row in reasons))]
    return "\n".join(lines)


def skew(spark, store):
    """Which shops cost most of the work that stands, and how far their largest shop and cloth is above the mean."""
    sums = [F.sum(name).alias(name) for name in ("rows", "refused", "seconds")]
    parts = store.table(spark, "work").groupBy("shop", "cloth").agg(*sums)
    dearest = F.max_by("cloth", "seconds").alias("cloth"), F.max("seconds").alias("most")
    shops = parts.groupBy("shop").agg(*sums, *dearest).orderBy(F.desc("seconds"))
    whole = parts.agg(F.sum("seconds").alias("seconds"), F.avg("seconds").alias("mean"), F.countDistinct("shop").alias("shops")).head()
    if not whole.seconds:
        return "SHOPS THAT COST MOST: nothing was priced"
    rows = [
        [row.shop, f"{row.rows:,}", f"{row.refused:,}", f"{row.seconds:,.1f}", f"{row.seconds / whole.seconds:.1%}", f"{1000 * row.seconds / row.rows:.2f}",
         f"{row.cloth}, {row.most / whole.mean:.1f} times the mean"]
        for row in shops.head(MOST)
    ]  # fmt: skip
    left = f"\n... and {whole.shops - MOST} more" if whole.shops > MOST else ""
    return "SHOPS THAT COST MOST\n" + _table(["shop", "rows", "refused", "s of work", "share", "ms a row", "dearest cloth"], rows) + left
