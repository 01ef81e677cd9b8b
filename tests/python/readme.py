"""Does what README.md, and those of the packages and of the C example, say, as a reader would: readme.py PREFIX WORK_FOLDER PYTHON PROGRAMS

C is compiled by the README's own lines on the library installed in PREFIX, Python run by an interpreter that has the package, JavaScript
by Node on the packed npm package, TypeScript compiled; each program must print what is shown beneath it. Rust snippets run as doc tests
of the `tests` crate. Commands are run where they take seconds, by what cargo built into PROGRAMS (target/debug); the others must be
those that the tests run. The page's preview is asked where the page is built.
"""

import os
import re
import shutil
import signal
import subprocess
import sys
import threading
import urllib.request
from pathlib import Path

from shared import ROOT, Judge

MOST_LINES = 10
CARGO = re.compile(r"cargo run (?:--release )?(?:--example (\w+)|-p (floodbar-pack))(?: --(?= ))?")


def blocks_of(text):
    """Each block of a document: its language, what stands in it, and the output that is shown beneath it."""
    return re.findall(r"```(\w+)\n(.*?)```(?:\n\n```text\n(.*?)```)?", text, re.S)


def preview(page, check):
    """Starts the page's preview, fetches its first page and stops it."""
    if not (page / "dist" / "index.html").is_file() or not (page / "node_modules").is_dir():
        print("npm run preview: skipped and not counted, the page is not built (tests/page/run)")
        return
    command = ["npm", "run", "preview", "--", "--host", "127.0.0.1", "--port", "0"]
    server = subprocess.Popen(command, cwd=page, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, start_new_session=True, env={**os.environ, "NO_COLOR": "1"})  # fmt: skip
    watch = threading.Timer(30, os.killpg, (server.pid, signal.SIGTERM))
    watch.start()
    said = []
    try:
        for line in server.stdout:
            said.append(line)
            if found := re.search(r"http://127\.0\.0\.1:\d+/", line):
                with urllib.request.build_opener(urllib.request.ProxyHandler({})).open(found[0], timeout=10) as answer:
                    check(answer.status == 200 and answer.read() == (page / "dist" / "index.html").read_bytes(), "the preview shows another page")
                break
        else:
            check(False, f"npm run preview names no address: {said}")
    finally:
        watch.cancel()
        if server.poll() is None:
            os.killpg(server.pid, signal.SIGTERM)
        server.wait()


def main(prefix, work, python, programs):
    prefix, work, programs = Path(prefix).resolve(), Path(work).resolve(), Path(programs).resolve()
    work.mkdir(parents=True, exist_ok=True)
    text = (ROOT / "README.md").read_text()
    blocks = blocks_of(text)
    judge = Judge()
    check = judge.holds

    def run(command, shown, what, **options):
        done = subprocess.run(command, capture_output=True, text=True, **options)
        check(done.returncode == 0 and done.stdout == shown, f"{what}: wanted {shown!r}, got {done.stdout!r} {done.stderr}")

    def succeeds(line, **options):
        done = subprocess.run(["sh", "-ec", line], capture_output=True, text=True, **options)
        check(done.returncode == 0, f"{line}: {done.stdout[-2000:]} {done.stderr[-2000:]}")
        return done.stdout

    def built(line):
        return CARGO.sub(lambda found: f"'{programs / 'examples' / found[1] if found[1] else programs / found[2]}'", line)

    commands = [line for language, code, _ in blocks if language == "sh" for line in code.splitlines()]
    install = next(line for line in commands if line.startswith("npm install ")).replace("/tmp/shop", str(work))
    succeeds(install + " --no-audit --no-fund", cwd=ROOT)
    seen = set()

    def program(language, code, shown, name):
        seen.add(language)
        if language == "c":
            (work / "hello.c").write_text(code)
            compiling = next(line for line in commands if line.startswith("cc ")).replace("/tmp/floodbar", str(prefix))
            run(["sh", "-ec", compiling + " -Wall -Wextra -Werror"], "", f"{name}: C compiles", cwd=work)
            run([work / "hello"], shown, f"{name}: C")
        elif language == "python":
            (work / "snippet.py").write_text(code)
            run([Path(python).absolute(), "-I", "-B", work / "snippet.py"], shown, f"{name}: Python", cwd=ROOT)
        elif language == "js":
            (work / "snippet.mjs").write_text(code)
            run(["node", work / "snippet.mjs"], shown, f"{name}: JavaScript")
        elif language == "ts":
            (work / "snippet.ts").write_text(code)
            tsc = [ROOT / "tests" / "node" / "node_modules" / ".bin" / "tsc", "--strict", "--noEmit", "--skipLibCheck", "--module", "nodenext", "snippet.ts"]
            run(tsc, "", f"{name}: TypeScript", cwd=work)

    for name in ("README.md", "wasm/js/README.md", "ffi/python/README.md"):
        for block in blocks_of((ROOT / name).read_text()):
            program(*block, name)
    check(seen >= {"c", "python", "js", "ts", "rust", "sh"}, f"a language is missing: {seen}")

    # Each way in: its commands and its first program.
    ways = text.split("\n## Take it in\n")[1].split("\n## ")[0].split("\n**")[1:]
    check([way.split("**")[0] for way in ways] == ["Python", "C", "JavaScript", "Rust"], "the ways in are others")
    for way in ways:
        lines = 0
        for language, code, _ in blocks_of(way):
            lines += code.count("\n")
            if language != "sh":
                break
        check(0 < lines <= MOST_LINES, f"{way.split('**')[0]}: {lines} lines")

    packer = "cargo run -p floodbar-pack --"
    for command in ("cargo run --release --example run_sheet", "tests/run", "pip install ./ffi", f"{packer} c /tmp/floodbar", f"{packer} npm wasm/pkg", f"{packer} manual /tmp/floodbar-manual"):
        check(command in commands, f"the command is missing: {command}")
    check("tests/run" in (ROOT / ".ci" / "run").read_text(), ".ci/run runs tests/run")
    check('[*command, "manual", str(folder)]' in (ROOT / "tests/install/manual").read_text(), "no test writes the manual")
    check('/bin/pip" install ./ffi' in (ROOT / "tests/install/python").read_text(), "no test runs pip install ./ffi")
    check("regatta" in succeeds(built("cargo run --release --example run_sheet"), cwd=ROOT).lower(), "the run sheet is of another order")
    quoting = next((line for line in commands if "--example quoting" in line), "false")
    succeeds(built(quoting), cwd=work)
    check((work / "shop.db").is_file(), "there is no database")

    page = ROOT / "examples" / "page"
    tried = (ROOT / "tests" / "page" / "run").read_text()
    check("`npm ci && npm run build`" in text and "npm ci" in tried and "npm run build" in tried, "how the page is built")
    check("`npm run preview`" in text, "how the page is shown")
    preview(page, check)

    # The C example's: the library is installed, and its folder is this one.
    example = work / "example"
    shutil.rmtree(example, ignore_errors=True)
    shutil.copytree(ROOT / "examples" / "c", example, ignore=shutil.ignore_patterns("build", "dwell", "dwell-static"))
    installing, *rest = [code for language, code, _ in blocks_of((ROOT / "examples/c/README.md").read_text()) if language == "sh"]
    first, ways = installing.split("\n", 1)
    check(built(first) == f"'{programs / 'floodbar-pack'}' c /tmp/floodbar", f"the C example installs by {first}")
    for code in [*ways.splitlines(), "\n".join([*rest, "./dwell 45"])]:
        said = succeeds(code.replace("/tmp/floodbar", str(prefix)), cwd=example)
        check(re.search(r"^flash for [\d.]+ s on a platen of 45 degC$", said, re.M), f"{code} says {said}")

    return judge.close()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
