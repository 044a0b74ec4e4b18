"""Who takes out of an oven what nobody stands by: a pair of hands in the last minute, unless the next action begins with just that."""

from __future__ import annotations

import re
from dataclasses import replace

from recipec.model.dish import Dish, FoodAt, Role
from recipec.plan.action_types import Action, Work
from recipec.plan.attend import Attend
from recipec.plan.chunks import prose
from recipec.plan.timeline_types import Task
from recipec.plan.work_figures import seconds

# `Take it out and rest it`, `Then lift [the duck] out of {the oven}`; not `take the butter out of the fridge`. A mark is a NUL.
_TAKES_OUT = re.compile(
    r"\W*(?:then |now )?(?:(?:take|lift|pull|slide|get|bring)\b[^.,;]{0,40}\bout\b(?! of (?!\0|the oven))"
    r"|remove\b[^.,;]{0,40}\bfrom (?:\0|the oven))"
)


def taken_out_by(before: Action, work: Work, dish: Dish) -> Action | None:
    """The action of the same strand that itself takes out what `before` had in an oven: it follows, somebody is there as it begins (it
    takes hands, or is left to stand by somebody), and its words begin with taking out what is in the dish already. It must begin the
    moment `before` ends then. None where what comes out is a result that may be held."""
    if before.heat is None or before.made or any(stop.before == before.step for stop in work.stops if before.last):
        return None
    for action in work.actions:
        follows = before.number in action.after and action.after == (before.number,)
        if follows and action.attend is not Attend.REACH and _begins_with_it(action, dish):
            return action
    return None


def stays_in(before: Action, work: Work, dish: Dish) -> bool:
    """Whether it bakes on in the oven in the next action, with nothing taken out between: that goes into no other gear and is about no
    food that was not in the dish yet."""
    if before.heat is None or before.made:
        return False
    nexts = [action for action in work.actions if before.number in action.after and not action.beside]
    return bool(nexts) and all(_bakes_on(before, action, dish) for action in nexts)


def with_unloading(task: Task) -> Task:
    """The task with a pair of hands for its last minute; a touch that would fall into that goes with it. Unchanged where it is shorter."""
    each = max(task.touch_s, seconds("unload"))
    at = task.seconds - each
    if task.attend is Attend.HANDS or at < 0:
        return task
    others = tuple(one for one in task.touches if one + each <= at)
    if 0 in task.touches and 0 not in others:
        # Somebody puts it there and stays.
        return task
    return replace(task, touches=(*others, at), touch_s=each, unload=True)


def _begins_with_it(action: Action, dish: Dish) -> bool:
    first = next((dish.uses[piece.use] for piece in action.pieces if isinstance(piece, FoodAt)), None)
    known = first is None or first.role in (Role.TAKE, Role.HANDLE)
    return known and _TAKES_OUT.match(prose(action.pieces)) is not None


def _bakes_on(before: Action, action: Action, dish: Dish) -> bool:
    if action.heat is None or _TAKES_OUT.match(prose(action.pieces)):
        return False
    new = set(action.marks) - set(before.marks)
    subject = None if action.subject is None else dish.uses[action.subject]
    return not new and (subject is None or subject.role in (Role.TAKE, Role.HANDLE))
