"""What a task asks of an oven, and what is said when the kitchen's can't do it."""

from __future__ import annotations

from fractions import Fraction

from recipec.measure.show import show_temperature
from recipec.model.dish import Dish
from recipec.plan.action_types import Heat
from recipec.plan.draft import Draft
from recipec.plan.timeline_types import OvenNeed, Pool, Trouble
from recipec.plan.work_figures import figure


def oven_need(heat: Heat | None, dish: Dish, draft: Draft) -> OvenNeed | None:
    """The oven's pool, range and shelves; None for no oven."""
    if heat is None:
        return None
    name = "oven" if heat.mark is None or heat.mark < 0 else dish.gear[heat.mark].name
    piece = draft.stock.find(name)
    pool = draft.kind_pool("oven") if piece.line is None else draft.pool(piece)
    kind = draft.pools[pool]
    if draft.stock.kitchen is not None and draft.stock.first("oven") is None:
        title = draft.stock.kitchen.title
        draft.trouble(
            Trouble(
                "not-in-kitchen",
                heat.at,
                f"{dish.title} goes into an oven, and {title} has none.",
                (f"Add `oven: 1` to {title}, or cook something else there.",),
            )
        )
    if heat.written is None:
        degrees = f"{figure('unsaid oven')} °C"
        draft.assume(
            draft.tongue.say(
                "%(dish)s does not say how hot its oven is: %(degrees)s is taken.", dish=dish.title, degrees=degrees
            )
        )
    _check_heat(heat, dish, kind, draft)
    shelves = heat.shelves
    if shelves > kind.shelves:
        shelves = kind.shelves
        draft.assume(
            draft.tongue.say(
                "%(dish)s wants %(wanted)s shelves of one oven, and there are %(there)s: it fills the oven.",
                dish=dish.title,
                wanted=heat.shelves,
                there=kind.shelves,
            )
        )
    # What no dial here shows is planned at the highest that it does.
    low, high = (end if kind.up_to is None else min(end, kind.up_to) for end in (heat.low, heat.high))
    return OvenNeed(pool, low, high, shelves)


def _check_heat(heat: Heat, dish: Dish, oven: Pool, draft: Draft) -> None:
    """A trouble when the oven does not get so hot."""
    if oven.up_to is None or heat.written is None:
        return
    if heat.low <= oven.up_to:
        return
    wanted = show_temperature(Fraction(heat.low, 10), None, "C", oven=True)
    most = show_temperature(Fraction(oven.up_to, 10), None, "C", oven=True)
    draft.trouble(
        Trouble(
            "too-hot-for-oven",
            heat.written,
            f"{dish.title} wants {wanted}, and the oven here goes up to {most}.",
            ("Write a temperature that it reaches, with the longer time that takes, or cook it elsewhere.",),
        )
    )
