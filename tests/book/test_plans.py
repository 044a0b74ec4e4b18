"""Plans are kept by the work they plan: found again when only the text has moved, never when the work has changed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from recipec.base.source import Source
from recipec.base.span import Span
from recipec.book.plans import PlanStore
from recipec.plan.timeline_types import Planned, Problem
from tests.plan.plans import impossible, lunch


class Planner:
    """Counts how often it was asked."""

    def __init__(self, answer: Planned) -> None:
        self.answer = answer
        self.asked = 0

    def __call__(self, problem: Problem) -> Planned:
        self.asked += 1
        return replace(self.answer, problem=problem)


def moved(problem: Problem) -> Problem:
    """The same work, its text three lines further down."""

    def shift(span: Span) -> Span:
        return Span(Source(span.source.name, "\n\n\n" + span.source.text), span.start + 3, span.end + 3)

    return replace(
        problem,
        tasks=tuple(replace(task, span=shift(task.span)) for task in problem.tasks),
        links=tuple(link if link.span is None else replace(link, span=shift(link.span)) for link in problem.links),
        dues=tuple(due if due.span is None else replace(due, span=shift(due.span)) for due in problem.dues),
    )


@pytest.mark.parametrize("made", [lunch, impossible])
def test_a_plan_is_made_once(made: object, tmp_path: Path) -> None:
    planned = made()  # type: ignore[operator]
    planner, store = Planner(planned), PlanStore(tmp_path)
    first = store.planned(planned.problem, planner)
    again = PlanStore(tmp_path).planned(planned.problem, planner)
    assert (planner.asked, again) == (1, first)
    assert first == planned


def test_text_that_only_moves_keeps_its_plan_and_its_marks_are_the_new_ones(tmp_path: Path) -> None:
    planned = impossible()
    planner, store = Planner(planned), PlanStore(tmp_path)
    store.planned(planned.problem, planner)
    other = moved(planned.problem)
    found = store.planned(other, planner)
    assert planner.asked == 1
    assert found.problem is other
    for old, new in zip(planned.plan.collisions, found.plan.collisions, strict=True):
        assert [span.start + 3 for span in old.spans] == [span.start for span in new.spans]


def test_other_work_is_another_plan(tmp_path: Path) -> None:
    planned = lunch()
    planner, store = Planner(planned), PlanStore(tmp_path)
    store.planned(planned.problem, planner)
    first = planned.problem.tasks[0]
    longer = replace(planned.problem, tasks=(replace(first, seconds=first.seconds + 1), *planned.problem.tasks[1:]))
    store.planned(longer, planner)
    store.planned(replace(planned.problem, aim="short"), planner)
    assert planner.asked == 3


@pytest.mark.parametrize("spoil", [b"", b"recipec plan 1\n", b"x" * 500, None])
def test_a_damaged_plan_is_made_again(spoil: bytes | None, tmp_path: Path) -> None:
    planned = lunch()
    planner, store = Planner(planned), PlanStore(tmp_path)
    store.planned(planned.problem, planner)
    (file,) = tmp_path.glob("*.plan")
    data = file.read_bytes()
    file.write_bytes(data[:-7] + b"spoiled" if spoil is None else spoil)
    assert store.planned(planned.problem, planner) == planned
    assert planner.asked == 2
    assert store.planned(planned.problem, planner) == planned
    assert planner.asked == 2


def test_no_folder_keeps_nothing_and_an_unwritable_one_is_no_matter(tmp_path: Path) -> None:
    planned = lunch()
    planner = Planner(planned)
    (tmp_path / "file").write_text("in the way")
    for store in (PlanStore(None), PlanStore(tmp_path / "file" / "plans")):
        assert store.planned(planned.problem, planner) == planned
        assert store.planned(planned.problem, planner) == planned
    assert planner.asked == 4
