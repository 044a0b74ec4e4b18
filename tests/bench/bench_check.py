"""Whole-process time and memory of `recipec check`, as ratios within one run: `python -m tests.bench.bench_check`.

Targets: one dish at most 2 × `python -c "import click, lark"`; 5,000 dishes within 300 MB; 1,000 dishes from a warm
cache at most 0.1 × the time markdown-it-py takes for their text. Nothing here is asserted: machines differ.
"""

from __future__ import annotations

import gc
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

DISH = """\
Charred cabbage number {n} with brown butter
serves: 4
course: starter
keeps: 1 d chilled

Set the {{oven}} to <220 °C>. Cut [2 small cabbages, {n} g each] into wedges and lay them on {{2 baking sheets}}.
Rub them with [30 ml olive oil] and [5 g salt] and roast for <25 min, until charred at the edges>.

For the crumb:

Toast [60 g rye bread, torn] in [20 g butter] in a {{frying pan}} for <6 min, until crisp>. -> crumb

For the dressing:

Cook [120 g unsalted butter] in a {{saucepan}} for <6 min, until it smells of nuts>. Take it off the heat and stir in
[1 tbsp lemon juice], [2 cloves garlic, crushed] and [1 tsp capers, chopped]. -> brown butter

To plate:

Warm four plates. Lay the cabbage on them, spoon half of it over each, and take care that the edges stay crisp: the
crumb goes on at the very last moment, when everyone sits. Spoon [the brown butter] over, strew [the crumb] and finish
with [10 g dill, picked], [1 pinch flaky salt] and [1 tsp black pepper].

(A tip for number {n}: the outer leaves burn first, so turn the wedges once and keep the darkest for the cook.)
"""


def environment(**more: str) -> dict[str, str]:
    """This one, with compiled modules kept as any installed program has them."""
    kept = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPATH": str(ROOT), **more}


def once(command: list[str], cwd: Path, env: dict[str, str]) -> float:
    start = time.perf_counter()
    subprocess.run(command, cwd=cwd, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=True)
    return time.perf_counter() - start


def processes(folder: Path, rounds: int = 25) -> None:
    (folder / "one.dish").write_text(DISH.format(n=500), encoding="utf-8")
    env = environment(RECIPEC_CACHE="off")
    check = [sys.executable, "-m", "recipec", "check", "one.dish"]
    imports = [sys.executable, "-c", "import click, lark"]
    # In turn, so that a busy machine slows both; the least time is the least disturbed.
    pairs = [(once(check, folder, env), once(imports, folder, env)) for _ in range(rounds)]
    ours, theirs = (min(times) for times in zip(*pairs, strict=True))
    print(f"check of one dish            {ours * 1000:7.0f} ms")
    print(f"import click, lark           {theirs * 1000:7.0f} ms")
    print(f"ratio                        {ours / theirs:7.2f}    (target at most 2)")


def write_book(book: Path, dishes: int) -> None:
    book.mkdir()
    (book / "cookbook.toml").write_text('title = "Many"\nmeasures = "metric"\n', encoding="utf-8")
    for number in range(dishes):
        (book / f"dish-{number:05}.dish").write_text(DISH.format(n=400 + number), encoding="utf-8")


def memory(folder: Path, dishes: int = 5_000) -> None:
    book = folder / "book"
    write_book(book, dishes)
    for name, cache in (("no cache", "off"), ("cold cache", str(folder / "c")), ("warm cache", str(folder / "c"))):
        # A process of its own for each, since the system only tells the largest of all children.
        code = (
            "import resource, subprocess, sys, time; start = time.perf_counter();"
            "subprocess.run([sys.executable, '-m', 'recipec', 'check', '-q'], stdout=subprocess.DEVNULL, check=True);"
            "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024, time.perf_counter() - start)"
        )
        env = environment(RECIPEC_CACHE=cache)
        done = subprocess.run(
            [sys.executable, "-c", code], cwd=book, env=env, capture_output=True, text=True, check=True
        )
        megabytes, seconds = done.stdout.split()
        print(f"{dishes} dishes, {name:<16} {megabytes:>7} MB {float(seconds):6.1f} s   (target at most 300 MB)")


def warm(folder: Path, dishes: int = 1_000) -> None:
    from markdown_it import MarkdownIt

    from recipec.base.source import Source
    from recipec.book.cache import open_cache
    from recipec.book.compile import check_book, compile_book

    os.environ["RECIPEC_CACHE"] = str(folder / "warm")
    book = folder / "thousand"
    write_book(book, dishes)
    texts = [DISH.format(n=400 + number) for number in range(dishes)]
    sources = [Source(f"dish-{number:05}.dish", text) for number, text in enumerate(texts)]
    markdown = MarkdownIt()
    reference = timed(lambda: [markdown.parse(text) for text in texts])
    whole = timed(lambda: compile_book(book, cached=False), rounds=2)
    compile_book(book)
    again = timed(lambda: compile_book(book), rounds=2)

    check_book(book)
    checked = timed(lambda: check_book(book), rounds=3)

    def load() -> None:
        with open_cache(book, context_mark(book)) as cache:
            for source in sources:
                assert cache.get(source, "dish") is not None

    kept = timed(load)
    for name, seconds, target in (
        ("markdown-it-py", reference, ""),
        ("an unchanged book checked", checked, "(target at most 0.1; reads every file, parses none)"),
        ("every dish from the cache", kept, ""),
        ("whole compilation, no cache", whole, ""),
        ("whole compilation, warm cache", again, ""),
    ):
        print(f"{dishes} dishes, {name:<30} {seconds * 1000:7.0f} ms {seconds / reference:6.2f}   {target}")


def context_mark(book: Path) -> bytes:
    from recipec.book.compile import _context_mark, context_of

    return _context_mark(context_of(book).settings, None)


def timed(work: Callable[[], object], rounds: int = 5) -> float:
    best = float("inf")
    for _ in range(rounds):
        gc.collect()
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        processes(folder)
        memory(folder)
        warm(folder)
    print(f"(this process: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MB)")


if __name__ == "__main__":
    main()
