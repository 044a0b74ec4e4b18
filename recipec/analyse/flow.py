"""The bank account of food, first half: what every mark means, what comes in and who draws on it.

The rules are those of the language's chapter on flow; the second half, whether the accounts balance, is in `balance.py`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from recipec.analyse.context import Context, Notes
from recipec.analyse.dimensions import Measurer
from recipec.analyse.marks import FoodMark, Place, StrandOutline, food_marks
from recipec.analyse.names import Account, Claim, Identity, Namespace, Taking, identify
from recipec.base.finding import Fix, Label
from recipec.base.span import Span
from recipec.larder.names import normal_name
from recipec.measure.quantity import Amount, Dimension, Quantity, one
from recipec.model.dish import Basis, Flag, Role, ThingKind, Use
from recipec.syntax import tree

_FLAGS = {flag.value: flag for flag in Flag}
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
    """What came of reading all food marks. `uses` by number; `at` gives a mark's use (and its `plus`) by its span's start."""

    namespace: Namespace
    uses: list[Use]
    at: dict[int, tuple[int, int | None]]
    spoken: list[Spoken]


def read_flow(strands: tuple[StrandOutline, ...], context: Context, measurer: Measurer, notes: Notes) -> Flow:
    """Opens the accounts of what is made, then reads the food marks in the order of the text."""
    reader = _Reader(context, measurer, notes, Flow(Namespace(), [], {}, []))
    reader.open_made(strands)
    for mark in food_marks(strands):
        reader.read(mark)
    return reader.flow


@dataclass(slots=True)
class _Reader:
    context: Context
    measurer: Measurer
    notes: Notes
    flow: Flow

    # ------------------------------------------------------------ what is made

    def open_made(self, strands: tuple[StrandOutline, ...]) -> None:
        """Accounts of all results and strands, each visible from its end on."""
        for index, strand in enumerate(strands):
            start = strand.heading.span.start if strand.heading else 0
            for block, number in strand.blocks:
                if isinstance(block, tree.Step):
                    for result in block.results:
                        self._open_result(result, block, number, index, start)
            self._open_strand(strands, index, start)

    def _open_result(self, result: tree.Result, block: tree.Step, number: int | None, strand: int, start: int) -> None:
        name = normal_name(result.name.text)
        twice = self._made(name)
        if twice is not None and not result.discarded:
            self._twice(result.name.span, result.name.text, twice)
        amount = None if result.amount is None else self.measurer.food_amount(result.amount, name)
        account = Account(
            name, result.name.text, ThingKind.MADE, {name}, result.name.span, number, strand, block.span.end, start
        )
        account.discarded = result.discarded
        account.bring_in(amount)
        self.flow.namespace.open(account)

    def _open_strand(self, strands: tuple[StrandOutline, ...], index: int, start: int) -> None:
        strand = strands[index]
        last = strand.last_step()
        if strand.heading is None or last is None or index == len(strands) - 1:
            return
        block, number = last
        name = normal_name(strand.heading.name.text)
        if block.results:
            own = [a for a in self.flow.namespace.accounts if a.step == number and a.kind is ThingKind.MADE]
            for account in own:
                # A strand named as its own last arrow is one thing, so it may be spoken of while it is being made.
                account.by_strand = name in account.names
            return
        twice = self._made(name)
        if twice is not None:
            self._twice(strand.heading.name.span, strand.heading.name.text, twice)
        account = Account(
            name,
            strand.heading.name.text,
            ThingKind.MADE,
            {name},
            strand.heading.name.span,
            number,
            index,
            block.span.end,
            start,
        )
        account.by_strand = True
        self.flow.namespace.open(account)

    def _made(self, name: str) -> Account | None:
        made = (a for a in self.flow.namespace.accounts if a.kind is ThingKind.MADE and not a.discarded)
        return next((account for account in made if name in account.names), None)

    def _twice(self, span: Span, name: str, first: Account) -> None:
        first.meant = True
        self.notes.add(
            "made-twice",
            span,
            f"`{name}` is made here, and was made before: which one a later `the {name}` means can't be told.",
            "Give one of them another name.",
            labels=(Label(first.origin, "made here first"),),
        )

    # ------------------------------------------------------------ food marks

    def read(self, mark: FoodMark) -> None:
        """One mark: a use for its first choice, with the others beside it, and one for what follows `plus`."""
        choices = mark.food.choices
        number = len(self.flow.uses)
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
        plus = None
        if choices[0].plus is not None:
            plus = len(self.flow.uses)
            self.flow.uses.append(self._use(self._of_the_same(choices[0].plus, choices[0]), mark, plus))
        self.flow.at[mark.food.span.start] = (number, plus)

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
        if item.article == "the" and item.part is None:
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

    def _buy(self, item: tree.FoodItem, mark: FoodMark, number: int) -> Use:
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
        amount = self._amount(item, of)
        basis = self._basis(item, mark)
        if basis is not None:
            amount = self._reckoned(basis, item)
        account.bring_in(amount)
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
            basis=basis,
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
        if found is not None:
            return self._speak(item, mark, number, found, flags)
        # Nothing is lost: it stays in the dish as something bought, of unknown amount.
        known = identify(item.name.text, None, self.context.larder)
        return Use(
            number,
            mark.food.span,
            Role.BUY,
            known.key,
            item.name.text,
            known.ingredient.key if known.ingredient else None,
            None,
            after=_after(item.details),
            flags=flags,
        )

    def _look_up(self, name: tree.Name, mark: FoodMark) -> Account | None:
        space, offset, strand = self.flow.namespace, mark.food.span.start, mark.place.strand
        known = identify(name.text, None, self.context.larder)
        names: tuple[str, ...] = (normal_name(name.text), known.key)
        if known.before and known.ingredient is not None:
            words = name.text.split()
            names += (normal_name(" ".join(words[len(" ".join(known.before).split()) :])),)
        found = space.find(tuple(dict.fromkeys(names)), offset, strand)
        if len(found) == 1:
            return found[0]
        if found:
            self.notes.add(
                "ambiguous-name",
                name.span,
                f"`the {name.text}` could be {_either(found)}.",
                "Write the name in full.",
                labels=tuple(Label(account.origin, f"{account.name}: here") for account in found),
            )
            return found[-1]
        below = space.below(names[0], offset)
        near = space.near(names[0], offset, strand)
        labels = () if below is None else (Label(below.origin, "it only comes here, further down"),)
        hints = [f"Did you mean `the {other.name}`?" for other in near[:1]]
        for other in near[:1]:
            # A slip in the name is one mistake: what was meant does not count as never used as well.
            other.meant = True
        if below is None:
            hints.append(f"If it comes from the shelf, write it without `the`, with its amount: [{name.text}].")
        self.notes.add(
            "not-introduced",
            name.span,
            f"Nothing above is called `{name.text}`.",
            *hints,
            labels=labels,
            fixes=tuple(Fix(name.span, other.name, f"write `{other.name}`") for other in near[:1]),
        )
        return None

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
        elif place.strand != account.strand and not any(t.strand == place.strand for t in account.takes):
            claim = "all"
        if place.aside:
            claim = None
        self.flow.spoken.append(Spoken(account, place, mark.food.span, share is not None))
        account.handled.append((place.strand, place.step, mark.food.span.start))
        if claim is not None:
            account.takes.append(Taking(number, mark.food.span, place.strand, claim, fraction, amount))
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
            after=_after(item.details),
            flags=flags | (frozenset({Flag.PER_PLATE}) if item.per_plate else frozenset()),
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

    def _basis(self, item: tree.FoodItem, mark: FoodMark) -> Basis | None:
        for detail in item.details:
            if isinstance(detail, tree.Percent | tree.Rate):
                account = self._look_up(detail.of, mark)
                if account is None:
                    return None
                self.flow.spoken.append(Spoken(account, mark.place, detail.of.span, True))
                if isinstance(detail, tree.Percent):
                    return Basis(account.key, detail.value, None, None)
                rate = self.measurer.food_amount(detail.amount, item.name.text)
                return Basis(account.key, None, rate, self.measurer.quantity(detail.per))
        return None

    def _reckoned(self, basis: Basis, item: tree.FoodItem) -> Amount | None:
        account = next(a for a in self.flow.namespace.accounts if a.key == basis.thing)
        if not account.measured:
            return None
        if basis.percent is not None:
            grams = account.grams()
            if grams is not None:
                return one(grams.scaled(basis.percent / 100))
        elif basis.per is not None and basis.rate is not None:
            total = account.total()
            there = None if total is None else account.as_unit(total, basis.per.unit)
            if there is not None:
                times = (there.low / basis.per.low, there.high / basis.per.low)
                terms = tuple(Quantity(t.low * times[0], t.high * times[1], t.unit) for t in basis.rate.terms)
                return Amount(terms)
        self.notes.add(
            "no-density",
            item.span,
            f"How much `{account.name}` weighs can't be told from its amount, so this share of it can't be reckoned.",
            f"Give `{account.name}` by weight, or put its density or weight each into larder.csv.",
            labels=(Label(account.origin, "its amount"),),
        )
        return None


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


def _either(accounts: list[Account]) -> str:
    names = [f"`{account.name}`" for account in accounts]
    return f"{', '.join(names[:-1])} or {names[-1]}"
