"""Plates of one dish without some food: what is made together with the others, and what is made apart (rule 26)."""

from __future__ import annotations

from typing import TypeAlias

from recipec.model.dish import Dish, FoodAt
from recipec.plan.action_types import Action, Work
from recipec.plan.batches_of_dish import batches_in, uses_in
from recipec.plan.demand import Run
from recipec.plan.leaving_out import Left

Shared: TypeAlias = tuple[tuple[tuple[int, ...], ...], ...]
"""For every action, the groups of runs that do it together, by their numbers. A run that does not do it at all is in none."""


def shared_by(dish: Dish, work: Work, runs: tuple[tuple[int, Run], ...]) -> Shared:
    """That batch and all after it are made apart; what is before it is made once for all."""
    fates = {number: _fate(dish, work, run.left) for number, run in runs}
    groups = []
    for action in work.actions:
        together = tuple(number for number, _ in runs if fates[number][action.number] == "")
        apart = tuple((number,) for number, _ in runs if fates[number][action.number] == "apart")
        groups.append((*((together,) if together else ()), *apart))
    return tuple(groups)


def touched_by(dish: Dish, work: Work, uses: frozenset[int]) -> frozenset[int]:
    """Numbers of the actions in which something of these uses is in hand."""
    fates = _fate(dish, work, Left(changed=uses))
    return frozenset(number for number, fate in enumerate(fates) if fate)


def left_out(run: Run) -> frozenset[int]:
    """Numbers of the uses that a run leaves out: the food itself, and what is made from it."""
    return run.left.gone


def _fate(dish: Dish, work: Work, left: Left) -> tuple[str, ...]:
    """For every action '' (as for everyone), `apart`, or `gone` where nothing is left to do it to."""
    if not left.touched:
        return ("",) * len(work.actions)
    batch_of = {step: batch for batch in batches_in(dish) for step in batch.steps}
    things = set(left.things)
    # What a step that is not done at all took of something leaves the rest of that as it is.
    undone = {use for step in dish.steps() if step.number in left.steps for use in uses_in(step)}
    apart: set[str] = {dish.uses[number].thing for number in left.touched - undone} - things
    fates: list[str] = []
    for action in work.actions:
        batch = batch_of.get(action.step)
        # What went before in the strand counts where it is still in hand.
        before = [
            other
            for other in action.after
            if batch is None or batch.carries is not None or batch_of.get(work.actions[other].step) is batch
        ]
        fates.append(_one(dish, action, left, apart, before, fates))
        if fates[-1] == "apart":
            apart.update(made.thing for made in action.made)
            apart.update(batch.made if batch is not None and action.last and action.step == batch.steps[-1] else ())
    return tuple(fates)


def _one(dish: Dish, action: Action, left: Left, apart: set[str], before: list[int], fates: list[str]) -> str:
    if action.step in left.steps:
        return "gone"
    foods = [dish.uses[piece.use] for piece in action.pieces if isinstance(piece, FoodAt)]
    earlier = {fates[other] for other in before}
    # `Scatter them with [the nuts]` is still done to what is in hand, without the nuts.
    in_hand = bool(earlier - {"gone"})
    if not in_hand and (foods or earlier) and all(use.number in left.gone for use in foods):
        return "gone"
    waited = {fates[other] for other in action.waits if other < len(fates)}
    if (earlier | waited) - {""}:
        return "apart"
    return "apart" if any(use.number in left.touched or use.thing in apart for use in foods) else ""
