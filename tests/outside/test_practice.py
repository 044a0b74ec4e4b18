"""Common practice of the trade (no published source), as values in a dish invented for this test.

Gelatin blooms about 5 minutes; what it sets is set in 2 to 4 hours; cold butter goes into a sauce a tablespoon to a
tablespoon and a half at a time; a zested lemon still gives its juice.
"""

from __future__ import annotations

from fractions import Fraction

from recipec.analyse.context import Context
from recipec.analyse.passes import analyse_dish, analyse_event, link_book
from recipec.base.source import Source
from recipec.larder.larder import builtin
from recipec.model.dish import Dish, ReadingAt, Role
from recipec.model.reading import Attention, Duration
from recipec.model.settings import Settings
from recipec.plan.market import market
from recipec.syntax.parse import parse

JELLY = """Quince jelly with a warm lemon sauce
serves: 4
measures: metric

For the jelly:

Bloom [4 sheets gelatine] in [500 ml cold water] for <about 5 min alone>. Warm [400 ml quince juice] with [zest of 1 lemon] in a {saucepan}
for <4 min>, and stir in [the gelatine] for <1 min attended>. Set it in {4 moulds} for <2-4 h alone>. -> jelly, holds 2 d chilled

For the sauce:

Warm [juice of 1 lemon] with [60 g caster sugar] in a {saucepan} for <3 min>. Whisk in [60 g butter, cold],
[1 to 1 1/2 tbsp of the butter] at a time, for <4 min attended>. -> sauce

To serve:

Turn out [the jelly] and spoon [the sauce] round it for <1 min per plate>.
"""
EVENT = """Quince supper
guests: 4
serve: 2026-10-17 19:30

Dessert, <21:00>:

[our quince jelly]
"""
CONTEXT = Context(Settings(), builtin())


def quince() -> Dish:
    parsed = parse(Source("quince-jelly.dish", JELLY), "dish")
    analysed = analyse_dish(parsed.tree, CONTEXT)
    assert [finding.slug for finding in (*parsed.findings, *analysed.findings)] == []
    return analysed.value


def durations(dish: Dish) -> list[tuple[Duration, Attention]]:
    pieces = (piece for step in dish.steps() for sentence in step.sentences for piece in sentence.pieces)
    readings = (piece.reading for piece in pieces if isinstance(piece, ReadingAt))
    return [(reading.value, reading.attention) for reading in readings if isinstance(reading.value, Duration)]


def test_blooming_and_setting_are_times_without_hands() -> None:
    (bloom, bloom_hands), *_, (setting, set_hands) = durations(quince())[:4]
    assert (bloom.low, bloom.high, bloom.about, bloom_hands) == (300, 300, True, Attention.ALONE)
    assert (setting.low, setting.high, set_hands) == (2 * 3600, 4 * 3600, Attention.ALONE)


def test_butter_goes_in_a_spoon_at_a_time_exactly() -> None:
    taken = next(use for use in quince().uses if use.role is Role.TAKE and use.thing == "butter")
    assert taken.amount is not None
    spoons = taken.amount.terms[0]
    assert (spoons.low, spoons.high) == (1, Fraction(3, 2))


def test_one_lemon_serves_zest_and_juice() -> None:
    dish = quince()
    parsed = parse(Source("supper.event", EVENT), "event")
    event = analyse_event(parsed.tree, CONTEXT)
    linked = link_book(Settings(), [dish], [event.value], [], ())
    assert linked.findings == ()
    line = next(line for line in market(linked.book, builtin(), ["supper"]).lines if line.item == "lemon")
    assert [(need.terms[0].high, need.terms[0].unit.name) for need in line.need] == [(1, "piece")]
