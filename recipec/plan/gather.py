"""What all runs together ask the market for: every buying mark, by the thing bought."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from recipec.larder.care import Care
from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.measure.convert import Unconvertible, convert
from recipec.measure.language import language_of
from recipec.measure.quantity import Amount, Dimension, Quantity
from recipec.measure.show import Style, show_amount
from recipec.measure.units import unit
from recipec.model.dish import Flag, GearUse, Use
from recipec.plan.demand import Run
from recipec.plan.market_types import Asked
from recipec.plan.wording import bare_name, care, density_of, is_solid, is_uncut, part_word, weighed_down
from recipec.plan.yields import ap_from_ep, left_of


@dataclass(frozen=True, slots=True)
class Want:
    """One mark's wish. `amount` is as purchased, upper ends only; None when the mark gives none.

    `part` is a part of the thing that is asked for (`zest`), with `amount` the whole things it comes from. `states` are the words
    that may tell its density. `left` is the yield that `amount` was reckoned with: 1 where it was written as purchased.
    """

    name: str
    ingredient: Ingredient | None
    amount: Amount | None
    part: str | None
    states: tuple[str, ...]
    asked: Asked
    instead: tuple[str, ...] = ()
    left: Fraction = Fraction(1)


@dataclass(frozen=True, slots=True)
class Supply:
    """Gear that is used up, in one run."""

    name: str
    amount: Amount
    asked: Asked


_TOLD = (Flag.TO_TASTE, Flag.TO_SERVE)


Kept: TypeAlias = dict[tuple[object, ...], tuple[tuple[str, Want], ...]]
"""The wishes of runs met before, with one larder and one style, by what tells them apart."""


def wants_of(
    runs: Iterable[Run], larder: Larder, style: Style, kept: Kept | None = None
) -> tuple[tuple[str, tuple[Want, ...]], ...]:
    """Wishes by the key of what is bought, sorted by key; the wishes of a key by place in the sources. What is `kept` is not
    reckoned again."""
    found: dict[str, list[Want]] = {}
    for run in runs:
        # The uses of one book are the same objects from one list to the next.
        told = (run.dish.key, run.without, run.factor, run.plates, *(id(use) for use in run.bought))
        wants = None if kept is None else kept.get(told)
        if wants is None:
            wants = tuple(_want(run, use, larder, style) for use in run.bought)
            if kept is not None:
                kept[told] = wants
        for key, want in wants:
            found.setdefault(key, []).append(want)
    return tuple((key, tuple(sorted(found[key], key=lambda want: _place(want.asked)))) for key in sorted(found))


def supplies_of(runs: Iterable[Run], style: Style) -> tuple[tuple[str, tuple[Supply, ...]], ...]:
    """Things used up that are no food, by name."""
    found: dict[str, list[Supply]] = {}
    for run in runs:
        for gear in run.dish.gear:
            if gear.amount is None or gear.same:
                continue
            amount = gear.amount.scaled(run.factor)
            asked = _asked(run, gear, amount, show_amount(amount, style, written=run.factor == 1).text)
            found.setdefault(gear.key, []).append(Supply(gear.name, upper(amount), asked))
    return tuple((key, tuple(sorted(found[key], key=lambda supply: _place(supply.asked)))) for key in sorted(found))


def upper(amount: Amount) -> Amount:
    """Ranges buy the upper end."""
    return amount._replace(terms=tuple(Quantity(term.high, term.high, term.unit) for term in amount.terms))


def _want(run: Run, use: Use, larder: Larder, style: Style) -> tuple[str, Want]:
    item = None if use.item is None else larder.get(use.item)
    asked_for = run.scaled().amount(use)
    density = None if item is None else density_of(item, (*use.before, *use.after), use.part)
    tongue = language_of(style.language)
    words = next((tongue.say(flag.value, context="flag") for flag in _TOLD if flag in use.flags), "")
    if asked_for is None:
        text = words or tongue.say("no amount given", context="uncosted")
    else:
        total = asked_for.total()
        written = run.factor == 1 and Flag.PER_PLATE not in use.flags
        careful = care(use.name, item)
        weighed = weighed_down(total, style, written) if careful is Care.NITRITE else None
        shown = weighed or show_amount(
            asked_for,
            style,
            strict=careful.strict,
            density=density,
            solid=item is not None and is_solid(item, use.part),
            uncut=total is not None and is_uncut(item, total.unit.name),
            written=written,
        )
        text = f"{shown.text}, {words}" if words else shown.text
    single, part_of = part_word(use, None), part_word(use, asked_for)
    if part_of:
        part_of = tongue.form(single, part_of, part_of != single, context="part")
        parted = tongue.say("%(part)s of %(much)s", part=part_of, much=text)
        text = parted if asked_for is not None else f"{part_of}, {text}"
    key, part, name = use.item or use.thing, use.part, market_name(use, item, larder)
    amount = None if asked_for is None else upper(asked_for)
    left = Fraction(1)
    if amount is not None and part is not None:
        whole = _whole_of(amount, part, item)
        if whole is None:
            # So much juice, and nobody knows how much a piece gives: it stays a line of its own.
            key = key if key.endswith(f" {part}") else f"{key} {part}"
            name = name if part in name else f"{name} {part}"
            part = None
        else:
            amount = whole
    if amount is not None and item is not None:
        left = _left(amount, use, item)
        amount = _by_own_unit(amount if left == 1 else amount.scaled(ap_from_ep(Fraction(1), left)), use, larder)
    instead = tuple(choice.name for choice in use.choices)
    states = (*use.before, *use.after)
    return key, Want(name, item, amount, part, states, _asked(run, use, asked_for, text), instead, left)


def _whole_of(amount: Amount, part: str, item: Ingredient | None) -> Amount | None:
    """The whole things that an amount of a part comes from; None when that is not known."""
    total = amount.total()
    if total is None:
        return None
    if total.unit.dimension is Dimension.COUNT:
        return amount
    figure = None if item is None else item.part(part)
    if item is None or figure is None or not figure.amount:
        return None
    # Only the part's own density will do: lemon juice is not lemons.
    density = next((known.value for known in item.densities if known.state == part), None)
    given = convert(total, unit(figure.unit), density)
    if isinstance(given, Unconvertible):
        return None
    pieces = given.high / figure.amount
    return Amount((Quantity(pieces, pieces, unit("piece")),))


def _left(amount: Amount, use: Use, item: Ingredient) -> Fraction:
    """The comma rule: of what was trimmed before weighing more was bought. Pieces stay pieces: a peeled onion was one onion."""
    weighed = all(term.unit.dimension in (Dimension.MASS, Dimension.VOLUME) for term in amount.terms)
    return left_of(item, use.before) if weighed and amount.terms else Fraction(1)


def _by_own_unit(amount: Amount, use: Use, larder: Larder) -> Amount:
    """`3 garlic cloves` are cloves, not heads."""
    match = larder.find(use.name)
    if match is None or match.unit is None:
        return amount
    own = unit(match.unit)
    terms = tuple(term._replace(unit=own) if term.unit.name == "piece" else term for term in amount.terms)
    return amount._replace(terms=terms)


def market_name(use: Use, item: Ingredient | None, larder: Larder) -> str:
    """What the cook calls the thing bought: `lemon juice` and `garlic cloves` are looked for as lemons and garlic."""
    name = bare_name(use)
    match = larder.find(use.name)
    head, _, last = name.rpartition(" ")
    if head and match is not None and match.unit is not None and normal_name(last) == match.unit:
        return head
    if item is not None and use.part is not None and normal_name(last) == normal_name(use.part):
        return item.name if normal_name(name) != normal_name(item.name) else name
    return name


def _asked(run: Run, mark: Use | GearUse, amount: Amount | None, text: str) -> Asked:
    return Asked(run.dish.key, run.dish.title, mark.span, amount, text, run.factor, run.without)


def _place(asked: Asked) -> tuple[str, int, tuple[str, ...]]:
    return (asked.span.source.name, asked.span.start, asked.apart)
