"""How long boiling down takes at least: water driven off costs heat, and a burner gives only so much of it.

2.26 MJ a litre, of the burner's power as much as gets into the pan; the figures and where they come from are in `data/heat.tsv`. Of
the water alone, and from the boil on, so that it is never less than this.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from recipec.larder.names import normal_name
from recipec.measure.convert import Unconvertible, convert
from recipec.measure.language import ENGLISH, Language
from recipec.measure.numerals import NO_BREAK, decimal
from recipec.measure.quantity import Dimension, Quantity, one, quantity
from recipec.measure.show import Style, show_amount, show_duration
from recipec.measure.units import unit
from recipec.model.book import Book
from recipec.model.dish import Dish, Flag, FoodAt, Piece, ReadingAt, Role, Step, Strand, ThingKind, Use
from recipec.model.kitchen import Kitchen
from recipec.model.reading import Left
from recipec.plan.figures import rows
from recipec.plan.wording import Desk, is_solid


@cache
def _figures() -> dict[str, Fraction]:
    return {name: Fraction(value) for name, value, _, _ in rows("heat.tsv")}


@dataclass(frozen=True, slots=True)
class Burner:
    """A burner of `watts`, run on `energy` (gas, electric, induction). `assumed` where no kitchen says so."""

    watts: Fraction
    energy: str
    assumed: bool

    def words(self, tongue: Language = ENGLISH) -> str:
        """`a 3 kW gas burner`, `a 2.5 kW gas burner, assumed here` where no kitchen says so."""
        power = f"{decimal(self.watts / 1000, tongue.mark)}{NO_BREAK}kW"
        energy = tongue.say(self.energy, context="burner")
        if power.startswith("8"):
            burner = tongue.say("an %(power)s %(energy)s burner", power=power, energy=energy)
        else:
            burner = tongue.say("a %(power)s %(energy)s burner", power=power, energy=energy)
        return tongue.say("%(burner)s, assumed here", burner=burner) if self.assumed else burner


def seconds_for(litres: Fraction, burner: Burner) -> Fraction:
    """The least time in which so much water boils away."""
    figures = _figures()
    return litres * figures["water driven off"] * 1_000_000 / (burner.watts * figures[burner.energy])


def burner_for(book: Book, dish: Dish) -> Burner:
    """The burners of the one kitchen in which the book's events make a dish, or of its only kitchen; else one as it is usual."""
    asked = {
        event.kitchen
        for event in book.events
        for course in event.courses
        for order in course.orders
        if order.dish == dish.key and event.kitchen is not None
    }
    kitchens = [kitchen for kitchen in book.kitchens if not asked or kitchen.key in asked]
    return _of(kitchens[0]) if len(kitchens) == 1 else _usual()


def _usual() -> Burner:
    return Burner(_figures()["burner"] * 1000, "gas", True)


def _of(kitchen: Kitchen) -> Burner:
    usual = _usual()
    hob = next((gear for gear in kitchen.gear if normal_name(gear.name) in ("hob", "burner", "stove", "cooker")), None)
    if hob is None:
        return usual
    return Burner(hob.power or usual.watts, hob.energy or usual.energy, hob.power is None or not hob.energy)


# ---------------------------------------------------------------- for a card


def reducing_notes(desk: Desk, burner: Burner) -> Iterator[str]:
    """A sentence for every reading of what is left, with the least time where what is in the pan can be told."""
    general, tongue = False, desk.tongue
    plain = Style(language=tongue.code)
    for strand in desk.dish.strands:
        for place, reading, left in _reductions(strand):
            litres = _driven_off(desk, strand, place, left)
            if litres is None:
                general = True
                continue
            yield tongue.say(
                "Reducing %(to)s drives off %(water)s of water: at least %(time)s at the boil on %(burner)s. "
                "That is the water alone, so go by how much is left.",
                to=_to(left, desk, reading),
                water=show_amount(one(quantity(litres * 1000, unit("ml"))), plain).text,
                time=show_duration(_rounded(seconds_for(litres, burner)), None, tongue),
                burner=burner.words(tongue),
            )
    if general:
        if desk.scaled.factor > 1:
            yield tongue.say(
                "Reducing takes longer than the time given, at least in a pan of the same width: go by how much is left."
            )
        else:
            yield tongue.say("Reducing takes less than the time given: go by how much is left, from early on.")


def _rounded(seconds: Fraction) -> Fraction:
    """Down to what is still said of an estimate: 5 min from half an hour on, else minutes. At least one."""
    step = Fraction(300 if seconds >= 1800 else 60)
    return max(seconds // step * step, Fraction(60))


def _to(left: Left, desk: Desk, written: str) -> str:
    if left.amount is None:
        return written
    much = show_amount(left.amount.scaled(desk.scaled.factor), desk.style).text
    return desk.tongue.say("to %(much)s", much=much)


def _reductions(strand: Strand) -> Iterator[tuple[tuple[int, int], str, Left]]:
    """Place (block, piece), words and value of every reading of what is left."""
    for number, block in enumerate(strand.blocks):
        if isinstance(block, Step):
            for place, piece in enumerate(_pieces(block)):
                if isinstance(piece, ReadingAt) and isinstance(piece.reading.value, Left):
                    words = " ".join(piece.reading.span.text.strip("<>").split()).partition(",")[0]
                    yield (number, place), words, piece.reading.value


def _pieces(step: Step) -> tuple[Piece, ...]:
    return tuple(piece for sentence in step.sentences for piece in sentence.pieces)


def _driven_off(desk: Desk, strand: Strand, place: tuple[int, int], left: Left) -> Fraction | None:
    """Litres of water; None where what is in the pan is not known, or is no more than what should be left."""
    there = _in_the_pan(desk, strand, place)
    if there is None:
        return None
    if left.fraction is not None:
        rest: Fraction | None = there * left.fraction
    else:
        total = None if left.amount is None else left.amount.scaled(desk.scaled.factor).total()
        rest = total.base_high if total is not None and total.unit.dimension is Dimension.VOLUME else None
    return None if rest is None or rest >= there else (there - rest) / 1000


def _in_the_pan(desk: Desk, strand: Strand, place: tuple[int, int]) -> Fraction | None:
    """Millilitres of all that pours and came in since the strand last made something; None where one of them is not known."""
    uses: list[Use] = []
    for number, block in enumerate(strand.blocks[: place[0] + 1]):
        if not isinstance(block, Step):
            continue
        pieces = _pieces(block)
        for piece in pieces[: place[1]] if number == place[0] else pieces:
            if isinstance(piece, FoodAt):
                uses += [desk.dish.uses[use] for use in (piece.use, piece.plus) if use is not None]
        if block.makes and number < place[0]:
            uses = []
    total = Fraction(0)
    for use in uses:
        if Flag.DISCARDED in use.flags or (use.role is Role.HANDLE and _is_bought(use, desk)):
            continue
        much = _millilitres(use, desk)
        if much is None:
            return None
        total += much
    return total or None


def _is_bought(use: Use, desk: Desk) -> bool:
    """Spoken of again: it came in with a mark of its own."""
    return any(thing.key == use.thing and thing.kind is not ThingKind.MADE for thing in desk.dish.things)


def _millilitres(use: Use, desk: Desk) -> Fraction | None:
    """How much liquid a mark brings: none of what is solid; None where it may pour and nobody knows how much."""
    item = desk.item(use)
    amount = desk.scaled.amount(use)
    if use.role is Role.HANDLE or (amount is None and use.role is Role.TAKE):
        thing = next((thing for thing in desk.dish.things if thing.key == use.thing), None)
        amount = None if thing is None or thing.amount is None else thing.amount.scaled(desk.scaled.factor)
    total = None if amount is None else amount.contents() or amount.total()
    if item is not None and is_solid(item, use.part):
        return Fraction(0)
    if total is None:
        return Fraction(0) if item is not None and amount is None else None
    if total.unit.dimension is Dimension.VOLUME:
        return total.base_high
    if use.part is not None and item is not None and total.unit.dimension is Dimension.COUNT:
        figure = item.part(use.part)
        density = next((known.value for known in item.densities if known.state == use.part), Fraction(1))
        return None if figure is None else _ml(quantity(total.high * figure.amount, unit(figure.unit)), density)
    if total.unit.dimension is Dimension.MASS:
        # What is made or unknown and goes by weight is no liquid that we could measure.
        return Fraction(0) if item is None else _ml(total, item.density())
    return Fraction(0)


def _ml(much: Quantity, density: Fraction | None) -> Fraction | None:
    found = convert(much, unit("ml"), density)
    return None if isinstance(found, Unconvertible) else found.high
