"""The demo book uses every form of the language. A form nobody uses is listed here by name, and fails."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from recipec.base.source import decode
from recipec.syntax import tree
from recipec.syntax.parse import parse
from recipec.syntax.tree import FileKind

RECIPES = Path(__file__).resolve().parent.parent / "recipes"


def walk(node: Any) -> Iterator[Any]:
    """Every named tuple of a tree."""
    if isinstance(node, tuple):
        if hasattr(node, "_fields") and type(node).__name__ != "Span":
            yield node
        for child in node:
            if not isinstance(child, str) and type(child).__name__ not in ("Span", "Source"):
                yield from walk(child)


def files() -> Iterator[tree.File]:
    kinds: tuple[FileKind, ...] = ("dish", "event", "kitchen")
    for kind in kinds:
        for path in sorted(RECIPES.rglob(f"*.{kind}")):
            yield parse(decode(path.name, path.read_bytes()).source, kind).tree


NODES = [node for file in files() for node in walk(file)]
TEXT = "\n".join(
    path.read_text(encoding="utf-8") for path in sorted(RECIPES.rglob("*")) if path.suffix in (".dish", ".event")
)


def some(kind: type[Any], test: Callable[[Any], bool] = lambda node: True) -> Callable[[], bool]:
    return lambda: any(isinstance(node, kind) and test(node) for node in NODES)


def written(pattern: str) -> Callable[[], bool]:
    return lambda: re.search(pattern, TEXT) is not None


def fact(key: str, kind: type[Any]) -> Callable[[], bool]:
    return some(tree.Fact, lambda node: node.key == key and isinstance(node.value, kind))


def feature(key: str) -> Callable[[], bool]:
    return some(tree.Feature, lambda node: node.key == key)


def unit(key: str) -> Callable[[], bool]:
    return some(tree.Term, lambda node: node.unit == key)


FORMS: dict[str, Callable[[], bool]] = {
    # food
    "amount, unit, name": some(tree.FoodItem, lambda n: n.amount is not None and n.amount.terms[0].unit == "g"),
    "several treatments": some(tree.FoodItem, lambda n: sum(isinstance(d, tree.Treatment) for d in n.details) >= 2),
    "counted with a size": some(tree.Term, lambda n: n.size in ("small", "medium", "large")),
    "heaped, level or scant": some(tree.Term, lambda n: n.size in ("heaped", "level", "scant")),
    "countable unit": unit("clove"),
    "a pack with what it holds": some(
        tree.Amount, lambda n: n.each is not None and n.terms[0].unit in ("tin", "can", "jar", "packet")
    ),
    "N x AMOUNT CONTAINER": written(r"\[\d+ x \d+"),
    "a 200 g steak": written(r"\[an? \d+ k?g "),
    "compound": some(tree.Amount, lambda n: len(n.terms) > 1),
    "range with hyphen": written(r"\[\d+-\d+ "),
    "range with to": written(r"\[\d+ to \d+ "),
    "range with en dash": written(r"\[\d+–\d+ "),
    "ASCII fraction": written(r"\[(\d+ )?1/\d "),
    "Unicode fraction": written(r"[\[ \d][½⅓⅔¼¾⅛]"),
    "approximate": some(tree.Amount, lambda n: n.about),
    "a pinch of": unit("pinch"),
    "a handful of": unit("handful"),
    "to taste": some(tree.Flag, lambda n: n.key == "to taste"),
    "to serve": some(tree.Flag, lambda n: n.key == "to serve"),
    "optional": some(tree.Flag, lambda n: n.key == "optional"),
    "fixed": some(tree.Flag, lambda n: n.key == "fixed"),
    "per plate": some(tree.FoodItem, lambda n: n.per_plate),
    "zest of": some(tree.Part, lambda n: n.key == "zest"),
    "juice of": some(tree.Part, lambda n: n.key == "juice"),
    "whites of": some(tree.Part, lambda n: n.key == "white"),
    "yolks of": some(tree.Part, lambda n: n.key == "yolk"),
    "alternatives": some(tree.Food, lambda n: len(n.choices) > 1),
    "half the": some(tree.Share, lambda n: n.kind == "fraction"),
    "the rest of": some(tree.Share, lambda n: n.kind == "rest"),
    "an amount of the": some(tree.Share, lambda n: n.kind == "amount"),
    "most of the": some(tree.Share, lambda n: n.kind == "unmeasured"),
    "the": some(tree.FoodItem, lambda n: n.article == "the" and n.share is None),
    "our": some(tree.FoodItem, lambda n: n.article == "our"),
    "percent of": some(tree.Percent),
    "rate per litre": some(tree.Rate),
    "AMOUNT each": some(tree.Each),
    "an egg plus a yolk": some(tree.FoodItem, lambda n: n.plus is not None),
    # gear
    "gear": some(tree.Gear, lambda n: n.article == "" and n.amount is None),
    "counted gear": some(tree.Gear, lambda n: n.amount is not None and n.amount.terms[0].unit is None),
    "the gear": some(tree.Gear, lambda n: n.article == "the"),
    "gear with a size": some(tree.Gear, lambda n: any(isinstance(d, tree.Treatment) for d in n.details)),
    "gear that takes plates": some(tree.Takes, lambda n: n.amount.terms[0].unit == "plate"),
    "gear that takes an amount": some(tree.Takes, lambda n: n.amount.terms[0].unit != "plate"),
    "gear that recovers": some(tree.Recovers),
    "gear used up": some(tree.Gear, lambda n: n.amount is not None and n.amount.terms[0].unit is not None),
    # readings
    "duration": some(tree.Duration),
    "range of time": some(tree.Duration, lambda n: n.low != n.high),
    "compound time": written(r"<\d+ h \d+ min"),
    "seconds": written(r"<\d+ s\b"),
    "days": written(r"<\d+ d\b"),
    "degrees C": some(tree.Temperature, lambda n: n.scale == "C"),
    "degrees F": some(tree.Temperature, lambda n: n.scale == "F"),
    "gas mark": some(tree.Temperature, lambda n: n.scale == "gas"),
    "fan": some(tree.Temperature, lambda n: n.kind == "fan"),
    "core": some(tree.Temperature, lambda n: n.kind == "core"),
    "thickness": some(tree.Extent, lambda n: n.shape is None),
    "what is left": some(tree.Left, lambda n: n.amount is not None),
    "by half": some(tree.Left, lambda n: n.fraction is not None),
    "time of day": some(tree.Clock, lambda n: n.end is None),
    "course over a span": some(tree.Clock, lambda n: n.end is not None),
    "course after another": some(tree.AfterCourse),
    "cue": some(tree.Reading, lambda n: n.cue is not None),
    "alone": some(tree.Reading, lambda n: n.attention == "alone"),
    "attended": some(tree.Reading, lambda n: n.attention == "attended"),
    "within reach": some(tree.Reading, lambda n: n.attention == "within reach"),
    "per plate time": some(tree.Duration, lambda n: n.pace is not None and n.pace.unit == "plate"),
    "per kg time": some(tree.Duration, lambda n: n.pace is not None and n.pace.unit == "kg"),
    "a batch time": some(tree.Duration, lambda n: n.pace is not None and n.pace.unit == "batch"),
    "turn at": some(tree.Touch, lambda n: not n.every),
    "baste every": some(tree.Touch, lambda n: n.every),
    "rises to": some(tree.Temperature, lambda n: n.rises_to is not None),
    "several times over": some(tree.Duration, lambda n: n.times > 1),
    # results and holds
    "result": some(tree.Result),
    "result with an amount": some(tree.Result, lambda n: n.amount is not None),
    "several results": some(tree.Step, lambda n: len(n.results) > 1),
    "discarded": some(tree.Result, lambda n: n.discarded),
    "holds at room temperature": some(tree.Holding, lambda n: n.state == ""),
    "holds chilled": some(tree.Holding, lambda n: n.state == "chilled"),
    "holds frozen": some(tree.Holding, lambda n: n.state == "frozen"),
    "holds warm": some(tree.Holding, lambda n: n.state == "warm"),
    "holds hot": some(tree.Holding, lambda n: n.state == "hot"),
    "holds in gear": some(tree.Holding, lambda n: n.vessel is not None),
    "cooled in": some(tree.Holding, lambda n: n.cooled_in is not None),
    "back in": some(tree.Holding, lambda n: n.back_in is not None and n.back_gear is not None),
    "stop here": some(tree.Stop),
    # blocks
    "strand": some(tree.Heading),
    "lay-out": some(tree.LayOut),
    "aside": some(tree.Aside),
    "remark": some(tree.Remark),
    "escape": written(r"\\[\[{<\\]"),
    # facts of a dish
    "serves": fact("serves", tree.Number),
    "makes": fact("makes", tree.Yield),
    "makes, a plate": some(tree.Yield, lambda n: n.plate is not None),
    "makes pieces": some(tree.Yield, lambda n: n.noun is not None),
    "course": fact("course", tree.Text),
    "keeps": fact("keeps", tree.Keeps),
    "measures": fact("measures", tree.Text),
    "tags": fact("tags", tree.Items),
    "photo": fact("photo", tree.Text),
    "source": fact("source", tree.Text),
    "accept": fact("accept", tree.Acceptance),
    "accept for": some(tree.Acceptance, lambda n: n.subject is not None),
    "tolerance": fact("tolerance", tree.Degrees),
    "batch": fact("batch", tree.Text),
    # facts of an event
    "guests": some(tree.Guests, lambda n: n.expecting > 0 or n.under_five > 0),
    "serve": fact("serve", tree.DayTime),
    "arrive": fact("arrive", tree.DayTime),
    "prepare": some(
        tree.Fact, lambda n: n.key == "prepare" and isinstance(n.value, tree.DayTime) and n.value.end is not None
    ),
    "kitchen": fact("kitchen", tree.Text),
    "hands": fact("hands", tree.Hands),
    "hands by the clock": some(tree.Hands, lambda n: len(n.turns) > 1),
    "budget": fact("budget", tree.Sum),
    "budget in dollars": some(tree.Sum, lambda n: n.currency == "USD"),
    "on hand": fact("on hand", tree.Items),
    "seat allergic": some(tree.Need, lambda n: n.kind == "allergic"),
    "seat diet": some(tree.Need, lambda n: n.kind == "diet"),
    "seat rather not": some(tree.Need, lambda n: n.kind == "rather not"),
    "spare": fact("spare", tree.Number),
    "children": fact("children", tree.Children),
    "crew": fact("crew", tree.Number),
    "leave by": fact("leave by", tree.DayTime),
    "aim": fact("aim", tree.Text),
    "reserve": fact("reserve", tree.Stretch),
    "plates of our": some(tree.Term, lambda n: n.unit == "plate"),
    "without": some(tree.Without),
    "for seats": some(tree.ForSeats),
    # facts of a kitchen
    "stock": some(tree.Stock),
    "oven shelves": feature("shelves"),
    "oven up to": feature("up to"),
    "oven heats": feature("heats"),
    "oven fan": feature("fan"),
    "burners": feature("burners"),
    "alone in a kitchen": feature("alone"),
    "on the hob": feature("on"),
    "fridge size": feature("size"),
}


@pytest.mark.parametrize("form", FORMS)
def test_the_demo_book_uses(form: str) -> None:
    assert FORMS[form](), f"no file of the demo book uses: {form}"


def test_the_demo_book_is_as_large_as_promised() -> None:
    assert len(list(RECIPES.rglob("*.dish"))) >= 16
    assert len(list(RECIPES.rglob("*.event"))) >= 3
    assert len(list(RECIPES.rglob("*.kitchen"))) >= 2
