"""Writes what of the package floodbar follows from the catalogue: `floodbar-pack python [--check]`

It reads the catalogue from its standard input, and writes for each trade step a module of functions whose manual is the docstring, and its
stub; the records of requests and answers as typed dicts; the stub of the package; the version. With --check nothing is written, and what
differs is told.
"""

import json
import keyword
import pprint
import sys
import textwrap
from decimal import Decimal
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent / "floodbar"
MARK = "# Written by `floodbar-pack python` from the catalogue: do not edit.\n"
WIDTH = 110
# Keywords of a schema that make a type, and those that only say more about it. A type that says less than its schema would mislead.
KNOWN = {
    *("$ref", "type", "properties", "required", "additionalProperties", "items", "enum", "const", "anyOf", "prefixItems", "allOf"),
    *("title", "description", "default", "examples", "pattern", "minimum", "maximum", "minItems", "maxItems", "maxLength"),
}
SHOWN = {"value", "unit", "plus_minus"}


def pascal(name):
    return "".join(part[:1].upper() + part[1:] for part in name.replace("-", ".").replace("_", ".").split("."))


def parameter(name):
    """A member as the parameter of a function."""
    return name + "_" if keyword.iskeyword(name) else name


def number(value):
    if value and not 1e-5 <= abs(value) < 1e8:
        return f"{value:g}".replace("e+", "e").replace("e-0", "e-")
    text = format(Decimal(repr(value)), "f")
    return text[:-2] if text.endswith(".0") else text


def union(types):
    types = list(dict.fromkeys(types))
    optional = any(name == "None" or name.startswith("Optional[") for name in types)
    types = [name[len("Optional[") : -1] if name.startswith("Optional[") else name for name in types if name != "None"]
    text = "None" if not types else types[0] if len(types) == 1 else "Union[" + ", ".join(types) + "]"
    return f"Optional[{text}]" if optional and types else text


def literal(words):
    return "Literal[" + ", ".join(json.dumps(word) for word in words) + "]"


def is_shown(schema):
    """Whether a schema of an answer is that of a quantity."""
    return "value" in schema.get("properties", {}) and schema["properties"].keys() <= SHOWN


def is_given(schema):
    """Whether a definition is that of a quantity or number in a request: a text, or an object of its parts."""
    forms = schema.get("anyOf", ())
    return len(forms) == 2 and forms[0].get("type") == "string" and is_shown(forms[1])


class Types:
    """Types of schemas; what they mention is declared once."""

    def __init__(self, catalogue):
        self.defs = catalogue["$defs"]
        self.ids = {pascal(entry["id"]) for entry in catalogue["calculations"]}
        self.stock = {shelf["kind"]: [row["name"] for row in shelf["rows"]] for shelf in catalogue["stock"]}
        self.waiting = []
        self.seen = set()
        self.declared = {}

    def mention(self, name, is_answer):
        shown = name + "Answer" if is_answer and name in self.ids else name + "Given" if name == "Money" else name
        if (name, is_answer) not in self.seen:
            self.seen.add((name, is_answer))
            self.waiting.append((name, is_answer))
        return shown

    def of(self, schema, is_answer):
        unknown = [key for key in schema if key not in KNOWN and not key.startswith("x-")]
        if unknown:
            raise SystemExit(f"the types do not know the schema keyword {unknown[0]}, in {json.dumps(schema)[:300]}")
        if "$ref" in schema:
            name = schema["$ref"].rsplit("/", 1)[1]
            found = self.defs[name]
            if is_answer and is_shown(found):
                return self.of(found, True)
            if name in self.ids and not is_answer:
                return union([self.mention(name, False), self.answer_named(name)])
            return self.mention(name, is_answer)
        if "const" in schema:
            return literal([schema["const"]])
        if "enum" in schema:
            words = [word for word in schema["enum"] if word is not None]
            for kind, names in self.stock.items():
                if words == names:
                    found = literal(words) if len(words) == 1 else self.stock_named(kind)
                    break
            else:
                found = literal(words)
            return union([found] + ["None"] * (None in schema["enum"]))
        if "anyOf" in schema:
            forms = [self.of(form, is_answer) for form in schema["anyOf"]]
            # The type of what may be a number in a text includes the plain number.
            return union(form for form in forms if form != "Real" or "Number" not in forms)
        kinds = schema.get("type", [])
        return union(self.of_kind(kind, schema, is_answer) for kind in ([kinds] if isinstance(kinds, str) else kinds)) if kinds else "Any"

    def of_kind(self, kind, schema, is_answer):
        if kind == "array":
            entries = schema.get("items") or {"anyOf": schema["prefixItems"]} if "items" in schema or "prefixItems" in schema else {}
            return ("List[%s]" if is_answer else "Sequence[%s]") % self.of(entries, is_answer)
        if kind == "object":
            if is_answer and is_shown(schema):
                return "Money" if schema["properties"]["value"]["type"] == "string" else "Quantity"
            return "Dict[str, Any]" if is_answer else "Mapping[str, Any]"
        plain = {"string": "str", "boolean": "bool", "null": "None", "integer": "int" if is_answer else "Whole", "number": "float" if is_answer else "Real"}
        return plain[kind]

    def stock_named(self, kind):
        name = pascal(kind) + "Name"
        self.declared[name] = f"{name} = {literal(self.stock[kind])}\n"
        return name

    def answer_named(self, name):
        return name + "Answer"

    def record(self, name, schema, is_answer):
        """A record as a typed dict: what is needed, what may be left out, and members whose names are words of Python."""
        required = set(schema.get("required", ()))
        groups = {}
        for member, inner in schema["properties"].items():
            groups.setdefault((member in required, keyword.iskeyword(member)), {})[member] = self.of(inner, is_answer)
        text, bases = "", []
        for key in [(True, True), (False, True), (True, False)]:
            if key in groups and (key[1] or (False, False) in groups):
                base = f"_{name}{'Needed' if key[0] else 'More'}{'Words' if key[1] else ''}"
                total = "" if key[0] else ", total=False"
                if key[1]:
                    fields = "".join(f"{json.dumps(member)}: {json.dumps(kind)}, " for member, kind in groups[key].items())
                    text += f'{base} = TypedDict("{base}", {{{fields.rstrip(", ")}}}{total})\n\n\n'
                else:
                    fields = "".join(f"    {member}: {kind}\n" for member, kind in groups[key].items())
                    text += f"class {base}(TypedDict{total}):\n{fields}\n\n"
                bases.append(base)
        last = (False, False) if (False, False) in groups else (True, False)
        total = ", total=False" if last == (False, False) else ""
        about = [(sentence(schema.get("description", "")), "")]
        about += [(f"{member}: {remark(inner, is_answer)}", "    ") for member, inner in schema["properties"].items()]
        lines = "\n".join(wrapped(line, "    ", deeper) for line, deeper in about if line).lstrip().replace("\n", "\n\n", 1)
        fields = "".join(f"    {member}: {kind}\n" for member, kind in groups.get(last, {}).items())
        return text + f"class {name}({', '.join(bases) or 'TypedDict'}{total}):\n    \"\"\"{lines}\n    \"\"\"\n\n{fields}".rstrip() + "\n"


def sentence(text):
    text = " ".join(text.split())
    return text if not text or text[-1] in ".?!" else text + "."


def wrapped(text, indent, deeper="    "):
    text = text.replace("\\", "\\\\").replace('"""', "'''")
    return textwrap.fill(text, WIDTH, initial_indent=indent, subsequent_indent=indent + deeper, break_long_words=False, break_on_hyphens=False)


def ends(quantity, key_least, key_most):
    unit = "" if quantity["unit"] == "1" else " " + quantity["unit"]
    return f"{number(key_least)} to {number(key_most)}{unit}"


def words_of(schema):
    """The words that a field takes, wherever they stand in its schema."""
    found = [word for word in schema.get("enum", [schema["const"]] if "const" in schema else ()) if word is not None]
    for form in schema.get("anyOf", ()):
        found += words_of(form)
    return found


def refs_of(schema):
    found = [schema["$ref"].rsplit("/", 1)[1]] if "$ref" in schema else []
    for form in schema.get("anyOf", ()):
        found += refs_of(form)
    if isinstance(schema.get("items"), dict):
        found += refs_of(schema["items"])
    return found


def is_list(schema):
    return schema.get("type") == "array" or any(map(is_list, schema.get("anyOf", ())))


DEFS = {}


def members_of(name):
    """A record with its members; those with a question mark may be left out."""
    if name.endswith("Changed"):
        return name + " {from, and what is other}"
    required = DEFS[name].get("required", ())
    members = [member + "?" * (member not in required) for member in DEFS[name].get("properties", ())]
    return name + (" {" + ", ".join(members) + "}" if members else "")


def remark(schema, is_answer):
    """What a field means and takes, in a line."""
    told = [sentence(schema.get("description", ""))]
    refs, words = refs_of(schema), words_of(schema)
    texts = [example for form in [schema, *schema.get("anyOf", ())] for example in form.get("examples", ())]
    quantity = schema.get("x-quantity") or {}
    given = [DEFS[name]["description"].split(", or with its 95 %")[0] for name in refs if is_given(DEFS[name])]
    if quantity.get("unit", "1") != "1" and given:
        given = [given[0].split(", such as")[0] + " in " + ", ".join(quantity["units"])]
    records = [name for name in refs if not is_given(DEFS[name]) and not is_shown(DEFS[name])]
    if is_answer:
        units = schema.get("x-unit")
        if units:
            told.append(f"In {units['metric']}." if units["metric"] == units["us"] else f"In {units['metric']}, US: {units['us']}.")
        if words:
            told.append("One of " + ", ".join(words) + ".")
        if records:
            told.append(("A list of " if is_list(schema) else "") + " or ".join(dict.fromkeys(records)) + ".")
        return " ".join(filter(None, told))
    takes = given
    if texts:
        takes.append("such as " + ", ".join(f'"{text}"' for text in dict.fromkeys(texts)))
    if words:
        takes.append("one of " + ", ".join(f'"{word}"' for word in words))
    takes += [members_of(name) for name in dict.fromkeys(records)]
    if takes:
        taken = "; or ".join(takes)
        told.append(("A list, of each: " + taken if is_list(schema) else taken[:1].upper() + taken[1:]) + ".")
    if "least" in quantity and "most" in quantity:
        told.append(f"Range {ends(quantity, quantity['least'], quantity['most'])}.")
    if "usual" in quantity:
        told.append(f"Usual {ends(quantity, *quantity['usual'])}.")
    default = schema.get("default", schema.get("x-default"))
    if default is not None:
        told.append("Default " + (default if isinstance(default, str) else json.dumps(default)) + ".")
    basis = schema.get("x-basis")
    if isinstance(basis, dict) and "kind" in basis:
        told.append(f"({basis['kind'].replace('_', ' ')}{': ' + basis['source'] if basis.get('source') else ''})")
    return " ".join(filter(None, told))


def choices(schema):
    """Which fields are given in the place of one another, or together."""
    told = []
    for choice in schema.get("allOf", ()):
        sets = []
        for branch in choice.get("oneOf", []) + choice.get("anyOf", []):
            needed = branch.get("allOf", [branch])[0].get("required", ())
            if needed:
                sets.append(" and ".join(needed))
        if len(sets) > 1:
            told.append("Give " + ", or ".join(sets) + ".")
    return told


def example(entry):
    """The call that asks the example."""
    step, name = entry["id"].split(".")
    lines = []
    for member, value in entry["example"].items():
        shown = pprint.pformat(value, width=92, sort_dicts=False, compact=True)
        lines.append(f"    {parameter(member)}={shown},".replace("\n", "\n    " + " " * (len(parameter(member)) + 1)))
    return f"floodbar.{step}.{name}(\n" + "\n".join(lines) + "\n)"


def docstring(entry):
    request, answer = entry["request"], entry["answer"]
    needed = request.get("required", ())
    parts = [sentence(entry["question"])]
    if entry["asked"]:
        parts.append(wrapped("Also asked as: " + " ".join(entry["asked"]), "    "))
    parts.append(wrapped("Formula: " + sentence(entry["formula"]), "    "))
    fields = []
    for member, schema in request["properties"].items():
        mark = " (needed)" if member in needed else ""
        fields.append(wrapped(f"{parameter(member)}{mark}: {remark(schema, False)}", "        "))
    parts.append("    Parameters:\n" + "\n".join(fields))
    if any(not is_given(DEFS[name]) for schema in request["properties"].values() for name in refs_of(schema)):
        parts.append("    Records stand in floodbar.records; a member with a question mark may be left out.")
    if choices(request):
        parts.append("\n".join(wrapped(choice, "    ") for choice in choices(request)))
    members = [wrapped(f"{member}: {remark(schema, True)}", "        ") for member, schema in answer["properties"].items()]
    parts.append("    Answer:\n" + "\n".join(members))
    sources = [wrapped(f"{source['kind'].replace('_', ' ')}: {source['source']}", "        ") for source in entry["sources"]]
    if sources:
        parts.append("    Sources:\n" + "\n".join(sources))
    parts.append("    Raises FloodbarError, which names the field at fault.")
    shown = textwrap.indent(example(entry), "        ").replace("\\", "\\\\").replace('"""', "'''")
    parts.append("    Example:\n" + shown)
    return '"""' + "\n\n".join(parts) + '\n    """'


def step_module(step, entries):
    titles = ", ".join(entry["title"][:1].lower() + entry["title"][1:] for entry in entries)
    text = MARK + f'"""The step "{step}": {titles}."""\n\nfrom ._asked import asked as _asked\n'
    names = [entry["id"].split(".")[1] for entry in entries]
    text += f"\n__all__ = {json.dumps(names)}\n"
    for entry, name in zip(entries, names):
        request = entry["request"]
        needed = [parameter(member) for member in request["properties"] if member in request.get("required", ())]
        more = [parameter(member) + "=None" for member in request["properties"] if member not in request.get("required", ())]
        members = textwrap.fill(", ".join(["*"] + needed + more), WIDTH, initial_indent="    ", subsequent_indent="    ")
        text += f"\n\ndef {name}(\n{members},\n):\n    {docstring(entry)}\n    return _asked({json.dumps(entry['id'])}, {members_given(request)})\n"
    return text


def members_given(request):
    """What a function asks with: its parameters, by the names of the members."""
    words = [name for name in request["properties"] if keyword.iskeyword(name)]
    return "locals()" if not words else "{**locals(), " + ", ".join(f'"{word}": {word}_, "{word}_": None' for word in words) + "}"


TYPING = "from typing import Any, Dict, List, Literal, Mapping, Optional, Sequence, Union\n"


def step_stub(entries, types):
    text = MARK + TYPING + "\nfrom ._quantity import Money, Quantity\nfrom .records import *\n"
    for entry in entries:
        name = entry["id"].split(".")[1]
        text += f"\ndef {name}(\n    *,\n"
        for member, schema in entry["request"]["properties"].items():
            kind = types.of(schema, False)
            if entry["id"] == "artwork.measure" and member == "pixels":
                kind = "Any"
            if member not in entry["request"].get("required", ()):
                kind = (kind if kind.startswith("Optional[") else f"Optional[{kind}]") + " = ..."
            text += f"    {parameter(member)}: {kind},\n"
        text += f") -> {pascal(entry['id'])}Answer: ...\n"
    return text


GIVEN = '''

Real = Union[float, Decimal]
Whole = Union[int, SupportsIndex]


class QuantityParts(TypedDict):
    """A quantity by its parts."""

    value: Real
    unit: str


class QuantityInDoubt(QuantityParts):
    """A quantity by its parts, with the half-width of its 95 % interval."""

    plus_minus: Optional[Real]


class NumberParts(TypedDict, total=False):
    """A number by its parts; its unit is 1 or %."""

    value: Real
    unit: Optional[str]
    plus_minus: Optional[Real]


class MoneyParts(TypedDict):
    """Money by its parts: the amount as a decimal, a currency and what it is per."""

    value: Union[str, Real]
    unit: str


class MoneyInDoubt(MoneyParts):
    """Money by its parts, with the half-width of its 95 % interval."""

    plus_minus: Union[str, Real, None]

'''


def records(types, calculations, operators):
    """The records of all requests and answers."""
    texts = {}
    for entry in calculations:
        name = pascal(entry["id"]) + "Answer"
        texts[name] = types.record(name, entry["answer"], True)
    for word, operator in operators.items():
        if "answer" in operator:
            for part in ("spec", "answer"):
                name = pascal(word) + pascal(part)
                texts[name] = types.record(name, operator[part], part == "answer")
    aliases = {}
    both = {name for name, is_answer in types.seen if (name, not is_answer) in types.seen}
    while types.waiting:
        name, is_answer = types.waiting.pop()
        schema = types.defs[name]
        if is_given(schema):
            money = "anyOf" in schema["anyOf"][1]["properties"]["value"]
            plain = "unit" not in schema["anyOf"][1]["required"]
            kind = ["str", "Money", "MoneyParts", "MoneyInDoubt"] if money else ["str", "Quantity", "QuantityParts", "QuantityInDoubt"]
            kind = ["Real", "str", "Quantity", "NumberParts"] if plain else kind
            shown = types.mention(name, False)
            aliases[shown] = f"# {sentence(schema['description'])}\n{shown} = {union(kind)}\n"
        elif is_answer and name in types.ids:
            continue
        elif "properties" in schema:
            texts[name] = types.record(name, schema, is_answer)
        else:
            aliases[name] = f"{name} = {types.of(schema, is_answer)}\n"
        both |= {name for name, is_answer in types.seen if (name, not is_answer) in types.seen}
    for name in sorted(both):
        if name not in types.ids:
            print("in requests and answers:", name)
    given = [line.split("class ")[1].split("(")[0] for line in GIVEN.splitlines() if line.startswith("class ")]
    names = sorted([*texts, *aliases, *types.declared, *given, "Real", "Whole"])
    text = MARK + '"""The records of requests and answers, as types."""\n\nfrom __future__ import annotations\n\nfrom decimal import Decimal\n'
    text += TYPING.replace("Union", "SupportsIndex, TypedDict, Union") + "\nfrom ._quantity import Money, Quantity\n"
    text += "\n__all__ = " + json.dumps(names, indent=4).replace('"\n]', '",\n]') + "\n" + GIVEN
    text += "".join(types.declared[name] for name in sorted(types.declared)) + "\n"
    text += "".join(aliases[name] for name in sorted(aliases))
    return text + "".join("\n\n" + texts[name] for name in sorted(texts))


def package_stub(steps, calculations):
    text = MARK + "from typing import Any, Dict, Iterable, List, Literal, Mapping, Optional, Union, overload\n\n"
    for step in [*steps, "records"]:
        text += f"from . import {step} as {step}\n"
    for module, names in {
        "_call": ["Cache", "catalogue", "measure_artwork"],
        "_convert": ["to_pint", "to_uncertain"],
        "_error": ["FloodbarError"],
        "_frame": ["frame"],
        "_prepared": ["Prepared", "Run", "prepare"],
        "_quantity": ["Money", "Quantity"],
    }.items():
        text += f"from .{module} import " + ", ".join(f"{name} as {name}" for name in names) + "\n"
    text += "from .records import *\n\n__version__: str\n"
    for entry in calculations:
        text += f'\n@overload\ndef calculate(id: Literal["{entry["id"]}"], request: Optional[Mapping[str, Any]] = ..., /, **members: Any) -> {pascal(entry["id"])}Answer: ...'
    text += "\n@overload\ndef calculate(id: str, request: Optional[Mapping[str, Any]] = ..., /, **members: Any) -> Any: ...\n"
    text += "def calculate_many(id: str, requests: Iterable[Mapping[str, Any]], cache: Optional[Cache] = ...) -> List[Any]: ...\n"
    for name in ("sweep", "solve"):
        text += f"def {name}(id: str, request: Mapping[str, Any], spec: {pascal(name)}Spec, cache: Optional[Cache] = ...) -> {pascal(name)}Answer: ...\n"
    return text


def written(catalogue):
    """All files, by their names."""
    DEFS.update(catalogue["$defs"])
    types = Types(catalogue)
    steps = {}
    for entry in catalogue["calculations"]:
        steps.setdefault(entry["id"].split(".")[0], []).append(entry)
    files = {"_version.py": f'{MARK}"""Which library these files are for, and the trade steps that it has."""\n\nVERSION = {json.dumps(catalogue["version"])}\nSTEPS = {json.dumps(list(steps))}\n'}
    for step, entries in steps.items():
        files[f"{step}.py"] = step_module(step, entries)
        files[f"{step}.pyi"] = step_stub(entries, types)
    files["records.py"] = records(types, catalogue["calculations"], catalogue["operators"])
    files["__init__.pyi"] = package_stub(steps, catalogue["calculations"])
    return files


def main(check=None):
    files = written(json.load(sys.stdin))
    differs = []
    for name, text in files.items():
        path = PACKAGE / name
        if check:
            if not path.is_file() or path.read_text(encoding="utf-8") != text:
                differs.append(name)
        else:
            path.write_text(text, encoding="utf-8", newline="\n")
    for path in PACKAGE.glob("*.py*"):
        if path.name not in files and path.read_text(encoding="utf-8").startswith(MARK):
            differs.append(path.name) if check else path.unlink()
    if differs:
        print("not as the catalogue has it; run `floodbar-pack python`:", *sorted(differs))
    return 1 if differs else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
