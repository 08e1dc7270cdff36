"""What the twin of a remade piece measures: a pair has to match each other, not the drawing."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from forgelog.recipe.resolved import Gauge
from forgelog.work.queries import component_of, pieces_of, steps_of
from forgelog.work.state import FINISHED, FITTED, SCRAPPED, State, Workpiece


class TwinSize(msgspec.Struct, frozen=True, kw_only=True):
    """One size as it was really made on the twin."""

    what: str
    mm: float
    """As it was read off."""
    drawing_mm: float | None = None
    """As the recipe that the twin follows has it; None where that gauge is gone."""
    hot: bool = False
    """True where it was read off hot."""
    twin: str
    """Id of the workpiece."""


def twin_sizes(state: State, piece: Workpiece) -> tuple[TwinSize, ...]:
    """For a piece that stands for a scrapped one: the sizes that its twin really has.

    Those that the component must share (`match`), or all that were read off where it names none.
    The twin is the nearest of its kind with such a size: a finished one before one under way, one
    of the same set before others, then the last one made.

    Args:
        state: What stands.
        piece: Any piece; one that was not remade has no use for it.
    """
    if not piece.remade_from:
        return ()
    match = frozenset(component_of(state, piece).match)
    twins = [
        p
        for p in pieces_of(state, piece.order)
        if p.component == piece.component and p.id != piece.id and p.place != SCRAPPED
    ]
    twins.sort(key=lambda p: (p.place not in (FINISHED, FITTED), p.set != piece.set, -p.serial))
    for twin in twins:
        found = tuple(_sizes(state, twin, match))
        if found:
            return found
    return ()


def _sizes(state: State, twin: Workpiece, match: frozenset[str]) -> Iterator[TwinSize]:
    gauges: dict[str, Gauge] = {g.what: g for s in steps_of(state, twin) for g in s.gauges}
    for what, mm in twin.gauged.items():
        if match and what not in match:
            continue
        gauge = gauges.get(what)
        yield TwinSize(
            what=what,
            mm=mm,
            drawing_mm=gauge.mm if gauge is not None else None,
            hot=gauge.hot if gauge is not None else False,
            twin=twin.id,
        )
