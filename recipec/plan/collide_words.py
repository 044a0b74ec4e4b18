"""What collides, in words a cook understands."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import timedelta

from recipec.base.span import Span
from recipec.plan.schedule_bounds import narrowed, starts, watched
from recipec.plan.schedule_model import Part, PartKind
from recipec.plan.timeline_types import Collision, Fix, Keep, PoolKind, Problem

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_LINKS = (PartKind.WAIT, PartKind.HOLD)
_DUES = (PartKind.DUE, PartKind.STAND)
_MOST_NAMES = 6


def collision(problem: Problem, found: Sequence[Part], fixes: Sequence[Fix]) -> Collision:
    """A set of demands told: its slug, sentence, tasks and marks."""
    takers = _takers(problem, found)
    tasks = takers or _all_tasks(problem, found)
    slug = _slug(problem, found, takers)
    spans: list[Span] = []
    if slug == "held-too-long":
        spans += [span for span in (_hold_span(problem, part) for part in found) if span is not None]
    spans += [problem.tasks[task].span for task in tasks]
    return Collision(slug, _text(problem, found, takers), tuple(tasks), tuple(dict.fromkeys(spans)), tuple(fixes))


def clock(problem: Problem, second: int) -> str:
    """`19:05`, with its day where that is not the day of the event."""
    moment = problem.origin + timedelta(seconds=second)
    time = f"{moment.hour:02}:{moment.minute:02}"
    if problem.day[0] <= second <= problem.day[1]:
        return time
    return f"{time} on {_DAYS[moment.weekday()]}"


def lasting(seconds: int) -> str:
    """`1 h 30 min`, rounded up to whole minutes."""
    minutes = -(-seconds // 60)
    days, minutes = divmod(minutes, 24 * 60)
    hours, minutes = divmod(minutes, 60)
    parts = [f"{number} {word}" for number, word in ((days, "d"), (hours, "h"), (minutes, "min")) if number]
    return " ".join(parts) or "0 min"


def number(value: int) -> str:
    """In words up to ten."""
    return _NUMBERS[value] if value < len(_NUMBERS) else str(value)


def counted(value: int, name: str) -> str:
    """`five burners`."""
    if value == 1:
        return f"one {name}"
    return f"{number(value)} {name}{'es' if name.endswith(('s', 'x', 'ch', 'sh')) else 's'}"


def listed(words: Iterable[str]) -> str:
    """`a, b and c`."""
    items = list(dict.fromkeys(words))
    if len(items) > _MOST_NAMES:
        items = [*items[: _MOST_NAMES - 1], f"{len(items) - _MOST_NAMES + 1} more"]
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}" if items else ""


def celsius(tenths: int) -> str:
    """`220 °C`."""
    whole, rest = divmod(tenths, 10)
    return f"{whole}.{rest} °C" if rest else f"{whole} °C"


def named(problem: Problem, task: int) -> str:
    """What is done, and for which dish."""
    one = problem.tasks[task]
    what = one.what or one.text or str(one.work)
    if one.batch is not None:
        what = f"{what}, batch {one.batch[0]} of {one.batch[1]}"
    return f"“{what}” ({problem.runs[one.run].title})" if one.run is not None else f"“{what}”"


def dish(problem: Problem, task: int) -> str:
    """The dish a task is of, else what it does."""
    run = problem.tasks[task].run
    return problem.runs[run].title if run is not None else named(problem, task)


def pool_of(problem: Problem, part: Part) -> int | None:
    """The pool that a demand takes from; None for hands, and for what takes nothing."""
    if part.kind is PartKind.KEEP:
        return problem.keeps[part.place].need.pool
    if part.kind is PartKind.GEAR:
        return problem.tasks[part.place].gear[part.need].pool
    need = problem.tasks[part.place].oven if part.kind is PartKind.OVEN else None
    return need.pool if need is not None else None


def _takers(problem: Problem, found: Sequence[Part]) -> list[int]:
    tasks = []
    for part in found:
        if part.kind in (PartKind.HANDS, PartKind.GEAR, PartKind.OVEN):
            tasks.append(part.place)
        elif part.kind is PartKind.KEEP:
            tasks.append(problem.keeps[part.place].first)
    return sorted(set(tasks))


def _all_tasks(problem: Problem, found: Sequence[Part]) -> list[int]:
    tasks: set[int] = set()
    for part in found:
        if part.kind in _LINKS:
            tasks |= {problem.links[part.place].before, problem.links[part.place].after}
        elif part.kind in _DUES:
            tasks.add(problem.dues[part.place].task)
        elif part.kind in (PartKind.HOURS, PartKind.FIXED):
            tasks.add(part.place)
    return sorted(tasks)


def _hold_span(problem: Problem, part: Part) -> Span | None:
    if part.kind is PartKind.HOLD:
        return problem.links[part.place].span
    return problem.dues[part.place].span if part.kind is PartKind.STAND else None


def _slug(problem: Problem, found: Sequence[Part], takers: Sequence[int]) -> str:
    kinds = {part.kind for part in found}
    held = bool(kinds & {PartKind.HOLD, PartKind.STAND})
    pools = {problem.pools[pool].kind for part in found if (pool := pool_of(problem, part)) is not None}
    one_step = len({(problem.tasks[task].run, problem.tasks[task].step) for task in takers}) == 1 and len(takers) > 1
    if PoolKind.OVEN in pools:
        return "held-too-long" if one_step and held else "oven-clash" if len(takers) > 1 else "cannot-be-ready"
    if PoolKind.BURNERS in pools:
        return "not-enough-burners"
    return "held-too-long" if held and not takers else "cannot-be-ready"


def _text(problem: Problem, found: Sequence[Part], takers: Sequence[int]) -> str:
    parts = [_what_is_short(problem, found, takers) if takers else _no_time(problem, found)]
    ats = sorted({problem.dues[part.place].at for part in found if part.kind is PartKind.DUE})
    if takers and ats:
        parts.append(f"due at {listed(clock(problem, at) for at in ats)}")
    parts += _holds(problem, found)
    return "; ".join(parts) + "."


def _what_is_short(problem: Problem, found: Sequence[Part], takers: Sequence[int]) -> str:
    pools = sorted({pool for part in found if (pool := pool_of(problem, part)) is not None})
    said = []
    held = [problem.keeps[part.place] for part in found if part.kind is PartKind.KEEP]
    if any(part.kind is PartKind.OVEN for part in found) or any(keep.oven for keep in held):
        said.append(_oven(problem, found, held))
    for index in pools:
        short = problem.pools[index]
        if short.kind is PoolKind.OVEN:
            continue
        users = [task for part in found if pool_of(problem, part) == index for task in _takers(problem, [part])]
        needs = sum(_pieces(problem, part) for part in found if pool_of(problem, part) == index)
        names = listed(named(problem, task) for task in users)
        if short.kind is PoolKind.SPACE:
            said.append(f"the {short.name} holds {short.number // 1000} l, too little for {names} together")
        else:
            at_once = "at once" if len(users) > 1 else "for it alone"
            there = f"there {'is' if short.number == 1 else 'are'} {number(short.number)}"
            said.append(f"{counted(needs, short.name)} would be wanted {at_once}, for {names}; {there}")
    workers = sorted({part.place for part in found if part.kind is PartKind.HANDS})
    if workers:
        said.append(_hands(problem, workers))
    text = " and ".join(said) + _between(problem, takers)
    return text[0].upper() + text[1:]


def _pieces(problem: Problem, part: Part) -> int:
    if part.kind is PartKind.KEEP:
        return problem.keeps[part.place].need.pieces
    return problem.tasks[part.place].gear[part.need].pieces


def _oven(problem: Problem, found: Sequence[Part], held: Sequence[Keep]) -> str:
    takers = _takers(problem, [part for part in found if part.kind is not PartKind.KEEP])
    wanted: dict[str, list[str]] = {}
    shelves = 0
    name, number_of, number_shelves = "oven", 1, 1
    tasks = [(problem.tasks[task].oven, named(problem, task)) for task in takers]
    for need, what in (*tasks, *((keep.oven, f"holding the {keep.what}") for keep in held)):
        if need is not None:
            pool = problem.pools[need.pool]
            name, number_of, number_shelves = pool.name, pool.number, pool.shelves
            low, high = celsius(need.low), celsius(need.high)
            wanted.setdefault(low if low == high else f"{low} to {high}", []).append(what)
            shelves += need.shelves
    the = f"the {name} is" if number_of == 1 else f"the {counted(number_of, name)} are"
    if len(wanted) > 1:
        return f"{the} wanted " + " and ".join(f"at {heat} for {listed(names)}" for heat, names in wanted.items())
    heat, names = next(iter(wanted.items()))
    if len(names) == 1:
        return f"{the} not at {heat} in time for {names[0]}"
    size = f"{number(number_shelves)} {'shelf' if number_shelves == 1 else 'shelves'}"
    return f"{number(shelves)} shelves at {heat} would be wanted at once, for {listed(names)}; the {name} has {size}"


def _hands(problem: Problem, workers: Sequence[int]) -> str:
    most = max((hours.number for hours in problem.hands), default=0)
    pairs = "one pair of hands is" if most == 1 else f"{number(most)} pairs of hands are"
    names = listed(f"{named(problem, task)}, {lasting(_work_s(problem, task))}" for task in workers)
    return f"{pairs} wanted for {names}"


def _work_s(problem: Problem, task: int) -> int:
    one = problem.tasks[task]
    return len(one.touches) * one.touch_s if one.touches else one.seconds


def _between(problem: Problem, tasks: Sequence[int]) -> str:
    allowed = narrowed(problem)
    if allowed is None or not tasks:
        return ""
    low = min(allowed[task][0].low for task in tasks)
    high = max(allowed[task][-1].high + problem.tasks[task].seconds for task in tasks)
    return f", between {clock(problem, low)} and {clock(problem, high)}"


def _no_time(problem: Problem, found: Sequence[Part]) -> str:
    """A chain that is longer than the time there is for it."""
    tasks = _all_tasks(problem, found)
    links = [problem.links[part.place] for part in found if part.kind is PartKind.WAIT]
    length = {task: problem.tasks[task].seconds for task in tasks}
    for _ in tasks:
        for link in links:
            least = length[link.before] + link.gap_min + problem.tasks[link.after].seconds
            length[link.after] = max(length[link.after], least)
    last = max(tasks, key=lambda task: (length[task], task))
    dues = [problem.dues[part.place] for part in found if part.kind is PartKind.DUE]
    due = f"{problem.courses[dues[0].course].name} at {clock(problem, dues[0].at)}" if dues else ""
    firsts = [task for task in tasks if all(link.after != task for link in links)]
    first = firsts[0] if firsts else tasks[0]
    begins = starts(problem, problem.tasks[first])
    if not begins:
        return _too_long(problem, first)
    low = max(begins[0].low, problem.tasks[first].earliest or 0)
    chain = named(problem, first) if first == last else f"from {named(problem, first)} to {named(problem, last)}"
    takes = f"{_capital(chain)} takes {lasting(length[last])}"
    cause = f"and that can't begin before {clock(problem, low)}"
    if not due:
        return f"{takes}, {cause}, so it does not fit into the cook's hours"
    return f"{takes}, {cause}, so it is not ready for {due}"


def _too_long(problem: Problem, task: int) -> str:
    """A task for which there are no hours at all."""
    takes = f"{_capital(named(problem, task))} takes {lasting(problem.tasks[task].seconds)}"
    if watched(problem, problem.tasks[task]) or not problem.hands:
        return f"{takes}, and no cook is there so long"
    return (
        f"{takes}, and begun when the cook comes, at {clock(problem, problem.hands[0].start)}, it is not done in time"
    )


def _holds(problem: Problem, found: Sequence[Part]) -> list[str]:
    """What may wait no longer than so, those with the same limit together."""
    limits: dict[int, list[str]] = {}
    for part in found:
        if part.kind is PartKind.HOLD:
            link = problem.links[part.place]
            limits.setdefault(link.gap_max or 0, []).append(
                f"“{link.hold}”" if link.hold else dish(problem, link.before)
            )
        elif part.kind is PartKind.STAND:
            due = problem.dues[part.place]
            limits.setdefault(due.stand_max or 0, []).append(f"“{due.hold}”" if due.hold else dish(problem, due.task))
    return [
        f"{listed(names)} can't wait longer than {lasting(limit)}" if limit else f"{listed(names)} can't wait at all"
        for limit, names in sorted(limits.items())
    ]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
