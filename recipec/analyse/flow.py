"""The bank account of food, first half: what every mark means, what comes in and who draws on it.

The rules are those of the language's chapter on flow; the second half, whether the accounts balance, is in `balance.py`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from recipec.analyse.context import Context, Notes
from recipec.analyse.dimensions import Measurer
from recipec.analyse.lookup import look_up
from recipec.analyse.marks import FoodMark, Place, StrandOutline, food_marks
from recipec.analyse.names import Account, Claim, Identity, Namespace, Taking, identify
from recipec.analyse.opening import open_made
from recipec.analyse.reckon import basis_of, reckoned
from recipec.base.finding import Fix, Label
from recipec.base.span import Span
from recipec.larder.names import normal_name
from recipec.measure.quantity import Amount, Dimension
from recipec.measure.units import NOMINAL, unit
from recipec.model.dish import Basis, Flag, Role, ThingKind, Use
from recipec.syntax import tree

_FLAGS = {flag.value: flag for flag in Flag}
_AND = re.compile(r"\s+(?:and|&)\s+", re.IGNORECASE)
_WITHOUT_AMOUNT = frozenset({Flag.TO_TASTE, Flag.TO_SERVE, Flag.OPTIONAL})


@dataclass(slots=True)
class Spoken:
    """A mark that speaks of an account: for waiting and for balancing."""

    account: Account
    place: Place
    span: Span
    share: bool


@dataclass(slots=True)
class Flow:
    """What came of reading all food marks. `uses` by number; `at` gives a mark's use (and its `plus`) by its span's start.

    `pairs` gives the second use of a mark that is two (`[salt and pepper]`).
    """

    namespace: Namespace
    uses: list[Use]
    at: dict[int, tuple[int, int | None]]
    spoken: list[Spoken]
    pairs: dict[int, int]


def read_flow(
    strands: tuple[StrandOutline, ...], context: Context, measurer: Measurer, notes: Notes, plates: Fraction | None
) -> Flow:
    """Opens the accounts of what is made, then reads the food marks in the order of the text.

    `plates` is how many the dish as written serves: what is taken per plate is taken so often.
    """
    reader = _Reader(context, measurer, notes, Flow(Namespace(), [], {}, [], {}), plates)
    open_made(strands, reader.flow.namespace, measurer, notes)
    for mark in food_marks(strands):
        reader.read(mark)
    return reader.flow


@dataclass(slots=True)
class _Reader:
    context: Context
    measurer: Measurer
    notes: Notes
    flow: Flow
    plates: Fraction | None

    # ------------------------------------------------------------ food marks

    def read(self, mark: FoodMark) -> None:
        """One mark: a use for its first choice, with the others beside it, and one for what follows `plus`."""
        choices = mark.food.choices
        number = len(self.flow.uses)
        two = self._two(choices)
        if two is not None:
            for item in two:
                self.flow.uses.append(self._use(item, mark, len(self.flow.uses)))
            self.flow.at[mark.food.span.start] = (number, None)
            self.flow.pairs[mark.food.span.start] = number + 1
            return
        first = self._use(choices[0], mark, number)
        self.flow.uses.append(first)
        tail = choices[-1].details if len(choices) > 1 else ()
        others = tuple(self._choice(item, first, choices[0], number, tail) for item in choices[1:])
        if others:
            # `[cream or oat cream, cold]`: what follows the last choice is said of all that have nothing of their own.
            flags = first.flags | self._flags(tail)
            after = first.after or _after(tail)
            first = first._replace(choices=others, flags=flags, after=after)
            self.flow.uses[number] = first
            account = self.flow.namespace.bought(first.thing)
            if account is not None:
                # Whichever is chosen, `the oat cream` further down is what came in here.
                account.names |= {normal_name(other.name) for other in others}
        plus = None
        if choices[0].plus is not None:
            plus = len(self.flow.uses)
            self.flow.uses.append(self._use(self._of_the_same(choices[0].plus, choices[0]), mark, plus))
        self.flow.at[mark.food.span.start] = (number, plus)

    def _two(self, choices: tuple[tree.FoodItem, ...]) -> tuple[tree.FoodItem, tree.FoodItem] | None:
        """`[salt and pepper]` as two marks: unless the larder has that name, and where one amount can't be meant for both."""
        item = choices[0]
        if len(choices) > 1 or item.plus is not None or item.part is not None or item.article or item.share is not None:
            return None
        if item.amount is not None and not all(term.unit in NOMINAL for term in item.amount.terms):
            return None
        names = _AND.split(item.name.text)
        if len(names) != 2 or self.context.larder.find(item.name.text) is not None:
            return None
        if any(identify(name, None, self.context.larder).ingredient is None for name in names):
            return None
        first, second = (item._replace(name=item.name._replace(text=name)) for name in names)
        return first, second

    def _of_the_same(self, more: tree.FoodItem, first: tree.FoodItem) -> tree.FoodItem:
        """`1 egg plus 1 yolk`: the yolk is a part of an egg, where the larder knows that part of it."""
        known = identify(first.name.text, None, self.context.larder)
        part = normal_name(more.name.text)
        if more.part is None and known.ingredient is not None and known.ingredient.part(part) is not None:
            return more._replace(part=tree.Part(more.name.span, part), name=first.name)
        return more

    def _use(self, item: tree.FoodItem, mark: FoodMark, number: int) -> Use:
        if item.share is not None:
            return self._reference(item, mark, number)
        if item.article == "our":
            return self._our(item, mark, number)
        if item.article == "the" and (item.part is None or item.amount is None):
            return self._reference(item, mark, number)
        return self._buy(item, mark, number)

    def _amount(self, item: tree.FoodItem, of: str) -> Amount | None:
        each = next((detail.amount for detail in item.details if isinstance(detail, tree.Each)), None)
        if item.amount is None:
            return None
        amount = self.measurer.food_amount(item.amount, of)
        if each is None:
            return amount
        held = self.measurer.food_amount(each, of).total()
        return Amount(amount.terms, amount.about, held, amount.size)

    def _flags(self, details: tuple[tree.Detail, ...]) -> frozenset[Flag]:
        return frozenset(_FLAGS[detail.key] for detail in details if isinstance(detail, tree.Flag))

    def _in_all(self, amount: Amount | None, flags: frozenset[Flag] | set[Flag]) -> Amount | None:
        """An amount per plate as that of the dish as written; None where it does not say how many it serves."""
        if amount is None or Flag.PER_PLATE not in flags:
            return amount
        return None if self.plates is None else amount.scaled(self.plates)

    def _buy(self, item: tree.FoodItem, mark: FoodMark, number: int, same: Amount | None = None) -> Use:
        known = identify(item.name.text, item.part.key if item.part else None, self.context.larder)
        flags = self._flags(item.details) | ({Flag.PER_PLATE} if item.per_plate else set())
        again = self._again(item, mark, known, flags)
        if again is not None:
            return self._speak(item, mark, number, again, flags)
        space = self.flow.namespace
        account = space.bought(known.key)
        if account is None:
            account = Account(
                known.key,
                _spoken_name(item, known),
                ThingKind.BOUGHT,
                _names_of(item, known),
                item.name.span,
                mark.place.step,
                mark.place.strand,
                mark.food.span.end,
                mark.food.span.end,
                known.ingredient,
            )
            space.open(account)
        else:
            account.names |= _names_of(item, known)
        account.handled.append((mark.place.strand, mark.place.step, mark.food.span.start))
        of = known.ingredient.name if known.ingredient else item.name.text
        amount = same if same is not None else _by_unit(self._amount(item, of), known)
        basis = self._basis(item, mark)
        if basis is not None:
            amount = reckoned(basis[0], basis[1], item.span, self.notes)
        account.bring_in(self._in_all(amount, flags))
        return Use(
            number,
            mark.food.span,
            Role.BUY,
            account.key,
            item.name.text,
            known.ingredient.key if known.ingredient else None,
            amount,
            part=known.part,
            before=known.before,
            after=_after(item.details),
            flags=frozenset(flags),
            basis=None if basis is None else basis[0],
        )

    def _again(self, item: tree.FoodItem, mark: FoodMark, known: Identity, flags: frozenset[Flag]) -> Account | None:
        """The account a bare name should have spoken of with `the`, after saying so."""
        if item.part is not None or any(isinstance(detail, tree.Percent | tree.Rate) for detail in item.details):
            return None
        there = self.flow.namespace.exact(normal_name(item.name.text), mark.food.span.start, mark.place.strand)
        start = item.name.span.start
        here = Span(item.span.source, start, start)
        if there is not None and there.kind is ThingKind.MADE and there.since <= mark.food.span.start:
            put = "of the " if item.amount is not None else "the "
            self.notes.add(
                "bought-again",
                item.span,
                f"`{item.name.text}` was made above; without `the` it is bought as well.",
                f"Write `{put}{item.name.text}` if you mean what was made.",
                labels=(Label(there.origin, "made here"),),
                fixes=(Fix(here, put, f"put `{put.strip()}` before it"),),
            )
            return there
        account = self.flow.namespace.bought(known.key)
        if account is None or item.amount is not None or flags & _WITHOUT_AMOUNT or not account.measured:
            return None
        self.notes.add(
            "bought-again",
            item.span,
            f"`{item.name.text}` came in above with an amount; without `the` it is bought a second time.",
            f"Write `the {item.name.text}` if you mean the same, or give this one its own amount.",
            labels=(Label(account.origin, "came in here"),),
            fixes=(Fix(here, "the ", "put `the` before it"),),
        )
        return account

    def _our(self, item: tree.FoodItem, mark: FoodMark, number: int) -> Use:
        name = normal_name(item.name.text)
        account = self.flow.namespace.bought(f"our {name}")
        if account is None:
            account = Account(
                f"our {name}",
                item.name.text,
                ThingKind.OUR,
                {name},
                item.name.span,
                mark.place.step,
                mark.place.strand,
                mark.food.span.end,
                mark.food.span.end,
            )
            self.flow.namespace.open(account)
        account.handled.append((mark.place.strand, mark.place.step, mark.food.span.start))
        amount = self._amount(item, name)
        account.bring_in(amount)
        flags = self._flags(item.details) | ({Flag.PER_PLATE} if item.per_plate else set())
        return Use(
            number,
            mark.food.span,
            Role.OUR,
            account.key,
            item.name.text,
            None,
            amount,
            after=_after(item.details),
            flags=frozenset(flags),
        )

    # ------------------------------------------------------------ speaking of what is there

    def _reference(self, item: tree.FoodItem, mark: FoodMark, number: int) -> Use:
        flags = self._flags(item.details)
        found = self._look_up(item.name, mark)
        if found is not None and item.part is not None and found.kind is ThingKind.BOUGHT and _is_part(found):
            # `juice of the lemon` after `zest of 1 lemon`: another part of the same pieces.
            return self._buy(item._replace(article=""), mark, number, found.amount)
        if found is not None:
            return self._speak(item, mark, number, found, flags)
        # Nothing is lost: it stays in the dish as something bought, of unknown amount.
        known = identify(item.name.text, item.part.key if item.part else None, self.context.larder)
        return Use(
            number,
            mark.food.span,
            Role.BUY,
            known.key,
            item.name.text,
            known.ingredient.key if known.ingredient else None,
            None,
            part=known.part,
            after=_after(item.details),
            flags=flags,
        )

    def _look_up(self, name: tree.Name, mark: FoodMark) -> Account | None:
        return look_up(name, mark, self.flow.namespace, self.context.larder, self.notes)

    def _speak(self, item: tree.FoodItem, mark: FoodMark, number: int, account: Account, flags: frozenset[Flag]) -> Use:
        place, share = mark.place, item.share
        claim: Claim | None = None
        fraction: Fraction | None = None
        amount: Amount | None = None
        if share is not None:
            claim = {"fraction": "share", "amount": "share", "rest": "rest", "unmeasured": "unmeasured"}[share.kind]  # type: ignore[assignment]
            fraction = share.fraction
            if share.amount is not None:
                amount = self.measurer.food_amount(share.amount, account.name)
        elif item.amount is not None:
            claim, amount = "share", self._amount(item, account.name)
        elif place.strand != account.strand and not any(
            take.strand == place.strand and take.claim == "all" for take in account.takes
        ):
            claim = "all"
        if place.aside:
            claim = None
        per_plate = frozenset({Flag.PER_PLATE}) if item.per_plate else frozenset()
        self.flow.spoken.append(Spoken(account, place, mark.food.span, share is not None))
        account.handled.append((place.strand, place.step, mark.food.span.start))
        if claim is not None:
            in_all = self._in_all(amount, per_plate)
            if amount is not None and in_all is None:
                claim = "unmeasured"
            account.takes.append(Taking(number, mark.food.span, place.strand, claim, fraction, in_all))
        return Use(
            number,
            mark.food.span,
            Role.HANDLE if claim is None else Role.TAKE,
            account.key,
            item.name.text,
            account.ingredient.key if account.ingredient else None,
            amount,
            fraction,
            share.words if share is not None else "",
            item.part.key if item.part is not None else None,
            after=_after(item.details),
            flags=flags | per_plate,
        )

    # ------------------------------------------------------------ alternatives, percentages and rates

    def _choice(
        self, item: tree.FoodItem, first: Use, preferred: tree.FoodItem, number: int, tail: tuple[tree.Detail, ...]
    ) -> Use:
        known = identify(item.name.text, item.part.key if item.part else None, self.context.larder)
        amount = self._amount(item, known.ingredient.name if known.ingredient else item.name.text)
        if amount is None and first.amount is not None and item.article != "the":
            kinds = {term.unit.dimension for term in first.amount.terms}
            if kinds <= {Dimension.MASS} or kinds <= {Dimension.VOLUME}:
                amount = first.amount
            elif preferred.amount is not None:
                self.notes.add(
                    "bad-number",
                    item.span,
                    f"How much {item.name.text} stands in for {first.name}? Pieces of one are not pieces of the other.",
                    "Give the second choice its own amount.",
                    labels=(Label(preferred.amount.span, "the first choice is counted"),),
                )
        return Use(
            number,
            item.span,
            Role.OUR if item.article == "our" else Role.BUY,
            f"our {normal_name(item.name.text)}" if item.article == "our" else known.key,
            item.name.text,
            None if item.article == "our" or known.ingredient is None else known.ingredient.key,
            amount,
            part=known.part,
            before=known.before,
            after=_after(item.details),
            flags=first.flags | self._flags(tail),
        )

    def _basis(self, item: tree.FoodItem, mark: FoodMark) -> tuple[Basis, Account] | None:
        for detail in item.details:
            if isinstance(detail, tree.Percent | tree.Rate):
                account = self._look_up(detail.of, mark)
                if account is None:
                    return None
                self.flow.spoken.append(Spoken(account, mark.place, detail.of.span, True))
                return basis_of(detail, account, item.name.text, self.measurer), account
        return None


def _is_part(account: Account) -> bool:
    return account.ingredient is not None and account.key != account.ingredient.key


def _by_unit(amount: Amount | None, known: Identity) -> Amount | None:
    """`3 garlic cloves` are three cloves, not three heads."""
    if amount is None or known.unit is None:
        return amount
    own = unit(known.unit)
    return amount._replace(terms=tuple(t._replace(unit=own) if t.unit.name == "piece" else t for t in amount.terms))


def _after(details: tuple[tree.Detail, ...]) -> tuple[str, ...]:
    return tuple(detail.text for detail in details if isinstance(detail, tree.Treatment))


def _names_of(item: tree.FoodItem, known: Identity) -> set[str]:
    names = {normal_name(item.name.text), known.key}
    if known.ingredient is not None and known.part is None:
        names |= {normal_name(known.ingredient.name)}
    if known.before:
        words = item.name.text.split()
        names.add(normal_name(" ".join(words[len(" ".join(known.before).split()) :])))
    if item.part is not None:
        base = normal_name(item.name.text)
        names = {f"{base} {item.part.key}", f"{item.part.key} of {base}", item.part.key, known.key}
    return names


def _spoken_name(item: tree.FoodItem, known: Identity) -> str:
    return f"{item.name.text} {item.part.key}" if item.part is not None else item.name.text
