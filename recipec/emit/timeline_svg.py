"""The lanes: strips of hours, each drawn twice, lying and standing; or all lying ones in one SVG by itself."""

from __future__ import annotations

from dataclasses import dataclass

from recipec.emit.lanes_draw import Drawing
from recipec.emit.lanes_rows import rows
from recipec.emit.lanes_tall import TallStrip
from recipec.emit.lanes_time import Strip, strips
from recipec.emit.lanes_wide import WideStrip
from recipec.emit.render import page, style
from recipec.emit.timeline_words import Words
from recipec.measure.show import Style
from recipec.plan.run_sheet import run_sheet
from recipec.plan.timeline_types import Planned

_KEY = 26
"""Height of the key under the drawings that stand alone."""
_TITLE = 34


@dataclass(frozen=True, slots=True)
class Lanes:
    """One strip of hours in both forms; `name` says which hours, for those who hear it. `id` is of the page."""

    id: str
    name: str
    wide: Drawing
    tall: Drawing


def lanes(words: Words) -> tuple[Lanes, ...]:
    """The strips of a plan; () of an impossible one."""
    if not words.plan.placed:
        return ()
    all_rows, all_strips = rows(words), strips(words.planned)
    longest = max((strip.seconds for strip in all_strips), default=1)
    courses = words.problem.courses
    return tuple(
        Lanes(
            f"lanes-{place}",
            _name(words, strip),
            WideStrip(strip, all_rows, courses, words.clock, longest).draw(),
            TallStrip(strip, all_rows, courses, words.clock).draw(),
        )
        for place, strip in enumerate(all_strips, 1)
    )


def timeline_svg(planned: Planned, look: Style | None = None) -> bytes:
    """`timeline --format svg`: every strip, lying, one under the other, with its own styles and key. No strip where there is no plan."""
    words = Words(planned, run_sheet(planned), look or Style())
    found = lanes(words)
    tops, y = [], float(_TITLE)
    for one in found:
        tops.append(y)
        y += one.wide.height + 6
    return page(
        "lanes_alone.svg",
        title=planned.problem.title,
        tongue=words.tongue,
        when=words.when(),
        status=words.status(),
        drawings=tuple(zip(found, tops, strict=True)),
        height=y + _KEY,
        key=y,
        css=style("lanes.css"),
    )


def _name(words: Words, strip: Strip) -> str:
    clock = words.clock
    return "; ".join(
        f"{clock.day(part.start)}, {clock.time(part.start)}–{clock.other_day(part.end, part.start)}"
        for part in strip.parts
    )
