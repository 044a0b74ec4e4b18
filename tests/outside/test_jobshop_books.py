"""A published job-shop, written as a book of prose, comes out at its published optimum."""

from __future__ import annotations

from pathlib import Path

from recipec.book.compile import compile_book
from recipec.book.timeline import planned_events
from recipec.plan.timeline_types import Planned, Status
from tests.outside.jobshop import FT06, write_book
from tests.plan.timeline_check import check


def test_ft06_in_prose(tmp_path: Path) -> None:
    write_book(tmp_path / "book", FT06)
    build = compile_book(tmp_path / "book")
    assert not build.findings
    planned = planned_events(build)["shift"]
    assert isinstance(planned, Planned)
    check(planned.problem, planned.plan)
    assert (planned.plan.status, planned.plan.span_s) == (Status.BEST, FT06.optimum * 60)
