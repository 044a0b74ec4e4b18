"""How long food may wait between two tasks: what the dish says, else what is common practice for food in that state."""

from __future__ import annotations

from typing import NamedTuple

from recipec.base.span import Span
from recipec.measure.language import ENGLISH, Language
from recipec.model.dish import Dish, FoodAt, Made
from recipec.model.reading import Hold, State
from recipec.plan.action_types import Action, StopAt, Work
from recipec.plan.timeline_types import Attend, Why
from recipec.plan.wording import hold_text
from recipec.plan.work_figures import seconds

_WARM_REST = frozenset({"rest", "settle", "sink", "relax", "stand"})


class Wait(NamedTuple):
    """At most so many seconds (None: as long as one likes), why, in words, and where it is written."""

    gap_max: int | None
    why: Why
    words: str = ""
    span: Span | None = None


def limit_of(hold: Hold) -> int:
    """Seconds that a hold allows. Of a range the short end: food is not held on a hope."""
    return int(hold.low)


def wait_within(work: Work, before: Action, after: Action, dish: Dish, tongue: Language = ENGLISH) -> Wait:
    """Between two actions of one strand that follow one another."""
    made = used_of(before, after, dish) if before.last else ()
    stop = next((stop for stop in work.stops if stop.before == before.step and stop.after == after.step), None)
    if stop is not None:
        return _stopped(stop, tongue)
    if made:
        return wait_made(before, made[0], tongue)
    return _by_state(before, after)


def used_of(before: Action, after: Action, dish: Dish) -> tuple[Made, ...]:
    """What `before` leaves that `after` names; all of it where it names none of it."""
    kept = tuple(made for made in before.made if not made.discarded)
    named = {dish.uses[piece.use].thing for piece in after.pieces if isinstance(piece, FoodAt)}
    return tuple(made for made in kept if made.thing in named) or kept


def wait_made(before: Action, made: Made, tongue: Language = ENGLISH) -> Wait:
    """For what an arrow leaves: its hold; where it says none, it is used the same day, and soon when it is hot."""
    if made.hold is not None:
        return Wait(limit_of(made.hold), Why.HOLD, f"{made.name}, {hold_text(made.hold, tongue)}", made.span)
    return Wait(seconds("stand made hot" if before.hot else "stand made"), Why.MADE, span=made.span)


def wait_after(before: Action) -> Wait:
    """For the work of another strand that leaves no named thing."""
    return Wait(seconds("stand made hot" if before.hot else "stand made"), Why.MADE)


def _stopped(stop: StopAt, tongue: Language) -> Wait:
    words = tongue.say("stop here, %(hold)s", hold=hold_text(stop.hold, tongue))
    return Wait(limit_of(stop.hold), Why.HOLD, words, stop.span)


def _by_state(before: Action, after: Action) -> Wait:
    why = Why.SET if before.standing else Why.ORDER
    if before.place is not None and before.standing:
        # In the freezer it keeps: nothing here is frozen for less than its holds say.
        return Wait(None if before.verb == "freeze" else seconds("stand in the fridge"), why)
    if before.standing:
        return Wait(seconds("stand resting" if before.verb in _WARM_REST else "stand at room temperature"), why)
    if before.hot:
        return Wait(seconds("stand hot"), why)
    if before.step == after.step and before.attend is Attend.HANDS:
        return Wait(seconds("stand in a step"), why)
    return Wait(seconds("stand at room temperature"), why)


def is_cold(hold: Hold) -> bool:
    """Whether it is held in a fridge or a freezer."""
    return hold.state in (State.CHILLED, State.FROZEN)
