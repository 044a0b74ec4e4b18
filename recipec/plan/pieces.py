"""The marks of a step in words, in their places."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from recipec.larder.names import normal_name, singular
from recipec.measure.language import Language
from recipec.measure.numerals import mixed
from recipec.measure.quantity import Amount
from recipec.measure.show import Style, shopping, show_amount
from recipec.measure.units import keys
from recipec.model.dish import Flag, FoodAt, GearAt, GearUse, Piece, ReadingAt, Role, ThingKind, Use, Words
from recipec.plan.lines import line_of
from recipec.plan.links import Links
from recipec.plan.readings import reading_piece
from recipec.plan.sheet import AmountText, FoodPiece, GearPiece, SheetPiece, WordsPiece
from recipec.plan.wording import Desk, basis_of, flags_of, in_number, of_word, part_word, plates_text

_HEAD = re.compile(r"((?:.*\bof\s+)?(?:the|our))\s", re.IGNORECASE | re.DOTALL)
_FRACTION = re.compile(r"(?<![\d/])(?:\d{1,3} )?\d{1,3}/[1-9]\d{0,2}(?![\d/])")
# Cooking gear stays as it is, however many plates there are: another panful goes into the same pan. Common practice.
_STAYS = frozenset(
    {
        "oven",
        "pan",
        "saucepan",
        "skillet",
        "wok",
        "casserole",
        "tray",
        "sheet",
        "rack",
        "shelf",
        "board",
        "grill",
        "hob",
        "burner",
    }
    | {
        "fryer",
        "steamer",
        "mixer",
        "processor",
        "blender",
        "thermometer",
        "scale",
        "knife",
        "spoon",
        "whisk",
        "sieve",
        "colander",
    }
)
_NUMBER = re.compile(r"[\d¼½¾⅐-⅞][\d\s./⁄¼½¾⅐-⅞%–-]*")


def pieces_of(pieces: Iterable[Piece], desk: Desk, links: Links) -> Iterator[SheetPiece]:
    """All pieces, in order."""
    stopped = False
    for piece in pieces:
        match piece:
            case Words():
                # `15 Min.` at the end of a sentence has its full stop.
                yield WordsPiece(piece.text.removeprefix(".") if stopped else piece.text)
            case FoodAt():
                yield food_piece(desk.dish.uses[piece.use], desk, links)
                if piece.plus is not None:
                    yield WordsPiece(desk.tongue.say(" plus "))
                    yield food_piece(desk.dish.uses[piece.plus], desk, links)
            case GearAt():
                yield gear_piece(desk.dish.gear[piece.gear], desk)
            case ReadingAt():
                shown = reading_piece(piece.reading, desk)
                yield shown
                stopped = shown.text.endswith(".") and not (shown.also or shown.cue or shown.check_at or shown.remarks)
                continue
        stopped = False


def food_piece(use: Use, desk: Desk, links: Links) -> FoodPiece:
    """A food mark as a card shows it: its amount scaled, a share with what it comes to."""
    written = " ".join(use.span.text.removeprefix("[").removesuffix("]").split())
    amount = _per_plate(use, desk) or desk.amount(use)
    comes_to = desk.amount(use) if Flag.PER_PLATE in use.flags else None
    lead = part = ""
    match use.role:
        case Role.OUR:
            our = desk.tongue.say("our", context="mark")
            lead, part = ("", our) if amount is not None else (our, "")
        case Role.TAKE | Role.HANDLE:
            lead, part, amount, share = _share(use, written, amount, desk.tongue)
            comes_to = comes_to or (None if share is None else _comes_to(share, use, desk))
        case Role.BUY:
            part_of = desk.part(use, desk.scaled.amount(use))
            lead = desk.tongue.say("%(part)s of", part=part_of) if part_of and amount is not None else ""
            part = of_word(amount, desk.tongue)
    after = tuple(
        word
        for word in (
            part_word(use, None) if amount is None and use.role is Role.BUY else "",
            basis_of(use, desk.dish, desk.style),
            *use.after,
        )
        if word
    )
    name = desk.name(use, desk.scaled.amount(use)) if amount is not None else desk.name(use, None)
    flags = flags_of(use, desk.tongue)
    others = tuple(line_of(desk, links, choice._replace(flags=frozenset())).text for choice in use.choices)
    meant = links.meant(desk.dish, use)
    piece = FoodPiece(
        text="",
        lead=lead,
        amount=amount,
        part=part,
        before=use.before,
        name=name,
        after=after,
        flags=flags,
        alternatives=others,
        comes_to=comes_to,
        role=use.role,
        dish=None if meant is None else meant.key,
        written=written,
    )
    return replace(piece, text=_text(piece, desk.tongue))


def _text(piece: FoodPiece, tongue: Language) -> str:
    amount = "" if piece.amount is None else piece.amount.text
    head = " ".join(word for word in (piece.lead, amount, piece.part, *piece.before, piece.name) if word)
    head += "" if piece.amount is None else piece.amount.tail
    if piece.comes_to is not None:
        head += f" ({piece.comes_to.whole})"
    return tongue.either((", ".join((head, *piece.after, *piece.flags)), *piece.alternatives))


def _per_plate(use: Use, desk: Desk) -> AmountText | None:
    if Flag.PER_PLATE not in use.flags or use.amount is None:
        return None
    amount = desk.say(use.amount, desk.item(use), (*use.before, *use.after), use.name, written=True)
    return replace(amount, tail=desk.tongue.say("%(much)s per plate", much=amount.tail))


def _set(head: str) -> str:
    """`1/4 of the` as `¼ of the`."""
    return _FRACTION.sub(lambda found: mixed(sum((Fraction(part) for part in found.group().split()), Fraction())), head)


def _share(
    use: Use, written: str, amount: AmountText | None, tongue: Language
) -> tuple[str, str, AmountText | None, AmountText | None]:
    """Lead, what stands between amount and name, the amount in its place, and what a share comes to.

    `2 tbsp of the dressing` says its amount; of `half the dressing` the amount is what it comes to.
    """
    head = _set(_head(use, written))
    if not use.share:
        # Bare `the oats` takes or handles them; only an amount written in front is shown.
        if amount is not None and _NUMBER.match(written) is not None:
            return "", tongue.say("the", context="mark").strip(), amount, None
        return head, "", None, None
    if _says_amount(head):
        return "", tongue.say("of the", context="mark").strip(), amount, None
    return head or _set(use.share), "", None, amount


def _head(use: Use, written: str) -> str:
    """What stands before the name, as the cook wrote it (a capital at the start of a sentence stays)."""
    place = written.find(use.name)
    if place < 0:
        # An escape stands in the name: then up to the last article there can be.
        found = _HEAD.match(written)
        return "" if found is None else found.group(1)
    return written[:place].rstrip()


def _says_amount(head: str) -> bool:
    """Whether a share's words are an amount (`2 tbsp of the`, `a pinch of the`) and no fraction (`1/3 of the`, `half the`)."""
    words = head.casefold().removeprefix("about ").strip()
    number = _NUMBER.match(words)
    rest = (words[number.end() :] if number else words).split()
    if number is not None:
        return rest[:1] not in (["of"], ["the"]) or number.group().strip().isdigit()
    return len(rest) > 2 and rest[0] in ("a", "an", "one") and singular(rest[1]) in keys()


def _comes_to(amount: AmountText, use: Use, desk: Desk) -> AmountText:
    """What is made comes out as it comes out, so a share of it is `about`; of bought food it is exact."""
    thing = next((thing for thing in desk.dish.things if thing.key == use.thing), None)
    made = thing is not None and thing.kind is ThingKind.MADE
    about = desk.tongue.say("about ")
    return replace(amount, text=about + amount.text) if made and not amount.text.startswith(about) else amount


def gear_piece(gear: GearUse, desk: Desk) -> GearPiece:
    """A gear mark. What is used up is scaled, and ramekins and glasses of which each plate has one; pans are not."""
    return GearPiece(gear_name(gear, desk, article=gear.same), gear_remark(gear, desk))


def gear_name(gear: GearUse, desk: Desk, *, article: bool) -> str:
    """`frying pan`, `2 baking sheets`, `5 kg ice`, `the oven`."""
    if gear.amount is not None:
        return f"{_used_up(gear.amount, desk)} {gear.name}"
    # `{1 freezer bag}` is read with its number, `{pan}` without.
    pieces = pieces_wanted(gear, desk)
    counted = pieces > 1 or gear.pieces > 1 or gear.span.text.removeprefix("{").lstrip()[:1].isdigit()
    count = f"{pieces} " if counted else ""
    name = gear.name if (pieces > 1) == (gear.pieces > 1) else in_number(gear.name, None, pieces > 1, desk.tongue)
    the = desk.tongue.say("the", context="mark").strip() if article else ""
    return f"{the} {count}{name}" if the else f"{count}{name}"


def pieces_wanted(gear: GearUse, desk: Desk) -> int:
    """How many: as written, or one for every plate (or piece made) where the dish as written has just that many."""
    if not _one_each(gear, desk):
        return gear.pieces
    return max(math.ceil(gear.pieces * desk.scaled.factor), 1)


def _one_each(gear: GearUse, desk: Desk) -> bool:
    dish = desk.dish
    made = None if dish.makes is None else dish.makes.amount.total()
    numbers = {Fraction(end) for end in dish.serves or ()}
    if made is not None and made.unit.name == "piece":
        numbers |= {made.low, made.high}
    return _is_vessel(gear) and gear.pieces in numbers


def _is_vessel(gear: GearUse) -> bool:
    """Several of what is no cooking gear: that follows the food, not the plates."""
    return gear.amount is None and gear.pieces > 1 and normal_name(gear.name).rpartition(" ")[2] not in _STAYS


def _used_up(amount: Amount, desk: Desk) -> str:
    if desk.scaled.factor == 1:
        return desk.say(amount, written=True).whole
    scaled = amount.scaled(desk.scaled.factor)
    total = scaled.total()
    # Nobody cuts a third of a sheet off: up, as when it is bought.
    return desk.say(scaled).whole if total is None else shopping(total, desk.style).text


def gear_remark(gear: GearUse, desk: Desk) -> str:
    """Its size, how much it takes, and for how much that many are, where the dish is not made as written."""
    tongue = desk.tongue
    takes = ""
    if gear.takes is not None:
        much = show_amount(gear.takes, Style(language=tongue.code), written=True).text
        takes = tongue.say("takes %(much)s", much=much)
    plates, many = desk.scaled.plates, ""
    if desk.scaled.factor != 1 and _is_vessel(gear):
        if not _one_each(gear, desk):
            many = desk.tongue.say("as many as for the dish as written")
        elif desk.dish.serves is not None and plates is not None:
            many = desk.tongue.say("for %(plates)s", plates=plates_text(plates, plates, desk.style))
    return ", ".join(word for word in (gear.size, takes, many) if word)
