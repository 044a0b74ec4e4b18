"""Whether there is time to cool a thing and heat it again before it is wanted.

Earliest and latest times by the waits alone, as if there were gear and hands for all of it: what is too late even so goes on hot.
"""

from __future__ import annotations

from collections.abc import Mapping

from recipec.plan.timeline_types import Attend, Problem, Task
from recipec.plan.work_figures import seconds

Key = tuple[str, str, int]


def too_late(problem: Problem, detours: Mapping[Key, int]) -> Key | None:
    """Of the things that are cooled and brought back, by the task that cools each, the last one for which time is short; None when
    there is time for all."""
    if not detours:
        return None
    order = _order(problem)
    earliest = _earliest(problem, order)
    latest = _latest(problem, order)
    margin = seconds("time in hand")
    late = [(earliest[task], key) for key, task in detours.items() if latest[task] - earliest[task] < margin]
    return max(late)[1] if late else None


def _order(problem: Problem) -> list[int]:
    """Tasks so that each stands after all it waits for. Links never run in circles; were there one, its tasks would be left out."""
    waiting = [0] * len(problem.tasks)
    after: list[list[int]] = [[] for _ in problem.tasks]
    for link in problem.links:
        waiting[link.after] += 1
        after[link.before].append(link.after)
    order = [task for task, count in enumerate(waiting) if not count]
    for task in order:
        for other in after[task]:
            waiting[other] -= 1
            if not waiting[other]:
                order.append(other)
    return order


def _earliest(problem: Problem, order: list[int]) -> list[int]:
    """Start of every task at the earliest."""
    first = min((hands.start for hands in problem.hands), default=0)
    start = [first] * len(problem.tasks)
    before: list[list[tuple[int, int]]] = [[] for _ in problem.tasks]
    for link in problem.links:
        before[link.after].append((link.before, link.gap_min))
    for task in order:
        ready = max([start[task], *(start[other] + problem.tasks[other].seconds + gap for other, gap in before[task])])
        start[task] = _there(problem, problem.tasks[task], ready)
    return start


def _there(problem: Problem, task: Task, ready: int) -> int:
    """The first time from `ready` at which somebody is there for it, to begin it if it runs alone."""
    long = 0 if task.attend is Attend.ALONE else task.seconds
    stretches: list[tuple[int, int]] = []
    for hands in problem.hands:
        if stretches and stretches[-1][1] == hands.start:
            stretches[-1] = (stretches[-1][0], hands.end)
        else:
            stretches.append((hands.start, hands.end))
    return next((max(ready, start) for start, end in stretches if max(ready, start) + long <= end), ready)


def _latest(problem: Problem, order: list[int]) -> list[int]:
    """Start of every task at the latest."""
    end = [problem.horizon] * len(problem.tasks)
    for due in problem.dues:
        end[due.task] = min(end[due.task], due.at)
    after: list[list[tuple[int, int]]] = [[] for _ in problem.tasks]
    for link in problem.links:
        after[link.before].append((link.after, link.gap_min))
    for task in reversed(order):
        for other, gap in after[task]:
            end[task] = min(end[task], end[other] - problem.tasks[other].seconds - gap)
    return [finish - task.seconds for finish, task in zip(end, problem.tasks, strict=True)]
