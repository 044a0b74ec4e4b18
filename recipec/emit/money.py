"""Money in words."""

from __future__ import annotations

from decimal import Decimal
from types import MappingProxyType

from recipec.model.prices import Money

# Only signs that mean one currency wherever this book is likely to be read beside its own code; the rest by code.
_SIGNS = MappingProxyType({"GBP": "£", "EUR": "€", "USD": "$"})

_CENT = Decimal("0.01")


def money_text(money: Money) -> str:
    """`£12.40`, `€3.00`, or `12.40 CHF`: two places unless there are more."""
    cents = money.value.quantize(_CENT) if money.value == money.value.quantize(_CENT) else money.value
    sign = _SIGNS.get(money.currency)
    return f"{sign}{cents}" if sign else f"{cents}\u00a0{money.currency}"
