"""The card and the market list as JSON, in the stable shapes that scripts rely on. Schemas lie in `schemas/`."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from importlib.resources import files
from typing import TypeAlias

from recipec.emit.card_text import piece_text, pieces_text
from recipec.measure.currency import in_coins
from recipec.measure.quantity import Amount, Quantity
from recipec.measure.show import show_amount
from recipec.model.prices import Money
from recipec.plan.allergens import AllergenAnswer
from recipec.plan.market_types import Asked, Market, MarketLine
from recipec.plan.sheet import (
    AmountText,
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
    StrandSheet,
    WordsPiece,
)

Json: TypeAlias = "str | int | bool | list[Json] | dict[str, Json] | None"

SCHEMAS = ("card", "check", "convert", "cost", "guests", "labels", "leftovers", "log", "market", "timeline")
"""Names of the shipped schemas."""


def schema(name: str) -> str:
    """The text of a shipped JSON Schema (2020-12), one of `SCHEMAS`."""
    return (files("recipec.emit") / "schemas" / f"{name}.json").read_text(encoding="utf-8")


def card_json(sheet: DishSheet) -> str:
    """`card --format json`."""
    return json_text(card_data(sheet))


def market_json(market: Market) -> str:
    """`market --format json`."""
    return json_text(market_data(market))


def json_text(data: Mapping[str, Json]) -> str:
    """Data as the commands write it: indented, a line end at the end."""
    text = json.dumps(data, ensure_ascii=False, indent=2)
    # Half a surrogate pair is no UTF-8; JSON knows it by number.
    return text.encode("utf-8", "backslashreplace").decode("utf-8") + "\n"


# ---------------------------------------------------------------- amounts and money


def amount_data(words: str, terms: tuple[Quantity, ...]) -> dict[str, Json]:
    """An amount: exact value and unit of its first term (`high` too for a range), further terms under `plus`, and the words."""
    head: dict[str, Json] = _term(terms[0]) if terms else {"value": None, "unit": None}
    more: dict[str, Json] = {"plus": [_term(term) for term in terms[1:]]} if len(terms) > 1 else {}
    return {**head, "text": words, **more}


def _term(term: Quantity) -> dict[str, Json]:
    data: dict[str, Json] = {"value": str(term.low), "unit": term.unit.name}
    return {**data, "high": str(term.high)} if term.is_range else data


def money_data(money: Money | None) -> Json:
    """Money, its value in whole coins of its currency (`12.40`, `193` of yen); null where it is not known."""
    if money is None:
        return None
    return {"value": in_coins(money.value, money.currency), "currency": money.currency}


def _shown(amount: AmountText | None) -> Json:
    return None if amount is None else {**amount_data(amount.whole, amount.exact), "rounded": amount.rounded}


def _exact(amount: Amount) -> dict[str, Json]:
    return amount_data(show_amount(amount).text, amount.terms)


# ---------------------------------------------------------------- market


def market_data(market: Market) -> dict[str, Json]:
    """The market list; what is on hand stands among the lines, after all that is to be got."""
    return {
        "events": list(market.events),
        "lines": [_market_line(line) for line in (*market.lines, *market.on_hand)],
        "used": money_data(market.used),
        "till": money_data(market.till),
        "at_least": market.at_least,
        "unpriced": list(market.unpriced),
        "surplus_dishes": [{"dish": left.dish, "text": left.text} for left in market.surplus],
        "problems": list(market.problems),
    }


def _market_line(line: MarketLine) -> dict[str, Json]:
    return {
        "item": line.item,
        "name": line.name,
        "department": line.department,
        "need": [_exact(amount) for amount in line.need],
        "need_text": line.need_text,
        "buy": [
            {
                "pack": amount_data(buy.pack_text, buy.pack.terms),
                "count": buy.count,
                "shop": buy.shop,
                "price": money_data(buy.price),
            }
            for buy in line.buy
        ],
        "surplus": None if line.surplus is None else amount_data(line.surplus_text, line.surplus.terms),
        "on_hand": line.on_hand,
        "asked_by": [_asked(asked) for asked in (*line.asked_by, *line.unmeasured)],
        "instead": list(line.instead),
    }


def _asked(asked: Asked) -> dict[str, Json]:
    return {
        "dish": asked.dish,
        "file": asked.span.source.name,
        "line": asked.span.position.line,
        "amount": None if asked.amount is None else amount_data(asked.text, asked.amount.terms),
        "text": asked.text,
        "without": list(asked.apart),
    }


# ---------------------------------------------------------------- card


def card_data(sheet: DishSheet) -> dict[str, Json]:
    """The card: the dish scaled, its texts as shown, its numbers exact."""
    return {
        "key": sheet.key,
        "title": sheet.title,
        "version": sheet.version,
        "without": list(sheet.without),
        "course": sheet.course,
        "tags": list(sheet.tags),
        "plates": None if sheet.plates is None else str(sheet.plates),
        "plates_text": sheet.plates_text,
        "makes": sheet.makes,
        "factor": str(sheet.factor),
        "rounded": sheet.rounded,
        "ingredients": [_ingredient(line) for line in sheet.ingredients],
        "gear": list(sheet.gear),
        "strands": [_strand(strand) for strand in sheet.strands],
        "keeps": list(sheet.keeps),
        "allergens": _allergens(sheet.allergens),
        "cautions": cautions_data(sheet.cautions),
        "notes": list(sheet.notes),
        "source": sheet.source,
        "price": money_data(sheet.price),
    }


def cautions_data(cautions: Iterable[Caution]) -> list[Json]:
    """Dangers, and what was accepted with the cook's reason ('' for none)."""
    return [
        {"slug": caution.slug, "severity": caution.severity.value, "text": caution.text, "reason": caution.reason}
        for caution in cautions
    ]


def _allergens(answer: AllergenAnswer) -> dict[str, Json]:
    return {
        "contains": list(answer.contains),
        "may_contain": list(answer.may_contain),
        "unknown": list(answer.unknown),
    }


def _ingredient(line: IngredientLine) -> dict[str, Json]:
    return {
        "text": line.text,
        "amount": _shown(line.amount),
        "before": list(line.before),
        "name": line.name,
        "after": list(line.after),
        "flags": list(line.flags),
        "our": line.our,
        "dish": line.dish,
        "item": line.item,
        "allergens": _allergens(line.allergens),
        "alternatives": [_ingredient(other) for other in line.alternatives],
    }


def _strand(strand: StrandSheet) -> dict[str, Json]:
    return {
        "name": strand.heading.removesuffix(":"),
        "makes": strand.makes,
        "needs": list(strand.needs),
        "steps": [_block(block) for block in strand.blocks],
    }


def _block(block: SheetBlock) -> dict[str, Json]:
    match block:
        case StepBlock():
            return {
                "kind": "step",
                "number": block.number,
                "text": pieces_text(block.pieces),
                "parts": [_part(piece) for piece in block.pieces],
                "makes": [
                    {
                        "name": result.name,
                        "amount": _shown(result.amount),
                        "hold": result.hold,
                        "discarded": result.discarded,
                    }
                    for result in block.results
                ],
                "waits": list(block.waits),
            }
        case LayOutBlock():
            text = "; ".join(line.text for line in block.lines)
            return {
                "kind": "lay out",
                "text": text,
                "parts": [{"kind": "food", "text": line.text} for line in block.lines],
            }
        case AsideBlock():
            return {
                "kind": "aside",
                "text": pieces_text(block.pieces),
                "parts": [_part(piece) for piece in block.pieces],
            }
        case StopBlock():
            return {"kind": "stop", "text": block.text, "parts": []}


def _part(piece: SheetPiece) -> dict[str, Json]:
    match piece:
        case WordsPiece():
            return {"kind": "words", "text": piece.text}
        case GearPiece():
            return {"kind": "gear", "text": piece.text, "remark": piece.remark}
        case FoodPiece():
            return {
                "kind": "food",
                "text": piece.text,
                "name": piece.name,
                "amount": _shown(piece.amount),
                "comes_to": _shown(piece.comes_to),
                "role": piece.role.value,
                "dish": piece.dish,
                "written": piece.written,
            }
        case ReadingPiece():
            return {
                "kind": "reading",
                "text": piece_text(piece),
                "dial": piece.text,
                "reads": piece.kind.value,
                "low_s": piece.low_s,
                "high_s": piece.high_s,
                "times": piece.times,
                "cue": piece.cue,
                "check_at": piece.check_at,
            }
