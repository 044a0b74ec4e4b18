"""Plates of one dish without some food: what is made together with the others, and what is made apart (rule 26)."""

from __future__ import annotations

from typing import TypeAlias

from recipec.model.dish import Dish, FoodAt, Role, Use
from recipec.plan.action_types import Action, Work
from recipec.plan.demand import Run

Shared: TypeAlias = tuple[tuple[tuple[int, ...], ...], ...]
"""For every action, the groups of runs that do it together, by their numbers. A run that does not do it at all is in none."""


def shared_by(dish: Dish, work: Work, runs: tuple[tuple[int, Run], ...]) -> Shared:
    """That batch and all after it are made apart; what is before it is made once for all."""
    fates = {number: _fate(dish, work, run) for number, run in runs}
    groups = []
    for action in work.actions:
        together = tuple(number for number, _ in runs if fates[number][action.number] == "")
        apart = tuple((number,) for number, _ in runs if fates[number][action.number] == "apart")
        groups.append((*((together,) if together else ()), *apart))
    return tuple(groups)


def _fate(dish: Dish, work: Work, run: Run) -> tuple[str, ...]:
    """For every action '' (as for everyone), `apart`, or `gone` where nothing is left to do it to."""
    kept = {use.number: use for use in (*run.bought, *(draw.use for draw in run.draws))}
    brought = [use for use in dish.uses if use.role in (Role.BUY, Role.OUR)]
    changed = {use.number for use in brought if kept.get(use.number) is not use}
    if not changed or not run.without:
        return ("",) * len(work.actions)
    gone_uses = {use.number for use in brought if use.number not in kept}
    of_thing: dict[str, set[int]] = {}
    for use in brought:
        of_thing.setdefault(use.thing, set()).add(use.number)
    gone = {thing for thing, numbers in of_thing.items() if numbers <= gone_uses}
    apart = {thing for thing, numbers in of_thing.items() if numbers & changed}
    fates: list[str] = []
    for action in work.actions:
        fate = _one(dish, action, gone, apart, changed, gone_uses, fates)
        fates.append(fate)
        if fate:
            (gone if fate == "gone" else apart).update(made.thing for made in action.made)
    return tuple(fates)


def left_out(dish: Dish, work: Work, run: Run) -> frozenset[int]:
    """Numbers of the uses that a run leaves out: what it does not buy, and what is made of nothing else."""
    if not run.without:
        return frozenset()
    kept = {use.number for use in (*run.bought, *(draw.use for draw in run.draws))}
    gone = {use.number for use in dish.uses if use.role in (Role.BUY, Role.OUR) and use.number not in kept}
    of_thing: dict[str, set[int]] = {}
    for use in dish.uses:
        if use.role in (Role.BUY, Role.OUR):
            of_thing.setdefault(use.thing, set()).add(use.number)
    things = {thing for thing, numbers in of_thing.items() if numbers <= gone}
    for action, fate in zip(work.actions, _fate(dish, work, run), strict=True):
        if fate == "gone":
            things.update(made.thing for made in action.made)
    return frozenset(
        gone | {use.number for use in dish.uses if use.role in (Role.TAKE, Role.HANDLE) and use.thing in things}
    )


def _one(
    dish: Dish,
    action: Action,
    gone: set[str],
    apart: set[str],
    changed: set[int],
    gone_uses: set[int],
    fates: list[str],
) -> str:
    before = {fates[other] for other in (*action.after, *action.waits) if other < len(fates)}
    foods = [dish.uses[piece.use] for piece in action.pieces if isinstance(piece, FoodAt)]
    # `Scatter them with [the nuts]` is still done to what is in hand, without the nuts.
    in_hand = any(fates[other] != "gone" for other in action.after)
    if foods and not in_hand and all(_is_gone(use, gone, gone_uses) for use in foods):
        return "gone"
    if not foods and action.after and before == {"gone"}:
        return "gone"
    if before - {""}:
        return "apart"
    return "apart" if any(use.number in changed or use.thing in apart | gone for use in foods) else ""


def _is_gone(use: Use, gone: set[str], gone_uses: set[int]) -> bool:
    return use.number in gone_uses if use.role in (Role.BUY, Role.OUR) else use.thing in gone
