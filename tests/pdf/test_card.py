"""The card as PDF: large enough to be read from the stove, the same words as the page, and whole strands on each side."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest

from recipec.book.compile import compile_book
from recipec.emit.card_page import FIGURE, card_page
from recipec.emit.paper import Request
from recipec.emit.pdf.press import job, set_type
from tests.pdf.reading import MM, cap_heights, opened, runs, said, squeezed

ROOT = Path(__file__).parents[2]
_MAIN = re.compile("<main>(.*)</main>", re.DOTALL)


def cards(papers: dict[str, bytes]) -> list[str]:
    return [path for path in papers if path.startswith("cards/") and path.endswith(".pdf")]


def printed(request: Request, key: str, size: str = "") -> bytes:
    paper = card_page(request, key)
    assert paper.form is not None
    work = job(paper.form, size)
    assert work is not None
    return set_type(work)


def words_of_page(page: bytes) -> str:
    """The words of a card's page, in order."""
    found = _MAIN.search(page.decode("utf-8"))
    assert found is not None
    return squeezed(html.unescape(re.sub("<[^>]*>", "", found.group(1))))


def test_a_card_says_word_for_word_what_its_page_says(demo: dict[str, bytes]) -> None:
    assert len(cards(demo)) >= 28
    for path in cards(demo):
        with opened(demo[path]) as pdf:
            assert said(pdf) == words_of_page(demo[path.replace(".pdf", ".html")]), path


@pytest.mark.parametrize("language", ["de", "fr"])
def test_it_does_so_in_other_languages_too(language: str) -> None:
    build = compile_book(ROOT / "recipes", cached=False)
    book = build.book._replace(settings=build.book.settings._replace(language=language))
    for dish in ("hake-with-clams-and-cider", "duck-breasts-with-blood-orange", "barley-and-rye-loaf"):
        request = Request(book, build.larder, build.findings)
        with opened(printed(request, dish)) as pdf:
            assert said(pdf) == words_of_page(card_page(request, dish).data), dish
            assert str(pdf.Root.Lang).startswith(language)


@pytest.mark.parametrize("size", ["A4", "A5", "Letter"])
def test_figures_are_five_millimetres_high_and_nothing_is_under_twelve_points(size: str) -> None:
    build = compile_book(ROOT / "recipes", cached=False)
    request = Request(build.book, build.larder, build.findings)
    for dish in build.book.dishes if size == "A4" else build.book.dishes[::5]:
        with opened(printed(request, dish.key, size)) as pdf:
            high = cap_heights(pdf)
            found = [run for run in runs(pdf) if run.text.strip() and run.size]
            assert min(run.size for run in found) >= 11.99, dish.key
            large = [run for run in found if run.size * high[run.face] >= 5 * MM]
            assert all(run.text == run.text.upper() for run in large if "LinBiolinum" in run.face), dish.key
            shown = squeezed("".join(run.text for run in large))
            paper = card_page(request, dish.key).data.decode("utf-8")
            wanted = re.findall('<b class="big[^"]*">([^<]*)</b>', paper)
            assert wanted
            for figure in wanted:
                assert squeezed(html.unescape(figure)) in shown, (dish.key, figure)


def test_no_figure_of_a_card_is_small(demo: dict[str, bytes]) -> None:
    for path in cards(demo):
        with opened(demo[path]) as pdf:
            high = cap_heights(pdf)
            for run in runs(pdf):
                if run.size and run.size * high[run.face] < 5 * MM and re.fullmatch(r"\d+\u00a0\D+", run.text):
                    assert FIGURE.fullmatch(run.text) is None, (path, run.text)


LONG = "".join(
    f"\nFor part {part}:\n\n" + "".join(
        f"Simmer [{step}00 g carrots] in a {{pan}} for <{step} min, until it smells of part {part} and step {step}>.\n\n"
        for step in range(1, 5)
    )
    for part in range(1, 8)
)  # fmt: skip


@pytest.mark.parametrize(("size", "least"), [("A4", 2), ("A5", 4), ("Letter", 2)])
def test_what_does_not_fit_goes_over_at_a_strand(tmp_path: Path, size: str, least: int) -> None:
    (tmp_path / "cookbook.toml").write_text('title = "A book"\n', "utf-8")
    (tmp_path / "long.dish").write_text(f"Long soup\nserves: 4\n{LONG}", "utf-8")
    build = compile_book(tmp_path, cached=False)
    data = printed(Request(build.book, build.larder, build.findings), "long", size)
    with opened(data) as pdf:
        assert len(pdf.pages) >= least
        sides = [squeezed("".join(run.text for run in runs(pdf) if run.page == page)) for page in range(len(pdf.pages))]
        for part in range(1, 8):
            holding = {
                page
                for page, text in enumerate(sides)
                for step in range(1, 5)
                if f"smellsofpart{part}andstep{step}" in text
            }
            assert len(holding) == 1, (part, holding)


def test_a_strand_longer_than_a_side_is_cut_between_lines_and_not_lost(tmp_path: Path) -> None:
    (tmp_path / "cookbook.toml").write_text('title = "A book"\n', "utf-8")
    words = " ".join(f"word{number}" for number in range(1500))
    (tmp_path / "endless.dish").write_text(f"Endless\nserves: 4\n\nBoil [1 l water] and {words}.\n", "utf-8")
    build = compile_book(tmp_path, cached=False)
    with opened(printed(Request(build.book, build.larder, build.findings), "endless")) as pdf:
        assert len(pdf.pages) > 1
        text = said(pdf)
        assert all(f"word{number}" in text for number in range(1500))
