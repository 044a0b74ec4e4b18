"""Why there is no plan: smallest sets of demands that can't all be met, and single changes that would free them, each tried.

First it is asked which kind of thing is short: time alone, the cook's hours, one pool of gear, or several together. Then
demands are let go, many at once, for as long as what is left still can't be; what is left in the end is a set from
which nothing can be let go. A search that ends without an answer counts as possible, so a set is at worst larger than
need be, never wrong.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from recipec.plan.collide_fixes import changes_for, fixes
from recipec.plan.collide_words import collision, pool_of
from recipec.plan.schedule_bounds import hands_leave, settings_of, starts
from recipec.plan.schedule_goals import impossible, may_be
from recipec.plan.schedule_model import Model, Part, PartKind
from recipec.plan.timeline_types import Attend, Collision, Problem

_MOST = 4  # collisions told of one event
_EFFORT = 1
_TAKES = (PartKind.OVEN, PartKind.GEAR, PartKind.KEEP, PartKind.HANDS)
_TIME = (PartKind.WAIT, PartKind.DUE, PartKind.FIXED, PartKind.HOLD, PartKind.STAND)


def collide(problem: Problem) -> tuple[Collision, ...]:
    """What stands in the way of a problem that has no plan, one set of demands after another, four at most. Of sets of which one holds all
    the tasks of another the smaller is told."""
    sets: list[tuple[Part, ...]] = []
    rest = problem
    while len(sets) < _MOST and not (sets and may_be(rest, _EFFORT)):
        found = smallest(rest)
        if not found:
            break
        sets.append(found)
        rest = without(rest, given_up(found))
    bare = [collision(problem, found, ()) for found in sets]
    told = []
    for place in smaller([one.tasks for one in bare]):
        # A single change need not free the other sets as well.
        others = [part for other, parts in enumerate(sets) if other != place for part in given_up(parts)]
        alone = without(problem, others)
        told.append(replace(bare[place], fixes=fixes(changes_for(alone, sets[place]))))
    return tuple(told) or (_unexplained(problem),)


def smaller(sets: Sequence[Sequence[int]]) -> list[int]:
    """The places of those sets that hold no other one whole; of equal ones the first."""
    known = [frozenset(one) for one in sets]
    return [
        place
        for place, one in enumerate(known)
        if not any(other < one or (other == one and before < place) for before, other in enumerate(known))
    ]


def _unexplained(problem: Problem) -> Collision:
    """It was proved that there is no plan, but too much work to find which few tasks it is."""
    tasks = tuple(due.task for due in problem.dues) or tuple(range(len(problem.tasks)))
    spans = tuple(dict.fromkeys(problem.tasks[task].span for task in tasks))
    text = "All of this together can't be ready in time in this kitchen; which few steps collide could not be told."
    return Collision("cannot-be-ready", text, tasks, spans, ())


def smallest(problem: Problem) -> tuple[Part, ...]:
    """Demands that can't all be met, none of which can be let go; () when no such set is found."""
    for index, task in enumerate(problem.tasks):
        if not starts(problem, task) and (task.oven is None or settings_of(problem, task)):
            return (Part(PartKind.HOURS, index),)
    asked = _Asked(problem)
    for parts in _levels(problem, asked.parts):
        if asked.impossible(parts):
            return tuple(sorted(_pared(asked, _order(problem, parts))))
    return ()


def given_up(found: Sequence[Part]) -> tuple[Part, ...]:
    """The demands of a set without which the rest of the problem is looked at: what is taken, else all of it."""
    return tuple(part for part in found if part.kind in _TAKES) or tuple(found)


def without(problem: Problem, parts: Sequence[Part]) -> Problem:
    """The problem without these demands. A task whose hours don't count is no work at all any more."""
    gone = set(parts)
    tasks = []
    for index, task in enumerate(problem.tasks):
        if Part(PartKind.HANDS, index) in gone:
            reach = Attend.REACH if task.attend is Attend.HANDS else task.attend
            task = replace(task, attend=reach, touches=(), unload=False)
        if Part(PartKind.OVEN, index) in gone:
            task = replace(task, oven=None)
        if Part(PartKind.HOURS, index) in gone:
            task = replace(task, seconds=0, attend=Attend.ALONE, touches=(), unload=False, gear=(), oven=None)
        if Part(PartKind.FIXED, index) in gone:
            task = replace(task, earliest=None, latest=None)
        gear = tuple(
            need._replace(pieces=0) if Part(PartKind.GEAR, index, place) in gone else need
            for place, need in enumerate(task.gear)
        )
        tasks.append(replace(task, gear=gear))
    links = [
        replace(
            link,
            gap_min=-problem.horizon if Part(PartKind.WAIT, index) in gone else link.gap_min,
            gap_max=None if Part(PartKind.HOLD, index) in gone else link.gap_max,
        )
        for index, link in enumerate(problem.links)
    ]
    dues = [
        replace(
            due,
            at=problem.horizon if Part(PartKind.DUE, index) in gone else due.at,
            stand_max=None if {Part(PartKind.DUE, index), Part(PartKind.STAND, index)} & gone else due.stand_max,
        )
        for index, due in enumerate(problem.dues)
    ]
    keeps = [
        replace(keep, need=keep.need._replace(pieces=0)) if Part(PartKind.KEEP, index) in gone else keep
        for index, keep in enumerate(problem.keeps)
    ]
    return replace(problem, tasks=tuple(tasks), links=tuple(links), dues=tuple(dues), keeps=tuple(keeps))


class _Asked:
    """One program with a literal for each demand, asked again and again whether some of them can be met together."""

    def __init__(self, problem: Problem) -> None:
        self.model = Model(problem, guarded=True, pairs=hands_leave(problem))
        self.parts = sorted(self.model.guards)

    def impossible(self, parts: Sequence[Part]) -> bool:
        """Proved that these can't all be."""
        self.model.model.clear_assumptions()
        self.model.model.add_assumptions([self.model.guards[part] for part in parts])
        return impossible(self.model, _EFFORT)


def _levels(problem: Problem, parts: Sequence[Part]) -> Iterator[list[Part]]:
    """Ever more of the demands, so that what is short is told by the simplest of its reasons."""
    time = [part for part in parts if part.kind in _TIME]
    yield time
    hours = [*time, *(part for part in parts if part.kind is PartKind.HOURS)]
    yield hours
    for pool in (*range(len(problem.pools)), None):
        takes = [part for part in parts if part.kind in _TAKES and pool_of(problem, part) == pool]
        if takes:
            yield [*hours, *takes]
    yield list(parts)


def _pared(asked: _Asked, parts: Sequence[Part]) -> list[Part]:
    """As many let go as can be, those first in the row before those behind."""
    kept, place, size = list(parts), 0, max(1, len(parts) // 2)
    while place < len(kept):
        fewer = kept[:place] + kept[place + size :]
        if asked.impossible(fewer):
            kept = fewer
            size = max(1, min(size, len(kept) - place))
        elif size > 1:
            size = max(1, min(size, len(kept) - place) // 2)
        else:
            place += 1
            size = max(1, (len(kept) - place) // 2)
    return kept


def _order(problem: Problem, parts: Sequence[Part]) -> list[Part]:
    """Those that say least, first: what is taken, dish by dish; hours of what comes late in its dish; at last how it all hangs together."""
    depth = [0] * len(problem.tasks)
    for _ in problem.tasks:
        before = list(depth)
        for link in problem.links:
            depth[link.after] = max(depth[link.after], depth[link.before] + problem.tasks[link.before].seconds + 1)
        if depth == before:
            break
    ranks = (
        _TAKES,
        (PartKind.HOURS,),
        (PartKind.FIXED,),
        (PartKind.HOLD, PartKind.STAND),
        (PartKind.WAIT, PartKind.DUE),
    )

    def key(part: Part) -> tuple[int, int, Part]:
        rank = next(place for place, kinds in enumerate(ranks) if part.kind in kinds)
        within = 0
        if part.kind is PartKind.HOURS:
            within = -depth[part.place]
        elif part.kind in _TAKES and part.kind is not PartKind.KEEP:
            run = problem.tasks[part.place].run
            within = -1 if run is None else run
        return rank, within, part

    return sorted(parts, key=key)
