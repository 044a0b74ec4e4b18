"""Words that every form of the costing sheet shares."""

from __future__ import annotations

from fractions import Fraction

from recipec.measure.language import ENGLISH, Language
from recipec.measure.numerals import decimal
from recipec.plan.costing_types import Costing, DishCost


def dish_title(dish: DishCost, tongue: Language = ENGLISH) -> str:
    """The dish, and what is left out of it."""
    return ", ".join((dish.title, *(tongue.say("without %(food)s", food=food) for food in dish.without)))


def plates_number(plates: Fraction, tongue: Language = ENGLISH) -> str:
    """`10`, `6.7`: to a tenth."""
    return decimal(Fraction(round(plates * 10), 10), tongue.mark)


def plates_words(plates: Fraction | None, tongue: Language = ENGLISH) -> str:
    """`1 plate`, `6.7 plates`; '' for what is not drawn by plates."""
    if plates is None:
        return ""
    number = plates_number(plates, tongue)
    return tongue.form("%(number)s plate", "%(number)s plates", tongue.counts(plates), context="sum", number=number)


def eaters_words(costing: Costing, tongue: Language = ENGLISH) -> str:
    """For whom: guests of a booking, plates of a dish."""
    guests = costing.guests
    if guests is None:
        return plates_words(costing.dishes[0].plates, tongue) if costing.dishes else ""
    return tongue.form("%(number)s guest", "%(number)s guests", tongue.counts(guests), context="sum", number=guests)


def each_words(costing: Costing, money: str, tongue: Language = ENGLISH) -> str:
    """`£12.40 a guest`, or a plate of a dish by itself."""
    if costing.guests is not None:
        return tongue.say("%(money)s a guest", money=money)
    return tongue.say("%(money)s a plate", money=money)


def made_words(dish: DishCost, tongue: Language = ENGLISH) -> str:
    """`6 plates · 1.4 l`: how much of a dish."""
    return " · ".join(text for text in (plates_words(dish.plates, tongue), dish.made) if text)


def remark_words(costing: Costing, tongue: Language = ENGLISH) -> tuple[tuple[str, str], ...]:
    """What stands beside the sums: the heading, and the names under it."""
    unmeasured = () if costing.seasoning_part else costing.unmeasured
    remarks = (
        (tongue.say("No price known for"), costing.unpriced),
        (tongue.say("No amount given for"), unmeasured),
        (tongue.say("On hand, not costed"), costing.on_hand),
    )
    return tuple((words, ", ".join(names)) for words, names in remarks if names)
