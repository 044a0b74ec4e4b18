"""What is in hand together in a dish: the steps of a strand from one arrow to the next, and the food that enters there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from recipec.model.dish import Dish, FoodAt, Role, Step


class Batch(NamedTuple):
    """Steps that work on one thing. `uses` are numbers of all food marks in them; `made` are the things it leaves, discards too.
    `carries` is the thing the batch before left, where that stays in hand: nothing else in the dish takes it. `final` when it is the
    dish itself."""

    strand: int
    steps: tuple[int, ...]
    uses: tuple[int, ...]
    made: tuple[str, ...]
    carries: str | None
    final: bool


def batches_in(dish: Dish) -> tuple[Batch, ...]:
    """All batches in the order of the text."""
    found = tuple(_batches(dish))
    return (*found[:-1], found[-1]._replace(final=True)) if found else ()


def _batches(dish: Dish) -> Iterator[Batch]:
    for number, strand in enumerate(dish.strands):
        steps = [block for block in strand.blocks if isinstance(block, Step)]
        begun: list[Step] = []
        carries: str | None = None
        for step in steps:
            begun.append(step)
            last = step is steps[-1]
            kept = [made.thing for made in step.makes if not made.discarded]
            if step.makes or last:
                made = tuple(one.thing for one in step.makes)
                if last and strand.makes is not None:
                    made = tuple(dict.fromkeys((*made, strand.makes)))
                uses = tuple(use for one in begun for use in uses_in(one))
                yield Batch(number, tuple(one.number for one in begun), uses, made, carries, False)
                numbers = {one.number for one in steps}
                carries = next((thing for thing in kept if not _taken_elsewhere(dish, thing, numbers)), None)
                begun = []


def uses_in(step: Step) -> Iterator[int]:
    """Numbers of the food marks of a step, in their order."""
    for sentence in step.sentences:
        for piece in sentence.pieces:
            if isinstance(piece, FoodAt):
                yield piece.use
                if piece.plus is not None:
                    yield piece.plus


def _taken_elsewhere(dish: Dish, thing: str, steps: set[int]) -> bool:
    """Whether a step outside the strand speaks of it."""
    return any(
        dish.uses[number].thing == thing and dish.uses[number].role in (Role.TAKE, Role.HANDLE)
        for step in dish.steps()
        if step.number not in steps
        for number in uses_in(step)
    )
