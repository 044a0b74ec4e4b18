"""How long each piece of gear stays taken within a dish (rule 31)."""

from __future__ import annotations

from collections.abc import Iterator

from recipec.larder.names import normal_name
from recipec.model.dish import Dish
from recipec.plan.action_types import Action, Held
from recipec.plan.attend import Attend
from recipec.plan.work_figures import GearWork


def held_of(actions: tuple[Action, ...], dish: Dish, works: tuple[GearWork, ...]) -> tuple[Held, ...]:
    """Every piece of gear, strand by strand, from the first action naming it until what is in it goes elsewhere."""
    return tuple(_held(actions, dish, works))


def _held(actions: tuple[Action, ...], dish: Dish, works: tuple[GearWork, ...]) -> Iterator[Held]:
    for strand in sorted({action.strand for action in actions}):
        own = [action for action in actions if action.strand == strand]
        marks = dict.fromkeys(mark for action in own for mark in action.marks)
        for mark in marks:
            naming = [place for place, action in enumerate(own) if mark in action.marks]
            yield _one(own, naming, mark, dish, works)


def _one(own: list[Action], naming: list[int], mark: int, dish: Dish, works: tuple[GearWork, ...]) -> Held:
    first, last = own[naming[0]], own[naming[-1]]
    for action in own[naming[-1] :]:
        if action is not last and action.place is not None and works[mark].attend is not None:
            # What a machine made goes into the fridge without it.
            return Held(mark, first.number, action.number, True)
        if action.step != last.step and _takes(action, mark, works):
            # While hands move the food both are in use; once it is in an oven or on its own, the old piece is free.
            if action.attend is Attend.HANDS:
                return Held(mark, first.number, action.number, False)
            return Held(mark, first.number, action.number, True)
        if action.last and action.made and not _stays_in(action, mark, dish):
            return Held(mark, first.number, action.number, False, turned_out=True)
    return Held(mark, first.number, own[-1].number, False)


def _takes(action: Action, mark: int, works: tuple[GearWork, ...]) -> bool:
    return mark not in action.marks and any(works[other].kind == "gear" for other in action.marks)


def _stays_in(action: Action, mark: int, dish: Dish) -> bool:
    """Whether what the step leaves is held in this very piece."""
    key = dish.gear[mark].key
    vessels = [made.hold.vessel for made in action.made if made.hold is not None and made.hold.vessel]
    return any(key == name or key.endswith(f" {name}") for name in map(normal_name, vessels))
