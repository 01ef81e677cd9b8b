"""Faults around the files of the run sheet and of the quoting system: faults.py RUN_SHEET QUOTING [FOLDER], the built examples.

Files that cannot be read, are half written, endless, linked in a circle or have no UTF-8 in them or in their names; full disks, files that may grow no
further, closed pipes, other environments. Each time there is a sentence and an exit code, the same sheet where nothing is in the
way, and in the database all that was committed. A full disk is a small one in memory; where none can be mounted, that is said and left out.
"""

import contextlib
import json
import os
import resource
import shutil
import signal
import sqlite3
import struct
import subprocess
import sys
import time
import zlib
from datetime import date, datetime, timedelta, timezone
from pathlib import Path

from quoting import ask, change, results
from shared import ROOT, Judge, workplace

ORDERS = ROOT / "examples" / "orders"
DEMO = 20
# More than are committed at a time.
MANY = 280
DAY = ["--today", "2027-01-04"]
# Whoever owns nothing here: what is forbidden to root is not forbidden.
NOBODY = {"user": 65534, "group": 65534, "extra_groups": []} if os.geteuid() == 0 else {}
LONGEST = 20
ENVIRONMENTS = [
    {},
    {"HOME": "/nowhere", "LC_ALL": "C", "TZ": "XXX12"},
    {"LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8", "TZ": "XXX-14"},
    {"LC_ALL": "tr_TR.UTF-8", "LC_NUMERIC": "de_DE.UTF-8", "TZ": ":no/such/zone"},
    {"LC_ALL": "no_such_locale", "TMPDIR": "/nowhere", "COLUMNS": "3", "TERM": "dumb"},
]


class Program:
    """A built example, and what it is called in its messages."""

    def __init__(self, path, judge):
        self.path, self.name, self.judge = os.path.abspath(path), Path(path).name, judge

    def run(self, *arguments, **how):
        how = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "timeout": LONGEST, **how}
        return subprocess.run([self.path, *arguments], **how)

    def refuses(self, what, *arguments, codes=(1,), words="", **how):
        """A sentence, an exit code, and nothing else."""
        done = self.run(*arguments, **how)
        said = done.stderr.decode(errors="replace")
        self.judge.holds(done.returncode in codes and not done.stdout, self.name, what, done.returncode, said, done.stdout[:200])
        self.judge.holds(said.startswith(f"{self.name}: ") and said.endswith("\n") and said.count("\n") <= 3 and words in said,
                         self.name, what, "is told as", said)
        return said

    def says(self, what, *arguments, **how):
        """All is well."""
        done = self.run(*arguments, **how)
        self.judge.holds(done.returncode == 0 and done.stdout, self.name, what, done.returncode, done.stderr)
        return done.stdout


def limited(kind, most, *ignored):
    """What a process does before it begins: a limit, and signals that it does not heed."""
    def begin():
        resource.setrlimit(kind, (most, most))
        for number in ignored:
            signal.signal(number, signal.SIG_IGN)
    return begin


def unread(program, work):
    """Paths behind which there is no file to read, by what is wrong with them."""
    (work / "circle").symlink_to("circle")
    (work / "dangling").symlink_to("nowhere")
    (work / "folder").mkdir()
    forbidden = work / "forbidden"
    forbidden.write_text("{}")
    forbidden.chmod(0)
    return {"nothing there": work / "nowhere", "a folder": work / "folder", "a circle of links": work / "circle", "a link to nothing": work / "dangling",
            "a file on the way": forbidden / "file", "a long name": work / ("n" * 300), "no name": "", "a name with an odd byte": os.fsencode(work) + b"/\xff\xfe",
            "a file of nobody's": forbidden}


def sheet_files(program, work):
    regatta = (ORDERS / "regatta.json").read_bytes()
    usual = program.says("the usual order", ORDERS / "regatta.json")
    for what, path in unread(program, work).items():
        program.refuses(what, path, **(NOBODY if path == work / "forbidden" else {}))
    # Cut anywhere an order is none.
    half = work / "half.json"
    for cut in range(0, len(regatta.rstrip()), 40):
        half.write_bytes(regatta[:cut])
        program.refuses(f"an order of {cut} bytes", half, words="half.json")
    for what, text in {"no UTF-8": regatta.replace(b"e", b"\xe9"), "UTF-16": regatta.decode().encode("utf-16"), "zeros": bytes(5000), "odd bytes": bytes(range(256))}.items():
        half.write_bytes(text)
        program.refuses(what, half, words="half.json")
    # Endless ones are not read to their end.
    sparse = work / "sparse.json"
    with sparse.open("wb") as file:
        file.truncate(1 << 40)
    for path in (sparse, "/dev/zero"):
        program.refuses(path, path, words="at most", preexec_fn=limited(resource.RLIMIT_AS, 1 << 30))
    # By a link, by a name that is no UTF-8, from a folder that is gone: the same sheet.
    odd = Path(os.fsdecode(os.fsencode(work) + b"/\xff order \xc3"))
    odd.mkdir()
    (odd / os.fsdecode(b"\xe9.json")).write_bytes(regatta)
    (work / "link").symlink_to(odd / os.fsdecode(b"\xe9.json"))
    gone = work / "gone"
    for what, path in {"an odd name": odd / os.fsdecode(b"\xe9.json"), "a link": work / "link"}.items():
        program.judge.holds(program.says(what, path) == usual, what, "is another sheet")
    gone.mkdir()
    told = subprocess.run(["sh", "-c", 'cd "$1" && rmdir "$1" && exec "$2" "$3"', "sh", gone, program.path, work / "link"], capture_output=True, timeout=LONGEST)
    program.judge.holds(told.stdout == usual, "from a folder that is gone", told.returncode, told.stderr)
    return usual


def drawn(wide, high):
    """A PNG of a black frame on white, a pixel a millimetre."""
    part = lambda kind, data: struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))  # noqa: E731
    row = lambda y: bytes(0 if min(x, y, wide - 1 - x, high - 1 - y) < 20 else 255 for x in range(wide))  # noqa: E731
    rows = b"".join(b"\0" + row(y) for y in range(high))
    parts = (b"IHDR", struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)), (b"pHYs", struct.pack(">IIB", 1000, 1000, 1)), (b"IDAT", zlib.compress(rows)), (b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + b"".join(part(*each) for each in parts)


def sheet_art(program, work):
    """A picture beside the order: the screen and the file are named."""
    folder = work / "art"
    folder.mkdir()
    order, art = folder / "order.json", folder / "frame.png"
    asked = json.loads((ORDERS / "regatta.json").read_bytes())
    screen = asked["placements"][0]["screens"][1]
    del screen["coverage_fraction"]
    screen["art"] = art.name
    order.write_text(json.dumps(asked))
    picture = drawn(300, 360)
    art.write_bytes(picture)
    usual = program.says("a picture", order)

    def is_told(what, **how):
        program.refuses(what, order, words=f", {art.name}: ", **how)

    for cut in [0, 3, 8, 20, 40, len(picture) // 2, len(picture) - 1]:
        art.write_bytes(picture[:cut])
        is_told(f"a picture of {cut} bytes")
    for what, text in {"words": b"words " * 1000, "damage": picture[: len(picture) // 2] + bytes(20) + picture[len(picture) // 2 + 20 :]}.items():
        art.write_bytes(text)
        is_told(what)
    art.write_bytes(picture[: len(picture) // 2])
    with art.open("r+b") as file:
        file.truncate(1 << 40)
    is_told("a picture without an end", preexec_fn=limited(resource.RLIMIT_AS, 2 << 30))
    art.unlink()
    is_told("no picture")
    for target in (art, "/dev/zero", "/", "/dev/null"):
        art.symlink_to(target)
        is_told(f"a link to {target}")
        art.unlink()
    art.write_bytes(picture)
    art.chmod(0)
    is_told("a picture of nobody's", **NOBODY)
    art.chmod(0o644)
    odd = Path(os.fsdecode(os.fsencode(work) + b"/art \xff"))
    folder.rename(odd)
    (odd / "elsewhere.png").symlink_to(odd / art.name)
    (odd / order.name).write_text((odd / order.name).read_text().replace(art.name, "elsewhere.png"))
    program.judge.holds(program.says("linked pictures in an odd folder", odd / order.name) == usual, "pictures in an odd folder make another sheet")


def outputs(program, *arguments, whole=b""):
    """Nowhere to print to: an exit code, and a sentence where there is someone to read it."""
    judge = program.judge
    for what, stream in (("a full disk", open("/dev/full", "wb")), ("a closed pipe", closed_pipe())):
        with stream:
            done = program.run(*arguments, stdout=stream)
            judge.holds(done.returncode == 1 and done.stderr.startswith(f"{program.name}: ".encode()) and b"panicked" not in done.stderr,
                        program.name, "prints to", what, done.returncode, done.stderr)
            done = program.run(*arguments, stdout=stream, stderr=stream)
            judge.holds(done.returncode == 1, program.name, "prints and tells to", what, done.returncode)
            done = program.run("--no-such", stderr=stream)
            judge.holds(done.returncode in (1, 2) and not done.stdout, program.name, "tells to", what, done.returncode)
    # A reader that has had enough of a long text.
    head = subprocess.run(["sh", "-c", '"$@" 2>/dev/null | head -n 1', "sh", program.path, *arguments], capture_output=True, timeout=LONGEST)
    judge.holds(head.returncode == 0 and head.stdout == whole.splitlines(True)[0], program.name, "the first line", head.stdout, head.stderr)


def closed_pipe():
    reading, writing = os.pipe()
    os.close(reading)
    return open(writing, "wb")


def same_everywhere(program, *arguments, whole):
    for environment in ENVIRONMENTS:
        found = program.says("in another environment", *arguments, env=environment)
        program.judge.holds(found == whole, program.name, "says otherwise in", environment)
    program.refuses("an argument that is no UTF-8", *arguments, b"--want" if program.name == "run_sheet" else b"--target", b"\xff\xfe", codes=(1, 2))


def run_sheet(program, work):
    usual = sheet_files(program, work)
    sheet_art(program, work)
    outputs(program, ORDERS / "regatta.json", whole=usual)
    same_everywhere(program, ORDERS / "regatta.json", whole=usual)


def of_database(program, file, *more):
    return ["--database", file, *DAY, *more]


def copied(folder, name, file):
    """The database and what lies beside it, byte for byte."""
    target = folder / name
    for beside in ("", "-wal", "-shm"):
        if Path(f"{file}{beside}").exists():
            shutil.copyfile(f"{file}{beside}", f"{target}{beside}")
    return target


def no_databases(program, work):
    files = unread(program, work)
    # What is not there is made, through a link too.
    for what in ("nothing there", "a link to nothing", "a name with an odd byte"):
        file = files.pop(what)
        program.says(what, *of_database(program, file))
        program.judge.holds(os.path.isfile(file), what, "is made")
    for what, path in files.items():
        program.refuses(what, *of_database(program, path), codes=(1, 2, 5), **(NOBODY if path == work / "forbidden" else {}))
    os.mkfifo(work / "pipe")
    for path in ("/dev/null", "/dev/full", work / "pipe"):
        program.refuses(path, *of_database(program, path), codes=(1, 2, 5))
    # A name is a name, even if SQLite would take it for something that is kept nowhere.
    for name in (":memory:", "file:kept.db?mode=memory"):
        program.says(name, *of_database(program, name), cwd=work)
        program.judge.holds((work / name).is_file(), name, "is kept")
    sparse = work / "sparse.db"
    with sparse.open("wb") as file:
        file.truncate(1 << 40)
    program.refuses("a file of zeros", *of_database(program, sparse), codes=(5,), preexec_fn=limited(resource.RLIMIT_AS, 1 << 30))


def not_ours(program, work, whole):
    """A database that may be read and not written, whole or in a folder of another's: reports can be had, and nothing else."""
    folder = work / "theirs"
    folder.mkdir()
    file = folder / "shop.db"
    with contextlib.closing(sqlite3.connect(whole)) as source, contextlib.closing(sqlite3.connect(file)) as target:
        source.backup(target)
        target.execute("PRAGMA journal_mode = DELETE")
    change(file, ("UPDATE orders SET state = 'open' WHERE id = 2",))
    file.chmod(0o444)
    folder.chmod(0o555)
    before = file.read_bytes()
    program.refuses("may not be written", *of_database(program, file), **NOBODY)
    program.judge.holds(file.read_bytes() == before and os.listdir(folder) == ["shop.db"], "it is touched")
    folder.chmod(0o755)
    file.chmod(0o644)


def half_written(program, work, open_orders, whole):
    """Cut, or with a page that is no longer what it was: left as it is and told, or all of it is done."""
    database = open_orders.read_bytes()
    for cut in (100, 4096, len(database) // 2, len(database) - 4096):
        file = work / f"cut-{cut}.db"
        file.write_bytes(database[:cut])
        program.refuses(f"a database of {cut} of {len(database)} bytes", *of_database(program, file), codes=(1, 5))
        program.judge.holds(file.read_bytes() == database[:cut], "a cut database is changed", cut)
    for page in range(1, len(database) // 4096, 2):
        file = work / "damaged.db"
        for beside in ("", "-wal", "-shm"):
            Path(f"{file}{beside}").unlink(missing_ok=True)
        file.write_bytes(database[: page * 4096] + b"\xa5" * 4096 + database[(page + 1) * 4096 :])
        done = program.run(*of_database(program, file))
        program.judge.holds(done.returncode in (0, 1, 5) and b"panicked" not in done.stderr and (done.returncode == 0) == bool(done.stdout),
                            "page", page, done.returncode, done.stderr)
    # A log beside it that ends anywhere: what was committed before stands, the rest is done.
    done_in_part = copied(work, "part.db", open_orders)
    connection = sqlite3.connect(done_in_part)
    connection.execute("PRAGMA wal_autocheckpoint = 0")
    connection.execute("SELECT count(*) FROM orders").fetchall()
    program.says("all of it", *of_database(program, done_in_part))
    log = Path(f"{done_in_part}-wal").read_bytes()
    program.judge.holds(len(log) > 50_000, "the log holds the quotes", len(log))
    for cut in range(0, len(log) + 1, len(log) // 6):
        file = copied(work, f"log-{cut}.db", done_in_part)
        Path(f"{file}-wal").write_bytes(log[:cut])
        Path(f"{file}-shm").unlink()
        program.says(f"a log of {cut} bytes", *of_database(program, file))
        program.judge.holds(results(file) == results(whole), "after a log that was cut the same as without", cut)
    connection.close()


def odd_names(program, work, open_orders):
    """Texts in the database that are no UTF-8: of one order, and the others are priced; of the shop, and it is told."""
    file = copied(work, "odd-orders.db", open_orders)
    odd = "CAST(X'61ff62' AS TEXT)"
    change(file, ("PRAGMA foreign_keys = OFF",), (f"UPDATE orders SET customer = {odd} WHERE id % 2 = 0",), (f"UPDATE orders SET press = {odd} WHERE id = 3",),
           (f"UPDATE orders SET garment = {odd} WHERE id = 5",), (f"UPDATE orders SET request = {odd} WHERE id = 7",),
           ("UPDATE orders SET request = CAST(zeroblob(50000000) AS TEXT) WHERE id = 9",))
    done = program.run(*of_database(program, file))
    program.judge.holds(done.returncode == 0 and done.stdout, "odd orders", done.returncode, done.stderr)
    states = dict(ask(file, "SELECT id, state FROM orders"))
    program.judge.holds([states[order] for order in (3, 7, 9)] == ["refused"] * 3 and "open" not in states.values(), "odd orders", states)
    program.judge.holds(sum(state == "quoted" for state in states.values()) > DEMO - 6, "the others are quoted", states)
    order = ask(file, "SELECT id FROM orders WHERE state = 'quoted' AND press = 'manual-4x4' AND id % 2 = 0")[0][0]
    program.says("which press", *of_database(program, file, "--which-press", str(order)))
    for table, column in (("presses", "name"), ("garments", "name"), ("inks", "colour")):
        file = copied(work, f"odd-{table}.db", open_orders)
        change(file, ("PRAGMA foreign_keys = OFF",), (f"UPDATE {table} SET {column} = {odd} WHERE rowid IN (SELECT rowid FROM {table} LIMIT 1 OFFSET 1)",))
        done = program.run(*of_database(program, file))
        program.judge.holds(done.returncode in (0, 1) and b"panicked" not in done.stderr, "odd", table, done.returncode, done.stderr)


def grow_no_further(program, work, open_orders, whole):
    """A file that may grow no further: the program ends, heeding the signal or not, and what was committed stays."""
    for name, ignored in (("heeded", ()), ("ignored", (signal.SIGXFSZ,))):
        file = copied(work, f"{name}.db", open_orders)
        how = {"preexec_fn": limited(resource.RLIMIT_FSIZE, 40_000, *ignored)}
        if ignored:
            program.refuses("may grow no further", *of_database(program, file), words="written before stay", **how)
        else:
            program.judge.holds(program.run(*of_database(program, file), **how).returncode == -signal.SIGXFSZ, "ended by the limit")
        resumed(program, file, whole, "a file that may grow no further", name)


def resumed(program, file, whole, *what):
    program.judge.holds(ask(file, "PRAGMA integrity_check") == [("ok",)], *what, "is sound")
    program.says(what, *of_database(program, file))
    program.judge.holds(results(file) == results(whole), *what, "ends as without")


@contextlib.contextmanager
def small_disk(work, size):
    """A disk in memory of so many bytes; none where it cannot be mounted."""
    folder = work / f"disk-{size}"
    folder.mkdir()
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}", "none", folder], capture_output=True).returncode == 0
    try:
        yield folder if mounted else None
    finally:
        if mounted:
            subprocess.run(["umount", folder], check=True)


def full_disk(program, work, open_orders, whole):
    """No room left, at any moment of the work: the database holds what was committed, and with room the rest is done."""
    begun = open_orders.stat().st_size
    for more in (0, 4_096, 32_768, 65_536):
        with small_disk(work, begun + more) as disk:
            if not disk:
                print("full disk: skipped and not counted, no small one can be mounted here")
                return
            shutil.copyfile(open_orders, disk / "shop.db")
            program.refuses(f"a disk with {more} bytes left", *of_database(program, disk / "shop.db"), codes=(4,), words="no room")
            program.judge.holds(ask_elsewhere(work, disk, more) == [("ok",)], "sound on a full disk", more)
            if more == 0:
                program.judge.holds((disk / "shop.db").read_bytes() == open_orders.read_bytes(), "a full disk leaves it as it was")
            subprocess.run(["mount", "-o", f"remount,size={64 << 20}", disk], check=True)
            resumed(program, disk / "shop.db", whole, "a disk that was full", more)
    with small_disk(work, 8_192) as disk:
        program.refuses("no room for a new one", *of_database(program, disk / "new.db", "--demo", "5"), codes=(4,), words="no room")
        subprocess.run(["mount", "-o", f"remount,size={64 << 20}", disk], check=True)
        program.says("a new one with room", *of_database(program, disk / "new.db", "--demo", "5"))


def ask_elsewhere(work, disk, name):
    """Whether what lies on a full disk is sound: looking at it takes room."""
    return ask(copied(work, f"found-{name}.db", disk / "shop.db"), "PRAGMA integrity_check")


def heard():
    """Signals do what they usually do, though the tests themselves were started to outlive their terminal."""
    signal.signal(signal.SIGHUP, signal.SIG_DFL)


def stopped(program, work):
    """Ended in the middle: each quote that another program has seen is there afterwards, and the rest can be done."""
    for number in (signal.SIGTERM, signal.SIGHUP):
        file = work / f"{number.name}.db"
        program.says("orders", *of_database(program, file, "--demo", str(MANY), "--seed", "7", "--orders-only"))
        seen = set()
        with subprocess.Popen([program.path, *of_database(program, file)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, preexec_fn=heard) as process:
            until = time.monotonic() + LONGEST
            while not seen and time.monotonic() < until and process.poll() is None:
                seen = set(ask(file, "SELECT * FROM quotes"))
            process.send_signal(number)
        program.judge.holds(seen, number.name, "hit a program that had written quotes")
        program.judge.holds(process.returncode == -number, number.name, "comes before the end", process.returncode)
        program.says(number.name, *of_database(program, file))
        program.judge.holds(seen <= set(ask(file, "SELECT * FROM quotes")), number.name, "lost a quote")
        program.judge.holds(not ask(file, "SELECT 1 FROM orders WHERE state = 'open'"), number.name, "left an order open")


def days(program, work, open_orders):
    """Quotes are valid from the day that it is in the shop."""
    for zone, hours in (("XXX12", -12), ("XXX-14", 14)):
        file = copied(work, f"{zone}.db", open_orders)
        here = lambda: datetime.now(timezone(timedelta(hours=hours))).date()  # noqa: E731
        first = here()
        program.says(zone, "--database", file, env={"TZ": zone})
        valid = ask(file, "SELECT DISTINCT valid_until, valid_days FROM quotes JOIN rates ON version = rates_version")
        until = {date.fromisoformat(day) - timedelta(days=int(count)) for day, count in valid}
        program.judge.holds(until and until <= {first, here()}, "valid from", until, "in", zone, first)


def quoting(program, work):
    open_orders, whole = work / "open.db", work / "whole.db"
    program.says("orders", *of_database(program, open_orders, "--demo", str(DEMO), "--seed", "7", "--orders-only"))
    shutil.copyfile(open_orders, whole)
    summary = program.says("a whole run", *of_database(program, whole))
    no_databases(program, work)
    not_ours(program, work, whole)
    half_written(program, work, open_orders, whole)
    odd_names(program, work, open_orders)
    grow_no_further(program, work, open_orders, whole)
    full_disk(program, work, open_orders, whole)
    stopped(program, work)
    days(program, work, open_orders)
    outputs(program, *of_database(program, whole), whole=summary)
    same_everywhere(program, *of_database(program, whole), whole=summary)
    unheard = copied(work, "unheard.db", open_orders)
    with closed_pipe() as nobody:
        done = program.run(*of_database(program, unheard), stdout=nobody, stderr=nobody)
    program.judge.holds(done.returncode == 1 and results(unheard) == results(whole), "nobody listens, and all is done", done.returncode)


def main(sheet, quotes, folder=None):
    judge = Judge()
    with workplace("faults-", folder) as work:
        # For those who own nothing here too.
        work.chmod(0o755)
        for check, path in ((run_sheet, sheet), (quoting, quotes)):
            place = work / check.__name__
            place.mkdir()
            check(Program(path, judge), place)
    return judge.close()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
