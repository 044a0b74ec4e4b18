"""Fills the sheet of a dish: scaled, worded, with its allergens and cautions."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from recipec.base.finding import Finding
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.measure.language import Language, language_of
from recipec.measure.quantity import Amount
from recipec.measure.show import AS_WRITTEN, Style
from recipec.model.book import Book
from recipec.model.dish import Aside, Block, Dish, LayOut, Made, Step, Stop, Strand
from recipec.plan.cautions import by_file, cautions_of
from recipec.plan.lines import groups_of, line_of, merged
from recipec.plan.links import Links
from recipec.plan.pieces import gear_name, gear_remark, pieces_of
from recipec.plan.reducing import burner_for
from recipec.plan.scale import Unscalable, factor_for, plates_in, scale
from recipec.plan.scaling_notes import scaling_notes
from recipec.plan.sheet import (
    AsideBlock,
    DishSheet,
    FoodPiece,
    IngredientLine,
    LayOutBlock,
    ResultLine,
    SheetBlock,
    SheetPiece,
    StepBlock,
    StopBlock,
    StrandSheet,
    WordsPiece,
)
from recipec.plan.unmarked import allergens_said
from recipec.plan.wording import Desk, hold_text, makes_text, plates_text

_VERSION_DIGITS = 8
# What a mixture stands or rises by; leaving it out makes another dish, or none. Common practice.
_HOLDS_TOGETHER = frozenset(
    "egg gelatine gelatin agar pectin flour cornflour cornstarch starch yeast powder soda".split()
)


def dish_sheet(
    book: Book,
    larder: Larder,
    dish_key: str,
    wanted: Fraction | Amount | None = None,
    style: Style = AS_WRITTEN,
    findings: Iterable[Finding] = (),
    without: tuple[str, ...] = (),
) -> DishSheet:
    """The sheet of one dish; of several, `Sheets` makes them with one look-up of the book."""
    return Sheets(book, larder, style, findings).of(dish_key, wanted, without)


class Sheets:
    """The sheets of a book's dishes. `findings` are the book's; dangers, errors and what a cook has accepted, of a dish and of those it
    is made with, come out as cautions."""

    __slots__ = ("_book", "_larder", "_links", "_said", "_style")

    def __init__(self, book: Book, larder: Larder, style: Style = AS_WRITTEN, findings: Iterable[Finding] = ()) -> None:
        self._book = book
        self._larder = larder
        self._style = style
        self._links = Links(book)
        self._said = by_file(findings)

    def of(self, dish_key: str, wanted: Fraction | Amount | None = None, without: tuple[str, ...] = ()) -> DishSheet:
        """The sheet of a dish for so many plates, for an amount of it, or as written (`wanted` None).

        A dish that does not say how many it serves is shown as written, and its notes say so. `without` are foods left out, with all
        that is made from them; that they can be is for the caller to have asked (`plan.cannot_leave`). Raises KeyError when the book
        has no such dish, ValueError for no plates or fewer: the caller's mistakes.
        """
        book, links = self._book, self._links
        if without:
            from recipec.plan.version_dish import version_book

            book = version_book(book, self._larder, dish_key, without)
            links = Links(book)
        return _filled(book, links, self._larder, self._style, self._said, dish_key, wanted, without)


def _filled(
    book: Book,
    links: Links,
    larder: Larder,
    style: Style,
    said: Mapping[str, tuple[Finding, ...]],
    dish_key: str,
    wanted: Fraction | Amount | None,
    without: tuple[str, ...],
) -> DishSheet:
    dish = links.dish(dish_key)
    if dish is None:
        raise KeyError(dish_key)
    plates = plates_in(wanted) if isinstance(wanted, Amount) else wanted
    if plates is not None and plates <= 0:
        raise ValueError(f"a card for {plates} plates")
    found = factor_for(dish, plates, wanted if isinstance(wanted, Amount) else None)
    unscaled: tuple[str, ...] = ()
    if isinstance(found, Unscalable):
        tongue = language_of(style.language)
        why = tongue.say(found.reason.value, context="unscalable")
        unscaled = (tongue.say("Shown as written: %(why)s.", why=why),)
    factor = Fraction(1) if isinstance(found, Unscalable) else found
    desk = Desk(scale(dish, factor, None if unscaled else plates), larder, style)
    groups, ingredients = groups_of(desk, links), merged(desk, links)
    strands = tuple(_strand(strand, desk, links) for strand in dish.strands)
    return DishSheet(
        key=dish.key,
        title=dish.title,
        course=dish.course,
        tags=dish.tags,
        photo=dish.photo,
        source=dish.source,
        price=dish.price,
        plates=desk.scaled.plates,
        plates_text=_plates(desk, plates is not None and not unscaled),
        makes="" if dish.makes is None else makes_text(desk, dish.makes),
        factor=factor,
        version=version_of(dish, without),
        ingredients=ingredients,
        groups=groups,
        gear=_gear(desk),
        strands=strands,
        keeps=tuple(hold_text(hold, desk.tongue) for hold in dish.keeps),
        allergens=allergens_said(links, larder, dish),
        cautions=tuple(cautions_of(dish, links, said)),
        notes=(*unscaled, *_version_notes(dish, without, desk.tongue), *scaling_notes(desk, burner_for(book, dish))),
        rounded=any(_rounded(ingredients, strands)),
        without=without,
    )


def version_of(dish: Dish, without: tuple[str, ...] = ()) -> str:
    """Eight hex digits of the dish's own text, and of what is left out: no date, and nothing of other files."""
    text = "\0".join((dish.span.source.text, *without))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:_VERSION_DIGITS]


def _version_notes(dish: Dish, without: tuple[str, ...], tongue: Language) -> Iterator[str]:
    """What whoever makes a version must know. Clean kit and first in turn: common practice."""
    if not without:
        return
    yield tongue.say(
        "Made without %(foods)s: make it first, on clean boards and pans with clean hands, and keep it apart from the "
        "rest until it is served. Packets may still hold traces: read them.",
        foods=tongue.either(without),
    )
    holding = [food for food in without if _HOLDS_TOGETHER & set(normal_name(food).split())]
    if holding:
        names = tongue.say(" and ").join(holding)
        yield tongue.say(
            "%(foods)s may set, bind, thicken or raise what they are in: try this version before it is served, or make something else.",
            foods=names[:1].upper() + names[1:],
        )
    if any(made.amount is not None for step in dish.steps() for made in step.makes):
        yield tongue.say("How much each step leaves is as it is written for the dish with everything in it.")


def _plates(desk: Desk, asked: bool) -> str:
    plates, serves = desk.scaled.plates, desk.dish.serves
    if asked and plates is not None:
        return plates_text(plates, plates, desk.style)
    return "" if serves is None else plates_text(Fraction(serves[0]), Fraction(serves[1]), desk.style)


def _gear(desk: Desk) -> tuple[str, ...]:
    """Each piece of gear once; of several marks of one kind the greatest number. What is used up is summed by mark."""
    found: dict[tuple[str, str], tuple[int, str]] = {}
    for gear in desk.dish.gear:
        if gear.same:
            continue
        remark = gear_remark(gear, desk)
        name = gear_name(gear, desk, article=False)
        # Two marks of paper are two lots of it; two of a pan may well be one pan, washed.
        key = (gear.key, remark) if gear.amount is None else (f"{gear.key} {gear.number}", remark)
        text = f"{name}, {remark}" if remark else name
        if key not in found or found[key][0] < gear.pieces:
            found[key] = (gear.pieces, text)
    return tuple(text for _, text in found.values())


def _strand(strand: Strand, desk: Desk, links: Links) -> StrandSheet:
    strands = desk.dish.strands
    needs = tuple(_title(strands[index], desk) for index in strand.needs if index < len(strands))
    blocks = tuple(_block(block, desk, links) for block in _waited_once(strand))
    return StrandSheet(strand.heading, _made_name(strand, desk.dish), needs, blocks)


def _waited_once(strand: Strand) -> Iterator[Block]:
    """The blocks; what an earlier step of the strand waits for, no later one need say."""
    met: set[int] = set()
    for block in strand.blocks:
        if isinstance(block, Step):
            yield block._replace(waits=tuple(number for number in block.waits if number not in met))
            met.update(block.waits)
        else:
            yield block


def _made_name(strand: Strand, dish: Dish) -> str | None:
    return next((thing.name for thing in dish.things if thing.key == strand.makes), None)


def _title(strand: Strand, desk: Desk) -> str:
    made = _made_name(strand, desk.dish)
    if made:
        return desk.tongue.say("the %(thing)s", thing=made)
    return strand.heading.removesuffix(":") or desk.tongue.say("the first part")


def _block(block: Block, desk: Desk, links: Links) -> SheetBlock:
    match block:
        case Step():
            pieces = tuple(_sentences(block, desk, links))
            results = tuple(_result(made, desk) for made in block.makes)
            return StepBlock(block.number + 1, pieces, results, tuple(_waits(block, desk.dish, desk.tongue)))
        case LayOut():
            return LayOutBlock(tuple(line_of(desk, links, desk.dish.uses[use]) for use in block.uses))
        case Aside():
            return AsideBlock(tuple(pieces_of(block.pieces, desk, links)))
        case Stop():
            return StopBlock(desk.tongue.say("up to %(hold)s", hold=hold_text(block.hold, desk.tongue)))


def _sentences(step: Step, desk: Desk, links: Links) -> Iterator[SheetPiece]:
    """All sentences run on, with a space between any two that have none."""
    spaced = True
    for sentence in step.sentences:
        for place, piece in enumerate(pieces_of(sentence.pieces, desk, links)):
            words = piece.text if isinstance(piece, WordsPiece) else ""
            if place == 0 and not spaced and not words[:1].isspace():
                yield WordsPiece(" ")
            spaced = words[-1:].isspace()
            yield piece


def _result(made: Made, desk: Desk) -> ResultLine:
    amount = desk.scaled.made(made)
    words = None if amount is None else desk.say(amount, written=desk.scaled.factor == 1)
    tongue = desk.tongue
    hold = "" if made.hold is None else tongue.say("holds %(hold)s", hold=hold_text(made.hold, tongue))
    gone = tongue.say("discarded", context="flag") if made.discarded else ""
    parts = (made.name, "" if words is None else words.whole, hold, gone)
    return ResultLine(", ".join(part for part in parts if part), made.name, words, hold, made.discarded)


def _waits(step: Step, dish: Dish, tongue: Language) -> Iterator[str]:
    steps = {other.number: other for other in dish.steps()}
    last = {}
    for strand in dish.strands:
        numbers = [block.number for block in strand.blocks if isinstance(block, Step)]
        if numbers:
            last[numbers[-1]] = _made_name(strand, dish)
    for number in step.waits:
        made = [made.name for made in steps[number].makes if not made.discarded] if number in steps else []
        name = tongue.say(" and ").join(made) or last.get(number)
        if name:
            yield tongue.say("the %(thing)s (step %(number)s)", thing=name, number=number + 1)
        else:
            yield tongue.say("step %(number)s", number=number + 1)


def _rounded(ingredients: tuple[IngredientLine, ...], strands: tuple[StrandSheet, ...]) -> Iterator[bool]:
    for line in ingredients:
        yield line.amount is not None and line.amount.rounded
    for strand in strands:
        for block in strand.blocks:
            if isinstance(block, StepBlock | AsideBlock):
                for piece in block.pieces:
                    if isinstance(piece, FoodPiece):
                        yield any(words is not None and words.rounded for words in (piece.amount, piece.comes_to))
            if isinstance(block, StepBlock):
                for result in block.results:
                    yield result.amount is not None and result.amount.rounded
