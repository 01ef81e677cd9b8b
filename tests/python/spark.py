"""The catalogue of a marketplace priced by Spark, held against the quoting example: spark.py PATH_OF_THE_BUILT_QUOTING_EXAMPLE [FOLDER]

Run by the Python of the environment that examples/spark/environment makes, with real executors. The same orders through SQLite and through
Spark come to the same money, to the last unit, the same physics, to the last bit, and the same refusals. What comes of a run whose driver was
killed and started again, of one that lost an executor, of one with two attempts at a task, and of one that prices only what has changed, is
row by row what an undisturbed run writes.
"""

import contextlib
import json
import os
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
import tempfile
import time
from contextlib import closing
from pathlib import Path

import pyarrow
import pyarrow.dataset
import pyspark
from quoting import DAY, ask, change
from shared import ROOT, Judge, cases

MAIN = ROOT / "examples" / "spark" / "main.py"
# Orders of the shops that go through both doors. A folder is named by the shop, whatever characters are in it.
SHOPS = {"north": cases(300, 4_000), "b=1 %": cases(500, 6_000), "0012": cases(700, 10_000)}
FEW = 300
STATE = pyarrow.schema([(name, pyarrow.string()) for name in ("batch", "kind", "shop", "cloth")])
LONGEST = 3_000
# Runs of a minute are over before Java's second compiler pays.
QUICK = {**os.environ, "JAVA_TOOL_OPTIONS": "-XX:TieredStopAtLevel=1 -XX:+UseSerialGC"}


def rows_of(out, kind):
    """The rows of a kind that stand, in the order of shops and orders; read without Spark."""
    state = {(batch, shop, cloth) for shop, cloth, batch in json.loads((out / "done.json").read_text())}
    written = pyarrow.dataset.dataset(out / "batches", format="parquet", partitioning=pyarrow.dataset.partitioning(STATE, flavor="hive"))
    found = written.to_table(filter=pyarrow.dataset.field("kind") == kind).to_pylist()
    standing = [{name: value for name, value in row.items() if name != "batch"} for row in found if (row["batch"], row["shop"], row["cloth"]) in state]
    return sorted(standing, key=lambda row: (row["shop"], row["id"] or 0))


class Spark:
    """The program, and what it is given by all."""

    def __init__(self, folder):
        self.folder = folder

    def demo(self, source, *databases):
        subprocess.run([sys.executable, "-B", MAIN, "demo", source, *databases], check=True, timeout=LONGEST)
        return source

    def begun(self, source, out, *arguments):
        """A run that goes on, whose messages go into files beside its output."""
        out.mkdir(exist_ok=True)
        with open(out / "said", "w") as said, open(out / "told", "w") as told:
            command = [sys.executable, "-B", MAIN, "run", source, out, "--set", "spark.sql.shuffle.partitions=4", *arguments]
            return subprocess.Popen(command, stdout=said, stderr=told, env={**QUICK, "SPARK_WORKER_DIR": str(self.folder / "workers")})

    def run(self, source, out, *arguments):
        """Exit code, output and messages."""
        process = self.begun(source, out, *arguments)
        return process.wait(LONGEST), (out / "said").read_text(), (out / "told").read_text()


def same(judge, out, whole, *what):
    """The tables are those of another run, row by row."""
    for kind in ("quoted", "refused"):
        got, wanted = rows_of(out, kind), rows_of(whole, kind)
        keys = [(row["shop"], row["id"]) for row in got]
        judge.holds(len(keys) == len(set(keys)), *what, kind, "rows are doubled")
        judge.holds(len(got) == len(wanted), *what, kind, len(got), "rows for", len(wanted))
        # By its text, in which no two numbers look alike.
        other = [(a, b) for a, b in zip(got, wanted) if repr(a) != repr(b)]
        judge.holds(not other, *what, kind, len(other), "rows are others", other[:1])


def shops(program, folder, orders):
    """A database a shop, each with rates of its own."""
    folder.mkdir()
    for number, (shop, count) in enumerate(orders.items(), 1):
        file = folder / f"{shop}.db"
        subprocess.run([program, "--database", file, "--demo", str(count), "--seed", str(number), "--orders-only"], check=True, capture_output=True)
        change(file, ("UPDATE rates SET rates = json_set(rates, '$.labour', ?)", f"{25 + number}.75 EUR/h"))
    # One shop buys its ink by volume.
    change(folder / f"{list(orders)[0]}.db", ("UPDATE inks SET rate = replace(rate, '/kg', '/l')",))
    return sorted(folder.glob("*.db"))


def spoil(file):
    """Orders that are none, among the first of a shop."""
    texts = ["", "{", "[1, 2]", "null", '{"pieces": 1, "pieces": 2}', '{"no_such": 1}', "9" * 100_000, "[" * 100_000, '{"title": NaN}', '{"title": "\\ud800"}']
    change(file, *(("UPDATE orders SET request = ? WHERE id = ?", text, 11 + index) for index, text in enumerate(texts)),
           ("UPDATE orders SET garment = 'no such garment', request = json_remove(request, '$.blanks') WHERE id = 30",),
           ("UPDATE orders SET press = 'no such press' WHERE id = 31",))


def query(program, file, sql):
    """The rows of a query of the quoting example, whose numbers are printed with all their digits."""
    done = subprocess.run([program, "--database", file, "--query", sql], capture_output=True, text=True, timeout=LONGEST)
    assert done.returncode == 0, done.stderr
    return [line.split() for line in done.stdout.splitlines()[1:]]


QUOTES = """SELECT order_id, pieces, press, setup_seconds, run_seconds, currency, unit_price, cost, before_tax, tax, total, profit,
    profit_per_press_hour, stop FROM quotes ORDER BY order_id"""
HOURS = """WITH answers AS MATERIALIZED (SELECT order_id, floodbar('job.quote', request) AS answer FROM requests WHERE order_id IN (SELECT order_id FROM quotes))
    SELECT order_id, answer -> '$.hours.total', answer -> '$.pieces_per_hour' FROM answers"""
USAGE = "floodbar_number('ink.usage', asked, '/{}', '{}')"
INKS = f"""WITH screens AS MATERIALIZED (
    SELECT order_id, p.key AS p, s.key AS s, json_object('mesh', s.value ->> '$.mesh', 'ink', s.value -> '$.ink', 'width', p.value ->> '$.width',
        'height', p.value ->> '$.height', 'coverage_fraction', s.value -> '$.coverage_fraction', 'prints', request -> '$.pieces') AS asked
    FROM requests, json_each(request, '$.placements') AS p, json_each(p.value, '$.screens') AS s WHERE order_id IN (SELECT order_id FROM quotes))
    SELECT order_id, {USAGE.format('wet_film', 'um')} AS a, {USAGE.format('mass_per_print', 'g')} AS b, {USAGE.format('mass_to_mix', 'g')} AS c
    FROM screens ORDER BY order_id, p, s"""


def both_doors(spark, judge, program):
    """The same orders through SQLite and through Spark."""
    databases = shops(program, spark.folder / "both", SHOPS)
    spoil(databases[0])
    source, out, plain = (spark.folder / name for name in ("both-in", "both-out", "both-plain"))
    spark.demo(source, *databases)
    code, said, told = spark.run(source, out, "--wave-rows", "4000", "--export", plain)
    judge.holds(code == 0, "a whole run", code, told[-2000:])
    quoted, refused, work = (rows_of(out, kind) for kind in ("quoted", "refused", "work"))
    judge.holds(len(quoted) + len(refused) == sum(SHOPS.values()), "a row for each order", len(quoted), len(refused))
    told_last = [line for line in told.splitlines() if line.startswith("wave ")][-1]
    judge.holds(f"{sum(SHOPS.values()):,} of {sum(SHOPS.values()):,} rows" in told_last and f" {len(refused):,} refused" in told_last, "progress", told_last)
    judge.holds(f"PRICED  {sum(SHOPS.values()):,} rows" in said, "the summary", said)
    for shop, count in SHOPS.items():
        line = next((line for line in said.partition("SHOPS THAT COST MOST")[2].splitlines() if line.startswith(shop)), "")
        judge.holds(f" {count:,} " in line, "the skew report", shop, line)
    judge.holds(sum(row["rows"] for row in work) == sum(SHOPS.values()), "work of each row once")
    judge.holds(len({row["worker"] for row in work}) == 2, "both workers worked", {row["worker"] for row in work})
    judge.holds(sum(row["remembered"] for row in work) > sum(row["worked_out"] for row in work) / 4, "caches hit")
    for kind, rows in (("quoted", quoted), ("refused", refused)):
        layout = pyarrow.dataset.partitioning(pyarrow.schema([STATE.field("shop"), STATE.field("cloth")]), flavor="hive")
        exported = pyarrow.dataset.dataset(plain / kind, format="parquet", partitioning=layout).to_table().to_pylist()
        exported.sort(key=lambda row: (row["shop"], row["id"]))
        judge.holds([{**row, "kind": kind} for row in exported] == [{name: row[name] for name in (*exported[0], "kind")} for row in rows], "exported", kind)
    for file in databases:
        _one_shop(judge, program, file, quoted, refused)
    return source, out


def _one_shop(judge, program, file, quoted, refused):
    """A shop's rows against the database that the quoting example filled."""
    done = subprocess.run([program, "--database", file, *DAY], capture_output=True, text=True, timeout=LONGEST)
    judge.holds(done.returncode == 0, "the quoting example", done.stderr[-500:])
    ours = {row["id"]: row for row in quoted if row["shop"] == file.stem}
    theirs = ask(file, QUOTES)
    names = [part.strip().split(" ")[0] for part in QUOTES.partition("SELECT ")[2].partition(" FROM ")[0].split(",")][1:]
    judge.holds([row[0] for row in theirs] == sorted(ours), file.stem, "the same orders are quoted")
    for order, *values in theirs:
        got = [ours[order][name] for name in names]
        judge.holds(got == values, file.stem, "order", order, got, values)
    for table, column, fields in (("quote_lines", "lines", "side, what, amount"), ("ink_demand", "ink_demand", "colour, ink, ready_milligrams, used_milligrams")):
        kept = {}
        for order, *values in ask(file, f"SELECT order_id, {fields} FROM {table} ORDER BY order_id, line"):
            kept.setdefault(order, []).append(values)
        other = [order for order, row in ours.items() if [list(entry.values()) for entry in row[column]] != kept.get(order)]
        judge.holds(not other, file.stem, table, "of orders", other[:3], other and (ours[other[0]][column], kept.get(other[0])))
    for order, hours, speed in query(program, file, HOURS):
        row = ours[int(order)]
        judge.holds(({"value": row["hours"], "unit": row["hours_unit"]}, row["pieces_per_hour"]) == (json.loads(hours), json.loads(speed)),
                    file.stem, "hours of order", order, row["hours"], row["pieces_per_hour"], hours, speed)
    usage = {}
    for order, *numbers in query(program, file, INKS):
        usage.setdefault(int(order), []).append([float(number) for number in numbers])
    names = ("wet_film_um", "mass_per_print_g", "mass_to_mix_g")
    other = [order for order, row in ours.items() if repr([[ink[name] for name in names] for ink in row["ink_usage"]]) != repr(usage.get(order))]
    judge.holds(not other, file.stem, "ink of orders", other[:3], other and (ours[other[0]]["ink_usage"], usage.get(other[0])))
    theirs = {order: (code, field, message) for order, code, field, message in ask(file, "SELECT * FROM refused")}
    ours = {row["id"]: (row["code"], row["field"], row["message"]) for row in refused if row["shop"] == file.stem}
    judge.holds(ours.keys() == theirs.keys() and ours, file.stem, "the same orders are refused", ours.keys() ^ theirs.keys())
    for order, wanted in theirs.items():
        # Where and why a text is no JSON each parser says in words of its own.
        most = 1 if wanted[0] == "bad_json" else 3
        judge.holds(ours.get(order, ())[:most] == wanted[:most] and ours[order][2], file.stem, "refusal of", order, ours.get(order), wanted)


def descendants(process):
    """The processes that a process has begun, and those that they have, by number: their command lines."""
    parents = {}
    for path in Path("/proc").glob("[0-9]*"):
        try:
            parents[int(path.name)] = int((path / "stat").read_text().rpartition(")")[2].split()[1])
        except (OSError, ValueError):
            continue
    found, wanted = {}, {process.pid}
    while wanted:
        wanted = {child for child, parent in parents.items() if parent in wanted}
        for child in wanted:
            try:
                found[child] = Path(f"/proc/{child}/cmdline").read_bytes().replace(b"\0", b" ").decode(errors="replace")
            except OSError:
                continue
    return found


def until(what, seconds=LONGEST):
    """What a function gives as soon as that is something; the last where it never is."""
    end = time.monotonic() + seconds
    while not (found := what()) and time.monotonic() < end:
        time.sleep(0.05)
    return found


def gone(number):
    try:
        return Path(f"/proc/{number}/stat").read_text().rpartition(")")[2].split()[0] == "Z"
    except OSError:
        return True


def state_of(out):
    file = out / "done.json"
    return {(shop, cloth): batch for shop, cloth, batch in json.loads(file.read_text())} if file.exists() else {}


def driver_killed(spark, judge, source, whole):
    """Driver and its Java machine killed in the middle, and the run started again."""
    out = spark.folder / "driver-out"
    process = spark.begun(source, out, "--wave-rows", "75")
    until((out / "lock").exists)
    # While it runs another run is turned away, and writes nothing.
    other = subprocess.run([sys.executable, "-B", MAIN, "run", source, out], capture_output=True, text=True, timeout=LONGEST)
    judge.holds(other.returncode == 3 and "another run" in other.stderr, "a second run at once", other.returncode, other.stderr)
    until(lambda: state_of(out) or process.poll() is not None)
    begun = descendants(process)
    machine = [number for number, command in begun.items() if "SparkSubmit" in command]
    until(lambda: any((out / "batches").glob("*/_temporary")) or process.poll() is not None)
    running = process.poll() is None
    process.kill()
    for number in machine:
        os.kill(number, signal.SIGKILL)
    process.wait()
    judge.holds(running and len(machine) == 1 and begun, "the kill hit a running driver", machine)
    judge.holds(until(lambda: all(map(gone, begun)), 120.0), "executors end after their driver", [number for number in begun if not gone(number)])
    before = state_of(out)
    judge.holds(0 < len(before) < len(state_of(whole)), "some shops and cloths were done", len(before))
    code, said, told = spark.run(source, out, "--wave-rows", "75")
    judge.holds(code == 0, "started again", code, told[-2000:])
    after = state_of(out)
    judge.holds(all(after[place] == batch for place, batch in before.items()), "what was done is not done again")
    judge.holds(f"{len(before)} shops and cloths" in told, "and that is told", told[-2000:])
    judge.holds({path.name for path in (out / "batches").iterdir()} == {f"batch={batch}" for batch in after.values()}, "no other batch is left")
    same(judge, out, whole, "after a killed driver:")


def logged(folder):
    """Settings for a log of a run's events, and a function that reads it."""
    folder.mkdir()
    names = {"enabled": "true", "dir": folder.as_uri(), "compress": "false", "rolling.enabled": "false"}
    settings = [part for name, value in names.items() for part in ("--set", f"spark.eventLog.{name}={value}")]
    # The last line may be half written.
    return settings, lambda: [json.loads(line) for path in folder.iterdir() for line in path.read_text().splitlines(True) if line.endswith("\n")]


def executor_killed(spark, judge, source, whole):
    """An executor killed in the middle."""
    out = spark.folder / "executor-out"
    settings, events = logged(spark.folder / "executor-events")
    process = spark.begun(source, out, "--wave-rows", "75", *settings)
    until(lambda: state_of(out) or process.poll() is not None)
    until(lambda: any((out / "batches").glob("*/_temporary")) or process.poll() is not None)
    executors = [number for number, command in descendants(process).items() if "CoarseGrainedExecutorBackend" in command]
    judge.holds(len(executors) == 2 and process.poll() is None, "two executors run", executors)
    os.kill(executors[0], signal.SIGKILL)
    code = process.wait(LONGEST)
    judge.holds(code == 0, "without an executor", code, (out / "told").read_text()[-2000:])
    found = events()
    ended = max(event["Completion Time"] for event in found if event["Event"] == "SparkListenerJobEnd")
    lost = [event for event in found if event["Event"] == "SparkListenerExecutorRemoved" and event["Timestamp"] < ended]
    judge.holds(lost, "one was lost on the way")
    same(judge, out, whole, "after a killed executor:")


def is_second(event):
    return event["Event"] == "SparkListenerTaskStart" and event["Task Info"]["Speculative"]


def two_attempts(spark, judge, source, whole):
    """A task that hangs, with some of its rows written, is attempted a second time elsewhere."""
    out = spark.folder / "attempts-out"
    settings, events = logged(spark.folder / "attempts-events")
    with closing(socket.socket()) as free:
        free.bind(("127.0.0.1", 0))
        port = str(free.getsockname()[1])
    home = Path(pyspark.__file__).parent
    java = lambda name, *arguments: subprocess.Popen(  # noqa: E731
        [home / "bin" / "spark-class", f"org.apache.spark.deploy.{name}", *arguments],
        env={**QUICK, "SPARK_HOME": str(home), "SPARK_DAEMON_MEMORY": "256m"}, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    # A second attempt goes to another host, so each worker has an address of its own.
    cluster = [java("master.Master", "--host", "127.0.0.1", "--port", port, "--webui-port", "0")]
    workers = [("127.0.0.1", "one"), ("127.0.0.2", "two")]
    cluster += [java("worker.Worker", "--host", host, "--webui-port", "0", "-c", "1", "-m", "1g", "-d", spark.folder / name, f"spark://127.0.0.1:{port}")
                for host, name in workers]  # fmt: skip
    for name, value in {"driver.host": "127.0.0.1", "executor.memory": "600m", "speculation.interval": "200ms", "speculation.quantile": "0.2",
                        "speculation.multiplier": "1.5", "speculation.minTaskRuntime": "500ms"}.items():
        settings += ["--set", f"spark.{name}={value}"]
    process = spark.begun(source, out, "--master", f"spark://127.0.0.1:{port}", "--speculation", *settings)
    try:
        until(lambda: any((out / "batches").glob("*/_temporary/0/_temporary/*")) or process.poll() is not None)
        python = [number for worker in cluster[1:] for number, command in descendants(worker).items() if "pyspark.daemon" in command]
        # The last to have begun is no daemon but a worker at its task; it hangs for as long as the others need to be done.
        held = max(python, default=0)
        if held:
            os.kill(held, signal.SIGSTOP)
            until(lambda: any(map(is_second, events())) or process.poll() is not None, 300.0)
            # Spark may have ended it by itself.
            with contextlib.suppress(ProcessLookupError):
                os.kill(held, signal.SIGCONT)
        code = process.wait(LONGEST)
    finally:
        for java_process in reversed(cluster):
            java_process.terminate()
            java_process.wait()
    judge.holds(code == 0 and held, "a task that hangs", code, (out / "told").read_text()[-2000:])
    judge.holds(any(map(is_second, events())), "a second attempt began")
    same(judge, out, whole, "after two attempts:")


def changed_only(spark, judge, program, source, whole):
    """Blanks, an ink, orders change: what the change reaches is priced, and the tables are those of a run from nothing."""
    first, second = databases = sorted((spark.folder / "few").glob("*.db"))
    reached = "SELECT count(*) FROM orders WHERE id > 2 AND json_valid(request) AND "
    touched = ask(first, reached + "garment = 'T-shirt, dark'")[0][0] + ask(second, reached + "request LIKE '%\"plum\"%'")[0][0]
    change(first, ("UPDATE garments SET blank = '3.35 EUR' WHERE name = 'T-shirt, dark'",), ("UPDATE orders SET rush = NOT rush WHERE id = 1",),
           ("DELETE FROM orders WHERE id = 2",))
    change(second, ("UPDATE inks SET rate = '31 EUR/kg' WHERE colour = 'plum'",), ("DELETE FROM orders WHERE id IN (1, 2)",),
           ("INSERT INTO orders (customer, garment, press, request) SELECT customer, garment, press, request FROM orders WHERE id = 3",))
    # Those that blanks and ink reach, the one that has become urgent, and the one that is new.
    wanted = touched + 2
    later = spark.demo(spark.folder / "later-in", *databases)
    out, anew = spark.folder / "later-out", spark.folder / "anew-out"
    shutil.copytree(whole, out)
    code, _, told = spark.run(later, out)
    judge.holds(code == 0 and f" {wanted:,} rows to price" in told, "only what has changed is priced", code, wanted, told[-2000:])
    code, _, told = spark.run(later, anew)
    judge.holds(code == 0, "all anew", code, told[-2000:])
    same(judge, out, anew, "what has changed:")
    judge.holds(repr(rows_of(out, "quoted")) != repr(rows_of(whole, "quoted")), "something has changed")
    code, _, told = spark.run(later, out)
    judge.holds(code == 0 and " 0 rows to price, 0 to keep" in told, "nothing has changed", code, told[-2000:])


def main(program, folder=None):
    judge = Judge()
    program = Path(program).absolute()
    work = Path(tempfile.mkdtemp(prefix="floodbar-spark-", dir=folder))
    spark = Spark(work)
    try:
        both_doors(spark, judge, program)
        databases = shops(program, work / "few", {"left": FEW, "right": FEW})
        source, whole = spark.demo(work / "few-in", *databases), work / "few-out"
        code, _, told = spark.run(source, whole)
        judge.holds(code == 0, "an undisturbed run", code, told[-2000:])
        driver_killed(spark, judge, source, whole)
        executor_killed(spark, judge, source, whole)
        two_attempts(spark, judge, source, whole)
        changed_only(spark, judge, program, source, whole)
    finally:
        shutil.rmtree(work, ignore_errors=True)
    return judge.close()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
