"""From a `Problem` to a `Plan`: the best there is, proved so or with a bound, or what stands in its way."""

from __future__ import annotations

from recipec.plan.collide import collide
from recipec.plan.schedule_goals import ORDER, Found, search, span_s
from recipec.plan.schedule_model import Model
from recipec.plan.schedule_read import kept, placed, settings
from recipec.plan.schedule_tidy import fewest_switches, switches_of
from recipec.plan.timeline_types import Goal, Plan, Problem, Status


def schedule(problem: Problem, seconds: int = 20) -> Plan:
    """The best plan by the aim of the problem.

    `seconds` is about how long to look at most; it is counted in the solver's own measure of work, so that a slow machine takes longer and
    comes to the same plan. A goal whose bound is lower than its value was not proved.
    """
    names = (*ORDER[problem.aim],)
    model = Model(problem)
    found = search(model, names, seconds)
    if not isinstance(found, Found):
        return _without(problem, found.proved)
    where = placed(problem, found)
    if where is None:
        # Pairs of hands that come and go, and work that only fits by handing over half done: who does what is decided in the search.
        found = search(Model(problem, pairs=True), names, seconds)
        if not isinstance(found, Found):
            return _without(problem, found.proved)
        where = placed(problem, found)
        assert where is not None
    # Last of all, and no part of what is called best: see `schedule_tidy`.
    switched = switches_of(problem, where)
    bounds = [goal.bound for goal in found.goals if goal.name == "switches"]
    goals = [goal for goal in found.goals if goal.name != "switches"]
    best = all(goal.value == goal.bound for goal in goals)
    goals.append(Goal("switches", switched, min(switched, max([fewest_switches(problem), *bounds]))))
    return Plan(
        Status.BEST if best else Status.FEASIBLE,
        span_s(problem, found.starts),
        found.goals[0].bound,
        tuple(goals),
        where,
        kept(problem, found),
        settings(problem, found),
        (),
    )


def _without(problem: Problem, proved: bool) -> Plan:
    if not proved:
        return Plan(Status.UNKNOWN, 0, 0, (), (), (), (), ())
    return Plan(Status.IMPOSSIBLE, 0, 0, (), (), (), (), collide(problem))
