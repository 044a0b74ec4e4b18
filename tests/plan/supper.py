"""One small invented supper, for the papers."""

from __future__ import annotations

from fractions import Fraction

from recipec.base.span import Span
from recipec.measure.quantity import quantity
from recipec.measure.units import unit
from recipec.model.book import Book
from recipec.model.dish import (
    Aside,
    Dish,
    Flag,
    FoodAt,
    GearAt,
    GearUse,
    LayOut,
    Made,
    ReadingAt,
    Sentence,
    Step,
    Stop,
    Strand,
    Words,
)
from recipec.model.reading import Attention, Duration, Hold, Reading, State, Temperature, TemperatureOf
from tests.changed import replace
from tests.plan.make import Ordered, amount, book, buy, dish, event, our, price, stocked, used_up

DAY = Fraction(86400)


def roots() -> Dish:
    """Roast roots with a sauce of the house, in two strands, with every kind of block."""
    pan = replace(used_up("roasting tin", amount(1)), amount=None, size="30 cm")
    paper = used_up("baking paper", amount(1, "sheet"))
    gear: tuple[GearUse, ...] = (pan, paper)
    plain = dish(
        "roast-roots",
        buy("800 g carrots, scrubbed", "carrots", amount(800, "g"), after=("scrubbed",)),
        buy(
            "2 tbsp oil or 30 g butter", "oil", amount(2, "metric_tbsp"), choices=(buy("", "butter", amount(30, "g")),)
        ),
        buy("salt, to taste", "salt", flags=(Flag.TO_TASTE,)),
        our("200 ml our green sauce", "green sauce", "green-sauce", amount(200, "ml")),
        buy("4 small eggs (48 g each)", "eggs", amount(4, size="small", each=quantity(48, unit("g")))),
        buy("wonder dust, to serve", "wonder dust", flags=(Flag.TO_SERVE,)),
        gear=gear,
        larder=stocked(),
    )
    span = plain.strands[0].span
    oven = Temperature(Fraction(200), Fraction(200), "C", False, TemperatureOf.OVEN, None, False)
    half_hour = Duration(Fraction(1800), Fraction(2400), 1, False, None, False, False, False)
    hold = Hold(2 * DAY, 2 * DAY, State.CHILLED, None, None, None, None)

    def read(
        value: Temperature | Duration, cue: str | None = None, attention: Attention = Attention.UNSAID
    ) -> ReadingAt:
        return ReadingAt(Reading(Span(span.source, 0, 1), value, attention, (), cue))

    first = Step(
        0,
        span,
        (
            Sentence((Words("Toss "), FoodAt(0), Words(" with "), FoodAt(1), Words(" and "), FoodAt(2), Words("."))),
            Sentence(
                (Words("Roast in a "), GearAt(0), Words(" at "), read(oven), Words(" for "),
                 read(half_hour, "until the edges are dark", Attention.ALONE), Words("."))
            ),
        ),
        (Made(span, "roast root", "roast roots", amount(600, "g"), hold, False),),
        (),
    )  # fmt: skip
    last = Step(1, span, (Sentence((Words("Spoon over "), FoodAt(3), Words("."))),), (), (0,))
    tip = Aside(span, (Words("(Keep the tops for "), FoodAt(5), Words(".)")))
    strands = (
        Strand(span, "", None, (first, tip, Stop(span, hold)), ()),
        Strand(span, "To plate:", None, (LayOut(span, (4,)), last), (0,)),
    )
    return replace(plain, strands=strands, keeps=(hold,), source="The far allotment, plot 9", tags=("autumn",))


def green_sauce() -> Dish:
    """A sauce of the house."""
    return dish(
        "green-sauce",
        buy("1 bunch parsley", "parsley", amount(1, "bunch")),
        buy("150 ml oil", "oil", amount(150, "ml")),
        serves=None,
        makes=amount(200, "ml"),
        larder=stocked(),
    )


def supper() -> Book:
    """Both dishes, an event and a few prices."""
    return book(
        [roots(), green_sauce()],
        [event("allotment", Ordered("roast-roots"), guests=6, on_hand=("salt",))],
        [
            price("carrot", amount(1, "kg"), "1.80", "Stall, west gate"),
            price("oil", amount(500, "ml"), "6.40"),
            price("egg", amount(6), "2.70"),
        ],
    )
