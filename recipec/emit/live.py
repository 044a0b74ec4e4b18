"""Which places of a dish's page change with the plates or the measures, and what the page's script needs for that.

The dish and its sheet are gone through side by side, mark by mark. A place that does not answer to a mark has no slot, and stays as it was
written.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from types import MappingProxyType
from typing import TypeVar

from recipec.emit.live_slots import ReadingSlots, Slots, number, slots_for
from recipec.larder.larder import Larder
from recipec.measure.exported import Data
from recipec.model.book import Book
from recipec.model.dish import Aside, Block, Dish, Flag, FoodAt, GearAt, LayOut, ReadingAt, Role, Step, ThingKind, Use
from recipec.plan.lines import brought_in, merging, pieces_in
from recipec.plan.pieces import gear_name, gear_remark
from recipec.plan.reducing import burner_for
from recipec.plan.scale import scale, written_plates
from recipec.plan.scaling_notes import scaling_notes
from recipec.plan.sheet import (
    AsideBlock,
    DishSheet,
    FoodPiece,
    GearPiece,
    IngredientGroup,
    IngredientLine,
    LayOutBlock,
    ReadingPiece,
    ResultLine,
    SheetBlock,
    StepBlock,
)
from recipec.plan.styling import style_of
from recipec.plan.wording import Desk, in_number, part_word

_Shown = TypeVar("_Shown")
_Meant = TypeVar("_Meant")


@dataclass(frozen=True, slots=True)
class FoodSlots:
    """A food's slots. `use` is its amount, and where they may change, its `name`, its `tail` and its `part` (`part_now`: one stands
    there). What is said `per_plate` goes by the measures alone: in a line `by_plate` is all of it, in a step what stands before the name,
    with `by_plate_tail` after it.
    `about`: what it comes to is said so."""

    use: int | None
    name: bool = False
    tail: bool = False
    part: bool = False
    part_now: bool = False
    per_plate: bool = False
    by_plate: int | None = None
    by_plate_tail: int | None = None
    about: bool = False
    alternatives: tuple[int | None, ...] = ()

    def alternative(self, place: int) -> int | None:
        """The slot of a second choice's words."""
        return self.alternatives[place] if place < len(self.alternatives) else None


_NO_FOOD = FoodSlots(None)
_NO_READING = ReadingSlots(None, None, None, (), None)


@dataclass(frozen=True, slots=True)
class Live:
    """The slots of one page by what they are for. `data` is for the script; empty when nothing is live."""

    data: Mapping[str, Data] = field(default_factory=lambda: MappingProxyType({}))
    foods: Mapping[int, FoodSlots] = field(default_factory=lambda: MappingProxyType({}))
    results: Mapping[int, int] = field(default_factory=lambda: MappingProxyType({}))
    gears: Mapping[int, int | None] = field(default_factory=lambda: MappingProxyType({}))
    readings: Mapping[int, ReadingSlots] = field(default_factory=lambda: MappingProxyType({}))
    tools: tuple[int | None, ...] = ()

    def food(self, piece: FoodPiece | IngredientLine) -> FoodSlots:
        """Of a food mark, or a line of the board."""
        return self.foods.get(id(piece), _NO_FOOD)

    def result(self, line: ResultLine) -> int | None:
        """Of what a step leaves."""
        return self.results.get(id(line))

    def gear(self, piece: GearPiece) -> int | None:
        """Of a gear mark."""
        return self.gears.get(id(piece))

    def reading(self, piece: ReadingPiece) -> ReadingSlots:
        """Of a reading."""
        return self.readings.get(id(piece), _NO_READING)

    def tool(self, place: int) -> int | None:
        """Of the line of the gear list at `place`."""
        return self.tools[place] if place < len(self.tools) else None


STILL = Live()
"""A page on which nothing changes."""


def live(book: Book, larder: Larder, sheet: DishSheet, groups: tuple[IngredientGroup, ...]) -> Live:
    """The slots of a page that shows `sheet`, which is of its dish as written, and these groups on its board."""
    dish = book.dish(sheet.key)
    if dish is None or not dish.strands:
        return STILL
    desk = Desk(scale(dish, Fraction(1)), larder, style_of(book))
    now = Desk(scale(dish, sheet.factor, sheet.plates), larder, desk.style)
    return _Walk(book, sheet, slots_for(desk), now).live(groups)


def joins_parts(book: Book, larder: Larder, key: str) -> bool:
    """Whether the merged list of a dish has a line of several parts of one thing: then the script needs the list by marks."""
    dish = book.dish(key)
    if dish is None:
        return False
    marks = merging(Desk(scale(dish, Fraction(1)), larder, style_of(book)))
    return any(len(uses) > 1 and all(part_word(use, None) for use in uses) for uses in marks)


class _Walk:
    def __init__(self, book: Book, sheet: DishSheet, slots: Slots, now: Desk) -> None:
        self.book = book
        self.now = now
        self.sheet = sheet
        self.slots = slots
        self.dish: Dish = slots.desk.dish
        self.foods: dict[int, FoodSlots] = {}
        self.results: dict[int, int] = {}
        self.gears: dict[int, int | None] = {}
        self.readings: dict[int, ReadingSlots] = {}

    def live(self, groups: tuple[IngredientGroup, ...]) -> Live:
        self._board(groups)
        for strand, shown in zip(self.dish.strands, self.sheet.strands, strict=False):
            for block, sheet in zip(strand.blocks, shown.blocks, strict=False):
                self._block(block, sheet)
        makes = self._makes()
        tools = tuple(self._tools())
        slots = self.slots
        plates = written_plates(self.dish)
        data: dict[str, Data] = {
            "plates": None if plates is None else number(plates),
            "times": number(self.sheet.factor),
            "measures": slots.desk.style.measures,
            "makes": makes,
            "amounts": slots.amounts.found,
            "gear": slots.gears.found,
            "paces": slots.times.found,
            "words": slots.triples.found,
            "notes": _notes(self.book, slots.desk) if plates is not None or makes is not None else None,
        }
        said = {name: value for name, value in data.items() if value not in (None, [])}
        return Live(said, self.foods, self.results, self.gears, self.readings, tools)

    # ------------------------------------------------------------ the board

    def _board(self, groups: tuple[IngredientGroup, ...]) -> None:
        lines = [line for group in groups for line in group.lines]
        marks = [use for strand in self.dish.strands for use in brought_in(strand, self.dish.uses)]
        if len(lines) == len(marks):
            for line, use in zip(lines, marks, strict=True):
                self._line(line, use)
            return
        merged = merging(self.now)
        if len(lines) == len(merged):
            for line, uses in zip(lines, merged, strict=True):
                if len(uses) == 1:
                    self._line(line, uses[0])
                else:
                    self.foods[id(line)] = self._food_slots(self.slots.merged(uses), uses[0])

    def _line(self, line: IngredientLine, use: Use) -> None:
        by_plate = self.slots.by_plate(use)
        self.foods[id(line)] = replace(self._food_slots(self.slots.use(use), use), by_plate=by_plate)
        for other, choice in zip(line.alternatives, use.choices, strict=False):
            self._line(other, choice)

    def _food_slots(self, place: int | None, use: Use) -> FoodSlots:
        slot = None if place is None else self.slots.amounts.found[place]
        if not isinstance(slot, dict):
            return FoodSlots(None)
        part = bool(self.now.part(use, self.now.scaled.amount(use)))
        return FoodSlots(place, "Q" in slot or len(slot["N"]) > 1, "e" in slot or "k" in slot, "P" in slot, part)

    def _tools(self) -> Iterator[int | None]:
        # As the sheet lists them: each once, of several of one kind the greatest number.
        desk = self.now
        found: dict[tuple[str, str], tuple[int, int | None, str]] = {}
        for gear in self.dish.gear:
            if gear.same:
                continue
            remark = gear_remark(gear, desk)
            key = (gear.key, remark) if gear.amount is None else (f"{gear.key} {gear.number}", remark)
            if key not in found or found[key][0] < gear.pieces:
                name = gear_name(gear, desk, article=False)
                slot = self.slots.gear(gear._replace(same=False))
                found[key] = (gear.pieces, slot, f"{name}, {remark}" if remark else name)
        if tuple(text for _, _, text in found.values()) == self.sheet.gear:
            for _, slot, _ in found.values():
                yield slot

    # ------------------------------------------------------------ the method

    def _block(self, block: Block, sheet: SheetBlock) -> None:
        match block, sheet:
            case LayOut(), LayOutBlock():
                for line, use in zip(sheet.lines, block.uses, strict=False):
                    self._line(line, self.dish.uses[use])
            case ((Step() | Aside()), (StepBlock() | AsideBlock())):
                pieces = sheet.pieces
                marks = [self.dish.uses[place] for place in _uses(block)]
                for piece, mark in _side_by_side([one for one in pieces if isinstance(one, FoodPiece)], marks):
                    self._food(piece, mark)
                gears = [self.dish.gear[piece.gear] for piece in pieces_in(block) if isinstance(piece, GearAt)]
                for tool, gear in _side_by_side([one for one in pieces if isinstance(one, GearPiece)], gears):
                    self.gears[id(tool)] = self.slots.gear(gear)
                readings = [piece.reading for piece in pieces_in(block) if isinstance(piece, ReadingAt)]
                dials = [one for one in pieces if isinstance(one, ReadingPiece)]
                for dial, reading in _side_by_side(dials, readings):
                    self.readings[id(dial)] = self.slots.reading(reading)
        if isinstance(block, Step) and isinstance(sheet, StepBlock):
            for result, made in _side_by_side(list(sheet.results), list(block.makes)):
                if made.amount is not None:
                    self.results[id(result)] = self.slots.plain(made.amount)

    def _food(self, piece: FoodPiece, use: Use) -> None:
        slot = self.slots.use(use) if piece.amount is not None or piece.comes_to is not None else None
        before, after = self.slots.by_plate_here(use) if Flag.PER_PLATE in use.flags else (None, None)
        slots = self._food_slots(slot, use)
        self.foods[id(piece)] = replace(
            slots,
            # A share's name is as the cook wrote it, and only what is bought says its part in front.
            name=slots.name and piece.amount is not None,
            part=slots.part and piece.amount is not None and use.role is Role.BUY,
            per_plate=Flag.PER_PLATE in use.flags,
            by_plate=before,
            by_plate_tail=after,
            about=piece.comes_to is not None and piece.amount is None and self._is_made(use),
            alternatives=tuple(
                self.slots.use(choice._replace(flags=frozenset()), alternative=True) for choice in use.choices
            ),
        )

    def _is_made(self, use: Use) -> bool:
        return any(thing.key == use.thing and thing.kind is ThingKind.MADE for thing in self.dish.things)

    def _makes(self) -> int | None:
        makes = self.dish.makes
        if makes is None or not self.sheet.makes:
            return None
        total = makes.amount.total()
        if total is None:
            return None
        if makes.noun:
            other = in_number(makes.noun, None, not total.high > 1, self.slots.desk.tongue)
            return self.slots.plain(makes.amount, (makes.noun, other))
        if total.unit.name == "piece":
            tongue = self.slots.desk.tongue
            one, many = (tongue.form("piece", "pieces", several, context="unit") for several in (False, True))
            return self.slots.plain(makes.amount, (one, many), by_shown=True)
        return self.slots.plain(makes.amount)


def _uses(block: Step | Aside) -> Iterator[int]:
    for piece in pieces_in(block):
        if isinstance(piece, FoodAt):
            yield piece.use
            if piece.plus is not None:
                yield piece.plus


def _side_by_side(shown: list[_Shown], meant: list[_Meant]) -> Iterable[tuple[_Shown, _Meant]]:
    return zip(shown, meant, strict=True) if len(shown) == len(meant) else ()


# ---------------------------------------------------------------- what a cook must be told of another number of plates


def _notes(book: Book, desk: Desk) -> Data:
    """Sentences that stand whatever the factor (`any`), past two times (`more`) or a half (`less`, where they are others); `varies` when
    there are others still, which only a card for that many plates has."""
    burner = burner_for(book, desk.dish)

    def at(factor: Fraction) -> list[str]:
        scaled = Desk(scale(desk.dish, factor), desk.larder, desk.style)
        notes = list(scaling_notes(scaled, burner))
        # The first is how many times it is, which the script says itself.
        return notes[1:] if factor > 2 or factor * 2 < 1 else notes

    thrice, third = at(Fraction(3)), at(Fraction(1, 3))
    if not thrice and not third:
        return None
    near, more = at(Fraction(3, 2)), at(Fraction(5)) if thrice else []
    fifth = third if third == thrice else at(Fraction(1, 5))
    always = [note for note in near if note in thrice and note in third]
    up = [note for note in thrice if note in more and note not in always]
    down = [note for note in third if note in fifth and note not in always]
    varies = any(note not in always and note not in up for note in (*near, *thrice, *more))
    found: dict[str, Data] = {"any": always, "more": up, "less": None if down == up else down, "varies": varies}
    return {name: value for name, value in found.items() if value is not None}
