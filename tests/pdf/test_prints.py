"""Every PDF of a book: faces inside, tags, title, language, size, the same bytes twice, and no text that is markup."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

from recipec.book.compile import compile_book
from recipec.emit.card_page import card_page
from recipec.emit.paper import Request, emit_book
from recipec.emit.pdf.press import Job, job, set_type
from tests.pdf.reading import MM, faces, opened, said, squeezed

ROOT = Path(__file__).parents[2]
SIZES = {"A4": (210, 297), "A5": (148, 210), "Letter": (215.9, 279.4)}


def pdfs(papers: dict[str, bytes]) -> list[str]:
    return [path for path in papers if path.endswith(".pdf")]


def test_every_paper_that_papers_lists_is_printed(supper: dict[str, bytes]) -> None:
    names = "market cost timeline prep pull guests menu labels leftovers".split()
    assert {f"events/supper/{name}.pdf" for name in names} <= set(supper)
    assert "book.pdf" in supper
    cards = [path for path in supper if path.startswith("cards/") and path.endswith(".html")]
    assert cards and all(path.replace(".html", ".pdf") in supper for path in cards)


def test_faces_are_inside_and_tags_title_and_language_are_set(demo: dict[str, bytes], supper: dict[str, bytes]) -> None:
    for papers in (demo, supper):
        for path in pdfs(papers):
            with opened(papers[path]) as pdf:
                found = faces(pdf)
                assert found and all(found.values()), (path, found)
                assert all("Libertinus" in name or "LinBiolinum" in name or "DejaVu" in name for name in found), found
                assert pdf.Root.MarkInfo.Marked is True, path
                assert "/StructTreeRoot" in pdf.Root, path
                assert str(pdf.Root.Lang).startswith("en"), path
                assert str(pdf.docinfo["/Title"]).strip(), path
                assert "/CreationDate" not in pdf.docinfo and "/ModDate" not in pdf.docinfo, path
                assert "/JavaScript" not in str(pdf.Root.keys()) and "/OpenAction" not in pdf.Root, path


def test_the_author_is_the_books(demo: dict[str, bytes]) -> None:
    with opened(demo["book.pdf"]) as pdf:
        assert str(pdf.docinfo["/Author"]) == "Marit Hollowell"


@pytest.mark.parametrize("size", SIZES)
def test_each_paper_is_as_large_as_the_sheet_asked_for(size: str) -> None:
    for name, paper in _papers(ROOT / "tests" / "books" / "small-supper" / "src"):
        work = job(paper.form, size) if paper.form else None
        if work is None:
            continue
        with opened(set_type(work)) as pdf:
            assert 1 <= len(pdf.pages) <= 12, name
            for page in pdf.pages:
                wide, high = sorted((float(page.mediabox[2]), float(page.mediabox[3])))
                assert (wide / MM, high / MM) == pytest.approx(SIZES[size], abs=0.1), name


def _papers(folder: Path):  # type: ignore[no-untyped-def]
    build = compile_book(folder, cached=False)
    for paper in emit_book(Request(build.book, build.larder, build.findings)):
        yield paper.path, paper


def test_the_same_book_gives_the_same_bytes(supper: dict[str, bytes]) -> None:
    for name, paper in _papers(ROOT / "tests" / "books" / "small-supper" / "src"):
        work = job(paper.form) if paper.form else None
        if work is not None and name.startswith("cards/"):
            assert set_type(work) == set_type(work) == supper[name.replace(".html", ".pdf")]


def test_the_mark_of_a_job_tells_everything_that_goes_in() -> None:
    one = Job("card.typ", b'{"a":1}')
    others = (
        Job("menu.typ", b'{"a":1}'),
        Job("card.typ", b'{"a":2}'),
        Job("card.typ", b'{"a":1}', {"photo-0.svg": b"x"}),
        Job("card.typ", b'{"a":1}', {"photo-0.svg": b"y"}),
    )
    marks = {one.mark(), *(other.mark() for other in others)}
    assert len(marks) == 5 and one.mark() == dataclasses.replace(one).mark()


HOSTILE = (
    '#panic("run") #read("/etc/passwd") $x^2$ *stars* _low_ `raw` <label> @ref #set page(width: 1cm) '
    '\\u{41} \\ // note /* more */ ]] }} ) #import "x.typ": y = head - list + list ~ -- --- ... \'"\''
)


def test_a_text_full_of_markup_is_printed_and_not_obeyed(tmp_path: Path) -> None:
    (tmp_path / "cookbook.toml").write_text(f"title = {HOSTILE!a}\nauthor = '#x'\n", "utf-8")
    bare = HOSTILE.replace("<", "").replace(">", "").replace("[", "").replace("]", "").replace("{", "").replace("}", "")
    (tmp_path / "bad.dish").write_text(
        f"{bare}\nserves: 4\n\nMix [200 g #let(x)] in a {{#eval bowl}}, {bare}.\n", "utf-8"
    )
    build = compile_book(tmp_path, cached=False)
    request = Request(build.book, build.larder, build.findings)
    made = {paper.path: paper.data for paper in emit_book(request, set_type)}
    for path in pdfs(made):
        with opened(made[path]) as pdf:
            text = said(pdf)
            assert squeezed('#panic("run")') in text, path
            assert squeezed("#set page(width: 1cm)") in text, path
            assert squeezed("*stars* _low_ `raw`") in text, path
            width = float(pdf.pages[0].mediabox[2])
            assert width > 100 * MM, path


def test_what_no_page_may_turn_round_is_left_out(tmp_path: Path) -> None:
    (tmp_path / "cookbook.toml").write_text('title = "A book"\n', "utf-8")
    (tmp_path / "turned.dish").write_text("Soup \u202eegnaro\u2066 cold\nserves: 2\n\nBoil [1 l water].\n", "utf-8")
    build = compile_book(tmp_path, cached=False)
    paper = card_page(Request(build.book, build.larder, build.findings), "turned")
    assert paper.form is not None
    work = job(paper.form)
    assert work is not None
    with opened(set_type(work)) as pdf:
        assert squeezed("Soup egnaro cold") in said(pdf)
