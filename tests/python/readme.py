"""Runs the snippets of README.md as a reader would: readme.py LIBRARY_DIR WORK_FOLDER PYTHON

The C snippet is compiled and linked, the Python ones run by an interpreter that has the package, the JavaScript one by Node; each must print what the README shows
beneath it. Rust snippets run as doc tests of the `tests` crate. The two commands must be the ones that the tests run.
"""

import re
import subprocess
import sys
from pathlib import Path

from shared import ROOT, Judge


def main(library, work, python):
    library, work = Path(library).resolve(), Path(work)
    work.mkdir(parents=True, exist_ok=True)
    text = (ROOT / "README.md").read_text()
    blocks = re.findall(r"```(\w+)\n(.*?)```(?:\n\n```text\n(.*?)```)?", text, re.S)
    judge = Judge()
    check = judge.holds

    def run(command, shown, what, **options):
        done = subprocess.run(command, capture_output=True, text=True, **options)
        check(done.returncode == 0 and done.stdout == shown, f"{what}: wanted {shown!r}, got {done.stdout!r} {done.stderr}")

    seen = set()
    for language, code, shown in blocks:
        seen.add(language)
        if language == "c":
            source, program, installed = work / "snippet.c", work / "snippet", work / "libfloodbar.so.0"
            if not installed.is_symlink():
                installed.symlink_to(library / "libfloodbar_ffi.so")
            source.write_text(code)
            build = ["gcc", "-std=c11", "-Wall", "-Wextra", "-Werror", f"-I{ROOT}/ffi/include", source, "-o", program,
                     f"-L{library}", "-lfloodbar_ffi", f"-Wl,-rpath,{work.resolve()}"]
            run(build, "", "the C snippet compiles")
            run([program], shown, "the C snippet")
        elif language == "python":
            source = work / "snippet.py"
            source.write_text(code)
            run([Path(python).absolute(), "-I", "-B", source], shown, "the Python snippet")
        elif language == "js":
            package = work / "node_modules" / "floodbar"
            package.parent.mkdir(exist_ok=True)
            if not package.is_symlink():
                package.symlink_to(ROOT / "wasm" / "pkg")
            source = work / "snippet.mjs"
            source.write_text(code)
            run(["node", source], shown, "the JavaScript snippet")
    check(seen >= {"c", "python", "js", "rust", "sh"}, f"a language is missing: {seen}")
    commands = [line for language, code, _ in blocks if language == "sh" for line in code.splitlines()]
    build = "cargo build -p floodbar-wasm --profile wasm --target wasm32-unknown-unknown"
    for command in ("cargo run --release --example run_sheet", "tests/run", build, f"{build} --no-default-features"):
        check(command in commands, f"the command is missing: {command}")
    check("tests/run" in (ROOT / ".ci" / "run").read_text(), ".ci/run runs tests/run")

    return judge.close()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
