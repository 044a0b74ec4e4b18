"""The market list as plain text, 80 columns, with boxes to tick."""

from __future__ import annotations

from itertools import groupby

from recipec.emit.money import least_text, money_text
from recipec.emit.plain import page, rule, title_line, wrap
from recipec.measure.language import ENGLISH, Language, language_of
from recipec.measure.units import NOMINAL
from recipec.plan.market_types import Asked, Market, MarketLine


def market_text(market: Market, language: str = "en") -> str:
    """By department; under each thing, which mark of which dish asked for how much."""
    tongue = language_of(language)
    title = tongue.say("Market list: %(events)s", events=tongue.say(" and ").join(market.titles))
    lines = [*title_line(title), rule("═")]
    for department, group in groupby(market.lines, key=lambda line: line.department):
        lines += ["", tongue.say(department, context="department").upper(), rule()]
        for line in group:
            lines += _line(line, "[ ] ", tongue)
    if not market.lines:
        lines += ["", tongue.say("Nothing to get.")]
    if market.on_hand:
        lines += ["", tongue.say("ON HAND, not to be bought"), rule()]
        for line in market.on_hand:
            lines += _line(line, "    ", tongue)
    lines += ["", rule("═"), *_totals(market, tongue)]
    for left in market.surplus:
        over = tongue.say("%(dish)s: %(much)s over, from whole batches.", dish=left.title, much=left.text)
        lines += wrap(over, tongue.say("Left over") + "  ")
    for problem in market.problems:
        lines += wrap(problem, tongue.say("Not reckoned") + "  ")
    return page(lines)


def asked_text(asked: Asked, tongue: Language = ENGLISH) -> str:
    """`2 cloves: Braised shoulder, braised-shoulder.dish:14`."""
    much = ", ".join((asked.text, *(tongue.say("without %(food)s", food=food) for food in asked.apart)))
    place = f"{asked.span.source.name}:{asked.span.position.line}"
    return tongue.say("%(much)s: %(dish)s, %(place)s", much=much, dish=asked.title, place=place)


def buy_text(line: MarketLine) -> str:
    """`2 × 500 g, Harbour Stores`; '' when nothing is bought by the pack."""
    return " + ".join(f"{buy.count} × {buy.pack_text}" + (f", {buy.shop}" if buy.shop else "") for buy in line.buy)


def _line(line: MarketLine, box: str, tongue: Language) -> list[str]:
    nominal = bool(line.need) and all(term.unit.name in NOMINAL for term in line.need[-1].terms)
    of = tongue.say("of", context="a pinch of") if nominal else ""
    name = " ".join(word for word in (line.need_text, of, line.name) if word) if line.need_text else line.name
    unpriced = "" if line.on_hand else tongue.say("price unknown")
    price = money_text(line.price, tongue.code) if line.price is not None else unpriced
    lines = title_line(name, price, box)
    if line.buy:
        packs, over = buy_text(line), line.surplus_text
        buy = tongue.say("buy %(packs)s", packs=packs)
        if over:
            buy = tongue.say("buy %(packs)s; %(much)s over", packs=packs, much=over)
        lines += wrap(buy, "      ")
    if line.instead:
        lines += wrap(", ".join(tongue.say("or %(food)s", food=food) for food in line.instead), "      ")
    for asked in (*line.asked_by, *line.unmeasured):
        lines += wrap(asked_text(asked, tongue), "      · ")
    return lines


def _totals(market: Market, tongue: Language) -> list[str]:
    lines = []
    if market.till is not None and market.used is not None:
        for words, money in (
            (tongue.say("At the till, whole packs"), market.till),
            (tongue.say("Of that on the plates"), market.used),
        ):
            lines += title_line(words, least_text(money_text(money, tongue.code), market.at_least, tongue))
    if market.unpriced:
        lines += wrap(", ".join(market.unpriced), tongue.say("No price known for") + "  ", "    ")
    return lines
