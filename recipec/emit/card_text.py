"""A dish's card as plain text, 80 columns."""

from __future__ import annotations

from collections.abc import Iterable

from recipec.emit.plain import WIDTH, columns, page, rule, safe, title_line, wrap
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


def card_text(sheet: DishSheet) -> str:
    """All of a card: what a cook needs at the stove, in the order of need."""
    lines = [*title_line(sheet.title, f"version {sheet.version}"), rule("═")]
    facts = [sheet.course, sheet.plates_text, f"makes {sheet.makes}" if sheet.makes else ""]
    about = " · ".join(fact for fact in facts if fact)
    lines += wrap(about) if about else []
    if sheet.without:
        lines += wrap(" or ".join(sheet.without), "WITHOUT  ")
    lines += caution_lines(sheet.cautions)
    lines += ["", *_allergens(sheet)]
    lines += _ingredients(sheet)
    if sheet.gear:
        lines += ["", *wrap("; ".join(sheet.gear), "GEAR  ")]
    for strand in sheet.strands:
        heading = strand.heading.removesuffix(":")
        lines += ["", *title_line(heading.upper(), _after(strand.needs)), rule()] if heading else ["", rule()]
        for block in strand.blocks:
            lines += [*_block(block), ""]
        if strand.blocks:
            lines.pop()
    lines += _ends(sheet)
    return page(lines)


def caution_lines(cautions: Iterable[Caution]) -> list[str]:
    """What stands above everything else on any paper: dangers, and what was accepted with its reason, an empty line before each."""
    lines: list[str] = []
    for caution in cautions:
        reason = f" Accepted by the cook: {caution.reason}" if caution.reason else ""
        lines += ["", *wrap(f"{caution.text}{reason}", f"{caution.severity.value.upper()}: ", "    ")]
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


def line_words(line: IngredientLine) -> str:
    """A line of the list without its amount, alternatives in full."""
    tail = "" if line.amount is None else line.amount.tail
    of = (line.part,) if line.part else ()
    words = ", ".join((" ".join((*of, *line.before, line.name)) + tail, *line.after, *line.flags))
    return " or ".join((f"our {words}" if line.our else words, *(other.text for other in line.alternatives)))


def _after(needs: tuple[str, ...]) -> str:
    return f"after {', '.join(needs)}" if needs else ""


def _allergens(sheet: DishSheet) -> list[str]:
    answer = sheet.allergens
    lines = []
    if answer.contains:
        lines += wrap(", ".join(answer.contains), "CONTAINS  ")
    if answer.may_contain:
        lines += wrap(", ".join(answer.may_contain), "MAY CONTAIN  ")
    if answer.unknown:
        lines += wrap(f"allergens of {', '.join(answer.unknown)}: read the packet, ask the supplier", "UNKNOWN  ")
    # Never "free of": the recipe does not know the kitchen.
    return lines or wrap(
        "no allergen of the 14 in the recipe; what else the kitchen handles is not known here", "ALLERGENS  "
    )


def _ingredients(sheet: DishSheet) -> list[str]:
    groups = sheet.groups if len(sheet.groups) > 1 else ()
    if not groups:
        return (
            ["", "INGREDIENTS", *(part for line in sheet.ingredients for part in _line(line))]
            if sheet.ingredients
            else []
        )
    lines = ["", "INGREDIENTS"]
    for group in groups:
        lines += ["", *wrap(group.heading.removesuffix(":"), "  ")] if group.heading else []
        lines += [part for line in group.lines for part in _line(line)]
    return lines


def _line(line: IngredientLine) -> list[str]:
    amount = "" if line.amount is None else safe(line.amount.text).replace(NO_BREAK, " ")
    pad = " " * max(0, _AMOUNTS - columns(amount))
    return wrap(line_words(line), f"{pad}{amount}  ", " " * (_AMOUNTS + 2))


def _block(block: SheetBlock) -> list[str]:
    match block:
        case StepBlock():
            number = f"{block.number:>3}  "
            lines = wrap(pieces_text(block.pieces), number)
            if block.waits:
                lines += wrap(f"wait for {', '.join(block.waits)}", "     ⧖ ")
            for result in block.results:
                lines += wrap(result.text, "     → ")
            return lines
        case LayOutBlock():
            return wrap("; ".join(line.text for line in block.lines), "     Set out: ", "     ")
        case AsideBlock():
            return wrap(pieces_text(block.pieces), "     ", width=WIDTH - 5)
        case StopBlock():
            return wrap(f"Stop here, if you like: {block.text}.", "     ■ ")


def _ends(sheet: DishSheet) -> list[str]:
    lines: list[str] = []
    if sheet.keeps:
        lines += wrap("; ".join(sheet.keeps), "KEEPS  ")
    for note in sheet.notes:
        lines += wrap(note, "NOTE  ")
    if sheet.rounded:
        lines += wrap("Amounts are rounded for the scale and the spoon, within 5 % (salt and leavening 3 %).", "NOTE  ")
    if sheet.source:
        lines += wrap(sheet.source, "SOURCE  ")
    return ["", rule(), *lines] if lines else []
