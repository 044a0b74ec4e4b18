"""A book whose numbers are not English builds, in its own language."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from recipec.book.build import write_build
from recipec.book.compile import compile_book
from recipec.book.start import start_book
from recipec.plan.market import market

PRICES = (
    "item;pack;price;shop;seen\r\nonion;1 kg;1,60;market;2026-10-30\r\ncelery;1 head;€1,20;market;2026-10-30\r\n"
    "cooked white beans;0,4 kg;0,95;grocer;2026-10-30\r\nsage;1 bunch;1,50;market;2026-10-30\r\n"
)


@pytest.mark.parametrize("language", ["de", "fr"])
def test_a_book_with_decimal_commas(language: str, tmp_path: Path) -> None:
    book, out = tmp_path / "book", tmp_path / "out"
    assert isinstance(start_book(book), tuple)
    english = compile_book(book, cached=False)
    settings = book / "cookbook.toml"
    settings.write_text(f'language = "{language}"\n' + settings.read_text("utf-8"), "utf-8")
    (book / "prices.csv").write_text("\ufeff" + PRICES, "utf-8", newline="")
    build = compile_book(book, cached=False)
    assert build.findings == ()
    lists = [market(one.book, one.larder, ["friday-supper"]) for one in (english, build)]
    assert lists[0].till == lists[1].till and lists[0].till is not None
    write_build(build, out)
    pages = list(out.rglob("*.html"))
    assert pages
    for page in pages:
        assert re.findall("<html[^>]*>", page.read_text("utf-8")) == [f'<html lang="{language}">']
