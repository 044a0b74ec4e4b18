"""Labels for tubs in words: what, made, used by, how it is kept, and what is in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from recipec.emit.tub_words import HeldText, held_text, use_by_text, without_text
from recipec.emit.when import moment_text
from recipec.measure.language import ENGLISH, Language
from recipec.measure.show import show_temperature
from recipec.model.reading import State
from recipec.plan.labels import Label
from recipec.plan.paper_limits import PaperLimit, paper_limit
from recipec.plan.rules import Limit, limit


def also(tongue: Language) -> str:
    """What is said above the labels."""
    return tongue.say("Days and times are the plan's: where the day went otherwise, cross them out and write what was.")


def nothing(tongue: Language) -> str:
    """Instead of labels, where there are none."""
    return tongue.say("Nothing of this booking is made ahead and kept.")


@dataclass(frozen=True, slots=True)
class LabelText:
    """A label, worded; `made` and `use_by` are '' where they are written in by hand."""

    name: str
    title: str
    without: str
    much: str
    made: str
    use_by: str
    why: str
    keep: str
    back: str
    held: HeldText


def label_texts(labels: Iterable[Label], rules: str, tongue: Language = ENGLISH) -> tuple[LabelText, ...]:
    """Every label, worded."""
    return tuple(_label(label, rules, tongue) for label in labels)


def _label(label: Label, rules: str, tongue: Language) -> LabelText:
    return LabelText(
        name=label.name,
        title="" if label.title.casefold() == label.name.casefold() else label.title,
        without=without_text(label.without, tongue),
        much=label.much,
        made="" if label.made is None else moment_text(label.made, tongue.code),
        use_by="" if label.use_by is None else use_by_text(label.use_by, tongue),
        why="" if label.use_by is None else label.use_by.why,
        keep=_keep(label, rules, tongue),
        back=tongue.say("%(hold)s, once only", hold=label.back) if label.back else "",
        held=held_text(label.held, label.open, tongue),
    )


def _keep(label: Label, rules: str, tongue: Language) -> str:
    """How it is kept, and at what temperature."""
    known: Limit | PaperLimit | None = None
    if label.state is State.CHILLED:
        known = limit(rules, "hold cold")
    if label.state is State.FROZEN:
        known = paper_limit(rules, "freezer")
    if known is None or known.celsius is None:
        return label.keep
    degrees = show_temperature(known.celsius, tongue=tongue)
    return tongue.say("%(hold)s, at %(degrees)s or colder", hold=label.keep, degrees=degrees)
