"""The costing sheet as JSON, in the stable shape that scripts rely on; its schema is `schemas/cost.json`."""

from __future__ import annotations

from collections.abc import Mapping

from recipec.emit.json_papers import Json, json_text, money_data
from recipec.emit.swaps_words import swaps_data
from recipec.plan.costing_types import Costing, CostLine, DishCost, ItemCost
from recipec.plan.swaps_types import Swaps


def cost_json(costing: Costing, swaps: Swaps | None = None) -> str:
    """`cost --format json`."""
    return json_text(cost_data(costing, swaps))


def cost_data(costing: Costing, swaps: Swaps | None = None) -> Mapping[str, Json]:
    """A costing sheet: parts and yields are exact rationals as strings, 1 for all of it. Every total is the sum of its lines."""
    single: list[Json] = []
    cheapest: Json = None
    if swaps is not None:
        single, cheapest = swaps_data(swaps)
    return {
        "title": costing.title,
        "currency": costing.currency,
        "guests": costing.guests,
        "used": money_data(costing.used),
        "seasoning": {"part": str(costing.seasoning_part), "value": money_data(costing.seasoning)},
        "total": money_data(costing.total),
        "till": money_data(costing.till),
        "budget": money_data(costing.budget),
        "left": money_data(costing.left),
        "per_guest": money_data(costing.per_guest),
        "till_per_guest": money_data(costing.till_per_guest),
        "price": money_data(costing.price),
        "food_cost": None if costing.food_cost is None else str(costing.food_cost),
        "at_least": costing.at_least,
        "dishes": [_dish(dish) for dish in costing.dishes],
        "components": [_dish(dish) for dish in costing.components],
        "items": [_item(item) for item in costing.items],
        "unpriced": list(costing.unpriced),
        "unmeasured": list(costing.unmeasured),
        "on_hand": list(costing.on_hand),
        "problems": list(costing.problems),
        "swaps": single,
        "cheapest": cheapest,
    }


def _dish(dish: DishCost) -> dict[str, Json]:
    return {
        "dish": dish.dish,
        "title": dish.title,
        "without": list(dish.without),
        "plates": None if dish.plates is None else str(dish.plates),
        "made": dish.made,
        "used": money_data(dish.used),
        "seasoning": money_data(dish.seasoning),
        "total": money_data(dish.total),
        "per_plate": money_data(dish.per_plate),
        "price": money_data(dish.price),
        "food_cost": None if dish.food_cost is None else str(dish.food_cost),
        "part": str(dish.part),
        "at_least": dish.at_least,
        "lines": [_line(line) for line in dish.lines],
    }


def _line(line: CostLine) -> dict[str, Json]:
    return {
        "item": line.name,
        "dish": line.dish,
        "file": line.span.source.name,
        "line": line.span.position.line,
        "need": line.need,
        "yield": str(line.left),
        "buy": line.buy,
        "ap_rate": line.ap_rate,
        "ep_rate": line.ep_rate,
        "cost": money_data(line.cost),
        "remark": None if line.why is None else line.why.value,
    }


def _item(item: ItemCost) -> dict[str, Json]:
    return {
        "item": item.item,
        "name": item.name,
        "department": item.department,
        "need": item.need,
        "buy": item.buy,
        "surplus": item.surplus,
        "used": money_data(item.used),
        "till": money_data(item.till),
        "part": str(item.part),
    }
