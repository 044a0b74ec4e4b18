"""Room in fridge and freezer."""

from __future__ import annotations

import math

from recipec.measure.quantity import Amount
from recipec.model.dish import Dish, FoodAt
from recipec.plan.action_types import Action
from recipec.plan.lengths import millilitres
from recipec.plan.wording import Desk
from recipec.plan.work_figures import figure


def boxed(amount: Amount | None) -> int:
    """Millilitres that so much takes in its box; 0 where the amount is not known, or comes by the piece."""
    held = millilitres(amount)
    return 0 if held is None else math.ceil(held * figure("box"))


def room_for(action: Action, before: tuple[Action, ...], dish: Dish, desk: Desk) -> int:
    """For what an action chills or freezes: what it leaves, else the foods it names, as far as they are known. `before` are the actions of
    its step up to it: where it names none of a known amount (`Chill it`), the foods of those."""
    made = [desk.scaled.made(made) for made in action.made if not made.discarded]
    if any(amount is not None for amount in made):
        return sum(boxed(amount) for amount in made)
    return _named((action,), dish, desk) or _named(before, dish, desk)


def _named(actions: tuple[Action, ...], dish: Dish, desk: Desk) -> int:
    uses = [dish.uses[piece.use] for action in actions for piece in action.pieces if isinstance(piece, FoodAt)]
    return sum(boxed(desk.scaled.amount(use)) for use in uses)
