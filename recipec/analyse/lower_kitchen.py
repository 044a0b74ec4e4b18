"""From tree to model: a kitchen."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from recipec.analyse.context import Analysed, Context, Notes
from recipec.analyse.dimensions import Measurer, celsius, region_of
from recipec.analyse.facts import Facts, hands
from recipec.analyse.lower import key_of
from recipec.analyse.plain import amount_words
from recipec.larder.names import normal_name
from recipec.measure.quantity import Dimension
from recipec.model import kitchen as model
from recipec.syntax import tree


def lower_kitchen(file: tree.File, context: Context) -> Analysed[model.Kitchen]:
    """A kitchen. Burners are those of its hob, or the `burners` it states."""
    notes = Notes()
    facts = Facts(file)
    measurer = Measurer(region_of(context.settings.measures), notes)
    stock = [(fact, fact.value) for fact in facts.all if isinstance(fact.value, tree.Stock)]
    gear = tuple(_gear(fact, value, measurer) for fact, value in stock)
    burners = sum(_burners(fact, value) for fact, value in stock)
    title = file.title
    kitchen = model.Kitchen(
        key_of(file.span.source.name),
        title.text if title is not None else key_of(file.span.source.name),
        file.span,
        gear,
        burners,
        hands(facts.one("hands", tree.Hands)) or (model.HandsTurn(1, None, None),),
    )
    return Analysed(kitchen, notes.done())


def _feature(stock: tree.Stock, key: str) -> tree.Feature | None:
    return next((feature for feature in stock.features if feature.key == key), None)


def _whole(stock: tree.Stock, key: str, unsaid: int) -> int:
    feature = _feature(stock, key)
    if feature is None or feature.amount is None:
        return unsaid
    return int(feature.amount.terms[0].high)


def _burners(fact: tree.Fact, stock: tree.Stock) -> int:
    if normal_name(fact.name.text) == "burner":
        return stock.number
    return stock.number * _whole(stock, "burners", 0)


def _gear(fact: tree.Fact, stock: tree.Stock, measurer: Measurer) -> model.Gear:
    up_to, heats, on, takes = (_feature(stock, key) for key in ("up to", "heats", "on", "takes"))
    temperature = None if up_to is None else up_to.temperature
    size = tuple(
        amount_words(measurer.amount(feature.amount)) if feature.amount is not None else feature.words
        for feature in stock.features
        if feature.key in ("size", "other")
    )
    energy = next((feature.key for feature in stock.features if feature.key in ("gas", "induction", "electric")), "")
    return model.Gear(
        span=fact.span,
        key=normal_name(fact.name.text),
        name=fact.name.text,
        number=stock.number,
        shelves=_whole(stock, "shelves", 1),
        up_to=None
        if temperature is None or temperature.scale == "gas"
        else celsius(temperature.high, temperature.scale),
        heats=None if heats is None or heats.amount is None else heats.amount.terms[0].high,
        fan=_feature(stock, "fan") is not None,
        alone=_feature(stock, "alone") is not None,
        on=None if on is None else normal_name(on.words),
        energy=energy,
        takes=None if takes is None or takes.amount is None else measurer.amount(takes.amount),
        size=", ".join(part for part in size if part),
        power=next(_powers(stock, measurer), None),
    )


def _powers(stock: tree.Stock, measurer: Measurer) -> Iterator[Fraction]:
    """What its features say in watts."""
    for feature in stock.features:
        total = None if feature.amount is None or feature.key != "size" else measurer.amount(feature.amount).total()
        if total is not None and total.unit.dimension is Dimension.POWER:
            yield total.base_high
