"""Covering knapsacks, solved exactly: at once where no choice is left, by OR-tools where there is one.

The order in which answers are compared is that of `packs.py`: cost, number of packs, amount, then most of the first
row, of the second ...
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Row:
    """A pack: `place` is that of its price, in the order in which ties are settled. `size` is what it gives, `serves`
    a bit for every need of its covering that it can measure."""

    place: int
    cost: Fraction
    size: Fraction = Fraction(0)
    serves: int = 1


@dataclass(frozen=True, slots=True)
class Covering:
    """`needs` in one measure, each more than nothing; rows by place, sizes in that measure. A pack may be split
    between needs that it serves. `first` tells the thing's need that the measure is of."""

    first: int
    needs: tuple[Fraction, ...]
    rows: tuple[Row, ...]

    def served(self, serves: int) -> Fraction:
        """The sum of the needs of those bits."""
        return sum((need for place, need in enumerate(self.needs) if serves >> place & 1), Fraction(0))


def solved(coverings: Sequence[Covering]) -> list[tuple[int, ...]]:
    """For each covering the number of packs of each of its rows. Every covering must be coverable."""
    open_ones = [(covering, worth_looking_at(covering)) for covering in coverings]
    programs = [program(covering, rows) for covering, rows in open_ones if len(rows) > 1]
    answers = iter(_settled(programs)) if programs else iter(())
    found = []
    for covering, rows in open_ones:
        counts = dict.fromkeys((row.place for row in covering.rows), 0)
        if len(rows) == 1:
            counts[rows[0].place] = math.ceil(covering.served(rows[0].serves) / rows[0].size)
        else:
            counts.update(zip((row.place for row in rows), next(answers), strict=True))
        found.append(tuple(counts.values()))
    return found


def worth_looking_at(covering: Covering) -> tuple[Row, ...]:
    """The rows that the best answer may hold.

    A row goes when, whatever the rest of the answer, putting another's packs in its place gives a better one that
    still covers: so many of the other as serve all that one pack of it could serve, for less money; or one of the
    other for the same money where both are of one size, or both serve all of their needs alone (then the best answer
    holds one of them once), and the other is smaller or comes first.
    """
    whole = {row.serves: covering.served(row.serves) for row in covering.rows}
    rows = covering.rows
    return tuple(row for row in rows if not any(_beats(other, row, whole) for other in rows if other is not row))


def _beats(one: Row, other: Row, whole: dict[int, Fraction]) -> bool:
    if other.serves & ~one.serves:
        return False
    useful = min(other.size, whole[other.serves])
    cost = math.ceil(useful / one.size) * one.cost
    if cost != other.cost:
        return cost < other.cost
    if one.cost != other.cost:
        return False
    if one.size == other.size:
        return one.place < other.place
    alone = one.serves == other.serves and min(one.size, other.size) >= whole[one.serves]
    return alone and one.size < other.size


# ------------------------------------------------------------ as an integer program


@dataclass(frozen=True, slots=True)
class Program:
    """Least `weights` x n over whole numbers n from 0 to `most`, so that each of `covers` (coefficients, at least)
    holds. All are whole. `weights` holds the whole order of answers in one number: see `program`; `costs` and `sizes`
    are of one pack of each row."""

    most: tuple[int, ...]
    covers: tuple[tuple[tuple[int, ...], int], ...]
    weights: tuple[int, ...]
    costs: tuple[int, ...]
    sizes: tuple[int, ...]

    def largest(self) -> int:
        """The greatest number that any sum of it can come to."""
        sums = [self.weights, *(coefficients for coefficients, _ in self.covers)]
        return max(sum(abs(part) * most for part, most in zip(row, self.most, strict=True)) for row in sums)

    def combinations(self) -> int:
        """How many answers there are to look at."""
        return math.prod(most + 1 for most in self.most)


def program(covering: Covering, rows: Sequence[Row]) -> Program:
    """A covering in whole numbers, over those of its rows.

    The best answer has no pack too many, so that no row has more packs than serve all its needs. Hence count, amount
    and the order of rows are bounded, and one number can hold cost, count, amount and order: each weighs more than
    all that come after it can come to.
    """
    scale = math.lcm(*(row.size.denominator for row in rows), *(need.denominator for need in covering.needs))
    sizes = [int(row.size * scale) for row in rows]
    served = {serves: int(covering.served(serves) * scale) for serves in range(1, 1 << len(covering.needs))}
    shrink = math.gcd(*sizes) if len(served) == 1 else 1
    sizes = [size // shrink for size in sizes]
    served = {serves: -(-need // shrink) for serves, need in served.items()}
    covers = tuple(
        (tuple(size if row.serves & serves else 0 for row, size in zip(rows, sizes, strict=True)), need)
        for serves, need in served.items()
    )
    most = [-(-served[row.serves] // size) for row, size in zip(rows, sizes, strict=True)]
    cents = math.lcm(*(row.cost.denominator for row in rows))
    costs = [int(row.cost * cents) for row in rows]
    shared = math.gcd(*costs) or 1
    costs = [cost // shared for cost in costs]
    orders: list[int] = []
    after = 1
    for number in reversed(most):
        orders.insert(0, after)
        after *= number + 1
    amount = sum(size * number for size, number in zip(sizes, most, strict=True)) + 1
    packs = sum(most) + 1
    if len(covers) == 1:
        # With one need a pack fewer does not cover it.
        amount, packs = covers[0][1] + max(sizes), max(most) + 1
    weights = [
        ((cost * packs + 1) * amount + size) * after - order
        for cost, size, order in zip(costs, sizes, orders, strict=True)
    ]
    return Program(tuple(most), covers, tuple(weights), tuple(costs), tuple(sizes))


_FITS = 1 << 60  # OR-tools reckons in whole numbers of 63 bits and a sign
_SMALL = 10_000  # combinations: what the solver settles before it searches


def _settled(programs: Sequence[Program]) -> Iterator[tuple[int, ...]]:
    """The best numbers of each program. Small ones are one model; in one model large ones would hold each other up."""
    from recipec.plan.packs_model import best_of

    found: dict[int, tuple[int, ...]] = {}
    batch: list[int] = []
    room = _FITS
    batches = [batch]
    for place, one in enumerate(programs):
        size = one.largest()
        if size >= _FITS:
            found[place] = searched(one)
        elif one.combinations() > _SMALL:
            batches.append([place])
        else:
            if size > room:
                batch, room = [], _FITS
                batches.append(batch)
            batch.append(place)
            room -= size
    todo = [batch for batch in batches if batch]
    while todo:
        batch = todo.pop()
        answers = best_of([programs[place] for place in batch])
        if answers is not None:
            found.update(zip(batch, answers, strict=True))
        elif len(batch) > 1:
            todo += [[place] for place in batch]
        else:
            found[batch[0]] = searched(programs[batch[0]])
    return iter([found[place] for place in range(len(programs))])


# ------------------------------------------------------------ without a solver


def searched(one: Program) -> tuple[int, ...]:
    """The best numbers by branch and bound, for numbers too large for the solver. Rows are tried cheapest for their
    size first."""
    size = len(one.most)
    order = sorted(range(size), key=lambda row: (Fraction(one.costs[row], one.sizes[row]), -one.sizes[row], row))
    counts = [0] * size
    best: tuple[int, int, int, list[int]] | None = None
    # The best way so far to each state: the same packs to come serve all ways to it alike.
    seen: dict[tuple[int, tuple[int, ...]], tuple[int, int, int, list[int]]] = {}
    # For each cover and depth: the best cost for the size, and the largest size, of the rows still to come.
    ahead: list[list[tuple[Fraction, int] | None]] = []
    for coefficients, _ in one.covers:
        line: list[tuple[Fraction, int] | None] = []
        for depth in range(size):
            left = [row for row in order[depth:] if coefficients[row]]
            largest = max((one.sizes[row] for row in left), default=0)
            line.append((Fraction(one.costs[left[0]], one.sizes[left[0]]), largest) if left else None)
        ahead.append([*line, None])

    def bound(depth: int, missing: list[int]) -> tuple[Fraction, int] | None:
        """The least cost and number of packs that the rest can come to; None when it can't cover what is missing."""
        cost, packs = Fraction(0), 0
        for line, much in zip(ahead, missing, strict=True):
            if much > 0:
                rest = line[depth]
                if rest is None:
                    return None
                cost, packs = max(cost, rest[0] * much), max(packs, -(-much // rest[1]))
        return cost, packs

    def descend(depth: int, missing: list[int], cost: int, packs: int, amount: int) -> None:
        nonlocal best
        rest = bound(depth, missing)
        if rest is None or (best is not None and (cost + rest[0], packs + rest[1]) > best[:2]):
            return
        if all(much <= 0 for much in missing):
            answer = (cost, packs, amount, [-count for count in counts])
            best = answer if best is None or answer < best else best
            return
        way = (cost, packs, amount, [-count for count in counts])
        state = (depth, tuple(missing))
        if state in seen and seen[state] <= way:
            return
        seen[state] = way
        row = order[depth]
        enough = max(
            (-(-much // one.sizes[row]) for (parts, _), much in zip(one.covers, missing, strict=True) if parts[row]),
            default=0,
        )
        for count in range(max(enough, 0), -1, -1):
            counts[row] = count
            less = [much - parts[row] * count for (parts, _), much in zip(one.covers, missing, strict=True)]
            spent = cost + one.costs[row] * count
            if best is not None and count < enough:
                more = bound(depth + 1, less)
                # Fewer of the cheapest row never make it cheaper again.
                if more is not None and spent + more[0] > best[0] and len(one.covers) == 1:
                    break
            descend(depth + 1, less, spent, packs + count, amount + one.sizes[row] * count)
        counts[row] = 0

    descend(0, [need for _, need in one.covers], 0, 0, 0)
    assert best is not None, "every covering can be covered"
    return tuple(-count for count in best[3])
