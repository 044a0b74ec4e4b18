"""What is in a thing that a dish makes on the way: for the label of its tub.

Everything that its strand brings in up to the step that makes it, and all that is in what that strand takes of others. Where nothing can be
followed, it is everything in the dish: a label may say too much of a tub, never too little.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from recipec.larder.larder import Larder
from recipec.model.dish import Dish, FoodAt, LayOut, Made, Role, Step, Strand, Thing, ThingKind, Use
from recipec.plan.demand import Draw, Run
from recipec.plan.guests_foods import Eaten
from recipec.plan.needs import Food


@dataclass(slots=True)
class InTubs:
    """Follows food through the runs of one booking. `runs` as `plan.demand` gives them."""

    larder: Larder
    runs: tuple[Run, ...]
    _by_version: dict[tuple[str, tuple[str, ...]], Run] = field(init=False)

    def __post_init__(self) -> None:
        self._by_version = {(run.dish.key, run.without): run for run in self.runs}

    def of_run(self, run: Run) -> tuple[Eaten, ...]:
        """Everything in a dish as a run makes it, through the dishes it is made of."""
        return tuple(dict.fromkeys(self._of_run(run)))

    def of_made(self, run: Run, made: Made) -> tuple[Eaten, ...]:
        """What is in a thing the run makes; () where all of it is left out."""
        found = tuple(dict.fromkeys(self._of_thing(run, made.thing, set())))
        if found:
            return found
        dish = run.dish
        own = dish.thing(made.thing)
        marked = own.step is not None and any(True for _ in _marks(dish, dish.strands[own.strand], own.step))
        return () if marked and run.without else self.of_run(run)

    def sources(self, run: Run, made: Made) -> Iterator[tuple[Run, str | None]]:
        """What a thing is made of that was made before: things of the same run, and (None) other dishes whole."""
        thing = run.dish.thing(made.thing)
        if thing.step is None:
            return
        draws = _by_number(run.draws)
        for use in _marks(run.dish, run.dish.strands[thing.strand], thing.step):
            if use.number in draws:
                below = self._below(draws[use.number])
                if below is not None:
                    yield below, None
            elif use.role in (Role.TAKE, Role.HANDLE) and use.thing != made.thing:
                yield run, use.thing

    def drawn(self, run: Run) -> Iterator[Run]:
        """The dishes a run is made of."""
        for draw in run.draws:
            below = self._below(draw)
            if below is not None:
                yield below

    def _below(self, draw: Draw) -> Run | None:
        return self._by_version.get((draw.dish, draw.without))

    def _of_run(self, run: Run) -> Iterator[Eaten]:
        todo, seen = [run], {(run.dish.key, run.without)}
        while todo:
            one = todo.pop()
            for use in one.bought:
                yield self._one(use)
            if not any(use.role in (Role.BUY, Role.OUR) for use in one.dish.uses):
                yield Eaten(Food(f"{one.dish.title} (no food is marked in it)", None), one.dish.title_span)
            told = {draw.use.number for draw in one.draws} | {use.number for use in one.bought}
            for use in one.dish.uses:
                # Another dish that nothing says is left out, and that could not be followed.
                if use.role is Role.OUR and use.number not in told and not one.without:
                    yield Eaten(Food(use.name, None), use.span)
            for draw in one.draws:
                below = self._below(draw)
                if below is None:
                    yield Eaten(Food(draw.use.name, None), draw.use.span)
                elif (below.dish.key, below.without) not in seen:
                    seen.add((below.dish.key, below.without))
                    todo.append(below)

    def _of_thing(self, run: Run, key: str, seen: set[str]) -> Iterator[Eaten]:
        if key in seen:
            return
        seen.add(key)
        dish = run.dish
        thing = _thing(dish, key)
        if thing is not None and thing.kind is ThingKind.MADE and thing.step is not None:
            for use in _marks(dish, dish.strands[thing.strand], thing.step):
                yield from self._of_use(run, use, seen)
            return
        for use in dish.uses:
            if use.thing == key and use.role in (Role.BUY, Role.OUR):
                yield from self._of_use(run, use, seen)

    def _of_use(self, run: Run, use: Use, seen: set[str]) -> Iterator[Eaten]:
        if use.role in (Role.TAKE, Role.HANDLE):
            yield from self._of_thing(run, use.thing, seen)
            return
        bought = {kept.number: kept for kept in run.bought}
        if use.number in bought:
            yield self._one(bought[use.number])
            return
        draw = _by_number(run.draws).get(use.number)
        if draw is not None:
            below = self._below(draw)
            yield from (Eaten(Food(draw.use.name, None), draw.use.span),) if below is None else self._of_run(below)
        elif not run.without:
            yield Eaten(Food(use.name, None), use.span)

    def _one(self, use: Use) -> Eaten:
        return Eaten(Food(use.name, None if use.item is None else self.larder.get(use.item)), use.span)


def _by_number(draws: Iterable[Draw]) -> dict[int, Draw]:
    return {draw.use.number: draw for draw in draws}


def _thing(dish: Dish, key: str) -> Thing | None:
    return next((thing for thing in dish.things if thing.key == key), None)


def _marks(dish: Dish, strand: Strand, last: int) -> Iterator[Use]:
    """The food of a strand up to and with a step."""
    for block in strand.blocks:
        if isinstance(block, LayOut):
            yield from (dish.uses[number] for number in block.uses)
        elif isinstance(block, Step):
            if block.number > last:
                return
            for sentence in block.sentences:
                for piece in sentence.pieces:
                    if isinstance(piece, FoodAt):
                        yield dish.uses[piece.use]
