"""Which parts of a dish run side by side: every step one place wide, as early as the steps that it waits for let it be.

The figure is of order, not of time: how long a step takes is the run sheet's to say.
"""

from __future__ import annotations

from typing import NamedTuple

from recipec.model.dish import Dish, Step
from recipec.plan.sheet import DishSheet, StepBlock


class Cell(NamedTuple):
    """`width` places: a step by its `number`, or where that is None nothing, or what is `ready` and waits."""

    width: int
    number: int | None
    ready: bool


class Row(NamedTuple):
    """A strand: its heading, and its cells from the first place on."""

    heading: str
    cells: tuple[Cell, ...]


class Abreast(NamedTuple):
    """`width` places in all; `waits` are sentences: what each step waits for, by its number and the compiler's words."""

    width: int
    rows: tuple[Row, ...]
    waits: tuple[tuple[int, tuple[str, ...]], ...]


def abreast(dish: Dish | None, sheet: DishSheet) -> Abreast | None:
    """The figure; None for a dish whose steps all follow each other."""
    if dish is None:
        return None
    lines = [
        (strand.heading, steps)
        for strand in dish.strands
        if (steps := [block for block in strand.blocks if isinstance(block, Step)])
    ]
    places = _places([steps for _, steps in lines])
    if len(lines) < 2 or places is None:
        return None
    width = max(places.values()) + 1
    if width == len(places):
        return None
    wanted = {number for _, steps in lines for step in steps for number in step.waits}
    rows = tuple(Row(heading.removesuffix(":"), _cells(steps, places, wanted, width)) for heading, steps in lines)
    waits = tuple(
        (block.number, block.waits)
        for strand in sheet.strands
        for block in strand.blocks
        if isinstance(block, StepBlock) and block.waits
    )
    return Abreast(width, rows, waits)


def _places(strands: list[list[Step]]) -> dict[int, int] | None:
    """The place of every step by its number; None where steps wait for each other in a circle."""
    places: dict[int, int] = {}
    left = [list(steps) for steps in strands]
    while any(left):
        ready = [steps for steps in left if steps and all(number in places for number in steps[0].waits)]
        if not ready:
            return None
        for steps in ready:
            step = steps.pop(0)
            before = [places[number] for number in step.waits]
            own = [places[other.number] for line in strands if step in line for other in line if other.number in places]
            places[step.number] = max((*before, *own), default=-1) + 1
    return places


def _cells(steps: list[Step], places: dict[int, int], wanted: set[int], width: int) -> tuple[Cell, ...]:
    cells: list[Cell] = []
    end = 0
    for step in steps:
        place = places[step.number]
        if place > end:
            cells.append(Cell(place - end, None, bool(cells)))
        cells.append(Cell(1, step.number + 1, False))
        end = place + 1
    if end < width:
        cells.append(Cell(width - end, None, steps[-1].number in wanted))
    return tuple(cells)
