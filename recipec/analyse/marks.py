"""The tree of a dish laid flat: strands, steps by number, and every mark with its place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from recipec.base.span import Span
from recipec.syntax import tree


class Place(NamedTuple):
    """Where a mark stands. `step` is the dish's step number; None in a lay-out or an aside."""

    strand: int
    step: int | None
    aside: bool


class FoodMark(NamedTuple):
    """A food mark in its place."""

    food: tree.Food
    place: Place


class GearMark(NamedTuple):
    """A gear mark in its place."""

    gear: tree.Gear
    place: Place


@dataclass(slots=True)
class StrandOutline:
    """A strand's blocks with step numbers (None for what is no step), before anything is known of them."""

    heading: tree.Heading | None
    blocks: list[tuple[tree.Block, int | None]] = field(default_factory=list)

    def last_step(self) -> tuple[tree.Step, int] | None:
        """The step that ends the strand, with its number."""
        for block, number in reversed(self.blocks):
            if isinstance(block, tree.Step) and number is not None:
                return block, number
        return None

    @property
    def has_marks(self) -> bool:
        """Whether any food, gear or reading is marked in its steps: without, nothing is known of what it makes."""
        return any(
            not isinstance(piece, tree.Words)
            for block, number in self.blocks
            if number is not None
            for piece in pieces_of(block)
        )


def outline(file: tree.File) -> tuple[StrandOutline, ...]:
    """The strands of a dish in the order of the text. Text before the first heading is a strand when there is any."""
    strands: list[StrandOutline] = []
    number = 0
    for block in file.blocks:
        if isinstance(block, tree.Heading):
            strands.append(StrandOutline(block))
            continue
        if isinstance(block, tree.Remark | tree.Lost):
            continue
        if not strands:
            strands.append(StrandOutline(None))
        if isinstance(block, tree.Step):
            strands[-1].blocks.append((block, number))
            number += 1
        else:
            strands[-1].blocks.append((block, None))
    return tuple(strands)


def final_strand(strands: tuple[StrandOutline, ...]) -> int:
    """The strand that is the dish: the last one in which anything is marked (`Notes:` may follow it), else the last."""
    return next((index for index in range(len(strands) - 1, -1, -1) if strands[index].has_marks), len(strands) - 1)


def pieces_of(block: tree.Block) -> Iterator[tree.Piece]:
    """Every piece of prose of a block, in order."""
    match block:
        case tree.Step():
            for sentence in block.sentences:
                yield from sentence.pieces
        case tree.LayOut():
            yield from block.foods
        case tree.Aside():
            yield from block.pieces
        case _:
            return


def food_marks(strands: tuple[StrandOutline, ...]) -> Iterator[FoodMark]:
    """Every food mark, in the order of the text."""
    for index, strand in enumerate(strands):
        for block, step in strand.blocks:
            place = Place(index, step, isinstance(block, tree.Aside))
            for piece in pieces_of(block):
                if isinstance(piece, tree.Food):
                    yield FoodMark(piece, place)


def gear_marks(strands: tuple[StrandOutline, ...]) -> Iterator[GearMark]:
    """Every gear mark, in the order of the text."""
    for index, strand in enumerate(strands):
        for block, step in strand.blocks:
            for piece in pieces_of(block):
                if isinstance(piece, tree.Gear):
                    yield GearMark(piece, Place(index, step, isinstance(block, tree.Aside)))


def before_last(span: Span) -> Span:
    """The empty stretch at the end of `span`: where something is missing."""
    return Span(span.source, span.end, span.end)
