"""A marketplace prices its catalogue with Spark: main.py demo|run|report, see main.py --help and README.md."""

import argparse
import sys

from marketplace import demo, report, run
from marketplace.plan import Unusable
from marketplace.session import session
from marketplace.store import Store


def tell(line):
    """Says something beside the output."""
    print(line, file=sys.stderr, flush=True)


def arguments():
    parser = argparse.ArgumentParser(description=__doc__)
    commands = parser.add_subparsers(dest="command", required=True)
    made = commands.add_parser("demo", help="Parquet from the databases of the quoting example, one a shop")
    made.add_argument("source", metavar="IN")
    made.add_argument("databases", nargs="+", metavar="DATABASE")
    made.add_argument("--quantities", default="", help="each order in each of these numbers of pieces: 12,24,48")
    priced = commands.add_parser("run", help="price what is not priced or has changed; started again, it goes on where it was")
    priced.add_argument("source", metavar="IN")
    told = commands.add_parser("report", help="which shops cost most, of what stands")
    for command in (priced, told):
        command.add_argument("out", metavar="OUT")
        command.add_argument("--master", default="local-cluster[2,1,1024]", help="where Spark runs (two workers of a core and 1,024 MB each, here)")
        command.add_argument("--set", action="append", default=[], metavar="NAME=VALUE", help="a setting of Spark")
    priced.add_argument("--wave-rows", type=int, default=50_000, help="rows that are committed at a time (50000)")
    priced.add_argument("--again", action="store_true", help="price all anew")
    priced.add_argument("--speculation", action="store_true", help="start a second attempt of tasks that hang behind")
    priced.add_argument("--export", metavar="FOLDER", help="afterwards write the tables quoted and refused there, as plain Parquet")
    return parser.parse_args()


def main():
    asked = arguments()
    if asked.command == "demo":
        demo.export(asked.databases, asked.source, [int(pieces) for pieces in asked.quantities.split(",") if pieces])
        return 0
    store = Store(asked.out)
    settings = [setting.partition("=")[::2] for setting in asked.set]
    try:
        if asked.command == "report":
            with session(asked.master, settings=settings) as spark:
                print(report.skew(spark, store))
            return 0
        with store.held(), session(asked.master, asked.speculation, settings) as spark:
            done = run.price_all(spark, asked.source, store, asked.wave_rows, asked.again, tell)
            print(report.summary(spark, store, done), report.skew(spark, store), sep="\n\n")
            if asked.export:
                for kind in ("quoted", "refused"):
                    rows = store.table(spark, kind).drop("batch")
                    rows.write.mode("overwrite").partitionBy("shop", "cloth").parquet(f"{asked.export}/{kind}")
    except BlockingIOError:
        tell(f"another run works on {asked.out}")
        return 3
    except Unusable as error:
        tell(str(error))
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
