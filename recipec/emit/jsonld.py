"""A dish as schema.org Recipe data (JSON-LD), inside its page. Only what is known is said."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import TypeAlias

from recipec.emit.render import clean
from recipec.plan.sheet import DishSheet, GearPiece, ReadingKind, ReadingPiece, SheetPiece, StepBlock, StrandSheet

Json: TypeAlias = "str | int | Sequence[Json] | Mapping[str, Json] | None"

# Inside a script element only these can end it or be mistaken for a comment's start; JSON knows them by number too.
_ESCAPES = (("<", "\\u003c"), (">", "\\u003e"), ("&", "\\u0026"), ("\u2028", "\\u2028"), ("\u2029", "\\u2029"))


def recipe(sheet: DishSheet, author: str, language: str, image: str = "") -> dict[str, Json]:
    """The data of one dish; `image` leads from its page to its picture. Empty properties are left out."""
    total = total_seconds(sheet)
    said: dict[str, Json] = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": sheet.title,
        "image": image,
        "inLanguage": language,
        "author": {"@type": "Person", "name": author} if author else "",
        "recipeCategory": sheet.course,
        "keywords": ", ".join(sheet.tags),
        "recipeYield": [text for text in (sheet.plates_text, sheet.makes) if text],
        "recipeIngredient": [line.text for line in sheet.ingredients],
        "tool": list(sheet.gear),
        "totalTime": "" if total is None else iso_duration(total),
        "recipeInstructions": [part for strand in sheet.strands for part in _instructions(strand)],
    }
    return {name: value for name, value in said.items() if value}


def embedded(data: Mapping[str, Json]) -> str:
    """The data as text that can't break out of a script element."""
    text = json.dumps(_clean(data), ensure_ascii=False, separators=(",", ":"))
    for char, escape in _ESCAPES:
        text = text.replace(char, escape)
    return text


def _clean(data: Json) -> Json:
    match data:
        case str():
            return clean(data)
        case Mapping():
            return {name: _clean(value) for name, value in data.items()}
        case int() | None:
            return data
        case _:
            return [_clean(value) for value in data]


def iso_duration(seconds: int) -> str:
    """An ISO 8601 duration in days, hours, minutes and seconds: 5400 is `PT1H30M`."""
    days, rest = divmod(seconds, 86_400)
    hours, rest = divmod(rest, 3_600)
    minutes, rest = divmod(rest, 60)
    clock = "".join(f"{number}{letter}" for number, letter in ((hours, "H"), (minutes, "M"), (rest, "S")) if number)
    day = f"{days}D" if days else ""
    if not day and not clock:
        return "PT0S"
    return f"P{day}T{clock}" if clock else f"P{day}"


def total_seconds(sheet: DishSheet) -> int | None:
    """How long the whole dish takes, where its text says so: one strand, each step of it timed. None otherwise.

    Work on food that states no time takes some, so a dish with a step that states none has no known total; nor has one
    whose strands run side by side, nor one made with another dish.
    """
    if len(sheet.strands) != 1 or any(line.our for line in sheet.ingredients):
        return None
    total = 0
    for block in sheet.strands[0].blocks:
        if not isinstance(block, StepBlock):
            continue
        times = [piece for piece in block.pieces if isinstance(piece, ReadingPiece) and piece.kind is ReadingKind.TIME]
        if not times or any(piece.high_s is None for piece in times):
            return None
        total += sum((piece.high_s or 0) * piece.times for piece in times)
    return total or None


def _instructions(strand: StrandSheet) -> list[Json]:
    steps: list[Json] = []
    for block in strand.blocks:
        if isinstance(block, StepBlock):
            step: dict[str, Json] = {"@type": "HowToStep", "text": plain(block.pieces)}
            steps.append(step)
    if not steps or not strand.heading:
        return steps
    return [{"@type": "HowToSection", "name": strand.heading.removesuffix(":"), "itemListElement": steps}]


def plain(pieces: Sequence[SheetPiece]) -> str:
    """A step as one line of prose."""
    return "".join(_plain(piece) for piece in pieces).strip()


def _plain(piece: SheetPiece) -> str:
    match piece:
        case ReadingPiece():
            return ", ".join(part for part in (piece.text, piece.cue, *piece.remarks) if part)
        case GearPiece():
            return f"{piece.text}, {piece.remark}" if piece.remark else piece.text
        case _:
            return piece.text
