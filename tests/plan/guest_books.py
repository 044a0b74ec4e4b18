"""Small invented books for what guests are served, compiled from their texts as a cook's are."""

from __future__ import annotations

from pathlib import Path

from recipec.book.compile import Build, compile_book
from recipec.plan.guests import Guests, guests_of

HEAD = "Boathouse lunch\nguests: 6\nserve: 2026-06-20 13:00\n"

DISHES = {
    "pesto.dish": "Hazel pesto\nmakes: 200 g\n\nPound [100 g hazelnuts] with [100 ml olive oil] and [salt, to taste].\n",
    "leeks.dish": (
        "Charred leeks\nserves: 6\n\nChar [12 leeks] in a {frying pan} for <8 min attended>. Dress with [60 g butter].\n\n"
        "Spoon over [100 g our hazel pesto].\n"
    ),
    "beans.dish": "Smoky beans\nserves: 6\n\nWarm [500 g cooked butter beans] with [40 g Aunt Bea's smoke paste] for <6 min attended>.\n",
    "soup.dish": "Plain soup\nserves: 6\n\nSimmer [600 g carrots] in [1 l water] for <20 min within reach>.\n",
    "cubed.dish": "Cube soup\nserves: 6\n\nSimmer [600 g carrots] with [20 g odd powder] in [1 l water] for <20 min within reach>.\n",
    "beer.dish": "Beer bread\nserves: 6\n\nStir [330 ml barley tea] into [300 g cooked butter beans].\n",
    "lost.dish": "Lost toast\nserves: 6\n\nToast the bread.\n",
    "ham.dish": "Ham and eggs\nserves: 6\n\nFry [6 slices (30 g) bacon] and [6 eggs] for <5 min attended>.\n",
}
LARDER = (
    "name,plural,department,allergens,animal,source\n"
    "odd powder,odd powder,dry goods,celery; may contain milk; nuts,none,invented label\n"
    "barley tea,barley tea,drinks,gluten:barley,none,invented label\n"
)


def build(
    folder: Path, courses: str, seats: tuple[str, ...] = (), safety: str = "uk", head: str = HEAD, **more: str
) -> Build:
    """A book with the dishes above and one event, `lunch`; `more` are further dishes by file name without its ending."""
    texts = {
        "cookbook.toml": f'title = "Guests"\nmeasures = "metric"\nsafety = "{safety}"\n',
        "larder.csv": LARDER,
        "lunch.event": head + "".join(f"{seat}\n" for seat in seats) + "\n" + courses,
        **DISHES,
        **{f"{name}.dish": text for name, text in more.items()},
    }
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8")
    return compile_book(folder, cached=False)


def guests(built: Build) -> Guests:
    """The matrix of its event."""
    return guests_of(built.book, built.larder, built.book.events[0])


def slugs(built: Build) -> list[str]:
    """The findings on what guests are served, in their order."""
    wanted = ("allergen-served", "allergen-unknown", "diet-not-kept", "wish-not-kept")
    return [finding.slug for finding in built.findings if finding.slug in wanted]
