"""The ingredients of a dish as lines: one a mark by strand, and merged."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from recipec.measure.quantity import Amount, Quantity
from recipec.measure.show import show_amount
from recipec.model.dish import Aside, Block, Flag, FoodAt, LayOut, Piece, Role, Step, Strand, Use
from recipec.plan.allergens import allergens_of_use
from recipec.plan.joining import whole_pieces
from recipec.plan.links import Links
from recipec.plan.sheet import AmountText, IngredientGroup, IngredientLine
from recipec.plan.wording import Desk, bare_name, basis_of, flags_of, in_number, of_word, part_word


def pieces_in(block: Block) -> Iterator[Piece]:
    """Every piece of a block, in order."""
    match block:
        case Step():
            for sentence in block.sentences:
                yield from sentence.pieces
        case LayOut():
            yield from (FoodAt(use) for use in block.uses)
        case Aside():
            yield from block.pieces
        case _:
            return


def brought_in(strand: Strand, uses: tuple[Use, ...]) -> Iterator[Use]:
    """What a strand takes from the shelf or from other dishes, in the order of the text."""
    for block in strand.blocks:
        for piece in pieces_in(block):
            if isinstance(piece, FoodAt):
                for number in (piece.use, piece.plus):
                    if number is not None and uses[number].role in (Role.BUY, Role.OUR):
                        yield uses[number]


def groups_of(desk: Desk, links: Links) -> tuple[IngredientGroup, ...]:
    """By strand, a line a mark; strands that bring in nothing are left out."""
    found = []
    for strand in desk.dish.strands:
        lines = tuple(line_of(desk, links, use) for use in brought_in(strand, desk.dish.uses))
        if lines:
            found.append(IngredientGroup(strand.heading, lines))
    return tuple(found)


def line_of(desk: Desk, links: Links, use: Use) -> IngredientLine:
    """One mark as a line."""
    return _line(desk, links, use, desk.scaled.amount(use), desk.amount(use), _after(desk, use))


def _line(
    desk: Desk, links: Links, use: Use, amount: Amount | None, words: AmountText | None, after: tuple[str, ...]
) -> IngredientLine:
    name = desk.name(use, amount)
    flags = flags_of(use, desk.tongue)
    others = tuple(_other(desk, links, use, choice) for choice in use.choices)
    meant = links.meant(desk.dish, use)
    return IngredientLine(
        text=line_text(words, of_word(words, desk.tongue), use.before, name, after, flags),
        amount=words,
        part=of_word(words, desk.tongue),
        before=use.before,
        name=name,
        after=after,
        flags=flags,
        our=use.role is Role.OUR,
        dish=None if meant is None else meant.key,
        item=use.item,
        allergens=allergens_of_use(links, desk.larder, desk.dish, use),
        alternatives=others,
    )


def _other(desk: Desk, links: Links, use: Use, choice: Use) -> IngredientLine:
    # Reserved words were said once for all choices, and stand with the first.
    return line_of(
        desk, links, choice._replace(flags=choice.flags - use.flags | (choice.flags & {Flag.PER_PLATE, Flag.FIXED}))
    )


def _after(desk: Desk, use: Use) -> tuple[str, ...]:
    """What stands after the name: the part (`1 lemon, zest`), a share of another thing, treatments, so much a plate."""
    by_plate = ""
    if Flag.PER_PLATE in use.flags and use.amount is not None:
        much = show_amount(use.amount, desk.style, written=True).text
        by_plate = desk.tongue.say("%(much)s per plate", much=much)
    words = (desk.part(use, desk.scaled.amount(use)), basis_of(use, desk.dish, desk.style), *use.after, by_plate)
    return tuple(word for word in words if word)


def line_text(
    amount: AmountText | None,
    part: str,
    before: tuple[str, ...],
    name: str,
    after: tuple[str, ...],
    flags: tuple[str, ...],
) -> str:
    """`200 g cold butter, cubed, optional`."""
    head = " ".join(word for word in ("" if amount is None else amount.text, part, *before, name) if word)
    return ", ".join((head + ("" if amount is None else amount.tail), *after, *flags))


# ---------------------------------------------------------------- the merged list


def merged(desk: Desk, links: Links) -> tuple[IngredientLine, ...]:
    """Every thing once where its marks can be added: same thing, same state, same kind of unit. By first use.

    Parts of one thing come from the same pieces: zest of one lemon and juice of one lemon are one lemon.
    """
    return tuple(_sum(desk, links, uses) for uses in merging(desk))


def merging(desk: Desk) -> tuple[list[Use], ...]:
    """The marks of every line of the merged list."""
    found: dict[tuple[object, ...], list[Use]] = {}
    for strand in desk.dish.strands:
        for use in brought_in(strand, desk.dish.uses):
            found.setdefault(_state(desk, use), []).append(use)
    return tuple(uses for marks in found.values() for uses in _apart(desk, marks))


def _apart(desk: Desk, uses: list[Use]) -> Iterator[list[Use]]:
    """The marks of one line. Yolks and whites that don't come out as whole eggs are weighed, each for itself."""
    by_part: dict[str, list[Use]] = {}
    for use in uses:
        by_part.setdefault(use.part or "", []).append(use)
    if len(by_part) > 1 and any(_weighed(desk, marks) for marks in by_part.values()):
        yield from by_part.values()
    else:
        yield uses


def _weighed(desk: Desk, uses: list[Use]) -> bool:
    amounts = [amount for use in uses if (amount := desk.scaled.amount(use)) is not None]
    return bool(amounts) and bool(desk.rest(uses[0], amounts[0]._replace(terms=(added(amounts),))))


def _state(desk: Desk, use: Use) -> tuple[object, ...]:
    amount = desk.scaled.amount(use)
    total = None if amount is None else amount.total()
    if use.choices or use.basis is not None or Flag.PER_PLATE in use.flags or (amount is not None and total is None):
        return (use.number,)
    thing = use.thing if use.item is None else use.item
    if amount is None or total is None:
        return (thing, use.before, use.after, use.flags, use.part, None)
    kind = (total.unit.kind, amount.each, amount.size)
    if part_word(use, amount):
        return (thing, use.before, (), use.flags, "parts", kind)
    return (thing, use.before, use.after, use.flags, use.part, kind)


def _sum(desk: Desk, links: Links, uses: list[Use]) -> IngredientLine:
    first = uses[0]
    amounts = [amount for use in uses if (amount := desk.scaled.amount(use)) is not None]
    if len(uses) == 1 or not amounts:
        return line_of(desk, links, first)
    item = desk.item(first)
    if all(part_word(use, None) for use in uses):
        parts = [use.part or "" for use in uses]
        total = whole_pieces(zip(parts, amounts, strict=True))[0]._replace(size=amounts[0].size)
        after = _treated(uses) if _weighed(desk, uses) else _parts_text(desk, uses, amounts)
    else:
        total, after = (
            amounts[0]._replace(terms=(added(amounts),), about=any(amount.about for amount in amounts)),
            _after(desk, first),
        )
    words = desk.say(total, item, (*first.before, *first.after), first.name, part=first.part)
    line = _line(desk, links, first, total, words, after)
    if total.terms[0].unit.name == "piece" and not desk.rest(first, total):
        shown = desk.shown(total, item, (*first.before, *first.after), first.name, False, first.part)
        written = first.amount.total() if first.amount is not None else None
        same = written is not None and (written.high > 1) == shown.plural
        name = bare_name(first) if same else in_number(line.name, item, shown.plural, desk.tongue)
        line = replace(line, name=name, text=line_text(words, "", first.before, name, after, line.flags))
    return line


def added(amounts: Iterable[Amount]) -> Quantity:
    """The sum of one line's amounts, which are of one kind."""
    total: Quantity | None = None
    for amount in amounts:
        more = amount.total()
        assert more is not None, "only amounts of one kind are merged"
        total = more if total is None else total.add(more)
    assert total is not None
    return total


def _parts_text(desk: Desk, uses: list[Use], amounts: list[Amount]) -> tuple[str, ...]:
    """`zest and juice`; where they are not of the same number, `zest of 2, juice of 1`."""
    by_part: dict[str | None, Fraction] = {}
    words: dict[str | None, str] = {}
    for use, amount in zip(uses, amounts, strict=True):
        by_part[use.part] = by_part.get(use.part, Fraction(0)) + sum((term.high for term in amount.terms), Fraction(0))
        # `white of 1` and `whites of 3` are whites.
        words[use.part] = max(words.get(use.part, ""), part_word(use, amount), key=len)
    if len(set(by_part.values())) == 1:
        names = list(words.values())
        and_ = desk.tongue.say(" and ")
        said: tuple[str, ...] = (and_.join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names),)
    else:
        kind = amounts[0].terms[0].unit
        said = tuple(
            desk.tongue.say(
                "%(part)s of %(much)s", part=words[part], much=desk.say(Amount((Quantity(number, number, kind),))).whole
            )
            for part, number in by_part.items()
        )
    return (*said, *_treated(uses))


def _treated(uses: list[Use]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(word for use in uses for word in use.after))
