"""Every word that papers and pages ask their language for, found in the code and in the templates."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from jinja2 import Environment, nodes

from recipec.base.finding import Severity
from recipec.base.places import grammar_dir, site_dir
from recipec.larder.ingredient import ALLERGENS, DEPARTMENTS, Presence
from recipec.larder.larder import builtin
from recipec.measure.numerals import NO_BREAK
from recipec.measure.units import NOMINAL, bare, keys, unit
from recipec.measure.wording import word
from recipec.model.dish import Flag
from recipec.model.reading import Attention, State
from recipec.plan.allergen_groups import groups_of
from recipec.plan.costing_types import Uncosted
from recipec.plan.diets import Fits
from recipec.plan.market_types import SUPPLIES
from recipec.plan.rules import LOCAL
from recipec.plan.safety_cores import kind_words
from recipec.plan.safety_foods import NEEDS_CORE
from recipec.plan.safety_log import CheckKind
from recipec.plan.scale import Reason
from recipec.plan.schedule_goals import ORDER
from recipec.plan.task_words import _OURS
from recipec.plan.timeline_types import Attend
from recipec.plan.wording import _COUNTED_PARTS, _PART_PLURALS

_PACKAGE = Path(__file__).resolve().parents[2] / "recipec"
_ASKED = ("say", "count", "form")
_ASKED_IN_TYPST = re.compile(r'\bw\)?\("(?P<text>(?:[^"\\]|\\.)*)"')
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
    for message in (*_of_code(), *_of_templates(), *_of_typst(), *_of_tables()):
        known = found.setdefault((message.context, message.one), message)
        assert known.many == message.many, f"{message} has a plural in one place and none in another: {known.place}"
    return list(found.values())


def _of_code() -> Iterator[Message]:
    for file in sorted(_PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            name = _called(node)
            if isinstance(node, ast.Call) and name in _ASKED:
                texts = [arg.value for arg in node.args if isinstance(arg, ast.Constant) and isinstance(arg.value, str)]
                given = {key.arg: key.value for key in node.keywords}
                context = given.get("context")
                words = context.value if isinstance(context, ast.Constant) else ""
                yield from _message(name, texts, str(words), f"{file.name}:{node.lineno}")


def _called(node: ast.AST) -> str:
    """`say` of `tongue.say(…)`, and of `say(…)` where that was given a short name."""
    if not isinstance(node, ast.Call):
        return ""
    if isinstance(node.func, ast.Name):
        return node.func.id
    return node.func.attr if isinstance(node.func, ast.Attribute) else ""


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


def _of_typst() -> Iterator[Message]:
    """What the templates of the PDFs ask for: `w("…")`."""
    for file in sorted((site_dir() / "typst").glob("*.typ")):
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
            for found in _ASKED_IN_TYPST.finditer(line):
                yield Message("", found["text"].replace('\\"', '"'), "", f"{file.name}:{number}")


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
    for size in _table("sizes"):
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
    yield from _of_words()
    yield from _of_safety()


def _of_words() -> Iterator[Message]:
    """What is asked for by a value that is one of few."""
    asked: tuple[tuple[str, Iterable[str]], ...] = (
        ("department", (*DEPARTMENTS, SUPPLIES)),
        ("uncosted", (why.value for why in Uncosted)),
        ("unscalable", (why.value for why in Reason)),
        ("diet", _table("diets")["words"]),
        ("asks", (attend.value for attend in Attend)),
        ("aim", ORDER),
        ("verb", _OURS),
        ("burner", ("gas", "electric", "induction")),
        ("touch", ("take out", "see to it")),
        ("severity", (severity.value for severity in Severity)),
    )
    for context, texts in asked:
        for text in texts:
            yield Message(context, text, "", context)
    for part in _table("parts"):
        single = _PART_PLURALS.get(part, part)
        yield Message("part", single, f"{single}s" if part in _COUNTED_PARTS else single, "part")


def _of_safety() -> Iterator[Message]:
    groups = [group for rules in ("uk", "us-food-code") for group in groups_of(rules).groups]
    named = {kind for item in builtin().all() for kind in item.named if {"gluten", "nuts"} & set(item.allergens or ())}
    asked: tuple[tuple[str, Iterable[str]], ...] = (
        (
            "allergen",
            (*ALLERGENS, *(group.words for group in groups), *(group.short for group in groups), *sorted(named)),
        ),
        ("allergen list", (groups_of(rules).list_name for rules in ("uk", "us-food-code"))),
        ("presence", (*(one.value for one in Presence), *(one.value for one in Fits))),
        ("kind of food", (kind_words(kind) for kind in sorted(NEEDS_CORE))),
        ("log", (kind.value for kind in CheckKind)),
        ("safety", (LOCAL,)),
    )
    for context, texts in asked:
        for text in dict.fromkeys(texts):
            yield Message(context, text, "", context)


def _table(name: str) -> dict[str, list[str]]:
    words = tomllib.loads((grammar_dir() / "words.en.toml").read_text(encoding="utf-8"))
    found: dict[str, list[str]] = words[name]
    return found
