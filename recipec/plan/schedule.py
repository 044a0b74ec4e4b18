"""From a `Problem` to a `Plan`: the best there is, proved so or with a bound, or what stands in its way."""

from __future__ import annotations

from recipec.plan.collide import collide
from recipec.plan.schedule_goals import ORDER, TIDY, Found, search, span_s
from recipec.plan.schedule_model import Model
from recipec.plan.schedule_read import kept, placed, settings
from recipec.plan.schedule_tidy import fewest_switches, switches_of
from recipec.plan.timeline_types import Goal, Placed, Plan, Problem, Status


def schedule(problem: Problem, seconds: int = 20, best: bool = True) -> Plan:
    """The best plan by the aim of the problem; not `best`: any plan, with no goals, only to know whether there is one.

    `seconds` is about how long to look at most; it is counted in the solver's own measure of work, so that a slow machine takes longer and
    comes to the same plan. A goal whose bound is lower than its value was not proved.
    """
    names = ORDER[problem.aim] if best else ()
    tidy = TIDY if best else ()
    found = search(Model(problem), names, seconds, tidy)
    if not isinstance(found, Found):
        return _without(problem, found.proved)
    where = placed(problem, found)
    if where is None:
        # Pairs of hands that come and go, and work that only fits by handing over half done: who does what is decided in the search.
        found = search(Model(problem, pairs=True), names, seconds, tidy)
        if not isinstance(found, Found):
            return _without(problem, found.proved)
        where = placed(problem, found)
        assert where is not None
    if not best:
        return _plan(problem, found, where, Status.FEASIBLE, ())
    # Last of all, and no part of what is called best: see `schedule_tidy`.
    switched = switches_of(problem, where)
    bounds = [goal.bound for goal in found.goals if goal.name == "switches"]
    goals = [goal for goal in found.goals if goal.name != "switches"]
    proved = all(goal.value == goal.bound for goal in goals)
    goals.append(Goal("switches", switched, min(switched, max([fewest_switches(problem), *bounds]))))
    return _plan(problem, found, where, Status.BEST if proved else Status.FEASIBLE, tuple(goals))


def _plan(problem: Problem, found: Found, where: tuple[Placed, ...], status: Status, goals: tuple[Goal, ...]) -> Plan:
    return Plan(
        status,
        span_s(problem, found.starts),
        goals[0].bound if goals else 0,
        goals,
        where,
        kept(problem, found),
        settings(problem, found),
        (),
    )


def _without(problem: Problem, proved: bool) -> Plan:
    if not proved:
        return Plan(Status.UNKNOWN, 0, 0, (), (), (), (), ())
    return Plan(Status.IMPOSSIBLE, 0, 0, (), (), (), (), collide(problem))
