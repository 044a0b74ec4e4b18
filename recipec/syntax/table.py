"""The parse table and the table of words, as the shipped JSON gives them."""

from __future__ import annotations

import json
import re
import zlib
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any, NamedTuple

from recipec.base.places import grammar_dir

STARTS = (
    *("food", "gear", "reading", "results", "stopping", "quantity"),
    *("count", "yield_", "keeps", "acceptance", "daytime", "guests", "hands", "sum", "seat", "children", "stretch"),
    *("tolerance", "stock"),
)
"""The start rules: one for each kind of thing that is written."""

Matcher = Callable[[str, int, int], "re.Match[str] | None"]


class Table(NamedTuple):
    """LALR(1) states as plain lists, scanners compiled when first needed.

    `actions[state]` maps a terminal to `target + 1` (shift) or `-1 - rule` (reduce); terminal 0 is the end.
    `gotos[state]` maps a symbol to a state. `scanner_of[state]` is the number of its scanner; `orders[scanner]` gives
    the terminal of each group of that scanner's pattern, in lark's own order. A rule is its name, its symbol, its length.
    """

    starts: Mapping[str, int]
    ends: Mapping[str, int]
    terminals: tuple[str, ...]
    patterns: tuple[str, ...]
    orders: tuple[tuple[int, ...], ...]
    rules: tuple[tuple[str, int, int], ...]
    scanner_of: tuple[int, ...]
    actions: tuple[dict[int, int], ...]
    gotos: tuple[dict[int, int], ...]
    words: Mapping[str, Any]


def fingerprint(language: str) -> str:
    """A checksum of the grammar and the words: the shipped table carries that of its sources."""
    grammar = (grammar_dir() / "recipec.lark").read_bytes()
    words = (grammar_dir() / f"words.{language}.toml").read_bytes()
    # Line ends may differ in a checkout; a checksum is enough, since nobody forges their own grammar.
    sources = (grammar + words).replace(b"\r\n", b"\n")
    return f"{zlib.crc32(sources):08x}"


@cache
def load(language: str = "en") -> Table:
    """The shipped table, or a fresh one through lark when someone has edited the grammar or the words since."""
    path = grammar_dir() / f"recipec.{language}.table.json"
    data: Mapping[str, Any] | None = None
    if path.is_file():
        data = json.loads(path.read_text(encoding="utf-8"))
    if data is None or data["fingerprint"] != fingerprint(language):
        from recipec.syntax.generate import table

        data = table(language, strict=False)
    return _from_data(data)


def _from_data(data: Mapping[str, Any]) -> Table:
    states = data["states"]
    return Table(
        starts=data["starts"],
        ends=data["ends"],
        terminals=tuple(data["terminals"]),
        patterns=tuple(data["patterns"]),
        orders=tuple(tuple(order) for order in data["scanners"]),
        rules=tuple((name, symbol, length) for name, symbol, length in data["rules"]),
        scanner_of=tuple(state[0] for state in states),
        actions=tuple(dict(zip(state[1][::2], state[1][1::2], strict=True)) for state in states),
        gotos=tuple(dict(zip(state[2][::2], state[2][1::2], strict=True)) for state in states),
        words=data["words"],
    )
