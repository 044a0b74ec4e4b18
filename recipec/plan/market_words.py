"""The names of a market list in the cook's own words, and what is left of the packs."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from recipec.larder.names import normal_name
from recipec.measure.language import ENGLISH, Language, language_of
from recipec.measure.quantity import Amount, Dimension, Quantity, one
from recipec.measure.show import Style, shopping, show_amount
from recipec.measure.units import NOMINAL, unit
from recipec.plan.gather import Want
from recipec.plan.joining import grams, pieces_of
from recipec.plan.market_types import Asked
from recipec.plan.packs import Choice
from recipec.plan.wording import in_number

# A single one of these is no plural, however it is weighed: a joint, a large root. Common practice.
_LARGE = Fraction(300)

# What is left of one bunch, head or packet, as parts of it: common practice, since nobody measures a bunch.
_NOTHING = Fraction(1, 10)
_SOME = Fraction(2, 5)
_HALF = Fraction(13, 20)


def named(wants: tuple[Want, ...], need: tuple[Amount, ...], tongue: Language = ENGLISH) -> tuple[str, list[Asked]]:
    """The name of a line, and who asked. It is what the cook wrote; of several names the commonest, the first at a tie, and
    then the others stand with those who asked so."""
    counts: dict[str, int] = {}
    for want in wants:
        counts[normal_name(want.name)] = counts.get(normal_name(want.name), 0) + 1
    most = max(counts, key=lambda name: counts[name])
    same = [want for want in wants if normal_name(want.name) == most]
    asked = [
        want.asked
        if want in same
        else replace(want.asked, text=tongue.say("%(much)s, as %(food)s", much=want.asked.text, food=want.name))
        for want in wants
    ]
    return _numbered(same, need, tongue), asked


def _numbered(wants: list[Want], need: tuple[Amount, ...], tongue: Language) -> str:
    """`onions` for three of them; of what is weighed as the cook wrote it, or by how many it comes to."""
    first = wants[0]
    pieces = pieces_of(need)
    if pieces is not None:
        return in_number(first.name, first.ingredient, tongue.many(pieces), tongue)
    weighed = [want for want in wants if not _counted(want)]
    if weighed or len(need) != 1 or need[0].terms[0].unit.dimension is Dimension.COUNT:
        return (weighed or wants)[0].name
    single = _one_weighs(first)
    total = grams(need[0].terms[0], None, first.ingredient)
    if single is None or total is None:
        return first.name
    return in_number(first.name, first.ingredient, total > single and single < _LARGE, tongue)


def _counted(want: Want) -> bool:
    return want.amount is not None and any(term.unit == unit("piece") for term in want.amount.terms)


def _one_weighs(want: Want) -> Fraction | None:
    if want.amount is not None and want.amount.each is not None:
        return want.amount.each.base_high
    return None if want.ingredient is None else want.ingredient.weight_each()


def left_text(left: Amount, choices: tuple[Choice, ...], language: str = "en") -> str:
    """What is left over of all packs: `240 g`, `4`, `about half of it`; '' for next to nothing."""
    plain = Style(language=language)
    texts = (_left(term, choices, plain, language_of(language)) for term in left.terms)
    return language_of(language).say(" and ").join(text for text in texts if text)


def _left(term: Quantity, choices: tuple[Choice, ...], plain: Style, tongue: Language) -> str:
    packs = [(choice.price.pack, choice.count) for choice in choices]
    if term.unit.dimension is not Dimension.COUNT:
        held = [(pack.contents() or pack.total(), count) for pack, count in packs]
        whole = sum(
            (pack.base_low * count for pack, count in held if pack is not None and pack.unit.kind == term.unit.kind),
            Fraction(0),
        )
        if whole and term.base_high < whole / 100:
            return ""
        shown = show_amount(one(term), plain)
        # Of a small pack hardly touched the scale says that all of it is left.
        return (
            tongue.say("nearly all of it") if whole and shown.high is not None and shown.high >= whole else shown.text
        )
    number = term.high // 1
    if number:
        return show_amount(one(term._replace(low=Fraction(number), high=Fraction(number))), plain).text
    if term.high < _NOTHING:
        return ""
    bought = sum((total.high * count for pack, count in packs if (total := pack.total()) is not None), Fraction(0))
    if term.high < _SOME:
        return tongue.say("some of it") if bought == 1 else tongue.say("some of one")
    if term.high < _HALF:
        return tongue.say("about half of it") if bought == 1 else tongue.say("about half of one")
    return tongue.say("most of it") if bought == 1 else tongue.say("most of one")


def need_text(amount: Amount, style: Style) -> str:
    """One sum of a need in words, rounded up."""
    term = amount.terms[0]
    if term.unit.name in NOMINAL:
        return show_amount(amount, style).text
    american = style.measures == "us" or (style.measures == "as written" and term.unit.name.startswith("us_"))
    text = _cups(term, style) if american else ""
    text = text or shopping(term, style).text
    if amount.size is not None:
        tongue = language_of(style.language)
        text = f"{text} {tongue.form(amount.size, amount.size, tongue.many(term.high), context='size')}"
    if amount.each is not None and term.unit.name != "piece":
        text += f" ({_each_text(amount, style)})"
    return text


def _cups(term: Quantity, style: Style) -> str:
    """A volume in cups and spoons, rounded up; '' for anything else."""
    if term.unit.dimension is not Dimension.VOLUME:
        return ""
    tries = (show_amount(one(term.scaled(1 + Fraction(more, 100))), style) for more in range(11))
    return next((shown.text for shown in tries if shown.high is not None and shown.high >= term.base_high), "")


def content_text(need: tuple[Amount, ...], style: Style) -> str:
    """What one piece weighs follows its name: 6 steaks (200 g each)."""
    if len(need) == 1 and need[0].each is not None and need[0].terms[0].unit.name == "piece":
        return f" ({_each_text(need[0], style)})"
    return ""


def _each_text(amount: Amount, style: Style) -> str:
    assert amount.each is not None
    term = amount.terms[0]
    several = term.unit.dimension is Dimension.COUNT and term.high > 1
    much = show_amount(one(amount.each), style).text
    return language_of(style.language).say("%(much)s each", much=much) if several else much
