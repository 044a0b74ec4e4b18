"""What late guests do to a plan: what breaks, and what can wait."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from recipec.plan.collide_fixes import postponed
from recipec.plan.schedule_goals import Found, search
from recipec.plan.schedule_model import Model
from recipec.plan.timeline_types import Attend, Broken, Late, Plan, Problem, Task, Work

MINUTES = (15, 30, 45)
_EFFORT = 3


def lateness(problem: Problem, plan: Plan, minutes: Sequence[int] = MINUTES) -> tuple[Late, ...]:
    """For each number of minutes, what happens when all courses go so much later, learnt when the first was due.

    What had begun then stays as it was planned, but for plating: nobody plates for an empty table. All the rest is placed anew: so that
    holds are overstepped by as little as can be in all, and rather in the pot than on the plate; then so that things wait as little as
    can be. () when there is no plan.
    """
    if not plan.placed or not problem.courses:
        return ()
    return tuple(_late(problem, plan, one) for one in minutes)


def celsius_of(plan: Plan, task: int) -> int | None:
    """What the oven of a task is set to, tenths of °C; None when it has none."""
    place = plan.placed[task]
    if place.oven is None:
        return None
    return next(
        (
            one.celsius
            for one in plan.settings
            if one.oven == place.oven and one.start <= place.start and place.end <= one.end
        ),
        None,
    )


def _late(problem: Problem, plan: Plan, minutes: int) -> Late:
    seconds = minutes * 60
    learnt = min(course.at for course in problem.courses)
    begun = {one.task for one in plan.placed if one.start < learnt and not _plates_first(problem, one.task, learnt)}
    later = _later(problem, plan, begun, learnt, seconds)
    pins = {
        task: (oven, celsius)
        for task in sorted(begun)
        if (oven := plan.placed[task].oven) is not None and (celsius := celsius_of(plan, task)) is not None
    }
    found = search(Model(later, soft=True, pins=pins), ("over", "stands", "fresh"), _EFFORT, ())
    if not isinstance(found, Found):
        return Late(minutes, (), (), ())
    waits = [one.task for one in plan.placed if one.task not in begun and found.starts[one.task] > one.start]
    return Late(
        minutes,
        broken(later, found.starts),
        tuple(sorted(waits, key=lambda task: (found.starts[task], task))),
        found.starts,
        _stays(problem, found.starts),
    )


def _plates_first(problem: Problem, task: int, learnt: int) -> bool:
    run = problem.tasks[task].run
    course = problem.runs[run].course if run is not None else None
    return problem.tasks[task].work is Work.PLATE and course is not None and problem.courses[course].at == learnt


def _later(problem: Problem, plan: Plan, begun: set[int], learnt: int, seconds: int) -> Problem:
    """The courses later, the cook there so much longer, what has begun where it was."""
    hours = problem.hands[-1:]
    longer = replace(
        problem,
        horizon=problem.horizon + seconds,
        hands=(*problem.hands[:-1], *(one._replace(end=one.end + seconds) for one in hours)),
    )
    moved = postponed(longer, range(len(problem.courses)), seconds)
    assert moved is not None, "there is as much more time as the courses are later"

    def task(index: int, one: Task) -> Task:
        if index in begun:
            return replace(one, earliest=plan.placed[index].start, latest=plan.placed[index].end)
        return replace(one, earliest=max(learnt, one.earliest or 0))

    return replace(moved, tasks=tuple(task(index, one) for index, one in enumerate(moved.tasks)))


def broken(problem: Problem, starts: Sequence[int]) -> tuple[Broken, ...]:
    """Holds that a plan oversteps, worst first."""
    found = []
    for link in problem.links:
        wait = starts[link.after] - starts[link.before] - problem.tasks[link.before].seconds
        if link.gap_max is not None and wait > link.gap_max:
            found.append(Broken(link.before, wait - link.gap_max, link.hold, link.span, used_by=link.after))
    for due in problem.dues:
        stands = due.at - starts[due.task] - problem.tasks[due.task].seconds
        if due.stand_max is not None and stands > due.stand_max:
            found.append(Broken(due.task, stands - due.stand_max, due.hold, due.span, course=due.course))
    return tuple(sorted(found, key=lambda one: (-one.by, one.task)))


def _stays(problem: Problem, starts: Sequence[int]) -> int:
    last = max((hours.end for hours in problem.hands), default=0)
    ends = [
        start + task.seconds
        for start, task in zip(starts, problem.tasks, strict=True)
        if task.attend is not Attend.ALONE
    ]
    return max(0, max(ends, default=0) - last)
