"""A build from the cache is the build from nothing, byte for byte, whatever was edited in between."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipec.book.compile import Build, check_book, compile_book
from recipec.book.start import start_book
from recipec.report.json import render

ROOT = Path(__file__).resolve().parents[2]

NAMES = ("white-bean-soup.dish", "friday-supper.event", "home.kitchen", "prices.csv", "cookbook.toml", "larder.csv")
SNIPPETS = (
    "\n\nStir in [20 g butter].",
    "\n\nAdd [2 onions, chopped] and [the butter]. -> base",
    "[",
    "\n\nServe with [our white bean soup].",
    "\nmeasures: us\n",
    "title = 'x'\n",
    "kelp,1 kg,3.00,shop,2026-01-01\n",
    "\u0000",
)


def seen(build: Build) -> tuple[str, str]:
    return render(build.findings), repr(build.book)


@given(
    edits=st.lists(
        st.tuples(st.sampled_from(NAMES), st.sampled_from(SNIPPETS), st.booleans(), st.booleans()), max_size=6
    )
)
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
def test_after_any_edits(tmp_path_factory: pytest.TempPathFactory, edits: list[tuple[str, str, bool, bool]]) -> None:
    folder = tmp_path_factory.mktemp("edits")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("RECIPEC_CACHE", str(folder / "cache"))
        book = folder / "book"
        start_book(book)
        assert seen(compile_book(book)) == seen(compile_book(book, cached=False))
        for name, snippet, whole, gone in edits:
            path = book / name
            if gone:
                path.unlink(missing_ok=True)
            else:
                before = "" if whole or not path.exists() else path.read_text("utf-8")
                path.write_text(before + snippet, encoding="utf-8")
            fresh = compile_book(book, cached=False)
            assert check_book(book).findings == fresh.findings
            assert seen(compile_book(book)) == seen(fresh)
            assert check_book(book).findings == fresh.findings


def test_the_demo_book_twice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from recipec.emit.paper import Request, emit_book

    monkeypatch.setenv("RECIPEC_CACHE", str(tmp_path / "cache"))
    shutil.copytree(ROOT / "recipes", tmp_path / "book")
    builds = [compile_book(tmp_path / "book"), compile_book(tmp_path / "book")]
    fresh = compile_book(tmp_path / "book", cached=False)
    wanted = emit_book(Request(fresh.book, fresh.larder, fresh.findings))
    for build in builds:
        assert seen(build) == seen(fresh)
        assert emit_book(Request(build.book, build.larder, build.findings)) == wanted
    assert list((tmp_path / "cache").glob("*.pack"))
