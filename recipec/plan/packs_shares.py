"""From sums to be covered and packs that can measure them to coverings, each of which stands alone.

Mostly a thing has one need and one covering. Needs that could not be joined (3 bunches and 200 g, and nobody knows
what a bunch weighs) are coverings of their own, unless a pack measures both (a bunch of 50 g): what it does not use
up for one it may give to the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from recipec.plan.packs_search import Covering, Row

Shares = Sequence[tuple[Fraction | None, ...]]
"""For every row, how many of its packs each need is; None where it can't measure it."""

_MOST_TOGETHER = 6  # sums that share packs; each subset of them is a constraint


def coverings_of(rows: Sequence[Row], shares: Shares) -> tuple[Covering, ...] | None:
    """What must be covered, by which rows; None when a need can't be. Sizes are multiples of the first need of each
    covering."""
    needs = range(len(shares[0]))
    if not all(any(share[need] is not None for share in shares) for need in needs):
        return None
    found: list[Covering] = []
    for group in _groups(shares):
        together = _together(rows, shares, group) if len(group) > 1 else None
        found += [together] if together is not None else [_alone(rows, shares, need) for need in group]
    return tuple(found)


def _groups(shares: Shares) -> list[list[int]]:
    """Needs that packs join, in order."""
    if len(shares[0]) == 1:
        return [[0]]
    groups: list[list[int]] = []
    for need in range(len(shares[0])):
        touching = [group for group in groups if any(_both(share, need, group) for share in shares)]
        groups = [group for group in groups if group not in touching]
        groups.append(sorted([need, *(other for group in touching for other in group)]))
    return sorted(groups)


def _both(share: tuple[Fraction | None, ...], need: int, group: list[int]) -> bool:
    return share[need] is not None and any(share[other] is not None for other in group)


def _together(rows: Sequence[Row], shares: Shares, group: list[int]) -> Covering | None:
    """One covering for needs that share packs; None where the packs disagree what one need is against another: then a
    pack serves one of them alone."""
    if len(group) > _MOST_TOGETHER:
        return None
    rates = {group[0]: Fraction(1)}
    while len(rates) < len(group):
        for share in shares:
            size = _size(share, rates)
            if size is not None:
                for need in group:
                    part = share[need]
                    if part is not None:
                        rates.setdefault(need, size * part)
    measured = []
    for row, share in zip(rows, shares, strict=True):
        size = _size(share, rates)
        if size is None:
            continue
        serves = 0
        for place, need in enumerate(group):
            part = share[need]
            if part is not None:
                if rates[need] != size * part:
                    return None
                serves |= 1 << place
        measured.append(Row(row.place, row.cost, size, serves))
    return Covering(group[0], tuple(rates[need] for need in group), tuple(measured))


def _size(share: tuple[Fraction | None, ...], rates: dict[int, Fraction]) -> Fraction | None:
    """What one pack is in the first need of its group, by any need whose rate is known."""
    return next((rates[need] / part for need in sorted(rates) if (part := share[need])), None)


def _alone(rows: Sequence[Row], shares: Shares, need: int) -> Covering:
    known = ((row, share[need]) for row, share in zip(rows, shares, strict=True))
    return Covering(need, (Fraction(1),), tuple(Row(row.place, row.cost, 1 / part) for row, part in known if part))
