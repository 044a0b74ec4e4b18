"""Books on paper, once for all tests here."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.book.compile import compile_book
from recipec.book.photos import read_photos
from recipec.book.timeline import planned_events
from recipec.emit.paper import Request, emit_book
from recipec.emit.pdf.press import set_type

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def demo() -> dict[str, bytes]:
    """The demo book without plans: every page and every PDF by path."""
    build = compile_book(ROOT / "recipes", cached=False)
    request = Request(build.book, build.larder, build.findings, read_photos(build))
    return {paper.path: paper.data for paper in emit_book(request, set_type)}


@pytest.fixture(scope="session")
def supper() -> dict[str, bytes]:
    """A small book with the plan of its event."""
    build = compile_book(ROOT / "tests" / "books" / "small-supper" / "src", cached=False)
    request = Request(build.book, build.larder, build.findings, plans=planned_events(build))
    return {paper.path: paper.data for paper in emit_book(request, set_type)}
