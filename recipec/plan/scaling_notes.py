"""What a cook must be told when a dish is made larger or smaller than it was written. Common practice throughout."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from recipec.larder.care import Care
from recipec.measure.language import Language
from recipec.measure.numerals import decimal, mixed
from recipec.model.dish import Role, Use
from recipec.plan.lines import brought_in
from recipec.plan.pans import pan_notes
from recipec.plan.reducing import Burner, reducing_notes
from recipec.plan.scale import grows
from recipec.plan.wording import Desk, bare_name, care

_FROM = Fraction(2)
_EATEN_RAW_BY_NOBODY = frozenset({"meat", "fish", "egg"})


def scaling_notes(desk: Desk, burner: Burner) -> Iterator[str]:
    """Sentences for a card. Strength, lift and reducing are spoken of past a factor of two either way, tins where their food would come
    out of another depth, curing salt whenever it is not as written."""
    factor = desk.scaled.factor
    if factor == 1:
        return
    far = factor > _FROM or factor < 1 / _FROM
    say = desk.tongue.say
    if far:
        words = _times(factor, desk.tongue)
        if factor > 1:
            yield say("This is %(number)s times the dish as written.", number=words)
        else:
            yield say("This is %(number)s of the dish as written.", number=words)
        yield from _taste(desk)
        lift = _names(desk, lambda use, _: _care(desk, use) is Care.LEAVENING)
        if lift:
            yield say("Re-test %(foods)s: leavening does not always follow the sum.", foods=lift)
    cured = _names(desk, lambda use, _: _care(desk, use) is Care.NITRITE, rates=True)
    if cured:
        yield say(
            "Weigh the %(foods)s on a scale that shows 0.1 g; it is rounded down, and never measured by the spoon.",
            foods=cured,
        )
    if far:
        yield from reducing_notes(desk, burner)
    yield from pan_notes(desk)


def _taste(desk: Desk) -> Iterator[str]:
    raw = {
        number for number, strand in enumerate(desk.dish.strands) if _raw_in(desk, brought_in(strand, desk.dish.uses))
    }
    safe = _names(desk, lambda use, strand: _care(desk, use).tasted and strand not in raw)
    say = desk.tongue.say
    if safe:
        yield say("Start %(foods)s at three quarters and taste before adding the rest.", foods=safe)
    with_raw = _names(desk, lambda use, strand: _care(desk, use).tasted and strand in raw)
    if with_raw:
        yield say(
            "Start %(foods)s at three quarters, and judge the rest once all is cooked through: nothing raw is tried.",
            foods=with_raw,
        )


def _raw_in(desk: Desk, uses: Iterator[Use]) -> bool:
    """Whether meat, fish or egg comes in here, or may do: of what is unknown nothing better is assumed."""
    for use in uses:
        item = desk.item(use)
        if use.role is Role.BUY and (item is None or item.animal is None or _EATEN_RAW_BY_NOBODY & set(item.animal)):
            return True
    return False


def _care(desk: Desk, use: Use) -> Care:
    return care(bare_name(use), desk.item(use))


def _names(desk: Desk, wanted: Callable[[Use, int], bool], *, rates: bool = False) -> str:
    """Names of what is bought and grows with the dish; a percentage or a rate is exact already, and left out unless `rates`."""
    found: dict[str, None] = {}
    for number, strand in enumerate(desk.dish.strands):
        for use in brought_in(strand, desk.dish.uses):
            exact = use.basis is not None and not rates
            if use.role is Role.BUY and not exact and grows(use) and use.amount is not None and wanted(use, number):
                found.setdefault(bare_name(use))
    return desk.tongue.listed(found)


def _times(factor: Fraction, tongue: Language) -> str:
    words = mixed(factor)
    if "/" in words or factor.denominator > 8:
        words = decimal(Fraction(round(factor * 100), 100), tongue.mark)
    return words
