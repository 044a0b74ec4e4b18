"""The one namespace of a dish: what a name means, and where it may be spoken of."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal, NamedTuple

from recipec.base.span import Span
from recipec.base.suggest import nearest
from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.measure.convert import Unconvertible, convert
from recipec.measure.quantity import Amount, Quantity, Unit, one
from recipec.measure.units import unit
from recipec.model.dish import ThingKind


class Identity(NamedTuple):
    """What the larder makes of a name. `ingredient` None is unknown; `before` are treatments taken off the front."""

    ingredient: Ingredient | None
    part: str | None
    before: tuple[str, ...]
    unit: str | None
    key: str


def identify(words: str, part: str | None, larder: Larder) -> Identity:
    """The thing that a bought food's name means; its key is the same for every spelling of it."""
    match = larder.find(words)
    if match is None and part is None:
        head, _, last = words.rpartition(" ")
        word = normal_name(last)
        of = larder.find(head) if head else None
        if of is not None and of.ingredient.part(word) is not None:
            return Identity(of.ingredient, word, of.before, None, f"{of.ingredient.key} {word}")
    if match is None:
        name = normal_name(words)
        return Identity(None, part, (), None, f"{name} {part}" if part else name)
    key = match.ingredient.key
    return Identity(match.ingredient, part, match.before, match.unit, f"{key} {part}" if part else key)


Claim = Literal["share", "rest", "all", "unmeasured"]


@dataclass(slots=True)
class Taking:
    """One drawing on an account. `fraction` is of all there is, None while unknown; `handles` when it turns out to take nothing."""

    use: int
    span: Span
    strand: int
    claim: Claim
    fraction: Fraction | None
    amount: Amount | None
    handles: bool = False


@dataclass(slots=True)
class Account:
    """What is known of one thing while a dish is read: what came in, who drew on it, who only handled it.

    `meant` is set where a mistake elsewhere has this thing in mind: it does not count as never used on top of that.
    Visible from the offset `since` on; inside the strand that will make it (`strand`) from `inside` on, to be handled.
    """

    key: str
    name: str
    kind: ThingKind
    names: set[str]
    origin: Span
    step: int | None
    strand: int
    since: int
    inside: int
    ingredient: Ingredient | None = None
    amount: Amount | None = None
    measured: bool = False
    several: bool = False
    by_strand: bool = False
    discarded: bool = False
    meant: bool = False
    takes: list[Taking] = field(default_factory=list)
    handled: list[tuple[int, int | None, int]] = field(default_factory=list)

    def total(self) -> Quantity | None:
        """All of it as one quantity, where it was measured; what containers hold counts rather than the containers."""
        if self.amount is None:
            return None
        return self.amount.contents() or self.amount.total()

    def bring_in(self, amount: Amount | None) -> None:
        """More of the same. Sums that can't be reckoned leave the total unknown."""
        first = not self.measured and not self.several
        self.several = not first
        if amount is None:
            return
        if not self.measured:
            self.amount, self.measured = amount, True
            return
        before = self.total()
        more = amount.contents() or amount.total()
        if before is None or more is None:
            self.amount = None
            return
        same = self.as_unit(more, before.unit)
        self.amount = None if same is None else one(before.add(same))

    def as_unit(self, quantity: Quantity, to: Unit) -> Quantity | None:
        """A quantity of this thing in another unit, through the larder's density or weight of one; None where unknown."""
        if quantity.unit.kind == to.kind:
            return quantity.to(to)
        item = self.ingredient
        if item is None:
            return None
        counted = next(
            (u.unit for u in (quantity, Quantity(Fraction(1), Fraction(1), to)) if u.unit.kind == u.unit.name), None
        )
        each = None if counted is None else item.weight_each(None, counted.name)
        done = convert(quantity, to, item.density(), each)
        return None if isinstance(done, Unconvertible) else done

    def grams(self) -> Quantity | None:
        """All of it by weight, where that can be known."""
        total = self.total()
        return None if total is None else self.as_unit(total, unit("g"))


class Namespace:
    """Accounts by name, with the rule that what is spoken of stands above."""

    def __init__(self) -> None:
        self.accounts: list[Account] = []

    def open(self, account: Account) -> Account:
        """A new account; its key is made unique, since a result may take the name of a food."""
        taken = {other.key for other in self.accounts}
        base, number = account.key, 2
        while account.key in taken:
            account.key = f"{base} ({number})"
            number += 1
        self.accounts.append(account)
        return account

    def bought(self, key: str) -> Account | None:
        """The account of a bought food or a dish of the house, by its exact key."""
        return next((a for a in self.accounts if a.key == key and a.kind is not ThingKind.MADE), None)

    def _visible(self, offset: int, strand: int, name: str | None = None) -> list[Account]:
        """Those that can be spoken of here; with `name`, of that name."""
        return [
            account
            for account in self.accounts
            if (name is None or name in account.names)
            and (
                offset >= account.since or (account.strand == strand and account.by_strand and offset >= account.inside)
            )
        ]

    def exact(self, name: str, offset: int, strand: int) -> Account | None:
        """What exactly this name means here; something made hides the food whose name it took, once it is made."""
        named = self._visible(offset, strand, name)
        made = [account for account in named if account.kind is ThingKind.MADE and account.since <= offset]
        food = [account for account in named if account.kind is not ThingKind.MADE]
        fitting = made or food or named
        return fitting[-1] if fitting else None

    def find(self, names: tuple[str, ...], offset: int, strand: int) -> list[Account]:
        """What one of `names` may mean here: one account when it is plain, several when it is not, none when nothing fits."""
        for name in names:
            account = self.exact(name, offset, strand)
            if account is not None:
                return [account]
        for name in names:
            ends = [
                account
                for account in self._visible(offset, strand)
                if any(known.endswith(f" {name}") for known in account.names)
            ]
            made = {known for account in ends if account.kind is ThingKind.MADE for known in account.names}
            ends = [account for account in ends if account.kind is ThingKind.MADE or not account.names & made]
            if ends:
                return ends
        return []

    def near(self, name: str, offset: int, strand: int) -> tuple[Account, ...]:
        """Things above whose names look like this one."""
        shown = {known: account for account in self._visible(offset, strand) for known in account.names}
        found = {shown[known].key: shown[known] for known in nearest(name, sorted(shown))}
        return tuple(found.values())

    def below(self, name: str, offset: int) -> Account | None:
        """Something of this name that only comes further down."""
        return next((a for a in self.accounts if a.since > offset and name in a.names), None)
