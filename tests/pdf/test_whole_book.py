"""The whole book: contents and index name the page that a dish is on."""

from __future__ import annotations

import re

import pikepdf

from tests.pdf.reading import opened, runs, squeezed


def pages_of(data: bytes) -> list[str]:
    with opened(data) as pdf:
        found = runs(pdf)
        return [
            squeezed("".join(run.text for run in found if run.page == page and not run.artifact))
            for page in range(len(pdf.pages))
        ]


def test_contents_and_index_lead_to_the_dish(demo: dict[str, bytes]) -> None:
    pages = pages_of(demo["book.pdf"])
    titles = [
        re.search("<h1[^>]*>(.*?)</h1>", data.decode("utf-8"))
        for path, data in demo.items()
        if path.startswith("dishes/") and path.endswith(".html")
    ]
    contents = next(text for text in pages if text.startswith("contents"))
    index = "".join(pages[next(place for place, text in enumerate(pages) if text.startswith("byingredient")) :])
    for title in titles:
        assert title is not None
        name = squeezed(title.group(1).replace("&#39;", "'").replace("&amp;", "&"))
        on = next(
            place
            for place, text in enumerate(pages, 1)
            if re.match(f"[^0-9]{{0,24}}{re.escape(name)}", text) and "ontheboard" in text
        )
        found = re.search(f"{re.escape(name)}\\.*(\\d+)", contents)
        assert found is not None and found.group(1).startswith(str(on)), (name, on, found)
        assert f"{name},{on}" in index, (name, on)


def test_every_dish_is_a_bookmark(demo: dict[str, bytes]) -> None:
    with opened(demo["book.pdf"]) as pdf, pdf.open_outline() as outline:
        names = {str(below.title) for chapter in outline.root for below in chapter.children}
    assert {"Corn chowder", "Blueberry buckle"} <= names


def test_the_picture_of_a_dish_is_in(demo: dict[str, bytes]) -> None:
    with opened(demo["book.pdf"]) as pdf:
        pictures = [one for one in pdf.objects if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Image"]
        assert len(pictures) >= 1


def test_an_empty_book_has_a_cover_too(tmp_path) -> None:  # type: ignore[no-untyped-def]
    from recipec.book.compile import compile_book
    from recipec.emit.paper import Request, emit_book
    from recipec.emit.pdf.press import set_type

    (tmp_path / "cookbook.toml").write_text('title = "Nothing yet"\n', "utf-8")
    build = compile_book(tmp_path, cached=False)
    made = {paper.path: paper.data for paper in emit_book(Request(build.book, build.larder, build.findings), set_type)}
    assert "nothingyet" in "".join(pages_of(made["book.pdf"]))
