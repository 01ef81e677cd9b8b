"""Runs the shared vectors through the Python example: vectors.py VECTORS_DIR LIBRARY OUT.jsonl"""

import json
import sys

from shared import Floodbar, FloodbarError, Judge, read_vectors

ABSENT = object()


def at(value, pointer):
    """The value at a JSON pointer (RFC 6901), or ABSENT."""
    for step in pointer.split("/")[1:]:
        step = step.replace("~1", "/").replace("~0", "~")
        if isinstance(value, list) and step.isdecimal() and int(step) < len(value):
            value = value[int(step)]
        elif isinstance(value, dict) and step in value:
            value = value[step]
        else:
            return ABSENT
    return value


def same(want, got):
    """Equal, and not merely in Python, where True is 1."""
    return want == got and isinstance(want, bool) == isinstance(got, bool)


def fits(want, got):
    """One entry of "want": null for absence, {value, within} for a number, anything else as it stands."""
    if want is None:
        return got is ABSENT
    if isinstance(want, dict):
        number = isinstance(got, (int, float)) and not isinstance(got, bool)
        return number and abs(got - want["value"]) <= want["within"]
    return same(want, got)


def error_fits(want, got):
    """One member of the error: a list must hold every entry that is wanted, everything else must be equal."""
    if isinstance(want, list):
        return isinstance(got, list) and all(entry in got for entry in want)
    return same(want, got)


def faults(floodbar, vector, status, answer):
    """What is wrong with the answer to a vector, one text each."""
    if ("want" in vector) == ("error" in vector):
        return ["a vector has one of want and error"]
    if ("want" in vector) != (status == 0):
        return [f"{floodbar.status_text(status)}: {answer.get('error', {}).get('message', '')}"]
    if "want" in vector:
        found = [(place, want, at(answer, place), fits) for place, want in vector["want"].items()]
    else:
        error = answer["error"]
        found = [(name, want, error.get(name, ABSENT), error_fits) for name, want in vector["error"].items()]
        found.append(("the status", floodbar.status_text(status), error["code"], same))
    return [f"{name} is {'absent' if got is ABSENT else got}" for name, want, got, check in found if not check(want, got)]


def through_calculate(floodbar, vector, answer):
    """Whether the dict way of asking gives the same as the text way."""
    try:
        return floodbar.calculate(vector["calculation"], **vector["request"]) == answer
    except FloodbarError as error:
        return vars(error) == answer["error"]


def main(vectors, library, out):
    floodbar, judge = Floodbar(library), Judge()
    with open(out, "w", encoding="utf-8", newline="\n") as lines:
        for vector in read_vectors(vectors):
            request = vector["text"] if "text" in vector else json.dumps(vector["request"])
            status, text = floodbar.calculate_text(vector["calculation"], request.encode())
            lines.write(text + "\n")
            answer = json.loads(text)
            found = faults(floodbar, vector, status, answer)
            if isinstance(vector.get("request"), dict) and not through_calculate(floodbar, vector, answer):
                found.append("calculate() gives another answer than calculate_text()")
            judge.holds(not found, vector["name"], *found)
    return judge.close()


if __name__ == "__main__":
    if len(sys.argv) != 4:
        sys.exit("usage: vectors.py VECTORS_DIR LIBRARY OUT.jsonl")
    sys.exit(main(*sys.argv[1:]))
