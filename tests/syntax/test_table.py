"""The shipped table is that of the grammar, and the driver reads what lark reads."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput

from recipec.base.places import grammar_dir
from recipec.syntax import generate, table
from recipec.syntax.brackets import scan
from recipec.syntax.driver import Driver, Stuck

RECIPES = Path(__file__).resolve().parents[2] / "recipes"


@cache
def lark() -> Lark:
    # Strict mode raises at any conflict of rules and any collision of terminals; interegular is a development dependency.
    return generate.build(strict=True)


@cache
def driver() -> Driver:
    shipped = table.load("en")

    def node(name: str) -> Any:
        return lambda _, values: values[0] if name == "same" else (name, *values)

    return Driver(shipped, [node(name) for name, _, _ in shipped.rules])


def by_lark(start: str, text: str) -> Any:
    """Lark's tree in the driver's terms: a tuple of the rule's name and its values, a terminal's offsets."""

    def plain(node: Any) -> Any:
        if isinstance(node, Token):
            assert node.start_pos is not None and node.end_pos is not None
            return (node.start_pos, node.end_pos)
        assert isinstance(node, Tree)
        values = [plain(child) for child in node.children]
        return values[0] if node.data == "same" else (str(node.data), *values)

    try:
        return plain(lark().parse(text, start=start))
    except UnexpectedInput:
        return None


def by_driver(start: str, text: str) -> Any:
    found = driver().parse(start, text, 0, len(text), None)
    return None if isinstance(found, Stuck) else found


def check_same(start: str, text: str) -> None:
    expected = by_lark(start, text)
    # Three times: step by step, as the shape becomes known, and by its expression.
    for _ in range(3):
        assert by_driver(start, text) == expected


def test_the_shipped_table_is_fresh() -> None:
    shipped = (grammar_dir() / "recipec.en.table.json").read_text("utf-8")
    assert shipped == generate.dumps(generate.table()), "run `python -m recipec.syntax.generate`"


def test_a_stale_table_is_made_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "tinnie" not in table.load("en").words["units"]["tin"]
    for path in grammar_dir().iterdir():
        if path.is_file():
            (tmp_path / path.name).write_bytes(path.read_bytes())
    words = tmp_path / "words.en.toml"
    words.write_text(words.read_text("utf-8").replace('tin = ["tin",', 'tin = ["tinnie", "tin",'), encoding="utf-8")
    monkeypatch.setattr(table, "grammar_dir", lambda: tmp_path)
    monkeypatch.setattr(generate, "grammar_dir", lambda: tmp_path)
    fresh = table.load.__wrapped__("en")
    assert "tinnie" in fresh.words["units"]["tin"]
    unit = fresh.patterns[fresh.terminals.index("UNIT")]
    assert re.match(unit, "tinnies") is None and re.match(unit, "tinnie beans")


def corpus() -> list[tuple[str, str]]:
    found: set[tuple[str, str]] = set()
    for path in [*RECIPES.rglob("*.dish"), *RECIPES.rglob("*.event"), *Path(__file__).parent.glob("*/*.dish")]:
        text = path.read_bytes().decode("utf-8-sig")
        for mark in scan(text, 0, len(text), "en").marks:
            found.add((mark.kind, text[mark.start + 1 : mark.end - 1].strip()))
        for line in text.splitlines():
            if "-> " in line:
                found.add(("results", line.partition("-> ")[2].strip().rstrip(".")))
            _, colon, value = line.partition(": ")
            if colon and value.strip():
                found.update(
                    (start, value.strip()) for start in ("count", "yield_", "keeps", "daytime", "seat", "stock")
                )
    return sorted((start, text) for start, text in found if text)


def test_the_driver_reads_the_corpus_as_lark_does() -> None:
    marks = corpus()
    assert len(marks) > 500
    for start, text in marks:
        check_same(start, text)


WORDS = (
    "1 2 ½ 1/2 2-3 200 0.5 g kg tbsp tin cloves large heaped butter plum_tomatoes the our of of_the half rest_of_the a an "
    "plus or x ( ) , about some optional cold each per plate 2.2% zest_of without for_seats_3 min h °C core fan gas by "
    "until alone within_reach turn at every rises_to mm round ml after Main 19:30 holds chilled cooled_in back_in in {pan} ; "
    "discarded takes recovers 2026-10-17 GBP allergic_to vegan no pork from to shelves up_to on hob - \\or 70% 5-spice"
)
PIECES = st.sampled_from(WORDS.split())


@settings(max_examples=400, deadline=None)
@given(st.sampled_from(table.STARTS), st.lists(PIECES, min_size=1, max_size=9))
def test_the_driver_reads_any_mark_as_lark_does(start: str, pieces: list[str]) -> None:
    check_same(start, " ".join(pieces).replace("_", " "))
