"""A dish's sheet as plain values for the card and for the book's pages."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from recipec.emit.dish_page import board, holds, shown_strands
from recipec.emit.pdf.values import Plain, plain
from recipec.emit.render import clean
from recipec.measure.language import Language
from recipec.plan.sheet import (
    AmountText,
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
    SheetPiece,
    StepBlock,
    StrandSheet,
    WordsPiece,
)


def dish(sheet: DishSheet, much: str, tongue: Language) -> dict[str, Plain]:
    """What a card or a page of the book prints of a dish."""
    groups = partial(tongue.say, context="allergen")
    return {
        "title": clean(sheet.title),
        "much": clean(much),
        "version": sheet.version,
        "without": _texts(sheet.without),
        "cautions": plain(sheet.cautions, frozenset({"slug"})),
        "groups": [_group(group) for group in board(sheet)],
        "gear": _texts(sheet.gear),
        "board-height": _board_height(sheet),
        "allergens": {
            "contains": _texts(map(groups, sheet.allergens.contains)),
            "may": _texts(map(groups, sheet.allergens.may_contain)),
            "unknown": _texts(sheet.allergens.unknown),
        },
        "keeps": _texts(sheet.keeps),
        "holds": [_result(line) for line in holds(sheet)],
        "notes": _texts(sheet.notes),
        "source": clean(sheet.source),
        "strands": [_strand(strand) for strand in shown_strands(sheet)],
    }


def _board_height(sheet: DishSheet) -> int:
    """About how high the board is on a card, in mm, over rather than under: 68 mm hold 34 letters, and figures are twice as wide."""
    groups = board(sheet)
    large = [line.text for group in groups for line in group.lines]
    large += [*sheet.keeps, *(f"{line.name} {line.hold}" for line in holds(sheet))]
    small = [*sheet.notes, "; ".join(sheet.gear), ", ".join(sheet.allergens.contains)]
    small += [", ".join(sheet.allergens.may_contain), ", ".join(sheet.allergens.unknown) + " " * 80]
    high = sum(8 * (1 + (len(text) + 8) // 30) for text in large) + sum(5 * (1 + len(text) // 30) for text in small)
    return high + 6 * len(groups) + 4 * 9


def _texts(texts: Iterable[str]) -> list[Plain]:
    return [clean(text) for text in texts]


def _group(group: IngredientGroup) -> Plain:
    return {
        "heading": clean(group.heading.removesuffix(":")),
        "lines": [_line(line) for line in group.lines],
    }


def _line(line: IngredientLine) -> Plain:
    return {
        "amount": _text(line.amount),
        "tail": _tail(line.amount),
        "part": clean(line.part),
        "before": clean(" ".join(line.before)),
        "name": clean(line.name),
        "our": line.our,
        "after": _texts((*line.after, *line.flags)),
        "others": [_line(other) for other in line.alternatives],
    }


def _strand(strand: StrandSheet) -> Plain:
    return {
        "heading": clean(strand.heading.removesuffix(":")),
        "blocks": [_block(block) for block in strand.blocks],
        "letters": sum(_letters(block) for block in strand.blocks),
    }


def _letters(block: SheetBlock) -> int:
    """About how long a block is, over rather than under."""
    match block:
        case StepBlock():
            return sum(_length(piece) for piece in block.pieces) + sum(len(line.text) + 3 for line in block.results)
        case LayOutBlock():
            return sum(len(line.text) + 2 for line in block.lines)
        case AsideBlock():
            return sum(_length(piece) for piece in block.pieces)
        case _:
            return len(block.text)


def _length(piece: SheetPiece) -> int:
    match piece:
        case ReadingPiece():
            said = (piece.text, piece.also, piece.cue, *piece.remarks, piece.check_at)
            return sum(len(text) + 3 for text in said if text)
        case GearPiece():
            return len(piece.text) + len(piece.remark)
        case _:
            return len(piece.text)


def _block(block: SheetBlock) -> Plain:
    match block:
        case StepBlock():
            return {
                "sort": "step",
                "number": block.number,
                "pieces": [_piece(piece) for piece in block.pieces],
                "results": [_result(line) for line in block.results],
                "letters": _letters(block),
            }
        case LayOutBlock():
            return {"sort": "lay out", "lines": [_line(line) for line in block.lines]}
        case AsideBlock():
            return {"sort": "aside", "pieces": [_piece(piece) for piece in block.pieces]}
        case _:
            return {"sort": "stop", "text": clean(block.text)}


def _piece(piece: SheetPiece) -> Plain:
    match piece:
        case WordsPiece():
            return clean(piece.text)
        case FoodPiece():
            return {
                "sort": "food",
                "role": piece.role.value,
                "lead": clean(piece.lead),
                "amount": _text(piece.amount),
                "tail": _tail(piece.amount),
                "part": clean(piece.part),
                "before": clean(" ".join(piece.before)),
                "name": clean(piece.name),
                "comes": "" if piece.comes_to is None else clean(piece.comes_to.whole),
                "after": _texts((*piece.after, *piece.flags)),
                "others": _texts(piece.alternatives),
            }
        case GearPiece():
            return {"sort": "gear", "text": clean(piece.text), "remark": clean(piece.remark)}
        case ReadingPiece():
            return {
                "sort": "reading",
                "kind": piece.kind.value,
                "text": clean(piece.text),
                "also": clean(piece.also),
                "cue": clean(piece.cue),
                "remarks": _texts(piece.remarks),
                "check": clean(piece.check_at),
            }


def _result(line: ResultLine) -> Plain:
    return {
        "name": clean(line.name),
        "amount": "" if line.amount is None else clean(line.amount.whole),
        "hold": clean(line.hold),
        "discarded": line.discarded,
    }


def _text(amount: AmountText | None) -> str:
    return "" if amount is None else clean(amount.text)


def _tail(amount: AmountText | None) -> str:
    return "" if amount is None else clean(amount.tail)
