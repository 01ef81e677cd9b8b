"""Runs the snippets of README.md as a reader would: readme.py PREFIX WORK_FOLDER PYTHON

The C snippet is compiled by the README's own line on the library installed in PREFIX, the Python ones run by an interpreter that has
the package, the JavaScript one by Node, the TypeScript one compiled; each must print what the README shows beneath it. Rust snippets
run as doc tests of the `tests` crate. The commands must be those that the tests run.
"""

import re
import subprocess
import sys
from pathlib import Path

from shared import ROOT, Judge


def main(prefix, work, python):
    prefix, work = Path(prefix).resolve(), Path(work)
    work.mkdir(parents=True, exist_ok=True)
    text = (ROOT / "README.md").read_text()
    blocks = re.findall(r"```(\w+)\n(.*?)```(?:\n\n```text\n(.*?)```)?", text, re.S)
    judge = Judge()
    check = judge.holds

    def run(command, shown, what, **options):
        done = subprocess.run(command, capture_output=True, text=True, **options)
        check(done.returncode == 0 and done.stdout == shown, f"{what}: wanted {shown!r}, got {done.stdout!r} {done.stderr}")

    commands = [line for language, code, _ in blocks if language == "sh" for line in code.splitlines()]
    seen = set()
    for language, code, shown in blocks:
        seen.add(language)
        if language == "c":
            (work / "hello.c").write_text(code)
            lines = "\n".join(line for line in commands if line.startswith(("export ", "cc "))).replace("/tmp/floodbar", str(prefix))
            run(["sh", "-ec", lines + " -Wall -Wextra -Werror"], "", "the C snippet compiles", cwd=work)
            run([work.resolve() / "hello"], shown, "the C snippet")
        elif language == "python":
            source = work / "snippet.py"
            source.write_text(code)
            run([Path(python).absolute(), "-I", "-B", source], shown, "the Python snippet")
        elif language == "js":
            install = next(line for line in commands if line.startswith("npm install ")).replace("/tmp/shop", str(work.resolve()))
            done = subprocess.run(["sh", "-ec", install + " --no-audit --no-fund"], cwd=ROOT, capture_output=True, text=True)
            check(done.returncode == 0, f"the package is installed: {done.stderr}")
            source = work / "snippet.mjs"
            source.write_text(code)
            run(["node", source], shown, "the JavaScript snippet")
        elif language == "ts":
            (work / "snippet.ts").write_text(code)
            tsc = [ROOT / "tests" / "node" / "node_modules" / ".bin" / "tsc", "--strict", "--noEmit", "--skipLibCheck", "--module", "nodenext", "snippet.ts"]
            run(tsc, "", "the TypeScript snippet", cwd=work)
    check(seen >= {"c", "python", "js", "ts", "rust", "sh"}, f"a language is missing: {seen}")
    packer = "cargo run -p floodbar-pack --"
    for command in ("cargo run --release --example run_sheet", "tests/run", "pip install ./ffi", f"{packer} c /tmp/floodbar", f"{packer} npm wasm/pkg"):
        check(command in commands, f"the command is missing: {command}")
    check("tests/run" in (ROOT / ".ci" / "run").read_text(), ".ci/run runs tests/run")

    return judge.close()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
