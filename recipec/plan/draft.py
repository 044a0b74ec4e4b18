"""A scheduling problem while it is being written."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import pairwise

from recipec.measure.language import ENGLISH, Language
from recipec.measure.temperature import FAN_BELOW
from recipec.model.kitchen import Gear
from recipec.model.reading import Hold, State
from recipec.plan.kitchen_stock import Piece, Stock
from recipec.plan.timeline_types import (
    Attend,
    Due,
    GearNeed,
    Keep,
    Link,
    OvenNeed,
    Pool,
    PoolKind,
    Task,
    Trouble,
    Why,
    Work,
)
from recipec.plan.waiting import Wait, is_cold
from recipec.plan.work_figures import figure, seconds

_KINDS = {"oven": PoolKind.OVEN, "hob": PoolKind.BURNERS, "fridge": PoolKind.SPACE, "freezer": PoolKind.SPACE}


@dataclass(frozen=True, slots=True)
class Taken:
    """Gear of a run: `pieces` of pool `pool` from task `first` to task `last`. `washed` when another dish may want it after. `party` are
    all the runs it is for, `doing` the actions of the dish it is in use in; `split` when part of what is in another piece goes into it."""

    pool: int
    pieces: int
    first: int
    last: int
    what: str
    run: int
    from_end: bool = False
    to_start: bool = False
    washed: bool = True
    party: tuple[int, ...] = ()
    doing: tuple[int, ...] = ()
    split: bool = False


@dataclass(slots=True)
class Draft:
    """Tasks, links and gear so far. Ids are places in these lists. `dirty` are places in `taken` that are washed whatever there is of
    the gear, since what is in it must not get into something else."""

    stock: Stock
    tongue: Language = ENGLISH
    tasks: list[Task] = field(default_factory=list)
    links: list[Link] = field(default_factory=list)
    keeps: list[Keep] = field(default_factory=list)
    dues: list[Due] = field(default_factory=list)
    pools: list[Pool] = field(default_factory=list)
    taken: list[Taken] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    dirty: set[int] = field(default_factory=set)
    _pool_of: dict[str, int] = field(default_factory=dict)
    _washed: dict[int, bool] = field(default_factory=dict)
    _rooms: dict[tuple[tuple[str, str, int], int], list[int]] = field(default_factory=dict)

    def add(self, task: Task) -> int:
        """Its id."""
        self.tasks.append(task)
        return len(self.tasks) - 1

    def link(self, link: Link) -> None:
        """One wait between two tasks; the tighter of two where there is one already."""
        for place, known in enumerate(self.links):
            if (known.before, known.after) == (link.before, link.after):
                tight = min((gap for gap in (known.gap_max, link.gap_max) if gap is not None), default=None)
                said = link if known.gap_max is None or (link.gap_max or 0) > known.gap_max else known
                if link.gap_max is None:
                    said = known
                gap = max(known.gap_min, link.gap_min)
                self.links[place] = replace(said, gap_min=gap, gap_max=tight)
                return
        self.links.append(link)

    def follow(self, before: tuple[int, ...], after: tuple[int, ...], wait: Wait) -> None:
        """Every batch before every one after; batch by batch where both are split alike. A hold that is written counts for every batch;
        a wait that is only common practice is longer for the first ones by the time the others take."""
        if len(before) == len(after):
            pairs = [(first, second, 0) for first, second in zip(before, after, strict=True)]
        else:
            pairs = [
                (first, second, place) for first in before for second in after[:1] for place in (before.index(first),)
            ]
            for first in before:
                for second in after[1:]:
                    self.link(Link(first, second, 0, None, wait.why, span=wait.span))
        for first, second, place in pairs:
            bound = wait.gap_max
            if bound is not None and wait.why is not Why.HOLD and len(before) != len(after):
                bound += sum(self.tasks[other].seconds for other in before[place + 1 :])
            self.link(Link(first, second, 0, bound, wait.why, wait.words, wait.span))

    def assume(self, text: str) -> None:
        """A sentence on what had to be assumed, once."""
        if text not in self.assumed:
            self.assumed.append(text)

    def trouble(self, trouble: Trouble) -> None:
        """Something the kitchen can't do, once for each mark."""
        if all((known.slug, known.span) != (trouble.slug, trouble.span) for known in self.troubles):
            self.troubles.append(trouble)

    # ------------------------------------------------------------ held hot in an oven

    def held_hot(self, hold: Hold, first: int, last: int, what: str, course: int | None = None) -> None:
        """A shelf of the oven that the hold names, at a usual temperature for holding, from the end of `first` to the start of `last`, or
        until a course is on the pass."""
        if not hold.vessel or is_cold(hold):
            return
        piece = self.stock.find(hold.vessel)
        if piece.kind != "oven":
            return
        pool = self.kind_pool("oven") if piece.line is None else self.pool(piece)
        # The figures are those of the dial, which a fan makes lower for the same heat.
        fan = int(FAN_BELOW) * 10 if self.pools[pool].fan else 0
        low, high = (int(figure(f"hold in the oven {end}") * 10) + fan for end in ("from", "to"))
        need = OvenNeed(pool, low, high, 1)
        self.keeps.append(Keep(GearNeed(pool, 1), first, last, True, True, what, course, need, seconds("stand hot")))

    # ------------------------------------------------------------ room in fridge and freezer

    def room_of(self, maker: int, hold: Hold | None, room: int) -> GearNeed | None:
        """The room that what `maker` leaves takes afterwards: `room` ml by its hold where that is chilled or frozen; where that is not
        known, or there is no hold, what `maker` took itself to chill it. None for no room."""
        needs = (need for need in self.tasks[maker].gear if self.pools[need.pool].kind is PoolKind.SPACE)
        need = next((need for need in needs if need.pieces), None)
        if hold is not None and not is_cold(hold):
            return None
        if hold is not None and room:
            need = GearNeed(self.kind_pool("freezer" if hold.state is State.FROZEN else "fridge"), room)
        return need if need is not None and self.pools[need.pool].kind is PoolKind.SPACE else None

    def room(
        self, key: tuple[str, str, int], need: GearNeed, first: int, last: int, what: str, course: int | None = None
    ) -> None:
        """Room for the thing `key` from the end of `first` to the start of `last`, or until a course is on the pass. What goes several
        ways takes an even share of it for each."""
        own = self._rooms.setdefault((key, need.pool), [])
        own.append(len(self.keeps))
        self.keeps.append(Keep(need, first, last, True, True, what, course))
        share = GearNeed(need.pool, -(-need.pieces // len(own)))
        for place in own:
            self.keeps[place] = replace(self.keeps[place], need=share)

    # ------------------------------------------------------------ pools

    def pool(self, piece: Piece) -> int:
        """The pool of a kind of gear, made when it is first wanted."""
        known = self._pool_of.get(piece.key)
        if known is None:
            self.pools.append(self._pool(piece))
            known = self._pool_of[piece.key] = len(self.pools) - 1
            self._washed[known] = piece.work.wash
        return known

    def kind_pool(self, kind: str) -> int:
        """The pool of the kitchen's first oven, hob, fridge or freezer; one as it is usual where the kitchen has none."""
        found = self.stock.first(kind)
        return self.pool(self.stock.find(kind) if found is None else found)

    def is_washed(self, pool: int) -> bool:
        """Whether gear of that pool is washed between dishes where it is scarce."""
        return self._washed[pool]

    def _pool(self, piece: Piece) -> Pool:
        line, kind = piece.line, _KINDS.get(piece.kind, PoolKind.GEAR)
        if line is None and kind is not PoolKind.GEAR:
            self.assume(_taken(piece.kind, self.tongue))
        alone = (line is not None and line.alone) or piece.kind in ("fridge", "freezer") or not piece.work.heat
        number = 1 if line is None else line.number
        match kind:
            case PoolKind.GEAR:
                return Pool(piece.key, piece.name, kind, 0 if line is None else number, alone=alone)
            case PoolKind.BURNERS:
                kitchen = self.stock.kitchen
                burners = 0 if kitchen is None else kitchen.burners
                return Pool(piece.key, "burner", kind, burners or int(figure("burners")))
            case PoolKind.SPACE:
                return Pool(piece.key, piece.name, kind, _room(line.size if line else "", number), alone=alone)
            case PoolKind.OVEN:
                heats = figure("heats") if line is None or line.heats is None else line.heats
                return Pool(
                    piece.key,
                    piece.name,
                    kind,
                    number,
                    shelves=1 if line is None else max(1, line.shelves),
                    heats=max(1, int(heats * 10)),
                    cools=int(figure("cools") * 10),
                    up_to=None if line is None or line.up_to is None else _reach(line),
                    fan=line is not None and line.fan,
                )

    # ------------------------------------------------------------ when all dishes are in

    def finish_gear(self) -> None:
        """Gear as needs and keeps: what is scarce is washed between dishes, what is missing is brought."""
        self._bring()
        for pool, kind in enumerate(self.pools):
            own = [taken for taken in self.taken if taken.pool == pool]
            scarce = (
                kind.kind is PoolKind.GEAR
                and self._washed[pool]
                and len({taken.run for taken in own}) > 1
                and sum(taken.pieces for taken in own) > kind.number
            )
            for place, taken in enumerate(self.taken):
                if taken.pool == pool:
                    self._take(taken, (scarce and taken.washed) or place in self.dirty)

    def _bring(self) -> None:
        for place, pool in enumerate(self.pools):
            if pool.kind not in (PoolKind.GEAR, PoolKind.OVEN):
                continue
            needs = [taken.pieces for taken in self.taken if taken.pool == place]
            split = sum(taken.pieces for taken in self.taken if taken.pool == place and taken.split)
            wanted = sum(needs) if not pool.number else max(needs, default=0) + split
            if pool.kind is PoolKind.GEAR and wanted > pool.number:
                self.pools[place] = replace(pool, number=wanted, brought=wanted - pool.number)

    def _take(self, taken: Taken, washed: bool) -> None:
        need = GearNeed(taken.pool, taken.pieces)
        if not washed and taken.first == taken.last and not taken.from_end and not taken.to_start:
            task = self.tasks[taken.first]
            self.tasks[taken.first] = replace(task, gear=(*task.gear, need))
            return
        if not washed:
            self.keeps.append(Keep(need, taken.first, taken.last, taken.from_end, taken.to_start, taken.what))
            return
        last = self.tasks[taken.last]
        name = self.pools[taken.pool].name
        wash = self.add(
            Task(
                run=taken.run,
                work=Work.WASH,
                attend=Attend.HANDS,
                seconds=seconds("wash"),
                text=f"Wash the {name}.",
                what=f"wash the {name}"[:28],
                span=last.span,
                assumed=True,
            )
        )
        self.link(Link(taken.last, wash, why=Why.ORDER))
        self.keeps.append(Keep(need, taken.first, wash, taken.from_end, what=taken.what))


def _reach(line: Gear) -> int:
    """How hot an oven gets, as one without a fan would show it."""
    assert line.up_to is not None
    return int((line.up_to + (FAN_BELOW if line.fan else 0)) * 10)


def _taken(kind: str, tongue: Language) -> str:
    match kind:
        case "oven":
            return tongue.say("The kitchen has no oven: an oven is taken to be there.")
        case "hob":
            return tongue.say("The kitchen has no hob: a hob of four burners is taken to be there.")
        case "fridge":
            return tongue.say("The kitchen has no fridge: a fridge is taken to be there.")
        case _:
            return tongue.say("The kitchen has no freezer: a freezer is taken to be there.")


def _room(size: str, number: int) -> int:
    """Millilitres that can be used, of all of them; 0 when the kitchen does not say."""
    words = size.replace("\u00a0", " ").replace(",", " ").split()
    for amount, unit in pairwise(words):
        if unit in ("l", "litres", "liters") and amount.replace(".", "", 1).isdigit():
            whole, _, part = amount.partition(".")
            litres = int(whole) + (1 if part.strip("0") else 0)
            return int(litres * 1000 * number * figure("fridge room"))
    return 0
