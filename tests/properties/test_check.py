"""A check of any text whatever returns: findings, never an exception, and every span inside its file."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from recipec.book.compile import compile_book
from recipec.report import json, sarif, text

# Pieces of the language in any order find more than letters alone do.
PIECES = (
    *"[ ] { } < > -> : , ; ( ) // \\ \n\n \n \r \t \0 é 漢 \ufeff",
    *(
        "the",
        "our",
        "half",
        "rest of",
        "1/2",
        "200",
        "g",
        "tbsp",
        "cup",
        "egg",
        "butter",
        "oven",
        "220 °C",
        "74 °C core",
    ),
    *(
        "20 min",
        "alone",
        "For the crumb:",
        "serves: 4",
        "guests: 8",
        "makes: 1 l",
        "accept:",
        "-> crumb, holds 2 d chilled",
    ),
    *("or", "plus", "per plate", "2.2% of the", "optional", "[200 g butter]", "{oven}", "<20 min>", "item,pack,price"),
)
texts = st.one_of(st.text(max_size=300), st.lists(st.sampled_from(PIECES), max_size=60).map(" ".join))
NAMES = ("a.dish", "b.dish", "c.event", "d.kitchen", "prices.csv", "larder.csv", "cookbook.toml")


@settings(max_examples=150, deadline=None)
@given(st.dictionaries(st.sampled_from(NAMES), texts, min_size=1))
def test_check_returns(files: dict[str, str]) -> None:
    root = Path(__file__).parent / "no such folder"
    build = compile_book(root, files, cached=False)
    for finding in build.findings:
        assert 0 <= finding.span.start <= finding.span.end <= len(finding.span.source.text)
        assert finding.message
    for rendered in (text.render(build.findings), json.render(build.findings), sarif.render(build.findings, "0")):
        rendered.encode("utf-8")
