"""A dish as it is made without some food: the same steps with the food and all that is made from it taken out, ready for a card."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.dish import (
    Aside,
    Block,
    Dish,
    FoodAt,
    GearAt,
    GearUse,
    LayOut,
    Piece,
    Role,
    Sentence,
    Step,
    Strand,
    Use,
    Words,
)
from recipec.plan.leaving_out import NOTHING, Leaving, Left
from recipec.plan.links import Links
from recipec.plan.wording import bare_name


def version_book(book: Book, larder: Larder, key: str, foods: tuple[str, ...]) -> Book:
    """The book in which that dish, and every dish it is made with, is made without `foods`. All other dishes stay as they are.

    Raises KeyError when the book has no such dish: the caller's mistake. What can't be left out is for the caller to have told before.
    """
    links = Links(book)
    dish = links.dish(key)
    if dish is None:
        raise KeyError(key)
    leaving = Leaving(links, larder)
    named = leaving.named(dish, foods)
    leaving.left(dish, named)
    made = {part.key: version_dish(part, leaving, named) for part in leaving.all_of(dish, named)}
    return book._replace(dishes=tuple(made.get(one.key, one) for one in book.dishes))


def version_dish(dish: Dish, leaving: Leaving, foods: tuple[str, ...]) -> Dish:
    """One dish without `foods`, by their names in it. Steps keep their numbers, so that the two cards can be read side by side."""
    left = leaving.left(dish, foods)
    barred = any(leaving.barred(dish, choice, foods) for use in dish.uses for choice in use.choices)
    if left == NOTHING or not (left.touched or barred):
        return dish
    return _Version(dish, leaving, foods, left).dish()


@dataclass(slots=True)
class _Version:
    before: Dish
    leaving: Leaving
    foods: tuple[str, ...]
    left: Left
    swapped: dict[int, Use] = field(default_factory=dict)
    numbers: dict[int, int] = field(default_factory=dict)
    gear: dict[int, int] = field(default_factory=dict)

    def dish(self) -> Dish:
        """All of it, renumbered."""
        before = self.before
        self.swapped = dict(self.left.swapped)
        kept = [use for use in before.uses if use.number not in self.left.gone]
        self.numbers = {use.number: place for place, use in enumerate(kept)}
        self._gear()
        uses = tuple(self._use(use) for use in kept)
        places: dict[int, int] = {}
        strands: list[Strand] = []
        for place, strand in enumerate(before.strands):
            blocks = tuple(self._blocks(strand))
            if blocks:
                places[place] = len(strands)
                strands.append(strand._replace(blocks=blocks))
        return before._replace(
            uses=uses,
            gear=tuple(self._gear_uses()),
            strands=tuple(
                strand._replace(needs=tuple(places[need] for need in strand.needs if need in places))
                for strand in strands
            ),
            things=tuple(
                thing._replace(strand=places[thing.strand])
                for thing in before.things
                if thing.key not in self.left.things and thing.strand in places
            ),
            links=tuple(self._links(kept)),
        )

    def _use(self, use: Use) -> Use:
        """A mark with the choice that counts, and no choice left that holds what is left out."""
        chosen = self.swapped.get(use.number, use)
        others = () if use.number in self.swapped else use.choices
        free = tuple(one for one in others if not self.leaving.barred(self.before, one, self.foods))
        number = self.numbers[use.number]
        return chosen._replace(number=number, choices=tuple(one._replace(number=number) for one in free))

    def _links(self, kept: list[Use]) -> Iterator[tuple[int, str]]:
        for use in kept:
            meant = self.leaving.links.meant(self.before, self.swapped.get(use.number, use))
            if meant is not None:
                yield self.numbers[use.number], meant.key

    # ------------------------------------------------------------ the text

    def _blocks(self, strand: Strand) -> Iterator[Block]:
        for block in strand.blocks:
            match block:
                case Step():
                    if block.number not in self.left.steps:
                        waits = tuple(number for number in block.waits if number not in self.left.steps)
                        yield block._replace(sentences=tuple(map(self._sentence, block.sentences)), waits=waits)
                case LayOut():
                    uses = tuple(self.numbers[use] for use in block.uses if use in self.numbers)
                    if uses:
                        yield block._replace(uses=uses)
                case Aside():
                    yield block._replace(pieces=tuple(self._pieces(block.pieces)))
                case _:
                    yield block

    def _sentence(self, sentence: Sentence) -> Sentence:
        return sentence._replace(pieces=tuple(self._pieces(sentence.pieces)))

    def _pieces(self, pieces: tuple[Piece, ...]) -> Iterator[Piece]:
        for piece in pieces:
            if isinstance(piece, GearAt):
                yield GearAt(self.gear[piece.gear])
            elif isinstance(piece, FoodAt):
                yield from self._food(piece)
            else:
                yield piece

    def _food(self, piece: FoodAt) -> Iterator[Piece]:
        uses = self.before.uses
        numbers = (piece.use,) if piece.plus is None else (piece.use, piece.plus)
        kept = [number for number in numbers if number in self.numbers]
        out = [number for number in numbers if number not in self.numbers]
        if kept:
            yield FoodAt(self.numbers[kept[0]], self.numbers[kept[1]] if len(kept) > 1 else None)
            instead = self._instead(uses[kept[0]])
            if instead:
                yield Words(f" (here {instead})")
        for number in out:
            # It stays in view that something is not there: whoever knows the dish by heart reaches for it.
            yield Words(f"{' ' if kept else ''}(NOT the {bare_name(uses[number])})")

    def _instead(self, use: Use) -> str:
        """What `the milk` is in this version, where another choice came in."""
        if use.role not in (Role.TAKE, Role.HANDLE):
            return ""
        for number, chosen in self.swapped.items():
            if self.before.uses[number].thing == use.thing:
                return chosen.name
        return ""

    # ------------------------------------------------------------ gear

    def _gear(self) -> None:
        """Gear of the steps that are left; what no step names any more is not fetched."""
        named = {
            piece.gear
            for strand in self.before.strands
            for block in strand.blocks
            for piece in _pieces_of(block)
            if isinstance(piece, GearAt) and not (isinstance(block, Step) and block.number in self.left.steps)
        }
        kept = [gear for gear in self.before.gear if gear.number in named]
        self.gear = {gear.number: place for place, gear in enumerate(kept)}

    def _gear_uses(self) -> Iterator[GearUse]:
        met: list[str] = []
        for gear in self.before.gear:
            if gear.number in self.gear:
                # `{the pan}` of a step that is left, where the step that brought it is not: it is fetched here.
                again = any(_same_kind(known, gear.key) for known in met)
                met.append(gear.key)
                yield gear._replace(number=self.gear[gear.number], same=gear.same and again)


def _same_kind(one: str, other: str) -> bool:
    return one == other or one.endswith(f" {other}") or other.endswith(f" {one}")


def _pieces_of(block: Block) -> Iterator[Piece]:
    if isinstance(block, Step):
        for sentence in block.sentences:
            yield from sentence.pieces
    elif isinstance(block, Aside):
        yield from block.pieces
