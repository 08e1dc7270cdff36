"""What the records of one recipe say, made fit to be shared with another smith.

No customer, order, name, mark or day is in it: only counts of pieces, heats, times and verdicts by
step, and causes from the trade's own list.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from math import ceil
from typing import TypeVar

from forgelog.learn.rows import (
    KEPT,
    SCRAPPED,
    SKIPPED,
    SOME_SPOILT,
    UNSURE,
    PieceRow,
    RestRow,
    Rows,
    SessionRow,
    SpoiltRow,
    StepRow,
)
from forgelog.recipe.resolved import METHODS, Recipe
from forgelog.recipe.written_evidence import (
    MOST_PIECES,
    WrittenEvidence,
    WrittenHeatsTaken,
    WrittenRested,
    WrittenSpoilt,
    WrittenTaken,
    WrittenTimeTaken,
)
from forgelog.trade.sections import show_section
from forgelog.units import UnitSystem, show_time
from forgelog.work.causes import CAUSES, OTHER_CAUSE

FIRES = ("gas", "coke", "charcoal")
MOST_SECTIONS = 12
MOST_HEATS = 99
LONGEST_S = 40 * 3600.0
"""A step that took longer is told as this long."""

_Place = tuple[str, str]
_AnyRow = TypeVar("_AnyRow", bound=PieceRow)
_Number = TypeVar("_Number", int, float)


def evidence_of(
    recipe: Recipe,
    rows: Rows,
    sessions: Iterable[SessionRow] = (),
    fires: Mapping[str, str] | None = None,
    *,
    practice: bool = False,
) -> WrittenEvidence | None:
    """What the shop's work on a recipe says of its steps.

    Args:
        recipe: As it is shared; rows of steps that it has no more are left out.
        rows: Of all orders.
        sessions: Those of the journal, for the fires that were lit.
        fires: The sort of each fire of the shop (gas, coke, charcoal) by the shop's own name.
        practice: True for practice alone, False for real work alone; never both.

    Returns:
        None where nothing was made from it yet.
    """
    places = [(c.id, s.id) for c in recipe.components for s in c.steps]
    order = {place: at for at, place in enumerate(places)}
    burnt = {s.session: (fires or {}).get(s.fire, "") for s in sessions}

    def mine(rows: Iterable[_AnyRow]) -> list[_AnyRow]:
        return [
            r
            for r in rows
            if r.recipe == recipe.id and r.practice == practice and _place(r) in order
        ]

    done = [row for row in mine(rows.steps) if not (row.scrapped or row.again)]
    rests, spoilt = mine(rows.rests), mine(rows.spoilt)
    if not (done or rests or spoilt):
        return None
    steps = _by(done, lambda row: (order[_place(row)], _method(row)))
    return WrittenEvidence(
        steps=[_taken(of, burnt) for of in steps],
        rests=[_rested(of) for of in _by(rests, lambda row: order[_place(row)])],
        spoilt=[_spoilt(of) for of in _by(spoilt, lambda row: (order[_place(row)], _cause(row)))],
    )


def _place(row: PieceRow) -> _Place:
    return row.component, row.step


def _method(row: StepRow) -> int:
    """Place of the method among the methods; cold work has none."""
    return METHODS.index(row.method) if row.forged and row.method in METHODS else -1


def _by(rows: Iterable[_AnyRow], key: Callable[[_AnyRow], object]) -> Iterator[list[_AnyRow]]:
    """The rows in heaps of one key, the heaps in the order of their keys."""
    heaps: dict[object, list[_AnyRow]] = {}
    for row in rows:
        heaps.setdefault(key(row), []).append(row)
    for one in sorted(heaps):  # type: ignore[type-var]
        yield heaps[one]


def _taken(rows: Sequence[StepRow], burnt: Mapping[str, str]) -> WrittenTaken:
    first = rows[0]
    heats = [min(row.heats, MOST_HEATS) for row in rows if row.heats and not row.lot]
    times = [min(row.work_s, LONGEST_S) for row in rows if row.work_s >= 1.0]
    sections = {
        show_section(row.section, UnitSystem.MM): None for row in rows if row.section is not None
    }
    fires = {burnt.get(row.session, "") for row in rows} if first.forged else set()
    return WrittenTaken(
        component=first.component,
        step=first.step,
        by=METHODS[_method(first)] if _method(first) >= 0 else None,  # type: ignore[arg-type]
        pieces=min(len(rows), MOST_PIECES),
        heats=WrittenHeatsTaken(**_three(heats)) if heats and first.forged else None,
        time=WrittenTimeTaken(**{k: show_time(s) for k, s in _three(times).items()})
        if times
        else None,
        sections=list(sections)[:MOST_SECTIONS],
        fires=[fire for fire in FIRES if fire in fires],  # type: ignore[misc]
    )


def _three(values: Sequence[_Number]) -> dict[str, _Number]:
    """What one in ten, half and nine in ten of the values do not exceed; each a value that was."""
    row = sorted(values)
    shares = {"least": 0.1, "middle": 0.5, "most": 0.9}
    return {name: row[max(0, ceil(share * len(row)) - 1)] for name, share in shares.items()}


def _rested(rows: Sequence[RestRow]) -> WrittenRested:
    kept, unsure, skipped = (
        sum(row.verdict == verdict for row in rows) for verdict in (KEPT, UNSURE, SKIPPED)
    )
    return WrittenRested(
        component=rows[0].component,
        step=rows[0].step,
        pieces=len(rows),
        kept=kept,
        unsure=unsure,
        short=len(rows) - kept - unsure - skipped,
        skipped=skipped,
    )


def _cause(row: SpoiltRow) -> str:
    """A cause of the list: what somebody wrote in words of their own is not shared."""
    if row.kind in (SCRAPPED, SOME_SPOILT):
        return row.why if row.why in CAUSES else OTHER_CAUSE
    return row.kind


def _spoilt(rows: Sequence[SpoiltRow]) -> WrittenSpoilt:
    return WrittenSpoilt(
        component=rows[0].component,
        step=rows[0].step,
        why=_cause(rows[0]),
        pieces=min(sum(max(1, row.spoilt) for row in rows), MOST_PIECES),
    )
