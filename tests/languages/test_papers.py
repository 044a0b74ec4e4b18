"""Books in German and French: no word of ours is left in English, and every paper is set as its language is."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

import pytest
from jinja2 import Environment, nodes

from recipec.base.places import site_dir
from recipec.book.timeline import planned_events
from recipec.emit.card_text import card_text
from recipec.emit.desk import sheet
from recipec.emit.market_text import market_text
from recipec.emit.request import Request
from recipec.emit.timeline_text import timeline_text
from recipec.larder.larder import builtin
from recipec.measure.language import Language
from recipec.measure.show import Style
from recipec.plan.market import market
from recipec.plan.styling import style_of
from tests.languages.papers import build_in, papers, wanting
from tests.plan.plans import lunch

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "recipes"
SMALL = ROOT / "tests" / "books" / "small-supper" / "src"
EXPECTED = Path(__file__).with_name("expected")
LANGUAGES = ("de", "fr")

_TAG = re.compile(r"<[^>]*>", re.DOTALL)
_UNSEEN = re.compile(r"<(style|script)\b.*?</\1>|<span lang=\"en\">.*?</span>", re.DOTALL)
_SAID_BY_ATTRIBUTE = re.compile(r'(?:aria-label|alt|title|data-head|data-clocks)="([^"]*)"')
_LETTERS = re.compile(r"[^\W\d_]{2,}")
# A rule set's own words and the sources of its figures, and what the tables of stand-ins and the findings say, are English everywhere.
_QUOTED = ("guidance", "rules.tsv", "paper_limits.tsv", "cheaper.tsv", "stand_ins.tsv")


def text_of(page: str) -> str:
    """All that is seen, heard or pointed at on a page."""
    page = _UNSEEN.sub(" ", page)
    return html.unescape(" ".join((_TAG.sub(" ", page), *_SAID_BY_ATTRIBUTE.findall(page))))


@pytest.mark.parametrize("language", LANGUAGES)
def test_nothing_that_the_demo_book_asks_for_is_wanting(language: str) -> None:
    with wanting() as found:
        made = list(papers(build_in(DEMO, language), {}))
    assert len(made) > 150
    assert not found


@pytest.mark.parametrize("language", LANGUAGES)
def test_nothing_that_a_planned_book_asks_for_is_wanting(language: str) -> None:
    with wanting() as found:
        build = build_in(SMALL, language)
        plans = planned_events(build, tuple(event.key for event in build.book.events))
        names = [name for name, _ in papers(build, dict(plans))]
    assert any(name.endswith("timeline.html") for name in names)
    assert not found


def _veiled(message: str) -> str:
    """A message in letters that no book of ours has, its placeholders kept."""
    return re.sub(
        r"(%\(\w+\)s|%%)|([A-Za-z])",
        lambda found: found[1] or chr(ord("\N{CYRILLIC SMALL LETTER A}") + ord(found[2].lower()) - ord("a")),
        message,
    )


def test_every_word_of_ours_goes_through_the_catalogue() -> None:
    """With all that is asked for veiled, the words left are the cooks', the larder's, or quoted."""

    def say(self: Language, message: str, /, *, context: str = "", **values: object) -> str:
        return _veiled(message) % values if values else _veiled(message)

    def form(self: Language, one: str, many: str, several: bool, /, *, context: str = "", **values: object) -> str:
        return say(self, many if several else one, context=context, **values)

    build = build_in(DEMO, "de")
    # Another language to show than to check with, lest amounts that are kept from that be shown.
    book = build.book._replace(settings=build.book.settings._replace(language="de-AT"))
    build = replace(build, book=book)
    with patch.object(Language, "say", say), patch.object(Language, "form", form):
        made = list(papers(build, {}))
    known = " ".join(file.read_text(encoding="utf-8") for file in DEMO.rglob("*.*") if file.suffix != ".png")
    known += " ".join(finding.message + (finding.accepted or "") for finding in build.findings)
    known += " ".join(f"{item.name} {item.plural} {' '.join(item.named)}" for item in builtin().all())
    known += " ".join(
        file.read_text(encoding="utf-8") for file in (ROOT / "recipec").rglob("*.tsv") if file.name in _QUOTED
    )
    known += (
        " as published from memory common practice beaten Januar Februar März April August Montag Dienstag Mittwoch"
    )
    known += " Donnerstag Freitag Samstag Sonntag Sa So Mo Di Mi Do Fr Jan Feb Apr Aug Jänner"
    allowed = {word.casefold() for word in _LETTERS.findall(known)}
    left = {
        (name, word)
        for name, text in made
        if name.endswith((".html", ".txt"))
        for word in _LETTERS.findall(text_of(text) if name.endswith(".html") else text)
        # Hashes and cut titles are no words.
        if word.isascii() and word.casefold() not in allowed and not re.fullmatch("[a-f]+", word)
    }
    cut = {(name, word) for name, word in left if any(one.startswith(word.casefold()) for one in allowed)}
    assert not left - cut


def test_no_template_says_a_word_of_its_own() -> None:
    env = Environment(autoescape=True)
    for file in sorted((site_dir() / "templates").glob("*")):
        tree = env.parse(file.read_text(encoding="utf-8"))
        data = _inside("\x00".join(part.data for part in _in_order(tree)))
        said = _LETTERS.findall(html.unescape(data))
        assert not said, f"{file.name}: {said}"


def _in_order(tree: nodes.Node) -> Iterator[nodes.TemplateData]:
    """What a template says itself, as it stands there."""
    for child in tree.iter_child_nodes():
        if isinstance(child, nodes.TemplateData):
            yield child
        else:
            yield from _in_order(child)


def _inside(text: str) -> str:
    """Without tags, and without attributes that a condition sets."""
    return re.sub('[\\w-]+\x00?="[^"]*"?>?', " ", _TAG.sub(" ", text))


@pytest.mark.parametrize("language", LANGUAGES)
def test_pages_name_their_language_and_set_its_numbers(language: str) -> None:
    made = dict(papers(build_in(DEMO, language), {}))
    pages = [text for name, text in made.items() if name.endswith(".html")]
    assert pages and all(f'<html lang="{language}">' in page for page in pages)
    event = next(name for name in made if name.endswith("/market.html"))
    assert re.search(r"\d,\d\d\u00a0£", made[event])
    assert not re.search(r"£\d", made[event])


def _papers_kept(language: str) -> dict[str, str]:
    build = build_in(SMALL, language)
    request = Request(build.book, build.larder, build.findings)
    listed = market(build.book, build.larder, ("supper",), style_of(build.book))
    dish = build.book.dishes[0].key
    return {
        "card": card_text(sheet(request, dish), language),
        "market": market_text(listed, language),
        "run-sheet": timeline_text(lunch(), (), Style(language=language)),
    }


@pytest.mark.parametrize("language", LANGUAGES)
def test_papers_are_as_they_were_read(language: str, update: bool) -> None:
    for name, text in _papers_kept(language).items():
        file = EXPECTED / language / f"{name}.txt"
        if update:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(text, encoding="utf-8", newline="\n")
        assert text == file.read_text(encoding="utf-8")
