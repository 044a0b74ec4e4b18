"""Every word that papers and pages ask their language for, found in the code and in the templates."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from jinja2 import Environment, nodes

from recipec.base.places import site_dir
from recipec.measure.numerals import NO_BREAK
from recipec.measure.units import NOMINAL, bare, keys, unit
from recipec.measure.wording import word
from recipec.model.dish import Flag
from recipec.model.reading import Attention, State

_PACKAGE = Path(__file__).resolve().parents[2] / "recipec"
_ASKED = ("say", "count", "form")
_SIZES = ("small", "medium", "large", "heaped", "scant")
_PACES = ("per plate", "per piece", "per side", "per kg")


class Message(NamedTuple):
    """`many` is '' for a message that has no plural; `places` where it is asked for."""

    context: str
    one: str
    many: str
    place: str


def messages() -> list[Message]:
    """All of them, in order of their places, each once."""
    found: dict[tuple[str, str], Message] = {}
    for message in (*_of_code(), *_of_templates(), *_of_tables()):
        known = found.setdefault((message.context, message.one), message)
        assert known.many == message.many, f"{message} has a plural in one place and none in another: {known.place}"
    return list(found.values())


def _of_code() -> Iterator[Message]:
    for file in sorted(_PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in _ASKED:
                texts = [arg.value for arg in node.args if isinstance(arg, ast.Constant) and isinstance(arg.value, str)]
                given = {key.arg: key.value for key in node.keywords}
                context = given.get("context")
                words = context.value if isinstance(context, ast.Constant) else ""
                yield from _message(node.func.attr, texts, str(words), f"{file.name}:{node.lineno}")


def _of_templates() -> Iterator[Message]:
    env = Environment(autoescape=True)
    for file in sorted((site_dir() / "templates").glob("*")):
        for call in env.parse(file.read_text(encoding="utf-8")).find_all(nodes.Call):
            name = call.node.attr if isinstance(call.node, nodes.Getattr) else ""
            if name in _ASKED:
                texts = [arg.value for arg in call.args if isinstance(arg, nodes.Const) and isinstance(arg.value, str)]
                context = next((key.value for key in call.kwargs if key.key == "context"), None)
                words = context.value if isinstance(context, nodes.Const) else ""
                yield from _message(name, texts, words, f"{file.name}:{call.lineno}")


def _message(asked: str, texts: list[str], context: str, place: str) -> Iterator[Message]:
    # What is asked for by a variable stands in a table; see `_of_tables`.
    if asked == "say" and len(texts) == 1:
        yield Message(context, texts[0], "", place)
    elif asked != "say" and len(texts) == 2:
        yield Message(context, texts[0], texts[1], place)


def _of_tables() -> Iterator[Message]:
    for key in sorted({bare(unit(key)) for key in keys()}):
        if word(key, False):
            yield Message("unit", word(key, False), word(key, True), "units")
    for key in sorted(NOMINAL):
        yield Message("amount", f"a{NO_BREAK}{word(key, False)}", "", "units")
    for size in _SIZES:
        yield Message("size", size, size, "sizes")
    for state in State:
        if state.value:
            yield Message("held", state.value, "", "states")
    for flag in Flag:
        yield Message("flag", flag.value, "", "flags")
    for attention in Attention:
        if attention is not Attention.UNSAID:
            yield Message("attention", attention.value, "", "attention")
    for pace in _PACES:
        yield Message("pace", pace, "", "paces")
