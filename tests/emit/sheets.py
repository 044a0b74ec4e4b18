"""Invented sheets, made by hand: emitters are held to what they are given, whatever the rings above make of a text."""

from __future__ import annotations

from fractions import Fraction
from types import MappingProxyType

from recipec.base.finding import Finding, Severity
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.emit.desk import Desk
from recipec.emit.paths import paths
from recipec.emit.request import Request
from recipec.larder.larder import builtin
from recipec.measure.quantity import quantity
from recipec.measure.units import unit
from recipec.model.book import Book
from recipec.model.dish import Dish, Role
from recipec.model.event import Event
from recipec.model.settings import Settings
from recipec.plan.allergens import AllergenAnswer
from recipec.plan.sheet import (
    AmountText,
    AsideBlock,
    Caution,
    DishSheet,
    FoodPiece,
    GearPiece,
    IngredientGroup,
    IngredientLine,
    LayOutBlock,
    ReadingKind,
    ReadingPiece,
    ResultLine,
    SheetPiece,
    StepBlock,
    StopBlock,
    StrandSheet,
    WordsPiece,
)

NOTHING = AllergenAnswer((), (), ())
HOSTILE = '</script><script>alert("1")</script>\'"&<!-- ../../etc \u202egnp.exe\u200f \x00\ud800end'


def amount(text: str, number: int, unit_key: str) -> AmountText:
    """An amount whose words are `text`, with a no-break space for each space."""
    return AmountText(text.replace(" ", "\u00a0"), (quantity(Fraction(number), unit(unit_key)),), False)


def line(
    name: str,
    much: AmountText | None = None,
    after: tuple[str, ...] = (),
    dish: str | None = None,
    flags: tuple[str, ...] = (),
) -> IngredientLine:
    """A line of the list."""
    text = " ".join(part for part in (much.text if much else "", name) if part) + "".join(
        f", {note}" for note in after + flags
    )
    return IngredientLine(
        text, much, "", (), name, after, flags, dish is not None, dish, None if dish else name, NOTHING
    )


def food(
    name: str,
    much: AmountText | None = None,
    role: Role = Role.BUY,
    lead: str = "",
    part: str = "",
    after: tuple[str, ...] = (),
    dish: str | None = None,
) -> FoodPiece:
    """A food mark."""
    words = (lead, much.text if much else "", part, name)
    text = " ".join(word for word in words if word) + "".join(f", {note}" for note in after)
    return FoodPiece(text, lead, much, part, (), name, after, (), (), None, role, dish, text)


def step(number: int, *pieces: SheetPiece, leaves: tuple[ResultLine, ...] = ()) -> StepBlock:
    """A step."""
    return StepBlock(number, pieces, leaves, ())


def minutes(low: int, high: int | None = None, cue: str = "", check: str = "") -> ReadingPiece:
    """A time."""
    text = f"{low}\u00a0min" if high is None else f"{low}–{high}\u00a0min"
    return ReadingPiece(text, ReadingKind.TIME, cue=cue, check_at=check, low_s=low * 60, high_s=(high or low) * 60)


def leeks() -> DishSheet:
    """A dish of three strands with every kind of block, made with another dish of the book."""
    words = WordsPiece
    butter, oats = amount("120 g", 120, "g"), amount("60 g", 60, "g")
    stock = amount("250 ml", 250, "ml")
    crumb = StrandSheet(
        "For the crumb:",
        "crumb",
        (),
        (
            step(
                1,
                words("Toast "),
                food("oats", oats, after=("jumbo",)),
                words(" in a "),
                GearPiece("frying pan", "28 cm"),
                words(" for "),
                minutes(7, 10, "until nutty", "check from 7\u00a0min"),
                words("."),
                leaves=(ResultLine("crumb, holds 20 min", "crumb", oats, "holds 20\u00a0min", False),),
            ),
            AsideBlock((words("Rye flakes do as well."),)),
        ),
    )
    leek = StrandSheet(
        "For the leeks:",
        "leeks",
        (),
        (
            LayOutBlock((line("leeks", amount("8", 8, "piece"), ("trimmed",)),)),
            step(
                2,
                words("Heat the "),
                GearPiece("oven", ""),
                words(" to "),
                ReadingPiece("220\u00a0°C", ReadingKind.TEMPERATURE, also="425\u00a0°F"),
                words(". Roast "),
                food("leeks", None, Role.HANDLE, "the"),
                words(" with "),
                food("butter", butter),
                words(" and "),
                food("vegetable stock", stock, Role.OUR, part="our", dish="vegetable-stock"),
                words("."),
            ),
            StopBlock("up to 2\u00a0d chilled"),
        ),
    )
    plate = StrandSheet(
        "To plate:",
        None,
        ("For the crumb:", "For the leeks:"),
        (
            step(
                3,
                words("Scatter "),
                food("crumb", None, Role.TAKE, "half the"),
                words(" over each plate for "),
                minutes(1),
                words("."),
            ),
        ),
    )
    lines = (
        line("oats", oats, ("jumbo",)),
        line("leeks", amount("8", 8, "piece"), ("trimmed",)),
        line("butter", butter),
        line("vegetable stock", stock, dish="vegetable-stock"),
    )
    groups = (IngredientGroup("For the crumb:", lines[:1]), IngredientGroup("For the leeks:", lines[1:]))
    answer = AllergenAnswer(("gluten", "milk"), ("nuts",), ("pickled walnuts",))
    caution = Caution(
        "core-too-low", Severity.DANGER, "The duck is under its core.", "served pink, the guests asked for it"
    )
    return _sheet(
        "charred-leeks",
        "Charred leeks with oats",
        "starter",
        lines,
        groups,
        (crumb, leek, plate),
        answer,
        (caution,),
        ("frying pan, 28 cm", "oven"),
    )


def stock() -> DishSheet:
    """A component of one strand whose every step is timed."""
    lines = (line("leek tops", amount("400 g", 400, "g")), line("water", amount("2 l", 2, "l")))
    pieces = (
        WordsPiece("Simmer "),
        food("leek tops", lines[0].amount),
        WordsPiece(" in "),
        food("water", lines[1].amount),
    )
    strand = StrandSheet("", None, (), (step(1, *pieces, WordsPiece(" for "), minutes(80, 90), WordsPiece(".")),))
    return _sheet(
        "vegetable-stock",
        "Vegetable stock",
        "component",
        lines,
        (IngredientGroup("", lines),),
        (strand,),
        NOTHING,
        (),
        ("pot",),
    )


def hostile() -> DishSheet:
    """Everything a cook can write, written with ill will."""
    bad = line(HOSTILE, AmountText(HOSTILE, (), False), (HOSTILE,), flags=(HOSTILE,))
    pieces = (
        WordsPiece(HOSTILE),
        food(HOSTILE, bad.amount, lead=HOSTILE, after=(HOSTILE,)),
        GearPiece(HOSTILE, HOSTILE),
        ReadingPiece(HOSTILE, ReadingKind.TIME, HOSTILE, HOSTILE, HOSTILE, (HOSTILE,)),
    )
    result = ResultLine(HOSTILE, HOSTILE, bad.amount, HOSTILE, True)
    blocks = (step(1, *pieces, leaves=(result,)), LayOutBlock((bad,)), AsideBlock(pieces), StopBlock(HOSTILE))
    answer = AllergenAnswer((HOSTILE,), (HOSTILE,), (HOSTILE,))
    caution = Caution("core-too-low", Severity.DANGER, HOSTILE, HOSTILE)
    strand = StrandSheet(HOSTILE, HOSTILE, (HOSTILE,), blocks)
    groups = (IngredientGroup(HOSTILE, (bad,)), IngredientGroup(HOSTILE, (bad,)))
    return _sheet("../../" + HOSTILE, HOSTILE, HOSTILE, (bad,), groups, (strand,), answer, (caution,), (HOSTILE,))


def desk_of(*sheets: DishSheet, settings: Settings | None = None, events: tuple[Event, ...] = ()) -> Desk:
    """A desk with these sheets on it."""
    dishes = tuple(_dish(sheet) for sheet in sheets)
    book = Book(
        settings or Settings("The slate book", "Ines Varga", note="Invented for tests."), dishes, events, (), ()
    )
    # What its cautions say was found in the dish's own text.
    findings = tuple(
        Finding(caution.slug, dish.span, caution.text, accepted=caution.reason or None)
        for sheet, dish in zip(sheets, dishes, strict=True)
        for caution in sheet.cautions
    )
    where = paths(book)
    pages = {dish.key: where.dish(dish.key) for dish in dishes}
    return Desk(
        Request(book, builtin(), findings),
        where,
        MappingProxyType(pages),
        MappingProxyType({sheet.key: sheet for sheet in sheets}),
        MappingProxyType({}),
    )


def _sheet(
    key: str,
    title: str,
    course: str,
    lines: tuple[IngredientLine, ...],
    groups: tuple[IngredientGroup, ...],
    strands: tuple[StrandSheet, ...],
    allergens: AllergenAnswer,
    cautions: tuple[Caution, ...],
    gear: tuple[str, ...],
) -> DishSheet:
    one = Fraction(1)
    return DishSheet(
        key=key, title=title, course=course, tags=("winter", course), photo="", source="the test's own", price=None,
        plates=Fraction(4), plates_text="4\u00a0plates", makes="", factor=one, version="0a1b2c3d", ingredients=lines, groups=groups,
        gear=gear, strands=strands, keeps=("1\u00a0d chilled",), allergens=allergens, cautions=cautions, notes=(), rounded=False,
    )  # fmt: skip


def _dish(sheet: DishSheet) -> Dish:
    nowhere = Span(Source(f"{sheet.key}.dish", ""), 0, 0)
    return Dish(
        sheet.key, sheet.title, nowhere, nowhere, (4, 4), None, sheet.course, (), "", sheet.tags, "", "", (), Fraction(0),
        False, None, (), (), (), (),
    )  # fmt: skip
