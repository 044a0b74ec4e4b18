"""What must reach which core by the book's rule set, and what is served raw or under it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from recipec.base.finding import Finding, Label
from recipec.measure.language import ENGLISH, Language
from recipec.measure.show_reading import show_duration, show_temperature
from recipec.plan.rules import LOCAL, Core, Limit, Rules, edition, limits, met
from recipec.plan.safety_foods import NEEDS_CORE, RAW, Kind
from recipec.plan.safety_trace import Food, Read, Trace

_LONG_MOIST_S = 1200
_SURE_MOIST_S = 3600
_BAKED_EGG_S = 600
_BATTER_S = 120
"""Common practice: what simmers for 20 minutes is past every core in the tables, as is an egg over heat for ten, or for two where
flour sets with it; of a thick piece a thermometer knows better, and a reading always counts first. For frail
guests it is an hour, and ten minutes for every egg."""

_COLDEST_CORE = 40
"""Common practice: nothing is cooked to less, in °C."""

_WORDS = {
    Kind.POULTRY: "poultry",
    Kind.GAME: "game",
    Kind.MINCED: "minced or ground meat, sausages too",
    Kind.WHOLE: "a whole cut of beef, lamb or veal",
    Kind.MEAT: "a whole cut of meat",
    Kind.OFFAL: "offal",
    Kind.FISH: "fish",
    Kind.SHELLFISH: "shellfish",
    Kind.EGG: "eggs",
    Kind.STUFFED: "stuffed food",
    Kind.CURED: "cured raw meat",
    Kind.SMOKED: "smoked or salted, never cooked",
}


class Done(StrEnum):
    """How well a food is cooked by a rule set. UNDER: a core is stated, and it is too low. UNREAD: nothing says how hot it gets inside.
    RAW: nothing heats it. FROZEN: raw fish that was frozen against parasites. NOT_COOKED: eaten as bought, though never cooked."""

    ENOUGH = "enough"
    UNDER = "under"
    UNREAD = "unread"
    RAW = "raw"
    FROZEN = "frozen"
    NOT_COOKED = "not cooked"


@dataclass(frozen=True, slots=True)
class Judged:
    """A food, how well it is done, and by which reading where one decides it."""

    food: Food
    done: Done
    read: Read | None


def judge(food: Food, rules: Rules, *, fragile: bool = False) -> Judged:
    """One food by a rule set. For `fragile` guests nothing may be pink, and what was never cooked counts as raw."""
    if food.kind is Kind.SMOKED:
        return Judged(food, Done.ENOUGH if food.heated or not fragile else Done.NOT_COOKED, None)
    if food.kind not in RAW:
        return Judged(food, Done.ENOUGH, None)
    if not food.heated:
        frozen = food.kind is Kind.FISH and any(
            row.celsius is not None and row.celsius >= -20 and food.frozen_s >= (row.seconds or 0)
            for row in limits(rules, "freeze", "fish")
        )
        return Judged(food, Done.FROZEN if frozen else Done.RAW, None)
    if food.kind not in NEEDS_CORE:
        return Judged(food, Done.ENOUGH, None)
    if not fragile and food.kind is Kind.WHOLE and limits(rules, "pink", food.kind):
        return Judged(food, Done.ENOUGH, None)
    wanted = wanted_of(food.kind, rules, fragile=fragile)
    # `Cool it to <21 °C>` is no reading of how well it is done.
    reads = [read for read in food.cores if read.core.celsius >= _COLDEST_CORE]
    if reads:
        best = max(reads, key=lambda read: read.core.celsius)
        return Judged(food, Done.ENOUGH if met(wanted, (read.core for read in reads)) else Done.UNDER, best)
    if food.bath is not None:
        coolest = min((row.celsius for row in wanted if row.celsius is not None), default=Fraction(0))
        return Judged(food, Done.UNDER if food.bath < coolest else Done.UNREAD, None)
    through = _BATTER_S if food.floured and not fragile else _BAKED_EGG_S
    long = _SURE_MOIST_S if fragile else _LONG_MOIST_S
    if food.moist_s >= long or (food.kind is Kind.EGG and food.hot_s >= through):
        return Judged(food, Done.ENOUGH, None)
    return Judged(food, Done.UNREAD, None)


def wanted_of(kind: Kind, rules: Rules, *, fragile: bool = False) -> tuple[Limit, ...]:
    """The rows that are asked of a kind, one of which is enough. Rows for whole roasts hold for other whole cuts too."""
    if fragile and kind is Kind.WHOLE and limits(rules, "pink", kind):
        return limits(rules, "core", Kind.MINCED)
    rows = limits(rules, "core", kind)
    return (*rows, *limits(rules, "core", "roast")) if kind in (Kind.WHOLE, Kind.MEAT) else rows


def core_findings(trace: Trace, rules: Rules, *, served: bool) -> tuple[Finding, ...]:
    """Of one dish's own foods. `served` False for a component that only other dishes use: what is raw in it is judged there."""
    foods = list(trace.own())
    for key, food in sorted(trace.foods.items()):
        if key.dish != trace.dish.key and food.kind in RAW:
            foods.append(food)
    found: dict[tuple[str, int, str], Finding] = {}
    for judged in (judge(food, rules) for food in foods):
        own = judged.food.key.dish == trace.dish.key
        for finding in _said(judged, trace, rules, served, own):
            found.setdefault((finding.slug, finding.span.start, finding.message), finding)
    return tuple(found.values())


def _said(judged: Judged, trace: Trace, rules: Rules, served: bool, own: bool) -> Iterator[Finding]:
    food = judged.food
    if judged.done is Done.UNDER and own:
        yield _under(judged, rules)
    elif judged.done is Done.UNREAD and own:
        yield _unread(food, trace, rules)
    elif judged.done is Done.RAW and served and food.key in trace.served:
        yield _raw(food, trace, rules, own)


def _under(judged: Judged, rules: Rules) -> Finding:
    food, read = judged.food, judged.read
    wanted = wanted_of(food.kind, rules)
    need = wanted_words(wanted)
    if read is None:
        assert food.bath is not None
        got = f"A bath at {_degrees(food.bath, 'C')}"
    else:
        kept = "" if read.core.seconds is None else f" for {show_duration(read.core.seconds)}"
        got = f"{_degrees(read.core.degrees, read.core.scale)}{kept} inside"
    return Finding(
        "core-too-low",
        food.use.span if read is None else read.span,
        f"{got} is too low for the {_name(food)}: {edition(rules).name} asks for {need} ({_WORDS[food.kind]}).",
        () if read is None else (Label(food.use.span, f"this is {_WORDS[food.kind]}"),),
        (
            f"Cook it on: <{_example(wanted)} core>.{_held_hint(wanted)}",
            _section(wanted),
            f"If it is meant, say why in a line at the top: accept: core-too-low for {_name(food)}, and your reason. "
            "It is then printed with it, and is never for a guest who is expecting, very young, very old or unwell.",
        ),
    )


def _unread(food: Food, trace: Trace, rules: Rules) -> Finding:
    wanted = wanted_of(food.kind, rules)
    return Finding(
        "core-missing",
        food.use.span,
        f"Nothing says how hot it gets inside the {_name(food)}: {edition(rules).name} asks for {wanted_words(wanted)} "
        f"({_WORDS[food.kind]}).",
        (),
        (f"Write where it is measured: … to <{_example(wanted)} core>.", _section(wanted)),
    )


def _raw(food: Food, trace: Trace, rules: Rules, own: bool) -> Finding:
    span = food.use.span
    labels: tuple[Label, ...] = ()
    where = ""
    if not own:
        inside = next((use.span for use in trace.dish.uses if trace.dish.link(use.number) == food.key.dish), None)
        labels = (Label(span, "it comes in here"),) if inside is not None else ()
        span = inside or trace.dish.title_span
        where = f" in {trace.dish.title}"
    wanted = wanted_of(food.kind, rules)
    core = f"If it is cooked, say so: … to <{_example(wanted)} core>."
    hints = [core if wanted else "If it is cooked, say how: … for <6 min attended>."]
    if food.kind is Kind.EGG:
        hints.append("Pasteurised egg needs no cooking: [pasteurised egg white] and the like.")
    if food.kind is Kind.FISH:
        ice = limits(rules, "freeze", "fish")
        hints += [
            "Fish eaten raw is frozen first, against parasites: "
            + " or ".join(_row(row._replace(fahrenheit=None)) for row in ice)
            + f" ({ice[0].source}). Write that step too: Freeze it in a {{freezer}} for <7 d alone>."
        ]
    hints.append("Tell the guests what is raw; it is never for one who is expecting, very young, very old or unwell.")
    what = "" if food.kind is Kind.EGG else f" ({_WORDS[food.kind]})"
    return Finding(
        "raw-served", span, f"No step heats the {_name(food)}{what}: served raw{where}.", labels, tuple(hints)
    )


# ------------------------------------------------------------ words


def _name(food: Food) -> str:
    return food.use.name if food.use.part is None else f"{food.use.part} of the {food.use.name}"


def kind_words(kind: Kind, tongue: Language = ENGLISH) -> str:
    """A kind for people."""
    return tongue.say(_WORDS.get(kind, kind.value), context="kind of food")


def wanted_words(rows: Iterable[Limit], tongue: Language = ENGLISH) -> str:
    """`74 °C`, or `60 °C for 45 min, 65 °C for 10 min or 70 °C for 2 min`: the shortest rows of a table where it has many."""
    said = [_row(row, tongue) for row in rows if row.celsius is not None]
    if len(said) > 6:
        said = [said[0], said[len(said) // 2], said[-1]]
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])}{tongue.say(' or ')}{said[-1]}"


def _row(row: Limit, tongue: Language = ENGLISH) -> str:
    assert row.celsius is not None
    warm = "" if row.fahrenheit is None else f" ({_degrees(row.fahrenheit, 'F')})"
    degrees = f"{_degrees(row.celsius, 'C')}{warm}"
    if not row.seconds:
        return degrees
    return tongue.say("%(degrees)s for %(time)s", degrees=degrees, time=show_duration(row.seconds, None, tongue))


def _section(rows: Iterable[Limit]) -> str:
    sources = list(dict.fromkeys(row.source for row in rows))
    return f"{'; '.join(sources)}. {LOCAL}"


def _example(rows: Iterable[Limit]) -> str:
    quick = [row for row in rows if row.celsius is not None and met((row,), (Core(row.celsius, "C", None),))]
    best = min((row.celsius for row in quick if row.celsius is not None), default=Fraction(75))
    return _degrees(best, "C")


def _held_hint(rows: Iterable[Limit]) -> str:
    row = max((row for row in rows if row.celsius is not None), key=lambda row: row.seconds or 0)
    if row.celsius is None or not row.seconds or row.seconds <= 60:
        return ""
    held = f"<{_degrees(row.celsius, 'C')} core>, and hold it there for <{show_duration(row.seconds)}>"
    return f" Where it stays that hot for a while, write it so: {held}."


def _degrees(value: Fraction, scale: str) -> str:
    return show_temperature(value, scale=scale)
