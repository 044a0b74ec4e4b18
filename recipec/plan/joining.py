"""Sums of one thing: parts of the same pieces, grams with pieces, volume with weight. Exact; rounding comes last."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from recipec.larder.ingredient import Ingredient
from recipec.measure.quantity import Amount, Dimension, Quantity, Unit
from recipec.measure.units import unit

_ORDER = {dimension: place for place, dimension in enumerate(Dimension)}


@dataclass(frozen=True, slots=True)
class Weighed:
    """An amount of one term, and its grams; None when nobody knows them."""

    amount: Amount
    grams: Fraction | None


def weigh(amount: Amount, item: Ingredient | None, states: tuple[str, ...] = ()) -> tuple[Weighed, ...]:
    """The terms of an amount, each with its grams."""
    return tuple(_weigh(term, amount, item, states) for term in amount.terms)


def _weigh(term: Quantity, amount: Amount, item: Ingredient | None, states: tuple[str, ...]) -> Weighed:
    counted = term.unit.dimension is Dimension.COUNT
    alone = Amount((term,), False, amount.each if counted else None, amount.size if counted else None)
    return Weighed(alone, grams(alone.contents() or term, alone.size, item, states))


def grams(
    quantity: Quantity, size: str | None, item: Ingredient | None, states: tuple[str, ...] = ()
) -> Fraction | None:
    """The weight of a quantity of an ingredient, by its density or weight each; None when unknown."""
    if quantity.unit.dimension is Dimension.MASS:
        return quantity.base_high
    if item is None:
        return None
    if quantity.unit.dimension is Dimension.VOLUME:
        density = item.density(states)
        return quantity.base_high * density if density else None
    each = item.weight_each(size, quantity.unit.name)
    return quantity.high * each if each else None


def whole_pieces(parts: Iterable[tuple[str, Amount]]) -> tuple[Amount, ...]:
    """Different parts come from the same pieces: for each counted unit, the greatest of the sums by part."""
    sums: dict[Unit, dict[str, Fraction]] = {}
    for part, amount in parts:
        for term in amount.terms:
            by_part = sums.setdefault(term.unit, {})
            by_part[part] = by_part.get(part, Fraction(0)) + term.high
    most = ((kind, max(by_part.values())) for kind, by_part in sums.items())
    return tuple(
        Amount((Quantity(number, number, kind),)) for kind, number in sorted(most, key=lambda pair: pair[0].name)
    )


def join(terms: Iterable[Weighed], sold_by: Unit | None = None) -> tuple[Amount, ...]:
    """The sum of all terms; what can't be weighed against the rest stays apart.

    It is said in the measure of the unit the thing is `sold_by` where that is known, else in the one that most of the weight came in.
    Sizes are dropped where they differ: two large eggs and three eggs are five eggs.
    """
    groups = _groups(terms)
    known = [group for group in groups if group.grams]
    dimension = None if sold_by is None else sold_by.dimension
    if (
        sold_by is not None
        and dimension is Dimension.MASS
        and known
        and all(_rank(group) != _ORDER[dimension] for group in known)
    ):
        # Asked for by the spoon, sold by weight.
        weight = sum((group.grams for group in known if group.grams), Fraction(0))
        apart = [group.amount for group in groups if group not in known]
        number = weight / sold_by.factor
        return (Amount((Quantity(number, number, sold_by),)), *apart)
    if len(groups) < 2:
        return tuple(group.amount for group in groups)
    if len(known) < 2:
        return tuple(group.amount for group in groups)
    wanted = [group for group in known if group.amount.terms[0].unit.dimension is dimension] or known
    target = max(wanted, key=lambda group: (group.grams or Fraction(0), -_rank(group)))
    weight = sum((group.grams for group in known if group.grams), Fraction(0))
    assert target.grams
    joined = target.amount.scaled(weight / target.grams)
    apart = [group.amount for group in groups if group not in known]
    return (joined, *apart)


def _groups(terms: Iterable[Weighed]) -> list[Weighed]:
    found: dict[tuple[str, Quantity | None], list[Weighed]] = {}
    for term in terms:
        found.setdefault((term.amount.terms[0].unit.kind, term.amount.each), []).append(term)
    return sorted((_sum(group) for group in found.values()), key=_sort_key)


def _sum(group: list[Weighed]) -> Weighed:
    quantity = group[0].amount.terms[0]
    for other in group[1:]:
        quantity = quantity.add(other.amount.terms[0])
    sizes = {term.amount.size for term in group}
    weights = [term.grams for term in group]
    total = None if None in weights else sum((weight for weight in weights if weight is not None), Fraction(0))
    return Weighed(Amount((quantity,), False, group[0].amount.each, sizes.pop() if len(sizes) == 1 else None), total)


def _rank(group: Weighed) -> int:
    return _ORDER[group.amount.terms[0].unit.dimension]


def _sort_key(group: Weighed) -> tuple[int, str, str, Fraction]:
    each = group.amount.each
    held = ("", Fraction(0)) if each is None else (each.unit.name, each.base_high)
    return (_rank(group), group.amount.terms[0].unit.name, *held)


def pieces_of(amounts: Iterable[Amount]) -> Fraction | None:
    """The number of bare pieces, when that is all there is."""
    found = tuple(amounts)
    if len(found) == 1 and found[0].terms[0].unit == unit("piece"):
        return found[0].terms[0].high
    return None
