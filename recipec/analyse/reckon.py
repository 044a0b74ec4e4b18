"""Amounts that are reckoned from another thing: percentages of it by weight, and rates for every so much of it."""

from __future__ import annotations

from recipec.analyse.context import Notes
from recipec.analyse.dimensions import Measurer
from recipec.analyse.names import Account
from recipec.base.finding import Label
from recipec.base.span import Span
from recipec.measure.quantity import Amount, Quantity, one
from recipec.model.dish import Basis
from recipec.syntax import tree


def basis_of(detail: tree.Percent | tree.Rate, account: Account, of: str, measurer: Measurer) -> Basis:
    """How the amount of `of` follows from that of `account`."""
    if isinstance(detail, tree.Percent):
        return Basis(account.key, detail.value, None, None)
    rate = measurer.food_amount(detail.amount, of)
    return Basis(account.key, None, rate, measurer.quantity(detail.per))


def reckoned(basis: Basis, account: Account, span: Span, notes: Notes) -> Amount | None:
    """The amount, exact; None where the other thing has none, or none that can be compared, which is noted at `span`."""
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
            terms = tuple(Quantity(term.low * times[0], term.high * times[1], term.unit) for term in basis.rate.terms)
            return Amount(terms)
    notes.add(
        "no-density",
        span,
        f"How much `{account.name}` weighs can't be told from its amount, so this share of it can't be reckoned.",
        f"Give `{account.name}` by weight, or put its density or weight each into larder.csv.",
        labels=(Label(account.origin, "its amount"),),
    )
    return None
