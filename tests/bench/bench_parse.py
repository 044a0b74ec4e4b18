"""How fast a dish is read: ratios, all taken in one run. `python tests/bench/bench_parse.py`.

The same 1,000 distinct dishes of about 1.5 KB with 12 food marks go through markdown-it-py, a Markdown reader in
plain Python that is known to be quick; our tree is to be there in no more time. Then ten times the text must take about ten
times as long, on prose and on texts made to hurt.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable
from functools import partial

from markdown_it import MarkdownIt

from recipec.base.source import Source
from recipec.syntax.kept import kept
from recipec.syntax.parse import parse

_FOODS = [
    "leeks, halved",
    "waxy potatoes, peeled",
    "carrots, cut in batons",
    "brown lentils, rinsed",
    "unsalted butter",
    "plain flour",
    "chicken thighs, boned",
    "cider vinegar",
    "double cream",
    "flat parsley, chopped",
    "capers, rinsed",
    "rye bread, torn",
]
_UNITS = ("g", "ml", "tbsp", "tsp", "kg", "g", "g", "ml", "cloves", "bunch", "slices", "")
_GEAR = ("saucepan", "frying pan, 28 cm", "baking sheet", "oven", "mixing bowl")
_READINGS = ("<{} min, until soft>", "<{} min>", "<1{}0 °C>", "<{} min within reach>", "<{} mm>")
_TALK = (
    "while the rest of it is still warm and gives way to a spoon",
    "and leave it where it is, since it will go on cooking for a while after the heat is off",
    "so that the edges take on colour before the middle has had time to dry",
    "without hurrying, because the pan does most of the work if it is left alone",
    "and taste it once more before anything else goes in",
)


def dish(number: int) -> str:
    """One invented dish: a title, facts, three strands, 12 food marks, 5 pieces of gear, 8 readings."""
    dice = random.Random(number)
    foods = list(_FOODS)
    dice.shuffle(foods)

    def food() -> str:
        unit = dice.choice(_UNITS)
        return f"[{dice.randrange(1, 400)} {unit} {foods.pop()}]".replace("  ", " ")

    def reading() -> str:
        return dice.choice(_READINGS).format(dice.randrange(1, 9))

    def talk() -> str:
        return dice.choice(_TALK)

    def strand() -> str:
        return (
            f"Put {food()} and {food()} in a {{{dice.choice(_GEAR)}}} for {reading()}, {talk()}.\n"
            f"Then stir in {food()}, {talk()}. Give it {reading()}\nwith {food()}, {talk()}."
        )

    return (
        f"Dish number {number} with greens\nserves: {dice.randrange(2, 12)}\ncourse: main\nkeeps: {dice.randrange(1, 5)} d chilled\n"
        f"\nSet the {{oven}} to <{dice.randrange(140, 240)} °C>, {talk()}. Warm the plates, {talk()}.\n"
        f"\nFor the base:\n\n{strand()} -> base, {dice.randrange(100, 900)} g, holds 20 min\n"
        f"\nFor the sauce:\n\n{strand()} -> sauce\n"
        f"\nTo plate:\n\n{strand()} Spoon [the sauce] over [the base] and serve, <1 min per plate>.\n"
    )


def best(work: Callable[[], object], times: int = 5) -> float:
    """Seconds of processor time of the quickest of several runs: other work on the machine only ever adds."""
    found = []
    for _ in range(times):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return min(found)


def ratio(first: Callable[[], object], second: Callable[[], object], times: int = 7) -> float:
    """The first over the second, each at its quickest, taken in turns so that a busy machine is busy for both."""
    ones, others = [], []
    for _ in range(times):
        ones.append(best(first, 1))
        others.append(best(second, 1))
    return min(ones) / min(others)


def trees(texts: list[str]) -> None:
    for text in texts:
        parse(Source("a.dish", text), "dish")


def tokens(marked: MarkdownIt, texts: list[str]) -> None:
    for text in texts:
        marked.parse(text)


def main() -> None:
    texts = [dish(number) for number in range(1000)]
    marked = MarkdownIt()
    out = sys.stdout.write
    out(f"dishes: {len(texts)}, {sum(map(len, texts)) // len(texts)} characters each\n")

    # Marks that were met before are read faster: so every round has dishes that were never read, and starts with none known.
    ones, others = [], []
    for turn in range(1, 8):
        unread = [dish(1000 * turn + number) for number in range(1000)]
        kept.cache_clear()
        ones.append(best(partial(trees, unread), 1))
        others.append(best(partial(tokens, marked, unread), 1))
    out(f"tree of a dish / markdown-it-py on the same text: {min(ones) / min(others):.2f}\n")
    prose = "Title\n\n" + "\n\n".join(text.split("\n\n", 1)[1] for text in texts[:30])
    bodies = {
        "prose with marks": prose,
        "open brackets": "Title\n\n" + "[" * 40_000,
        "nested brackets": "Title\n\n" + "[" * 20_000 + "]" * 20_000,
        "empty marks": "Title\n\n" + "[]" * 20_000,
        "readings never closed": "Title\n\n" + "<1 " * 20_000,
        "arrows": "Title\n\n" + "a -> b " * 10_000,
        "one long name": "Title\n\n[" + "a " * 20_000 + "]",
        "treatments": "Title\n\n[a" + ", b" * 20_000 + "]",
        "alternatives": "Title\n\n[a" + " or b" * 10_000 + "]",
        "blank lines of spaces": "Title\n\na" + (" " * 200 + "\n") * 200,
        "one line of spaces": "Title\n\na\n" + " " * 40_000 + "\nb",
        "backslashes": "Title\n\n" + "\\[" * 20_000,
        "a mark never closed": "Title\n\n[" + "\t" * 10_000 + "x",
        "remarks": "Title\n\n" + "a\n// x\n" * 4_000,
        "headings": "Title\n\n" + "x:\n" * 6_000,
        "marks on one line": "Title\n\n" + "[a]" * 6_000,
        "blocks with a finding": "Title\n\n" + "[1,5 kg x]\n\n" * 1_000,
        "lines near a fact": "Title\n\n" + "servings: 4\n" * 3_000,
        "a list with dashes": "Title\n\n" + "- [1 egg]\n" * 3_000,
    }
    out("ten times the text takes\n")
    for name, text in bodies.items():
        head, body = text[:7], text[7:]
        tenfold = Source("b.dish", head + (body + "\n\n") * 10 if name == "prose with marks" else head + body * 10)
        if name in ("one long name", "treatments", "alternatives", "nested brackets"):
            tenfold = Source("b.dish", _tenfold(name))
        once = Source("a.dish", text)
        grown = best(lambda: parse(tenfold, "dish"), 3) / max(best(lambda: parse(once, "dish"), 5), 1e-6)  # noqa: B023
        out(f"  {name}: {grown:.1f} times as long\n")


def _tenfold(name: str) -> str:
    return {
        "one long name": "Title\n\n[" + "a " * 200_000 + "]",
        "treatments": "Title\n\n[a" + ", b" * 200_000 + "]",
        "alternatives": "Title\n\n[a" + " or b" * 100_000 + "]",
        "nested brackets": "Title\n\n" + "[" * 200_000 + "]" * 200_000,
    }[name]


if __name__ == "__main__":
    main()
