"""Several changes of a Rust file in one text, each behind a number that is asked for while it runs. Used by mutants.py.

A change is one of cargo-mutants, with its span. Operands stay as they were parsed: `a + b * c` with `*` for `+` is `a * (b * c)`.
"""

import re
from pathlib import Path

import tree_sitter
import tree_sitter_rust

RUST = tree_sitter.Language(tree_sitter_rust.language())


def constant(node) -> bool:
    """Whether the compiler works it out, which can ask for no number."""
    while node:
        if node.type in ("const_item", "static_item", "array_type", "const_block"):
            return True
        if node.type == "function_item":
            return any(child.type == "function_modifiers" and b"const" in child.text for child in node.children)
        node = node.parent
    return False


class File:
    def __init__(self, path: Path):
        self.bytes = path.read_bytes()
        self.root = tree_sitter.Parser(RUST).parse(self.bytes).root_node
        self.lines = self.bytes.decode().split("\n")
        # Where, opening after closing, the wider first to open and last to close, the number; and the text.
        self.inserted: list[tuple[tuple[int, int, int, int], str]] = []

    def _offset(self, place: dict) -> int:
        """Of a line and a column in characters, both from 1."""
        line = self.lines[place["line"] - 1]
        return sum(len(above.encode()) + 1 for above in self.lines[: place["line"] - 1]) + len(line[: place["column"] - 1].encode())

    def _insert(self, number: int, place: int, text: str) -> None:
        self.inserted.append(((place, 1, 0, number), f"/*<{number}*/{text}/*{number}>*/"))

    def _around(self, number: int, node, before: str, after: str) -> None:
        width = node.end_byte - node.start_byte
        self.inserted.append(((node.start_byte, 1, -width, number), f"/*<{number}*/{before}"))
        self.inserted.append(((node.end_byte, 0, width, -number), f"{after}/*{number}>*/"))

    def add(self, number: int, mutant: dict) -> bool:
        """Puts a change behind its number; false where that cannot be done."""
        start, end = (self._offset(mutant["span"][side]) for side in ("start", "end"))
        node = self.root.descendant_for_byte_range(start, end)
        kinds = {
            "FnValue": ("function_item",),
            "BinaryOperator": ("binary_expression", "compound_assignment_expr"),
            "UnaryOperator": ("unary_expression",),
            "MatchArmGuard": ("match_pattern",),
            "MatchArm": ("match_arm",),
            "StructField": ("field_initializer", "shorthand_field_initializer"),
        }[mutant["genre"]]
        while node and node.type not in kinds:
            node = node.parent
        if not node or constant(node):
            return False
        # Of what is told as `impl`, two kinds cannot come from one function.
        if mutant["genre"] == "FnValue" and b"impl " in (node.child_by_field_name("return_type") or node.child(0)).text:
            return False
        new, asked = mutant["replacement"], f"crate::mutant({number})"
        text = lambda part: part.text.decode()
        field = node.child_by_field_name
        match mutant["genre"]:
            case "FnValue":
                self._insert(number, field("body").start_byte + 1, f" if {asked} {{ return {new}; }} ")
            case "BinaryOperator" | "UnaryOperator" if all(part.start_byte != start for part in node.children):
                return False
            case "BinaryOperator":
                other = f"{text(field('left'))} {new} {text(field('right'))}"
                self._around(number, node, f"(if {asked} {{ {other} }} else {{ ", " })")
            case "UnaryOperator":
                self._around(number, node, f"(if {asked} {{ {text(node.children[1])} }} else {{ ", " })")
            case "MatchArmGuard":
                self._around(number, field("condition"), f"(if {asked} {{ {new} }} else {{ ", " })")
            case "MatchArm":
                pattern = field("pattern")
                if guard := pattern.child_by_field_name("condition"):
                    self._around(number, guard, f"!{asked} && (", ")")
                else:
                    self._insert(number, pattern.end_byte, f" if !{asked} ")
            case "StructField":
                base = next((part for part in node.parent.children if part.type == "base_field_initializer"), None)
                if not base:
                    return False
                value, other = field("value"), f"({text(base).removeprefix('..')}).{text(field('field') or node)}"
                if value:
                    self._around(number, value, f"(if {asked} {{ {other} }} else {{ ", " })")
                else:
                    self._insert(number, node.end_byte, f": (if {asked} {{ {other} }} else {{ {text(node)} }}) ")
        return True

    def text(self) -> bytes:
        parts, at = [], 0
        for (place, *_), inserted in sorted(self.inserted):
            parts += [self.bytes[at:place], inserted.encode()]
            at = place
        return b"".join([*parts, self.bytes[at:]])


def number_at(text: bytes, place: int) -> int | None:
    """The number of the innermost change around a byte of such a text, or of the nearest one."""
    found = []
    for begun in re.finditer(rb"/\*<(\d+)\*/", text):
        ended = text.find(b"/*%s>*/" % begun[1], begun.end())
        found.append((max(begun.start() - place, place - ended, 0), ended - begun.start(), int(begun[1])))
    return min(found, default=(0, 0, None))[2]
