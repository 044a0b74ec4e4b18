"""Amounts, names and holds in words, with what the larder knows of the thing."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

from recipec.larder.care import Care, care_of
from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import Larder
from recipec.larder.names import folded, normal_name, plural, singular
from recipec.larder.tables import pours
from recipec.measure.language import ENGLISH, Language, language_of
from recipec.measure.numerals import NO_BREAK, decimal
from recipec.measure.quantity import Amount, Dimension, Quantity, one
from recipec.measure.show import AS_WRITTEN, Shown, Style, show_amount, show_duration, show_nitrite, uneven
from recipec.measure.units import NOMINAL, unit
from recipec.model.dish import Dish, Flag, Use, Yield
from recipec.model.reading import Hold
from recipec.plan.scale import Scaled
from recipec.plan.sheet import AmountText

# A bunch has many leaves; peel and juice are not counted.
_PART_PLURALS = MappingProxyType({"leaf": "leaves", "seed": "seeds"})
_COUNTED_PARTS = frozenset({"white", "yolk", "shell", "stalk"})
_NEVER_CUT = frozenset({"leaf", "sprig"})
_CUT_FROM = Fraction(3)
_SET_FRACTIONS = frozenset({1, 2, 3, 4, 8})
_FLAGS = (Flag.TO_TASTE, Flag.TO_SERVE, Flag.OPTIONAL, Flag.DISCARDED)


class How(NamedTuple):
    """How an amount is shown: `down` of curing salt, which is rounded down; the rest as `show_amount` asks it."""

    down: bool = False
    strict: bool = False
    density: Fraction | None = None
    solid: bool = False
    each: Fraction | None = None
    rest: str = ""
    uncut: bool = False


@dataclass(frozen=True, slots=True)
class Desk:
    """What all wording of one sheet needs."""

    scaled: Scaled
    larder: Larder
    style: Style

    @property
    def dish(self) -> Dish:
        """The dish as written."""
        return self.scaled.dish

    @property
    def tongue(self) -> Language:
        """The language of what is said."""
        return language_of(self.style.language)

    def item(self, use: Use) -> Ingredient | None:
        """What the larder knows of a use's food."""
        return None if use.item is None else self.larder.get(use.item)

    def amount(self, use: Use) -> AmountText | None:
        """A use's amount, scaled, in words; None when it has none."""
        amount = self.scaled.amount(use)
        if amount is None:
            return None
        # What a share comes to was reckoned, and by the plate it is a product: neither is the cook's own figure.
        written = amount == use.amount and not use.basis and (use.fraction is None or not use.share)
        return self.say(amount, self.item(use), (*use.before, *use.after), use.name, written, use.part)

    def say(
        self,
        amount: Amount,
        item: Ingredient | None = None,
        states: tuple[str, ...] = (),
        name: str = "",
        written: bool = False,
        part: str | None = None,
    ) -> AmountText:
        """An amount of a thing, or of the pieces a part of it comes from; `written` when it is as the cook gave it."""
        shown = self.shown(amount, item, states, name, written, part)
        return AmountText(shown.head, amount.terms, shown.rounded, shown.tail)

    def shown(
        self,
        amount: Amount,
        item: Ingredient | None,
        states: tuple[str, ...],
        name: str,
        written: bool,
        part: str | None = None,
    ) -> Shown:
        """As `say`, with all that the words say."""
        how = self.how(amount, item, states, name, part)
        if how.down:
            weighed = weighed_down(amount.total(), self.style, written)
            if weighed is not None:
                return weighed
        return show_amount(
            amount,
            self.style,
            strict=how.strict,
            density=how.density,
            solid=how.solid,
            each=how.each,
            rest=how.rest,
            uncut=how.uncut,
            written=written,
        )

    def how(
        self, amount: Amount, item: Ingredient | None, states: tuple[str, ...], name: str, part: str | None = None
    ) -> How:
        """What the larder has to say of showing such an amount. It is the same however many times the amount is taken."""
        total = amount.total()
        careful = care(name, item)
        each = None
        if item is not None and total is not None and total.unit.dimension is Dimension.COUNT:
            each = _weight_of(item, part, amount, total)
        return How(
            down=careful is Care.NITRITE,
            strict=careful.strict,
            density=None if item is None else density_of(item, states, part),
            solid=item is not None and is_solid(item, part),
            each=each,
            rest=_uncut(item, part),
            uncut=total is not None and is_uncut(item, total.unit.name),
        )

    def rest(self, use: Use, amount: Amount | None) -> str:
        """What is weighed beside the whole ones, where eggs don't come out even: `egg white`; '' where they do."""
        total = None if amount is None else amount.total()
        item = self.item(use)
        if amount is None or total is None or item is None or total.unit.name != "piece" or total.is_range:
            return ""
        if amount == use.amount and self.style.measures == "as written":
            return ""
        weighed = _weight_of(item, use.part, amount, total) is not None
        word = _uncut(item, use.part)
        return word if word and weighed and uneven(total.low, care(use.name, item).strict) else ""

    def part(self, use: Use, amount: Amount | None) -> str:
        """The part, as `part_word` has it, where the name does not hold it."""
        if self.rest(use, amount):
            return ""
        single, word = part_word(use, None), part_word(use, amount)
        return self.tongue.form(single, word, word != single, context="part") if word else ""

    def name(self, use: Use, amount: Amount | None) -> str:
        """The name as written, without what stands in `before`, in the number that its amount now asks for."""
        name = bare_name(use)
        if amount is None or use.amount is None:
            return name
        rest = self.rest(use, amount)
        if rest:
            several = sum((term.high for term in amount.terms), Fraction(0))
            if several < 1:
                return rest.removeprefix("beaten ") if "beaten" in use.before else rest
            return in_number(
                rest if use.part else name, None if use.part else self.item(use), several >= 2, self.tongue
            )
        was, now = use.amount.total(), amount.total()
        if was is None or now is None or now.unit.name != "piece" or was == now:
            return name
        item = self.item(use)
        shown = self.shown(amount, item, (*use.before, *use.after), use.name, False, use.part)
        return name if (was.high > 1) == shown.plural else in_number(name, item, shown.plural, self.tongue)


def care(name: str, item: Ingredient | None) -> Care:
    """How carefully a thing is weighed and seasoned with: by the larder's name for it, else by the cook's."""
    return care_of(name if item is None else item.key) if name or item else Care.PLAIN


def weighed_down(total: Quantity | None, style: Style, written: bool) -> Shown | None:
    """Curing salt, rounded down; None where it stands as the cook wrote it, or is no amount for a scale."""
    if total is None or (written and style.measures == "as written"):
        return None
    return show_nitrite(total, style) if total.unit.dimension in (Dimension.MASS, Dimension.VOLUME) else None


def density_of(item: Ingredient, states: tuple[str, ...], part: str | None) -> Fraction | None:
    """Grams per ml; of a part only its own will do: lemon juice is not lemons."""
    if part is None:
        return item.density(states)
    return next((known.value for known in item.densities if known.state == part), None)


def is_solid(item: Ingredient, part: str | None) -> bool:
    """Whether a metric kitchen weighs it."""
    return part != "juice" and not pours(item.key)


def is_uncut(item: Ingredient | None, key: str) -> bool:
    """Whether one `key` of it (a `piece`, a `leaf`) is too small to be cut: under 3 g, and anchovies. Common practice."""
    if key in _NEVER_CUT:
        return True
    if item is None:
        return False
    each = item.weight_each(None, key)
    return (each is not None and each < _CUT_FROM) or item.key == "anchovy"


def _uncut(item: Ingredient | None, part: str | None) -> str:
    """What a bit of one is called, of things that are not cut: `beaten egg`, `egg yolk`; '' for all others."""
    if item is None or item.key.rpartition(" ")[2] != "egg":
        return ""
    if part is None:
        return f"beaten {item.name}"
    return f"{item.name} {part}" if part in ("white", "yolk") else ""


def _weight_of(item: Ingredient, part: str | None, amount: Amount, total: Quantity) -> Fraction | None:
    """Grams of one. A part of a piece does not weigh what the piece does; of an egg its own weight is known."""
    if part is None:
        return item.weight_each(amount.size, total.unit.name)
    figure = item.part(part) if _uncut(item, part) and total.unit.name == "piece" else None
    return figure.amount if figure is not None and figure.unit == "g" else None


def bare_name(use: Use) -> str:
    """The name without the treatments that stand before it: those have a place of their own."""
    taken = {word for treatment in use.before for word in folded(treatment).split()} | {"and"}
    words = use.name.split()
    total = None if use.amount is None else use.amount.total()
    if (
        total is not None
        and len(words) > 1
        and total.unit.name != "piece"
        and singular(folded(words[-1])) == total.unit.name
    ):
        # `3 garlic cloves` are cloves of garlic.
        words.pop()
    while use.before and len(words) > 1 and folded(words[0].rstrip(",")) in taken:
        words.pop(0)
    return " ".join(words)


def in_number(name: str, item: Ingredient | None, several: bool, tongue: Language = ENGLISH) -> str:
    """`onion` or `onions`, by the larder where the name is its own, else by the usual endings of English; a name in another language
    stays as it is written."""
    if item is not None and normal_name(name) in (normal_name(item.name), normal_name(item.plural)):
        return item.plural if several else item.name
    if tongue.words != "en":
        return name
    head, space, last = name.rpartition(" ")
    single = singular(last)
    return f"{head}{space}{plural(single) if several else single}"


def flags_of(use: Use, tongue: Language = ENGLISH) -> tuple[str, ...]:
    """The reserved words that a cook wants to read; `fixed` is for the compiler alone."""
    return tuple(tongue.say(flag.value, context="flag") for flag in _FLAGS if flag in use.flags)


def part_word(use: Use, amount: Amount | None) -> str:
    """`zest`, `yolks` for an amount of several; '' for no part, and where the name says it already (`lemon juice`)."""
    if use.part is None or normal_name(use.name).rpartition(" ")[2] == normal_name(use.part):
        return ""
    total = None if amount is None else amount.total()
    several = total is not None and total.high > 1
    return _PART_PLURALS.get(use.part, f"{use.part}s" if several and use.part in _COUNTED_PARTS else use.part)


def of_word(amount: AmountText | None, tongue: Language = ENGLISH) -> str:
    """`of` between a pinch and its salt; '' after all else."""
    nominal = amount is not None and any(term.unit.name in NOMINAL for term in amount.exact)
    return tongue.say("of", context="a pinch of") if nominal else ""


def basis_of(use: Use, dish: Dish, style: Style = AS_WRITTEN) -> str:
    """`2.2% of the duck legs`, `10 g per l of the water`; '' for a plain amount."""
    basis = use.basis
    if basis is None:
        return ""
    name = next((thing.name for thing in dish.things if thing.key == basis.thing), basis.thing)
    tongue = language_of(style.language)
    if basis.percent is not None:
        return tongue.say("%(part)s%% of the %(thing)s", part=decimal(basis.percent, tongue.mark), thing=name)
    if basis.rate is None or basis.per is None:
        return ""
    plain = Style(language=style.language)
    rate = show_amount(basis.rate, plain, written=True).text
    per = show_amount(one(basis.per), plain, written=True).text.removeprefix(f"1{NO_BREAK}")
    return tongue.say("%(rate)s per %(unit)s of the %(thing)s", rate=rate, unit=per, thing=name)


def hold_text(hold: Hold, tongue: Language = ENGLISH) -> str:
    """`3 d chilled in the bain-marie, cooled in 90 min, back in 25 min in the oven`."""
    words = show_duration(hold.low, hold.high, tongue)
    if hold.state.value:
        words += f" {tongue.say(hold.state.value, context='held')}"
    if hold.vessel:
        words += tongue.say(" in the %(gear)s", gear=hold.vessel)
    if hold.cooled_in is not None:
        words += tongue.say(", cooled in %(time)s", time=show_duration(hold.cooled_in, None, tongue))
    if hold.back_in is not None:
        words += tongue.say(", back in %(time)s", time=show_duration(hold.back_in, None, tongue))
        if hold.back_gear:
            words += tongue.say(" in the %(gear)s", gear=hold.back_gear)
    return words


def plates_text(low: Fraction, high: Fraction, style: Style = AS_WRITTEN) -> str:
    """`4 plates`, `4–6 plates`, `7½ plates`; `about 1¼ plates` where there is no such fraction on paper."""
    plain = all(end.denominator in _SET_FRACTIONS for end in (low, high))
    return show_amount(one(Quantity(low, high, unit("plate"))), Style(language=style.language), written=plain).text


def makes_text(desk: Desk, makes: Yield) -> str:
    """`1.4 l`, `24 pieces`, `24 blini`."""
    amount = makes.amount.scaled(desk.scaled.factor)
    shown = show_amount(amount, desk.style, written=desk.scaled.factor == 1)
    total = amount.total()
    if makes.noun:
        was = makes.amount.total()
        same = was is None or total is None or (was.high > 1) == (total.high > 1)
        return shown.with_name(
            makes.noun if same or total is None else in_number(makes.noun, None, total.high > 1, desk.tongue)
        )
    if total is not None and total.unit.name == "piece":
        return shown.with_name(*(desk.tongue.form("piece", "pieces", many, context="unit") for many in (False, True)))
    return shown.text
