"""What is made from what goes, within one dish: on through its batches in the order of the text, and back to what was made only for it.

Two things may go. A *food*: a batch is made from it when nothing else of any weight is in it, or when it is at least half of the weight
as bought, water not counted. A *result*, by its own name: its batch goes with all that was brought in or made for it alone. What
can't be told apart from something that stays is kept whole: then more is said to be in it than may be, never less.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import NamedTuple

from recipec.larder.larder import Larder
from recipec.measure.quantity import Amount, Dimension
from recipec.model.dish import Dish, Flag, LayOut, Role, Thing, Use
from recipec.plan.batches_of_dish import Batch, batches_in
from recipec.plan.joining import weigh
from recipec.plan.scale import written_plates

_PINCHES = frozenset({"pinch", "dash", "drop", "splash", "knob", "handful", "sprig", "leaf"})
_NO_WEIGHT = frozenset({Flag.TO_TASTE, Flag.TO_SERVE})
_BRINGS = (Role.BUY, Role.OUR)


class Stuck(NamedTuple):
    """A result that can't be taken out: `food` comes in with it and `wanted` is where it is used again."""

    thing: str
    food: Use
    wanted: Use


@dataclass(slots=True)
class Made:
    """One dish without the uses `gone`, by number, and without the results `named`, by key of their things.

    After `follow`: `gone` are uses of every role, `things` and `steps` gone whole, `stuck` results that can't be taken out, which stay
    whole where they are made and are only not used; `ends` when a named result is what the dish itself is.
    """

    dish: Dish
    larder: Larder
    gone: set[int]
    named: frozenset[str] = frozenset()
    things: set[str] = field(default_factory=set)
    steps: set[int] = field(default_factory=set)
    stuck: list[Stuck] = field(default_factory=list)
    ends: bool = False
    known: dict[str, Thing] = field(init=False)
    batches: tuple[Batch, ...] = field(init=False)

    def __post_init__(self) -> None:
        self.known = {thing.key: thing for thing in self.dish.things}
        self.batches = batches_in(self.dish)

    def follow(self) -> None:
        """Works it all out, once."""
        bought = frozenset(self.gone)
        whole = {thing for thing in self.named if self._alone(thing)}
        self._follow(whole)
        # Only now is it known who else would still want what came in with a result.
        while stuck := [one for thing in sorted(whole) for one in self._stuck(thing, bought)]:
            self.stuck += stuck
            whole -= {one.thing for one in stuck}
            self.gone, self.things, self.steps, self.ends = set(bought), set(), set(), False
            self._follow(whole)
        if self.named:
            while self._only_for_it():
                pass
            self._speak_of_none()
            self.ends = self.ends or not self._stays()

    @property
    def whole(self) -> bool:
        """Whether nothing is left of the dish, or it is made from what goes."""
        brought = [use for use in self.dish.uses if use.role in _BRINGS]
        if not self.named:
            return self.is_made_from(brought, dict.fromkeys(self.gone, True))
        return self.ends

    def _follow(self, whole: set[str]) -> None:
        self._bought_things()
        self.gone |= {use.number for thing in self.named for use in self._outside(thing, self._batch(thing))}
        carried: dict[str, Fraction | None] = {}
        for batch in self.batches:
            own = [self.dish.uses[number] for number in batch.uses]
            # A mention of what the batch itself brought in is no second helping of it.
            brought = {use.thing for use in own if use.role in _BRINGS}
            taken = [use for use in own if use.role in _BRINGS or use.thing not in brought]
            gone = {use.number: use.number in self.gone or use.thing in self.things for use in taken}
            before = self._carried(batch, carried)
            for thing in batch.made:
                carried[thing] = self._weight_of(thing, taken, before)
            named = bool(whole & set(batch.made))
            if named and batch.final:
                self.ends = True
            elif named or (not batch.final and self._from_it(batch, taken, gone, before, own)):
                self._go(batch)
            elif batch.final and batch.carries in self.things and self._most(taken, gone, before):
                self.ends = True
        self._speak_of_none()

    def _from_it(
        self, batch: Batch, taken: list[Use], gone: Mapping[int, bool], before: Fraction | None, own: list[Use]
    ) -> bool:
        if self._wanted(batch, own):
            return False
        if batch.carries is not None:
            return batch.carries in self.things and self._most(taken, gone, before)
        return self.is_made_from(taken, gone)

    def _most(self, taken: list[Use], gone: Mapping[int, bool], before: Fraction | None) -> bool:
        """Whether what was in hand and is gone is at least half of it, or all of any weight."""
        goes, stays = before or Fraction(0), Fraction(0)
        for use in taken:
            weight = self._weight(use)
            if gone[use.number]:
                goes += weight or 0
            elif weight is None:
                return False
            else:
                stays += weight
        return goes >= stays

    def _carried(self, batch: Batch, carried: Mapping[str, Fraction | None]) -> Fraction | None:
        return Fraction(0) if batch.carries is None else carried.get(batch.carries)

    def _weight_of(self, thing: str, taken: Iterable[Use], before: Fraction | None) -> Fraction | None:
        """As stated, else of all that went in."""
        weights = [before, *(self._weight(use) for use in taken)]
        known = [weight for weight in weights if weight is not None]
        made = self.known[thing].amount if thing in self.known else None
        stated = None if made is None else _grams_made(made)
        return stated if stated is not None or len(known) < len(weights) else sum(known, Fraction(0))

    def _go(self, batch: Batch) -> None:
        self.gone |= set(batch.uses)
        self.things |= set(batch.made)
        self.steps |= set(batch.steps)
        self._bought_things()

    def _speak_of_none(self) -> None:
        self.gone |= {use.number for use in self._mentions() if use.thing in self.things}

    def _mentions(self) -> Iterator[Use]:
        return (use for use in self.dish.uses if use.role in (Role.TAKE, Role.HANDLE))

    def _bought_things(self) -> None:
        """A thing goes when every mark that brings it in does."""
        marks: dict[str, set[int]] = {}
        for use in self.dish.uses:
            if use.role in _BRINGS:
                marks.setdefault(use.thing, set()).add(use.number)
        self.things |= {thing for thing, numbers in marks.items() if numbers <= self.gone}

    def _wanted(self, batch: Batch, own: Iterable[Use]) -> bool:
        """Whether something else needs a food that comes in here and does not go by itself."""
        stays = {use.thing for use in own if use.role in _BRINGS and use.number not in self.gone}
        later = (use for use in self._mentions() if use.number not in batch.uses)
        return any(use.thing in stays for use in later)

    # ------------------------------------------------------------ a result by its name

    def _batch(self, thing: str) -> Batch | None:
        return next((batch for batch in self.batches if thing in batch.made), None)

    def _outside(self, thing: str, batch: Batch | None) -> Iterator[Use]:
        """The marks that speak of a thing, but for those of a batch."""
        own = () if batch is None else batch.uses
        return (use for use in self._mentions() if use.thing == thing and use.number not in own)

    def _alone(self, thing: str) -> bool:
        """Whether its batch leaves nothing else that is used; what leaves yolks and whites is still done for the one without the other."""
        batch = self._batch(thing)
        if batch is None:
            return False
        others = set(batch.made) - self.named
        return not any(True for other in others for _ in self._outside(other, batch))

    def _stuck(self, thing: str, left_out: frozenset[int]) -> Iterator[Stuck]:
        """What came in with it and is spoken of by a step that stays: nobody can tell how much of the one is in the other."""
        batch = self._batch(thing)
        if batch is None or batch.final:
            return
        for number in batch.uses:
            food = self.dish.uses[number]
            if food.role not in _BRINGS or number in left_out:
                continue
            for use in self._outside(food.thing, batch):
                if not self._done_without(use):
                    yield Stuck(thing, food, use)
                    return

    def _done_without(self, use: Use) -> bool:
        """Whether the step that speaks of it goes."""
        return any(use.number in batch.uses and set(batch.steps) <= self.steps for batch in self.batches)

    def _only_for_it(self) -> bool:
        """One round back: a batch whose results nobody takes any more, or food laid out that nobody takes any more."""
        for batch in self.batches:
            if not batch.final and not set(batch.steps) <= self.steps and self._idle(batch):
                self._go(batch)
                self._speak_of_none()
                return True
        for number in sorted(self._laid_out() - self.gone):
            if self._all_gone(self.dish.uses[number].thing, None):
                self.gone.add(number)
                self._bought_things()
                return True
        return False

    def _idle(self, batch: Batch) -> bool:
        """Whether all that it leaves was for something that goes, and nothing that comes in with it is spoken of by what stays."""
        brought = {self.dish.uses[n].thing for n in batch.uses if self.dish.uses[n].role in _BRINGS}
        in_hand = [other for other in self.batches if other.carries is not None and other.carries in batch.made]
        if not all(set(other.steps) <= self.steps for other in in_hand):
            return False
        leaves = batch.made or tuple(brought)
        met = [thing for thing in leaves if any(True for _ in self._outside(thing, batch))]
        if not (met or in_hand) or not all(self._all_gone(thing, batch) for thing in met):
            return False
        return not any(use.number not in self.gone for thing in brought for use in self._outside(thing, batch))

    def _all_gone(self, thing: str, batch: Batch | None) -> bool:
        """Whether it is spoken of outside a batch, and only by what goes."""
        marks = list(self._outside(thing, batch))
        return bool(marks) and all(use.number in self.gone for use in marks)

    def _laid_out(self) -> set[int]:
        return {
            use
            for strand in self.dish.strands
            for block in strand.blocks
            if isinstance(block, LayOut)
            for use in block.uses
        }

    def _stays(self) -> bool:
        """Whether anything of weight is left, or anything whose weight nobody knows."""
        brought = (use for use in self.dish.uses if use.role in _BRINGS and use.number not in self.gone)
        return any(self._weight(use) != 0 for use in brought)

    # ------------------------------------------------------------ weights

    def is_made_from(self, uses: Iterable[Use], gone: Mapping[int, bool]) -> bool:
        """Whether what goes is all of these, or at least half of their weight."""
        goes = stays = Fraction(0)
        any_goes, unknown, more = False, False, False
        for use in uses:
            weight = self._weight(use)
            if gone.get(use.number, False):
                any_goes = True
                goes += weight or 0
                unknown |= weight is None
            else:
                stays += weight or 0
                unknown |= weight is None
                more |= weight is None or weight > 0
        return any_goes and (not more or (not unknown and goes >= stays))

    def _weight(self, use: Use) -> Fraction | None:
        """Grams of a mark in the dish as written; 0 for water and what is only seasoning, None when unknown."""
        if use.item is not None and use.item.rpartition(" ")[2] == "water":
            return Fraction(0)
        if use.flags & _NO_WEIGHT:
            return Fraction(0)
        item = None if use.item is None else self.larder.get(use.item)
        thing = self.known.get(use.thing)
        amount = use.amount
        if amount is None and use.role in (Role.TAKE, Role.HANDLE) and thing is not None:
            amount = thing.amount
            if amount is not None and use.fraction is not None:
                amount = amount.scaled(use.fraction)
            item = None if thing.item is None else self.larder.get(thing.item)
        if amount is None:
            return None
        if amount.terms and all(term.unit.name in _PINCHES for term in amount.terms):
            return Fraction(0)
        part = None if item is None or use.part is None else item.part(use.part)
        number = amount.total()
        if part is not None and number is not None and number.unit.name == "piece":
            return number.high * part.amount
        found = Fraction(0)
        for term in weigh(amount, item, use.before):
            weight = term.grams
            if weight is None and use.role is not Role.BUY:
                weight = _as_water(term.amount)
            if weight is None:
                return None
            found += weight
        if Flag.PER_PLATE in use.flags and use.role in (Role.BUY, Role.OUR):
            plates = written_plates(self.dish)
            return None if plates is None else found * plates
        return found


def _grams_made(amount: Amount) -> Fraction | None:
    """Of what the kitchen makes, by its stated amount."""
    found = Fraction(0)
    for term in weigh(amount, None, ()):
        weight = term.grams if term.grams is not None else _as_water(term.amount)
        if weight is None:
            return None
        found += weight
    return found


def _as_water(amount: Amount) -> Fraction | None:
    """A gram a millilitre, for what the kitchen makes."""
    term = amount.contents() or amount.terms[0]
    return term.base_high if term.unit.dimension is Dimension.VOLUME else None
