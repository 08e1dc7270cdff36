"""What was sawn: blanks that lie ready, and bars that are no longer on the rack."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.trade.sections import Section
from forgelog.work.bar import Bar
from forgelog.work.changes import CannotBe, replace
from forgelog.work.facts import BarCut, BarNotCut
from forgelog.work.state import BarSawn, State


class Blank(msgspec.Struct, frozen=True, kw_only=True):
    """Blanks of one length that were sawn and not taken up yet."""

    section: Section
    cut_mm: float
    count: int


def bar_cut(state: State, fact: BarCut) -> State:
    """A bar was sawn; its blanks lie ready."""
    if any(sawn.cut.cut == fact.cut for sawn in state.sawn):
        raise CannotBe(f"the cut {fact.cut} is written down already")
    if not fact.pieces or any(p.count < 1 or not p.cut_mm > 0.0 for p in fact.pieces):
        raise CannotBe("a bar that was sawn gives pieces, each longer than nothing")
    names = {(p.order, p.component) for p in fact.pieces}
    begun = {_key(*name): begun_of(state, *name) for name in sorted(names)}
    record = BarSawn(cut=fact, begun=begun, at_s=state.moment.rest_s)
    return replace(state, sawn=(*state.sawn, record))  # type: ignore[no-any-return]


def bar_not_cut(state: State, fact: BarNotCut) -> State:
    """It is as if it had not been sawn; refused once one of its blanks has been taken up."""
    found = next((sawn for sawn in state.sawn if sawn.cut.cut == fact.cut), None)
    if found is None:
        raise CannotBe(f"there is no cut {fact.cut}")
    kept = tuple(sawn for sawn in state.sawn if sawn is not found)
    after: State = replace(state, sawn=kept)
    for pieces in found.cut.pieces:
        name = (pieces.order, pieces.component)
        less = sum(p.count for p in found.cut.pieces if (p.order, p.component) == name)
        ready = sum(blank.count for blank in blanks_ready(state, *name))
        if sum(blank.count for blank in blanks_ready(after, *name)) != ready - less:
            raise CannotBe("a piece that was sawn from it has been taken up since")
    return after


def begun_of(state: State, order: str, component: str) -> int:
    """How many blanks of a component were ever taken up, scrapped ones too; parts of a handful."""
    return sum(
        piece.lot or 1
        for piece in state.pieces.values()
        if piece.order == order and piece.component == component and piece.begun
    )


def blanks_ready(state: State, order: str, component: str) -> tuple[Blank, ...]:
    """Blanks that were sawn for a component and not taken up yet, the oldest first.

    Which blank was taken up is not pressed at the fire; the oldest is taken to go first. A piece
    that was begun before anything was written down as sawn had a blank that nobody told of.
    """
    ready: list[Blank] = []
    begun = 0
    for sawn in state.sawn:
        mine = [p for p in sawn.cut.pieces if (p.order, p.component) == (order, component)]
        if not mine:
            continue
        then = sawn.begun.get(_key(order, component), 0)
        ready = _without(ready, then - begun)
        begun = then
        ready.extend(Blank(section=sawn.cut.section, cut_mm=p.cut_mm, count=p.count) for p in mine)
    return tuple(_without(ready, begun_of(state, order, component) - begun))


def without_sawn(bars: Iterable[Bar], state: State) -> tuple[Bar, ...]:
    """The smith's own list less the bars that were sawn since it was written.

    Only as long as the list says just what it said when the bar was sawn: once the smith has
    written another number, length or label, it has been counted anew and nothing is taken off.
    """
    gone: dict[tuple[Section, float, str, str], tuple[int, int]] = {}
    for sawn in state.sawn:
        cut = sawn.cut
        if cut.listed:
            key = (cut.section, cut.long_mm, cut.steel.casefold(), cut.label)
            listed, many = gone.get(key, (cut.listed, 0))
            gone[key] = (cut.listed, many + 1 if listed == cut.listed else 1)
    left = []
    listed_now: dict[tuple[Section, float, str, str], int] = {}
    bars = tuple(bars)
    for bar in bars:
        listed_now[_bar_key(bar)] = listed_now.get(_bar_key(bar), 0) + bar.count
    for bar in bars:
        listed, many = gone.get(_bar_key(bar), (0, 0))
        less = min(bar.count, many) if listed == listed_now[_bar_key(bar)] else 0
        if less:
            gone[_bar_key(bar)] = (listed, many - less)
            bar = msgspec.structs.replace(bar, count=bar.count - less)
        if bar.count:
            left.append(bar)
    return tuple(left)


def listed_of(bars: Iterable[Bar], bar: Bar) -> int:
    """How many bars just like this one a list has."""
    return sum(other.count for other in bars if _bar_key(other) == _bar_key(bar))


def _bar_key(bar: Bar) -> tuple[Section, float, str, str]:
    return bar.section, bar.long_mm, bar.steel.casefold(), bar.label


def _key(order: str, component: str) -> str:
    return f"{order}/{component}"


def _without(ready: list[Blank], many: int) -> list[Blank]:
    left = []
    for blank in ready:
        less = min(max(0, many), blank.count)
        many -= less
        if blank.count > less:
            left.append(msgspec.structs.replace(blank, count=blank.count - less))
    return left
