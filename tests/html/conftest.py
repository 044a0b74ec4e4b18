"""The demo book on paper, once for all tests here."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.book.compile import compile_book
from recipec.book.photos import read_photos
from recipec.book.timeline import planned_events
from recipec.emit.paper import Request, emit_book

RECIPES = Path(__file__).parents[2] / "recipes"


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that holds every paper of the demo book."""
    build = compile_book(RECIPES)
    out = tmp_path_factory.mktemp("demo")
    for paper in emit_book(
        Request(build.book, build.larder, build.findings, read_photos(build), planned_events(build))
    ):
        file = out / paper.path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(paper.data)
    return out
