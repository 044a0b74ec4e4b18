"""Which papers are printed, by which template of `site/typst`, and what each is given of what its page is filled with."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import NamedTuple, TypeAlias, cast

from recipec.emit.card_page import FIGURE
from recipec.emit.lanes_draw import Drawing
from recipec.emit.pdf.dish import dish
from recipec.emit.pdf.values import Plain, plain
from recipec.emit.timeline_svg import Lanes
from recipec.emit.timeline_words import DayText
from recipec.measure.language import language_of
from recipec.plan.allergen_groups import Group
from recipec.plan.costing_types import Costing
from recipec.plan.market_types import Market
from recipec.plan.sheet import DishSheet

Context: TypeAlias = Mapping[str, object]
View: TypeAlias = Callable[[Context, str], dict[str, Plain]]


class Printed(NamedTuple):
    """A paper that is printed: its typst template, and what that is given of a page's context, in a language."""

    template: str
    view: View


_SLUG = frozenset({"slug"})


def _picked(*names: str) -> View:
    def view(context: Context, language: str) -> dict[str, Plain]:
        return {name: plain(context[name], _SLUG) for name in names}

    return view


def _card(context: Context, language: str) -> dict[str, Plain]:
    sheet, much = cast(DishSheet, context["sheet"]), cast(str, context["much"])
    return {"sheet": dish(sheet, much, language_of(language)), "figure": FIGURE.pattern}


def _market(context: Context, language: str) -> dict[str, Plain]:
    found = cast(Market, context["market"])
    return {
        **_picked("title", "departments", "on_hand", "till", "used")(context, language),
        "at_least": found.at_least,
        "problems": plain(found.problems),
        "unpriced": plain(found.unpriced),
        "over": [[left.title, left.text] for left in found.surplus],
    }


def _cost(context: Context, language: str) -> dict[str, Plain]:
    costing = cast(Costing, context["costing"])
    names = ("eaters", "sums", "budget_bar", "bars", "dishes", "components", "remarks", "swaps")
    return {
        **_picked(*names)(context, language),
        "title": costing.title,
        "problems": plain(costing.problems),
        "of_event": costing.guests is not None,
    }


def _guests(context: Context, language: str) -> dict[str, Plain]:
    tongue = language_of(language)
    names = ("title", "when", "rules", "local_code", "never_free", "all_cautions", "seats", "rows", "diets")
    groups = cast("tuple[Group, ...]", context["groups"])
    return {
        **_picked(*names)(context, language),
        "groups": [f"{group.number} {tongue.say(group.short, context='allergen')}".strip() for group in groups],
    }


def _timeline(context: Context, language: str) -> dict[str, Plain]:
    names = ("title", "when", "why_not", "status", "collisions", "assumed", "all_cautions", "courses", "late")
    days = cast("tuple[DayText, ...]", context["days"])
    strips = cast("tuple[Lanes, ...]", context["strips"])
    return {
        **_picked(*names)(context, language),
        "days": [
            {
                "name": day.name,
                "lines": [
                    {**cast("dict[str, Plain]", plain(line, frozenset({"line"}))), "kind": line.line.kind.value}
                    for line in day.lines
                ],
            }
            for day in days
        ],
        "strips": [
            {"name": strip.name, "wide": _drawing(strip.wide), "tall": _drawing(strip.tall)} for strip in strips
        ],
    }


def _drawing(drawing: Drawing) -> Plain:
    return {
        "width": drawing.width,
        "height": drawing.height,
        "boxes": plain(drawing.boxes, frozenset({"about"})),
        "strokes": [
            {"sort": stroke.sort, "points": [[float(x) for x in pair.split(",")] for pair in stroke.points.split()]}
            for stroke in drawing.strokes
        ],
        "labels": plain(drawing.labels),
    }


PRINTED: Mapping[str, Printed] = MappingProxyType(
    {
        "card.html": Printed("card.typ", _card),
        "market.html": Printed("market.typ", _market),
        "cost.html": Printed("cost.typ", _cost),
        "timeline.html": Printed("timeline.typ", _timeline),
        "prep.html": Printed("prep.typ", _picked("title", "when", "all_cautions", "days", "nothing")),
        "pull.html": Printed("pull.typ", _picked("title", "when", "bring", "have", "nothing")),
        "guests.html": Printed("guests.typ", _guests),
        "menu.html": Printed(
            "menu.typ", _picked("title", "day", "courses", "key", "any_unknown", "list_name", "ask", "accepted")
        ),
        "labels.html": Printed("labels.typ", _picked("over", "head", "also", "labels", "nothing")),
        "leftovers.html": Printed("leftovers.typ", _picked("over", "head", "also", "first", "lines", "nothing")),
        "log.html": Printed("log.typ", _picked("over", "head", "also", "parts")),
    }
)
"""By the template of the page."""
