"""Makes the parse table out of `grammar/recipec.lark` and a table of words. The only importer of lark.

`python -m recipec.syntax.generate` rewrites `grammar/recipec.en.table.json`; a test fails when that file is stale.
The table is plain JSON of numbers and patterns, so that reading a dish needs no lark at all (see `driver.py`).
"""

from __future__ import annotations

import json
import re
import sys
import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from lark import Lark
from lark.parsers.lalr_analysis import Shift

from recipec.base.places import grammar_dir
from recipec.syntax.table import STARTS, fingerprint

_MACRO = re.compile(r"@([a-z_]+)@")


class Words(NamedTuple):
    """One language's table of words, as it stands in the file."""

    data: Mapping[str, Any]


def trie(words: Iterable[str]) -> str:
    """A pattern for exactly these words, the first letter in either case, a space for any white space, the longest first.

    Branches that begin alike are written once, and only the first letter is a set: a pattern of two hundred words then
    compiles in a millisecond, and fails on most words at their first letter.
    """
    root: dict[str, Any] = {}
    for word in words:
        node = root
        for letter in word:
            node = node.setdefault(letter, {})
        node[""] = {}
    return _branch(root, first=True)


def _branch(node: Mapping[str, Any], *, first: bool = False) -> str:
    ends = "" in node
    parts = [_letter(letter, first=first) + _branch(node[letter]) for letter in sorted(node) if letter]
    if not parts:
        return ""
    body = parts[0] if len(parts) == 1 and not ends else "(?:" + "|".join(parts) + ")"
    return body + "?" if ends else body


def _letter(letter: str, *, first: bool) -> str:
    if letter == " ":
        return r"\s+"
    if first and letter.upper() != letter and len(letter.upper()) == 1:
        return f"[{letter}{letter.upper()}]"
    return re.escape(letter)


def _word_patterns(words: Mapping[str, Any]) -> dict[str, str]:
    units, kinds = words["units"], words["unit-kinds"]

    def of_kinds(*names: str) -> list[str]:
        return [word for name in names for key in kinds[name] for word in units[key]]

    def flat(table: Mapping[str, list[str]]) -> list[str]:
        return [word for group in table.values() for word in group]

    patterns = {name.replace("-", "_"): trie(group) for name, group in words["words"].items()}
    shares = words["share-words"]
    patterns |= {
        "unit_food": trie(of_kinds("mass", "volume", "vague", "counted", "length")),
        "unit_time": trie(of_kinds("time")),
        "unit_measure": trie(of_kinds("mass", "volume")),
        "unit_span": trie([*(w for key in ("mm", "cm", "inch") for w in units[key])]),
        "unit_size": trie(of_kinds("mass", "volume", "length", "power")),
        # `pinch of salt`: only the first word of each, which is the one for a single thing.
        "unit_one": trie([units[key][0] for name in ("vague", "counted") for key in kinds[name]]),
        "minute": trie(units["min"]),
        "not_units": trie(words["not-units"]["words"]),
        "not_numbers": trie(words["not-numbers"]["words"]),
        "numbers": trie(words["numbers"]),
        "sizes": trie(flat(words["sizes"])),
        "parts": trie(flat(words["parts"])),
        "shares": trie(words["shares"]),
        "share_rest": trie(shares["rest"]),
        "share_remaining": trie(shares["remaining"]),
        "share_unmeasured": trie(shares["unmeasured"]),
        "discarded": trie(words["flags"]["discarded"]),
        "temperature": trie(flat(words["temperature"])),
        "heat": trie(flat(words["temperature-kinds"])),
        "attention": trie(flat(words["attention"])),
        "states": trie(flat(words["states"])),
        "plates": trie(words["plates"]),
        "features": trie(flat(words["features"])),
        "currencies": trie(words["currencies"]),
    }
    return patterns


def expanded_grammar(grammar: str, words: Mapping[str, Any]) -> str:
    """The grammar with every `@name@` put in: what lark reads."""
    patterns = _word_patterns(words)

    def fill(text: str) -> str:
        return _MACRO.sub(lambda match: patterns[match.group(1)], text)

    lines = []
    for line in grammar.splitlines():
        if line.startswith("//@"):
            _, name, pattern = line.split(None, 2)
            patterns[name] = fill(pattern)
        elif not line.startswith("//"):
            # A slash inside a pattern would end it; those that come out of the macros are escaped here.
            lines.append(_fill_terminal(line, fill))
    return "\n".join(lines) + "\n"


def _fill_terminal(line: str, fill: Any) -> str:
    head, slash, rest = line.partition(": /")
    if not slash:
        return line
    body = rest.rstrip()[:-1]
    return head + ": /" + re.sub(r"(?<!\\)/", r"\/", fill(body)) + "/"


def build(language: str = "en", *, strict: bool = True) -> Lark:
    """Lark's own parser for the grammar: under `strict` it proves the grammar free of conflicts and collisions."""
    grammar = (grammar_dir() / "recipec.lark").read_text(encoding="utf-8")
    words = tomllib.loads((grammar_dir() / f"words.{language}.toml").read_text(encoding="utf-8"))
    return Lark(
        expanded_grammar(grammar, words),
        parser="lalr",
        lexer="contextual",
        start=list(STARTS),
        strict=strict,
        keep_all_tokens=True,
        maybe_placeholders=False,
    )


def table(language: str = "en", *, strict: bool = True) -> dict[str, Any]:
    """The parse table as plain data: see `table.py` for its shape."""
    lark = build(language, strict=strict)
    # lark keeps these to itself; pyproject.toml holds it to one minor series for that reason.
    front: Any = lark.parser
    parse_table = front.parser._parse_table
    lexers = front.lexer.lexers
    rules = parse_table_rules(parse_table)
    number_of = {rule: index for index, rule in enumerate(rules)}
    terminals = ["$END", *sorted(t.name for t in lark.terminals)]
    terminal_number = {name: index for index, name in enumerate(terminals)}
    symbols = sorted({rule.origin.name for rule in rules})
    symbol_number = {name: index for index, name in enumerate(symbols)}
    numbering = _numbered(parse_table)
    scanners: list[list[int]] = []
    states: list[list[Any]] = []
    for state in numbering:
        row = parse_table.states[state]
        order = [terminal_number[t.name] for t in lexers[state].terminals] if state in lexers else []
        if order not in scanners:
            scanners.append(order)
        actions: list[int] = []
        gotos: list[int] = []
        for name in sorted(row):
            action, target = row[name]
            if name in terminal_number:
                shift = action is Shift
                actions += [terminal_number[name], numbering[target] + 1 if shift else -1 - number_of[target]]
            else:
                gotos += [symbol_number[name], numbering[target]]
        states.append([scanners.index(order), actions, gotos])
    words = tomllib.loads((grammar_dir() / f"words.{language}.toml").read_text(encoding="utf-8"))
    return {
        "fingerprint": fingerprint(language),
        "starts": {name: numbering[parse_table.start_states[name]] for name in STARTS},
        "ends": {name: numbering[parse_table.end_states[name]] for name in STARTS},
        "terminals": terminals,
        "patterns": ["", *(lark.get_terminal(name).pattern.to_regexp() for name in terminals[1:])],
        "scanners": scanners,
        "rules": [
            [rule.alias or rule.origin.name, symbol_number[rule.origin.name], len(rule.expansion)] for rule in rules
        ],
        "states": states,
        "words": words,
    }


def _numbered(parse_table: Any) -> dict[int, int]:
    """Every state to its number in our table: as they are met from the start rules on.

    Lark numbers them by the order of its sets, which differs from one run to the next.
    """
    numbering: dict[int, int] = {}
    waiting = [parse_table.start_states[name] for name in STARTS]
    while waiting:
        state = waiting.pop(0)
        if state in numbering:
            continue
        numbering[state] = len(numbering)
        row = parse_table.states[state]
        waiting += [row[name][1] for name in sorted(row) if row[name][0] is Shift]
    return numbering


def parse_table_rules(parse_table: Any) -> list[Any]:
    """Every rule the table reduces by, in a fixed order."""
    found = {target for row in parse_table.states.values() for action, target in row.values() if action is not Shift}
    return sorted(found, key=lambda rule: (rule.origin.name, rule.order, rule.alias or ""))


def write(language: str = "en") -> Path:
    """Write the table beside the grammar."""
    path = grammar_dir() / f"recipec.{language}.table.json"
    path.write_text(dumps(table(language)), encoding="utf-8")
    return path


def dumps(data: Mapping[str, Any]) -> str:
    """The table as text: one line for each entry, so that a diff can be read."""
    lines = [
        f"{json.dumps(key)}: {json.dumps(value, ensure_ascii=False, separators=(',', ':'))}"
        for key, value in data.items()
    ]
    return "{\n" + ",\n".join(lines) + "\n}\n"


if __name__ == "__main__":
    sys.stdout.write(f"{write().name}\n")
