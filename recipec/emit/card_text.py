"""A dish's card as plain text, 80 columns."""

from __future__ import annotations

from collections.abc import Iterable

from recipec.emit.plain import WIDTH, columns, page, rule, safe, title_line, wrap
from recipec.measure.language import ENGLISH, Language, language_of
from recipec.measure.numerals import NO_BREAK
from recipec.plan.sheet import (
    AsideBlock,
    Caution,
    DishSheet,
    FoodPiece,
    GearPiece,
    IngredientLine,
    LayOutBlock,
    ReadingPiece,
    SheetBlock,
    SheetPiece,
    StepBlock,
    StopBlock,
    WordsPiece,
)

_AMOUNTS = 14
"""Columns for amounts in the list; a longer one pushes its name along."""


def card_text(sheet: DishSheet, language: str = "en") -> str:
    """All of a card: what a cook needs at the stove, in the order of need."""
    tongue = language_of(language)
    say = tongue.say
    lines = [*title_line(sheet.title, say("version %(mark)s", mark=sheet.version)), rule("═")]
    facts = [sheet.course, sheet.plates_text, say("makes %(much)s", much=sheet.makes) if sheet.makes else ""]
    about = " · ".join(fact for fact in facts if fact)
    lines += wrap(about) if about else []
    if sheet.without:
        lines += wrap(tongue.either(sheet.without), say("WITHOUT") + "  ")
    lines += caution_lines(sheet.cautions, tongue)
    lines += ["", *_allergens(sheet, tongue)]
    lines += _ingredients(sheet, tongue)
    if sheet.gear:
        lines += ["", *wrap("; ".join(sheet.gear), say("GEAR") + "  ")]
    for strand in sheet.strands:
        heading = strand.heading.removesuffix(":")
        lines += ["", *title_line(heading.upper(), _after(strand.needs, tongue)), rule()] if heading else ["", rule()]
        for block in strand.blocks:
            lines += [*_block(block, tongue), ""]
        if strand.blocks:
            lines.pop()
    lines += _ends(sheet, tongue)
    return page(lines)


def caution_lines(cautions: Iterable[Caution], tongue: Language = ENGLISH) -> list[str]:
    """What stands above everything else on any paper: dangers, and what was accepted with its reason, an empty line before each."""
    lines: list[str] = []
    for caution in cautions:
        reason = " " + tongue.say("Accepted by the cook: %(reason)s", reason=caution.reason) if caution.reason else ""
        severity = tongue.say(caution.severity.value, context="severity").upper()
        lines += ["", *wrap(f"{caution.text}{reason}", tongue.say("%(severity)s:", severity=severity) + " ", "    ")]
    return lines


def piece_text(piece: SheetPiece) -> str:
    """A mark in running text: `7–10 min, until golden (check from 7 min; alone)`."""
    match piece:
        case WordsPiece() | FoodPiece():
            return piece.text
        case GearPiece():
            return f"{piece.text} ({piece.remark})" if piece.remark else piece.text
        case ReadingPiece():
            notes = "; ".join(word for word in (piece.also, piece.check_at, *piece.remarks) if word)
            words = f"{piece.text}, {piece.cue}" if piece.cue else piece.text
            return f"{words} ({notes})" if notes else words


def pieces_text(pieces: Iterable[SheetPiece]) -> str:
    """A step's text."""
    return " ".join("".join(piece_text(piece) for piece in pieces).split(" "))


def line_words(line: IngredientLine, tongue: Language = ENGLISH) -> str:
    """A line of the list without its amount, alternatives in full."""
    tail = "" if line.amount is None else line.amount.tail
    of = (line.part,) if line.part else ()
    words = ", ".join((" ".join((*of, *line.before, line.name)) + tail, *line.after, *line.flags))
    own = tongue.say("our %(food)s", food=words) if line.our else words
    return tongue.either((own, *(other.text for other in line.alternatives)))


def _after(needs: tuple[str, ...], tongue: Language) -> str:
    return tongue.say("after %(things)s", things=", ".join(needs)) if needs else ""


def _allergens(sheet: DishSheet, tongue: Language) -> list[str]:
    answer, say = sheet.allergens, tongue.say
    lines = []
    if answer.contains:
        lines += wrap(_groups(answer.contains, tongue), say("contains", context="presence").upper() + "  ")
    if answer.may_contain:
        lines += wrap(_groups(answer.may_contain, tongue), say("may contain", context="presence").upper() + "  ")
    if answer.unknown:
        words = say("allergens of %(foods)s: read the packet, ask the supplier", foods=", ".join(answer.unknown))
        lines += wrap(words, say("unknown", context="presence").upper() + "  ")
    # Never "free of": the recipe does not know the kitchen.
    return lines or wrap(
        say("no allergen of the 14 in the recipe; what else the kitchen handles is not known here"),
        say("Allergens").upper() + "  ",
    )


def _groups(keys: tuple[str, ...], tongue: Language) -> str:
    return ", ".join(tongue.say(key, context="allergen") for key in keys)


def _ingredients(sheet: DishSheet, tongue: Language) -> list[str]:
    groups = sheet.groups if len(sheet.groups) > 1 else ()
    head = tongue.say("INGREDIENTS")
    if not groups:
        return (
            ["", head, *(part for line in sheet.ingredients for part in _line(line, tongue))]
            if sheet.ingredients
            else []
        )
    lines = ["", head]
    for group in groups:
        lines += ["", *wrap(group.heading.removesuffix(":"), "  ")] if group.heading else []
        lines += [part for line in group.lines for part in _line(line, tongue)]
    return lines


def _line(line: IngredientLine, tongue: Language) -> list[str]:
    amount = "" if line.amount is None else safe(line.amount.text).replace(NO_BREAK, " ")
    pad = " " * max(0, _AMOUNTS - columns(amount))
    return wrap(line_words(line, tongue), f"{pad}{amount}  ", " " * (_AMOUNTS + 2))


def _block(block: SheetBlock, tongue: Language) -> list[str]:
    match block:
        case StepBlock():
            number = f"{block.number:>3}  "
            lines = wrap(pieces_text(block.pieces), number)
            if block.waits:
                lines += wrap(tongue.say("wait for %(things)s", things=", ".join(block.waits)), "     ⧖ ")
            for result in block.results:
                lines += wrap(result.text, "     → ")
            return lines
        case LayOutBlock():
            return wrap("; ".join(line.text for line in block.lines), f"     {tongue.say('Set out:')} ", "     ")
        case AsideBlock():
            return wrap(pieces_text(block.pieces), "     ", width=WIDTH - 5)
        case StopBlock():
            return wrap(tongue.say("Stop here, if you like: %(hold)s.", hold=block.text), "     ■ ")


def _ends(sheet: DishSheet, tongue: Language) -> list[str]:
    say = tongue.say
    lines: list[str] = []
    if sheet.keeps:
        lines += wrap("; ".join(sheet.keeps), say("KEEPS") + "  ")
    for note in sheet.notes:
        lines += wrap(note, say("NOTE") + "  ")
    if sheet.rounded:
        rounded = say("Amounts are rounded for the scale and the spoon, within 5 % (salt and leavening 3 %).")
        lines += wrap(rounded, say("NOTE") + "  ")
    if sheet.source:
        lines += wrap(sheet.source, say("SOURCE") + "  ")
    return ["", rule(), *lines] if lines else []
