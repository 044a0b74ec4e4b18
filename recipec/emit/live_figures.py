"""What the scripts of the cookbook go by: the figures of rounding, and their words in the book's language."""

from __future__ import annotations

from collections.abc import Mapping

from recipec.emit.jsonld import embedded
from recipec.measure.exported import Data, figures
from recipec.measure.language import Language


def figures_script(tongue: Language) -> str:
    """A script that names all of it `Figures`."""
    said: dict[str, Data] = {**figures(tongue), "say": _words(tongue)}
    return f"var Figures={embedded(said)};\n"


def _words(tongue: Language) -> Mapping[str, Data]:
    return {
        "plus": tongue.say(" plus "),
        "about": tongue.say("about "),
        "each": tongue.say("%(much)s each"),
        "times": tongue.say("This is %(number)s times the dish as written."),
        "of": tongue.say("This is %(number)s of the dish as written."),
        "partOf": tongue.say("%(part)s of"),
        "timeFor": tongue.say("%(time)s for %(plates)s"),
        "forPlates": tongue.say("for %(plates)s"),
        "check": tongue.say("check from %(time)s"),
        "varies": tongue.say(
            "Tins, pans and times of reducing change too, and the page does not reckon them: have a card made for so many."
        ),
        "notPlates": tongue.say("Give a number, such as 6 or 2½."),
        "nowFor": tongue.say("Amounts are now for %(what)s."),
        "timesAsWritten": tongue.say("%(number)s times as written"),
        "step": tongue.say("Step %(number)s"),
        "start": tongue.say("Start a countdown: %(time)s"),
        "look": tongue.say("Look now: %(name)s"),
        "over": tongue.say("Time is up: %(name)s"),
        "lookShort": tongue.say("look now"),
        "overShort": tongue.say("time is up"),
        "pause": tongue.say("Pause"),
        "goOn": tongue.say("Go on"),
        "stop": tongue.say("Stop"),
        "again": tongue.say("Again"),
        "done": tongue.say("%(what)s: done"),
        "noWake": tongue.say("This browser lets the screen go dark."),
        "dishes": [tongue.say("%(number)s dish"), tongue.say("%(number)s dishes")],
        "none": tongue.say("No dish of this book."),
        "freeOf": tongue.say("no %(what)s in the recipe"),
    }
