"""Published job-shop instances, written as books of prose, come out at their published optimum."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.book.compile import compile_book
from recipec.book.timeline import planned_events
from recipec.plan.timeline_types import Planned, Status
from tests.outside.jobshop import FT06, LA01, Instance, write_book
from tests.plan.timeline_check import check


@pytest.mark.parametrize("instance", [FT06, LA01], ids=["ft06", "la01"])
def test_a_job_shop_in_prose(instance: Instance, tmp_path: Path) -> None:
    write_book(tmp_path / "book", instance)
    build = compile_book(tmp_path / "book")
    assert not build.findings
    planned = planned_events(build)["shift"]
    assert isinstance(planned, Planned)
    check(planned.problem, planned.plan)
    assert (planned.plan.status, planned.plan.span_s) == (Status.BEST, instance.optimum * 60)
