"""The nearest names to what was written: small slips of the hand, nothing cleverer."""

from __future__ import annotations

from collections.abc import Iterable


def distance(a: str, b: str, limit: int) -> int:
    """Letters to add, drop, change or swap with their neighbour to make `a` into `b`; `limit + 1` for anything past `limit`."""
    if abs(len(a) - len(b)) > limit:
        return limit + 1
    before: list[int] = []
    row = list(range(len(b) + 1))
    for i, letter in enumerate(a, 1):
        earlier, before, row = before, row, [i]
        for j, other in enumerate(b, 1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == b[j - 2] and a[i - 2] == other:
                cost = min(cost, earlier[j - 2] + 1)
            row.append(cost)
        if min(row) > limit:
            return limit + 1
    return min(row[-1], limit + 1)


def nearest(name: str, known: Iterable[str], *, most: int = 3) -> tuple[str, ...]:
    """Up to `most` of the `known` that look like `name`, nearest first, then by the alphabet.

    A third of the letters may differ, and at least one. Upper and lower case are the same.
    """
    wanted = name.casefold()
    limit = max(1, len(wanted) // 3)
    found = []
    for candidate in known:
        far = distance(wanted, candidate.casefold(), limit)
        if far <= limit:
            found.append((far, candidate))
    return tuple(candidate for _, candidate in sorted(found)[:most])
