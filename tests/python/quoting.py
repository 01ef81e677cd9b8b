"""The quoting system of the examples, held against its own database: quoting.py PATH_OF_THE_BUILT_EXAMPLE [FOLDER]

Killed at random moments and started again, with orders that are no JSON, with the database locked by another writer, full, of an
older version and of a newer one: nothing is lost or doubled, sums agree, and each time there is a clear message.
"""

import json
import os
import random
import re
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

from shared import ROOT, Judge, cases, workplace

ORDERS = cases(300, 10_000)
KILLS = cases(4, 20)
SEED = 7
SCHEMA = ROOT / "examples" / "quoting" / "schema"
# What a run leaves behind, in the same order whoever wrote it first.
RESULTS = {"orders": "id", "quotes": "order_id, revision", "quote_lines": "order_id, revision, line",
           "ink_demand": "order_id, revision, line", "refused": "order_id"}
DAY = ["--today", "2027-01-04"]


def ask(file, sql, *parameters):
    with closing(sqlite3.connect(file, timeout=30)) as database:
        return database.execute(sql, parameters).fetchall()


def change(file, *statements):
    with closing(sqlite3.connect(file, timeout=30)) as database, database:
        for statement, *parameters in statements:
            database.execute(statement, parameters)


def results(file):
    return {table: ask(file, f"SELECT * FROM {table} ORDER BY {order}") for table, order in RESULTS.items()}


class Program:
    """The built example."""

    def __init__(self, path, folder):
        self.path, self.folder = path, Path(folder)

    def run(self, file, *arguments):
        """Exit code, output and messages."""
        done = subprocess.run([self.path, "--database", str(file), *DAY, *arguments], capture_output=True, text=True)
        return done.returncode, done.stdout, done.stderr

    def begun(self, file):
        return subprocess.Popen([self.path, "--database", str(file), *DAY], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def open_orders(self, name, orders=ORDERS):
        """A database whose orders are all open."""
        file = self.folder / name
        code, _, error = self.run(file, "--demo", str(orders), "--seed", str(SEED), "--orders-only")
        assert code == 0, error
        return file

    def copy(self, file, name):
        """A copy with all that the log beside it holds."""
        target = self.folder / name
        with closing(sqlite3.connect(file)) as source, closing(sqlite3.connect(target)) as copied:
            source.backup(copied)
        return target


def sound(judge, file, *what):
    """What must hold of any database in which all is done: all by SQL, over integers."""
    none = lambda rule, sql: judge.holds(not (found := ask(file, sql)), *what, rule, found[:3])  # noqa: E731
    none("an order is still open", "SELECT id FROM orders WHERE state = 'open'")
    none("an order is quoted without a quote, or has one although it is not",
         "SELECT id FROM orders WHERE (state = 'quoted') != EXISTS (SELECT 1 FROM quotes WHERE order_id = id) "
         "AND NOT EXISTS (SELECT 1 FROM quotes WHERE order_id = id AND sent_on IS NOT NULL)")
    none("an order is refused without a reason, or has one although it is not",
         "SELECT id FROM orders WHERE (state = 'refused') != EXISTS (SELECT 1 FROM refused WHERE order_id = id)")
    none("two quotes that are not sent",
         "SELECT order_id FROM quotes WHERE sent_on IS NULL GROUP BY order_id HAVING count(*) > 1")
    for side, member in (("price", "total"), ("cost", "cost")):
        none(f"lines do not add up to the {member}",
             f"SELECT order_id, {member} FROM quotes WHERE {member} IS NOT (SELECT sum(amount) FROM quote_lines AS lines "
             f"WHERE side = '{side}' AND lines.order_id = quotes.order_id AND lines.revision = quotes.revision)")
    none("tax and price do not add up", "SELECT order_id FROM quotes WHERE before_tax + tax != total")
    none("profit and cost do not add up", "SELECT order_id FROM quotes WHERE profit + cost != before_tax")
    none("a quote without ink", "SELECT order_id FROM quotes WHERE NOT EXISTS (SELECT 1 FROM ink_demand AS ink "
         "WHERE ink.order_id = quotes.order_id AND ink.revision = quotes.revision)")
    none("more ink used up than stands ready", "SELECT order_id FROM ink_demand WHERE used_milligrams > ready_milligrams")
    none("money or ink that is no integer", "SELECT order_id FROM quotes WHERE typeof(total) || typeof(cost) || typeof(profit) || "
         "typeof(tax) || typeof(unit_price) != 'integerintegerintegerintegerinteger'")
    none("a line without its quote", "PRAGMA foreign_key_check")
    judge.holds(ask(file, "PRAGMA integrity_check") == [("ok",)], *what, "the file is sound")


def undisturbed(program, judge):
    """A whole run, and what its summary says against sums of our own."""
    file = program.open_orders("whole.db")
    judge.holds(ask(file, "SELECT DISTINCT state FROM orders") == [("open",)], "the demo's orders are open")
    code, summary, error = program.run(file)
    judge.holds(code == 0, "a whole run", code, error)
    sound(judge, file, "a whole run:")
    quoted, refused = (ask(file, "SELECT count(*) FROM orders WHERE state = ?", state)[0][0] for state in ("quoted", "refused"))
    judge.holds(quoted + refused == ORDERS and 0 < refused < ORDERS / 25, "about one in a hundred is refused", quoted, refused)
    judge.holds(f"{quoted:,} quoted, {refused:,} refused" in summary, "the count of orders", summary[:80])
    total, hours = ask(file, "SELECT sum(total), sum(setup_seconds + run_seconds) FROM quotes WHERE press = 'manual-4x4'")[0]
    every = ask(file, "SELECT sum(total) FROM quotes")[0][0]
    judge.holds(f"{every // 100:,}.{every % 100:02}" in summary, "the value", every)
    row = next((line for line in summary.splitlines() if line.split()[:1] == ["manual-4x4"]), "")
    judge.holds(row.split()[-1:] == [f"{hours / 3600:,.1f}"], "hours of the manual press", row, hours, total)
    white = ask(file, "SELECT sum(used_milligrams) FROM ink_demand WHERE colour = 'white'")[0][0]
    row = next((line for line in summary.splitlines() if line.split()[:1] == ["white"]), "")
    judge.holds(row and abs(float(row.split()[2].replace(",", "")) - white / 1e6) <= 0.005001, "white to buy", row, white)
    for order, field, message in ask(file, "SELECT order_id, field, message FROM refused"):
        told = [line for line in error.splitlines() if line.startswith(f"quoting: order {order} refused: ")]
        judge.holds(len(told) == 1 and field in told[0] and message in told[0], "told by id, pointer and message", order, told)
    judge.holds(max(map(len, summary.splitlines())) <= 132, "lines are too long to read", max(summary.splitlines(), key=len))
    before = results(file)
    code, again, error = program.run(file, "--demo", "50")
    judge.holds(code == 0 and "no demo orders are added" in error and again == summary, "a second demo", code, error)
    judge.holds(results(file) == before, "a second run changes nothing")
    return file


def killed(program, judge, whole):
    """Killed at random moments; the end is that of a run that was not."""
    dice = random.Random(SEED)
    file = program.open_orders("killed.db")
    started = time.monotonic()
    program.run(program.open_orders("timed.db"))
    takes = time.monotonic() - started
    interrupted = 0
    for kill in range(KILLS):
        process = program.begun(file)
        # Each run has a share of what is left, so that there is something left for the next.
        time.sleep(dice.uniform(0.0, 1.5 * takes / KILLS))
        interrupted += process.poll() is None
        process.kill()
        process.wait()
        judge.holds(ask(file, "PRAGMA integrity_check") == [("ok",)], "sound after kill", kill)
        half = ask(file, "SELECT id FROM orders WHERE (state = 'open') = (EXISTS (SELECT 1 FROM quotes WHERE order_id = id) "
                   "OR EXISTS (SELECT 1 FROM refused WHERE order_id = id))")
        judge.holds(not half, "half an order after kill", kill, half[:3])
    judge.holds(interrupted > KILLS // 2, "most kills hit a running program", interrupted)
    # Two at once share the work.
    processes = [program.begun(file) for _ in range(2)]
    judge.holds([process.wait() for process in processes] == [0, 0], "two at once")
    code, _, error = program.run(file)
    judge.holds(code == 0, "after kills", code, error)
    sound(judge, file, "after kills:")
    for table, rows in results(whole).items():
        judge.holds(results(file)[table] == rows, "after kills another table:", table)


def corrupt(program, judge):
    """Orders that are no JSON, and no text at all: refused, the others priced."""
    file = program.open_orders("corrupt.db", 40)
    texts = [b"", b"{", b"[1, 2]", b"null", b'{"pieces": 1, "pieces": 2}', b"\xff\xfe{}", b'{"no_such": 1}', b"9" * 100_000, b"[" * 100_000]
    change(file, *(("UPDATE orders SET request = CAST(? AS TEXT) WHERE id = ?", text, 11 + index) for index, text in enumerate(texts)),
           ("UPDATE orders SET garment = 'no such garment', request = json_remove(request, '$.blanks') WHERE id = 30",),
           ("UPDATE orders SET press = 'no such press' WHERE id = 31",),
           ("UPDATE orders SET request = json_set(request, '$.placements[0].width', '480 mm') WHERE id = 32",))
    code, summary, error = program.run(file)
    judge.holds(code == 0 and "panicked" not in error, "corrupt orders", code, error)
    for order in [*range(11, 11 + len(texts)), 30, 31]:
        judge.holds(ask(file, "SELECT state FROM orders WHERE id = ?", order) == [("refused",)], "corrupt and not refused", order)
        judge.holds(re.search(rf"order {order} refused: .+", error), "nothing is said of", order)
    codes = dict(ask(file, "SELECT order_id, code FROM refused"))
    judge.holds([codes.get(11 + index) for index in (1, 4, 5, 6)] == ["bad_json", "bad_json", "bad_json", "unknown_field"], "why", codes)
    fields = dict(ask(file, "SELECT order_id, field FROM refused"))
    judge.holds((fields.get(30), fields.get(31)) == ("/rates/blank", "/shop/press"), "a garment and a press that are not there", fields)
    # A print that hangs over the platen has a price, but nobody is to send it unseen.
    stops = ask(file, "SELECT order_id, stop FROM quotes WHERE stop IS NOT NULL")
    judge.holds([order for order, _ in stops] == [32] and "platen" in stops[0][1], "what stops a job", stops)
    judge.holds("STOP: LOOK AT THESE 1 " in summary and stops[0][1] in summary, "a stop is in the summary", summary)
    change(file, ("UPDATE orders SET press = 'manual-4x4' WHERE id = 31",))
    sound(judge, file, "corrupt:")
    # Put right, it is priced with the others' quotes left alone.
    before = ask(file, "SELECT * FROM quotes ORDER BY order_id")
    change(file, ("UPDATE orders SET (press, garment, request) = (SELECT press, garment, request FROM orders WHERE id = 2) WHERE id = 11",))
    code, _, error = program.run(file, "--again")
    judge.holds(code == 0 and ask(file, "SELECT state FROM orders WHERE id = 11") == [("quoted",)], "put right", error)
    judge.holds(set(before) < set(ask(file, "SELECT * FROM quotes")), "other quotes are left alone")


def locked(program, judge):
    """Another writer holds the database."""
    file = program.open_orders("locked.db", 40)
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        code, output, error = program.run(file, "--wait", "1")
        judge.holds(code == 3 and not output and "locked" in error and "start again" in error, "locked", code, error)
        other.execute("ROLLBACK")
    judge.holds(ask(file, "SELECT count(*) FROM quotes") == [(0,)], "nothing was written")
    code, _, error = program.run(file)
    judge.holds(code == 0, "let go of", error)
    sound(judge, file, "after a lock:")


def bare(program, judge):
    """A database without orders, and one without a shop."""
    code, output, error = program.run(program.folder / "bare.db")
    judge.holds(code == 0 and "0 quoted, 0 refused" in output, "nothing to do", code, error)
    file = program.open_orders("no-shop.db", 5)
    change(file, ("DELETE FROM shop",))
    code, output, error = program.run(file)
    judge.holds(code == 2 and not output and "no shop" in error, "no shop", code, error)


def full(program, judge, whole):
    """No room: what was committed stays, and with room the rest is done."""
    file = program.open_orders("full.db")
    pages, wanted = (ask(path, "PRAGMA page_count")[0][0] for path in (file, whole))
    code, output, error = program.run(file, "--most-pages", str(pages + (wanted - pages) * 93 // 100))
    judge.holds(code == 4 and not output and "no room" in error and "start again" in error, "full", code, error)
    done = ask(file, "SELECT count(*) FROM orders WHERE state != 'open'")[0][0]
    written = ask(file, "SELECT (SELECT count(*) FROM quotes) + (SELECT count(*) FROM refused)")[0][0]
    judge.holds(done == written and done < ORDERS, "what was committed is whole", done, written)
    judge.holds(done > 0, "something was committed", done)
    code, _, error = program.run(file)
    judge.holds(code == 0, "with room", error)
    sound(judge, file, "after a full disk:")
    judge.holds(results(file) == results(whole), "after a full disk the same as without")
    code, output, error = program.run(program.folder / "tiny.db", "--demo", "100", "--most-pages", "3")
    judge.holds(code == 4 and "no room" in error, "no room for the tables", code, error)


def versions(program, judge, whole):
    """An older version is brought up to date, a newer one and a stranger's are left alone."""
    older = program.folder / "older.db"
    kind = ask(whole, "PRAGMA application_id")[0][0]
    newest = ask(whole, "PRAGMA user_version")[0][0]
    judge.holds(newest == len(list(SCHEMA.glob("*.sql"))), "a file for each version", newest)
    with closing(sqlite3.connect(older)) as database, database:
        database.executescript((SCHEMA / "1.sql").read_text())
        database.execute("ATTACH ? AS whole", (str(whole),))
        for table in ("shop", "presses", "rates", "garments", "inks", *RESULTS):
            columns = ", ".join(row[1] for row in database.execute(f"PRAGMA main.table_info({table})"))
            database.execute(f"INSERT INTO main.{table} ({columns}) SELECT {columns} FROM whole.{table}")
        database.execute("UPDATE main.orders SET state = 'open' WHERE id <= 20")
        database.execute(f"PRAGMA main.user_version = 1")
        database.execute(f"PRAGMA main.application_id = {kind}")
    code, _, error = program.run(older)
    judge.holds(code == 0 and "was of version 1" in error, "an older version", code, error)
    judge.holds(ask(older, "PRAGMA user_version") == [(newest,)], "brought up to date")
    sound(judge, older, "brought up to date:")
    judge.holds(results(older) == results(whole), "an older version ends as the newest does")
    for name, words, *statements in (
        ("newer.db", "version 99", "PRAGMA user_version = 99"),
        ("stranger.db", "another program", "PRAGMA application_id = 1"),
        ("older-stranger.db", "another program", "PRAGMA application_id = 0", "PRAGMA user_version = 0"),
    ):
        file = program.copy(whole, name)
        change(file, *((statement,) for statement in statements), ("UPDATE orders SET state = 'open' WHERE id = 2",))
        before = file.read_bytes()
        code, output, error = program.run(file)
        judge.holds(code == 5 and not output and words in error and "left as it is" in error, name, code, error)
        judge.holds(file.read_bytes() == before, name, "was touched")
    file = program.folder / "words.db"
    file.write_text("These are words, and words, and more words. " * 100)
    code, _, error = program.run(file)
    judge.holds(code == 5 and "no SQLite database" in error, "no database", code, error)


def again(program, judge, whole):
    """A sent quote stays when the rates change; a new revision stands beside it."""
    file = program.copy(whole, "again.db")
    sent = [order for (order,) in ask(file, "SELECT order_id FROM quotes ORDER BY order_id LIMIT 5")]
    change(file, *(("UPDATE quotes SET sent_on = '2027-01-05' WHERE order_id = ?", order) for order in sent))
    lines = lambda revision: ask(file, "SELECT * FROM quote_lines WHERE revision = ? AND order_id <= ? ORDER BY order_id, line", revision, sent[-1])  # noqa: E731
    kept = ask(file, "SELECT * FROM quotes WHERE sent_on IS NOT NULL ORDER BY order_id"), lines(1)
    code, _, error = program.run(file, "--again")
    judge.holds(code == 0 and len(ask(file, "SELECT 1 FROM quotes WHERE revision > 1")) == 0, "nothing changed, nothing new", error)
    change(file, ("INSERT INTO rates SELECT 2, currency, json_set(rates, '$.labour', '40 EUR/h'), price, valid_days FROM rates",))
    code, _, error = program.run(file)
    judge.holds(code == 0 and ask(file, "SELECT max(rates_version) FROM quotes") == [(1,)], "only what is open is priced", error)
    code, _, error = program.run(file, "--again")
    judge.holds(code == 0, "again", error)
    sound(judge, file, "again:")
    found = ask(file, "SELECT * FROM quotes WHERE sent_on IS NOT NULL ORDER BY order_id"), lines(1)
    judge.holds(found[0] == kept[0], "sent quotes are as they were")
    judge.holds([line for line in found[1] if line[0] in sent] == [line for line in kept[1] if line[0] in sent], "and their lines")
    newer = ask(file, "SELECT order_id, rates_version FROM quotes WHERE revision = 2 ORDER BY order_id")
    judge.holds(newer == [(order, 2) for order in sent], "a new revision of each that was sent", newer[:3])
    stale = ask(file, "SELECT count(*) FROM latest_quotes WHERE rates_version = 1")
    judge.holds(stale == [(0,)], "the last revisions are of the new rates", stale)
    dearer = ask(file, "SELECT count(*) FROM quotes AS new JOIN quotes AS old USING (order_id) "
                 "WHERE new.revision = 2 AND old.revision = 1 AND new.cost <= old.cost")
    judge.holds(dearer == [(0,)], "dearer labour costs more")
    for statement in ("UPDATE quotes SET total = 1 WHERE sent_on IS NOT NULL", "DELETE FROM quotes WHERE sent_on IS NOT NULL",
                      f"DELETE FROM quote_lines WHERE order_id = {sent[0]} AND revision = 1"):
        try:
            change(file, (statement,))
            judge.holds(False, "a sent quote was changed:", statement)
        except sqlite3.IntegrityError as error:
            judge.holds("new revision" in str(error), "refused by the database", error)


def reports(program, judge, whole):
    """The functions in a report, the price list, and the choice of the press."""
    code, table, error = program.run(whole, "--query", "SELECT order_id, floodbar_number('job.quote', request, '/hours/total', 's') AS s, "
                                     "floodbar('job.quote', request) ->> '$.total.value' AS total FROM requests ORDER BY order_id")
    rows = [line.split() for line in table.splitlines()[1:]]
    judge.holds(code == 0 and len(rows) == ORDERS, "a row for each order", code, error)
    known = {order: (seconds, total) for order, seconds, total in
             ask(whole, "SELECT order_id, setup_seconds + run_seconds, total FROM quotes")}
    for order, seconds, total in rows:
        wanted = known.get(int(order))
        good = (seconds, total) == ("-", "-") if wanted is None else (
            abs(float(seconds) - wanted[0]) <= 1.0 and total == f"{wanted[1] // 100}.{wanted[1] % 100:02}")
        judge.holds(good, "a report of order", order, seconds, total, wanted)
    one = "FROM requests WHERE order_id = (SELECT min(order_id) FROM quotes)"
    for sql, *words in (
        (f"SELECT floodbar_number('job.quote', request, '/total', 'EUR') {one}", "/total", "money"),
        (f"SELECT floodbar_number('job.quote', request, '/no_such', 'h') {one}", "no_such"),
        (f"SELECT floodbar_number('job.quote', request, '/hours/total', 'kg') {one}", "unit"),
        (f"SELECT floodbar('job.qoute', request) {one}", "job.quote"),
        ("DELETE FROM orders", "only"),
        ("SELECT 1; DELETE FROM orders", "--query"),
        ("SELEKT 1", "syntax"),
        ("PRAGMA user_version = 7", ""),
    ):
        code, output, error = program.run(whole, "--query", sql)
        judge.holds(code == 2 and not output and all(word in error for word in words), sql, code, output, error)
    judge.holds(ask(whole, "SELECT count(*) FROM orders") == [(ORDERS,)], "a report deletes nothing")
    code, table, error = program.run(whole, "--query", "SELECT floodbar('job.quote', '{}') ->> '$.error.code' AS why, floodbar('job.quote', NULL) AS none, "
                                     "floodbar('mesh.geometry', '{\"mesh\": \"77-55\"}') ->> '$.count.value' AS threads")
    judge.holds(code == 0 and table.splitlines()[1].split() == ["missing_field", "-", "77"], "a refused request is told, not raised", table, error)

    code, table, error = program.run(whole, "--price-list")
    light, dark = ([[float(cell) for cell in line.split()] for line in part.splitlines() if re.match(r" +\d+ +\d", line)]
                   for part in table.split("DARK")) if "DARK" in table else ([], [])
    judge.holds(code == 0 and len(light) == len(dark) == 8 and all(len(row) == 7 for row in light + dark), "a price list", code, error, table)
    for name, part in (("light", light), ("dark", dark)):
        judge.holds(all(a <= b for row in part for a, b in zip(row[1:], row[2:])), name, "more colours, dearer")
        judge.holds(all(a >= b for one, more in zip(part, part[1:]) for a, b in zip(one[1:], more[1:])), name, "more pieces, cheaper")
    judge.holds(all(a < b for one, other in zip(light, dark) for a, b in zip(one[1:], other[1:])), "dark is dearer than light")
    judge.holds(ask(whole, "SELECT count(*) FROM orders") == [(ORDERS,)], "the list's own order is taken out again")

    # Where the press changes, its price must be the lower one, and just before it was not.
    found = 0
    for (order,) in ask(whole, "SELECT order_id FROM quotes WHERE press = 'manual-4x4' ORDER BY order_id LIMIT 8"):
        code, text, error = program.run(whole, "--which-press", str(order))
        judge.holds(code == 0 and ("cheaper one" in text), "which press", order, code, error)
        crossing = re.search(r"From (\d+) pieces on (\S+) is", text)
        judge.holds(crossing or "never cross from 1 to 10,000" in text, "they cross or do not", order)
        if not crossing:
            continue
        found += 1
        (request,), = ask(whole, "SELECT request FROM requests WHERE order_id = ?", order)
        total = {}
        for press in ("manual-4x4", "automatic-8"):
            rate, = ask(whole, "SELECT rate FROM presses WHERE name = ?", press)[0]
            there = json.loads(request)
            there["shop"]["press"], there["rates"]["press"] = press, rate
            there["quantities"] = [int(crossing[1]) - 1, int(crossing[1])]
            sql = "SELECT " + ", ".join(f"floodbar('job.quote', '{json.dumps(there)}') ->> '$.price_breaks[{at}].total.value'" for at in (0, 1))
            total[press] = [float(cell) for cell in program.run(whole, "--query", sql)[1].splitlines()[1].split()]
        cheaper = [other < one for one, other in zip(total["manual-4x4"], total["automatic-8"])]
        judge.holds(cheaper == [crossing[2] != "automatic-8", crossing[2] == "automatic-8"], "a crossing", order, crossing[0], total)
    judge.holds(found > 0, "some order's presses cross", found)
    code, _, error = program.run(whole, "--which-press", "999999")
    judge.holds(code == 2 and "no order 999999" in error, "no such order", code, error)


def asked_wrongly(program, judge):
    for arguments, words in ((["--target", "60 EUR"], "--target"), (["--target", "60 EUR/kg"], "--target"), (["--today", "soon"], "--today"),
                             (["--no-such"], "--help"), (["--demo", "many"], "--help")):
        code, output, error = program.run(program.folder / "wrong.db", *arguments)
        judge.holds(code == 2 and not output and words in error and "panicked" not in error, arguments, code, error)
    done = subprocess.run([program.path], capture_output=True, text=True)
    judge.holds(done.returncode == 2 and "--database" in done.stderr, "no database named", done.stderr)
    code, _, error = program.run(program.folder / "nowhere.db", "--query", "SELECT 1")
    judge.holds(code == 2 and "nowhere.db" in error and not (program.folder / "nowhere.db").exists(), "a query makes no database", error)


def main(path, folder=None):
    judge = Judge()
    with workplace("quoting-", folder) as work:
        program = Program(os.path.abspath(path), work)
        whole = undisturbed(program, judge)
        for check in (killed, full, versions, again, reports):
            check(program, judge, whole)
        for check in (corrupt, locked, bare, asked_wrongly):
            check(program, judge)
    return judge.close()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
