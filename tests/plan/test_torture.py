"""Bookings that can't be done, in invented books: what collides is said at its marks, and a change that was proposed does mend it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from recipec.base.finding import Finding
from recipec.book.compile import compile_book
from recipec.book.timeline import planned_events
from recipec.plan.timeline_types import Planned, Status
from tests.plan.timeline_check import check

BOOKS = Path(__file__).parents[1] / "torture"

# Case, slug, words of the finding, words of one change it proposes, and that change made in a file of the book: (file, old, new).
CASES = [
    ("souffles", "held-too-long", "souffles, 3 min hot", "two ovens instead of one",
     ("one-oven.kitchen", "oven: 1", "oven: 2")),
    ("four-hour-set", "cannot-be-ready", "chill the rosehip creams", "arrive at 14:45",
     ("early-supper.event", "arrive: 2026-06-20 16:00", "arrive: 2026-06-20 14:45")),
    ("overnight-cure", "cannot-be-ready", "takes 12 h 17 min", "prepare the day before",
     ("jetty-supper.event", "kitchen: small", "prepare: 2026-06-19 15:00-18:00\nkitchen: small")),
    ("two-roasts", "oven-clash", "wanted at 240 °C", "two ovens instead of one",
     ("one-oven.kitchen", "oven: 1", "oven: 2")),
    ("five-pans", "not-enough-burners", "Five burners", "five burners instead of four",
     ("four-burners.kitchen", "hob: 4 burners", "hob: 5 burners")),
    ("two-sauces", "cannot-be-ready", "One pair of hands", "one more pair of hands",
     ("small.kitchen", "hands: 1", "hands: 2")),
    ("late-stock", "cannot-be-ready", "From “simmer the stock” (Veal stock)", "serve Starter at 20:30",
     ("first-frost.event", "18:30", "20:30")),
]  # fmt: skip


def test_every_book_is_here() -> None:
    assert sorted(folder.name for folder in BOOKS.iterdir()) == sorted(case[0] for case in CASES)


@pytest.mark.parametrize(("name", "slug", "words", "fix", "change"), CASES, ids=[case[0] for case in CASES])
def test_what_collides_is_said_and_a_proposed_change_mends_it(
    name: str, slug: str, words: str, fix: str, change: tuple[str, str, str], tmp_path: Path
) -> None:
    book = tmp_path / name
    shutil.copytree(BOOKS / name, book)
    build = compile_book(book)
    (planned,) = planned_events(build).values()
    assert isinstance(planned, Planned)
    assert (planned.plan.status, planned.plan.placed) == (Status.IMPOSSIBLE, ())
    said = next(finding for finding in build.findings if finding.slug == slug)
    assert words in said.message.replace("\u00a0", " "), said.message
    assert said.span.source.name.endswith(".dish")
    assert any(fix in hint.replace("\u00a0", " ") for hint in said.hints), said.hints
    file, old, new = change
    text = (book / file).read_text("utf-8")
    assert old in text
    (book / file).write_text(text.replace(old, new), "utf-8")
    mended = compile_book(book)
    assert [finding for finding in mended.findings if _of_the_kitchen(finding)] == []
    (planned,) = planned_events(mended).values()
    assert isinstance(planned, Planned)
    check(planned.problem, planned.plan)


def _of_the_kitchen(finding: Finding) -> bool:
    return finding.slug in ("oven-clash", "not-enough-burners", "cannot-be-ready", "held-too-long")
