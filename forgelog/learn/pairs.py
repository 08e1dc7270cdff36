"""Pairs and sets compared step by step: which piece differs, and by how much.

A pair is measured against its master, the piece that was gauged first and still stands: the
others are gauged against it. In a set of three or more a piece is held against the middle of the
others, so that one odd piece does not make all the others odd.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from statistics import median

import msgspec

from forgelog.learn.rows import GaugeRow, PieceRow, RestRow, Rows, StepRow

HEATS, WORK, REST, GAUGE = "heats", "work", "rest", "gauge"

LEAST_HEATS = 1.0
"""Fewer than a whole heat apart is no difference."""
LEAST_WORK_S = 30.0
"""About a stretch at the anvil (20 to 90 s, common practice); less is no difference,"""
LEAST_WORK_SHARE = 0.25
"""nor is less than this share of the time."""
GAUGE_MM = 0.1
"""A calliper's mark: what a size may be off where the recipe gives no tolerance."""


class PairPiece(msgspec.Struct, frozen=True, kw_only=True):
    """One piece of a pair or set."""

    workpiece: str
    slot: str
    mark: str
    serial: int
    remade: bool
    master: bool
    """The others are gauged against it."""


class PairLine(msgspec.Struct, frozen=True, kw_only=True):
    """One measure of one step over all pieces."""

    step: str
    row: PieceRow
    """Any row of that step, for its words."""
    measure: str
    """heats (counts), work (seconds in hand or at the bench), rest (seconds rested), gauge (mm)."""
    what: str
    """What was gauged; "" for any other measure."""
    values: tuple[float | None, ...]
    """One for each piece; None where it is not known."""
    verdicts: tuple[str, ...] = ()
    """Of a rest: one for each piece; "" where it did not rest."""
    unlike: int | None = None
    """Index of the piece that differs most; None where none does."""
    by: float = 0.0
    """How far it is from what it is held against."""


class Pair(msgspec.Struct, frozen=True, kw_only=True):
    """Alike pieces of one order, side by side."""

    order: str
    recipe: str
    component: str
    component_name: str
    pieces: tuple[PairPiece, ...]
    """The master first where there is one, then by serial."""
    lines: tuple[PairLine, ...]
    """In the order of the work."""


def compare_pieces(rows: Rows) -> tuple[Pair, ...]:
    """Every pair and set of which at least two pieces have been worked on.

    Scrapped pieces and handfuls of small parts are left out.

    Args:
        rows: Of one or several orders, all of real work or all of practice.
    """
    groups: dict[tuple[str, str, str], list[PieceRow]] = {}
    for row in (*rows.steps, *rows.rests, *rows.gauges):
        if not row.over and not row.lot:
            groups.setdefault((row.order, row.recipe, row.component), []).append(row)
    found = (_pair(group) for group in groups.values())
    return tuple(pair for pair in found if len(pair.pieces) > 1)


def _pair(group: Sequence[PieceRow]) -> Pair:
    first = group[0]
    gauged = sorted(
        (row for row in group if isinstance(row, GaugeRow) and row.mm is not None),
        key=lambda row: row.at_s,
    )
    master = gauged[0].workpiece if gauged else ""
    one_each = {row.workpiece: row for row in group}
    row_of = sorted(one_each.values(), key=lambda r: (r.workpiece != master, r.serial))
    ids = [row.workpiece for row in row_of]
    lines = [line for rows in _by_step(group) for line in _lines(rows, ids)]
    return Pair(
        order=first.order,
        recipe=first.recipe,
        component=first.component,
        component_name=first.component_name,
        pieces=tuple(
            PairPiece(
                workpiece=row.workpiece,
                slot=row.slot,
                mark=row.mark,
                serial=row.serial,
                remade=bool(row.remade_from),
                master=row.workpiece == master,
            )
            for row in row_of
        ),
        lines=tuple(lines),
    )


def _by_step(group: Iterable[PieceRow]) -> list[list[PieceRow]]:
    """The rows of each step, the step that was begun first first."""
    steps: dict[str, list[PieceRow]] = {}
    for row in sorted(group, key=_moment):
        steps.setdefault(row.step, []).append(row)
    return list(steps.values())


def _moment(row: PieceRow) -> float:
    if isinstance(row, StepRow | RestRow):
        return row.started_s
    return row.at_s if isinstance(row, GaugeRow) else 0.0


def _lines(rows: Sequence[PieceRow], ids: Sequence[str]) -> list[PairLine]:
    steps = {row.workpiece: row for row in rows if isinstance(row, StepRow)}
    rests = {row.workpiece: row for row in rows if isinstance(row, RestRow)}
    lines = []
    if any(row.forged for row in steps.values()):
        heats = [_heats(steps.get(piece)) for piece in ids]
        lines.append(_line(rows[0], HEATS, heats, LEAST_HEATS))
    works = [row.work_s or None if (row := steps.get(piece)) else None for piece in ids]
    if any(works):
        lines.append(_line(rows[0], WORK, works, LEAST_WORK_S, LEAST_WORK_SHARE))
    if rests:
        lines.append(_rest_line(rows[0], rests, ids))
    for what in dict.fromkeys(row.what for row in rows if isinstance(row, GaugeRow)):
        lines.extend(_gauge_line(rows, what, ids))
    return lines


def _heats(row: StepRow | None) -> float | None:
    return float(row.heats) if row is not None and row.heats else None


def _line(
    row: PieceRow,
    measure: str,
    values: Sequence[float | None],
    least: float,
    share: float = 0.0,
    what: str = "",
) -> PairLine:
    unlike, by = _furthest(values, least, share)
    return PairLine(
        step=row.step,
        row=row,
        measure=measure,
        what=what,
        values=tuple(values),
        unlike=unlike,
        by=by,
    )


def _furthest(
    values: Sequence[float | None], least: float, share: float
) -> tuple[int | None, float]:
    """The piece furthest from what it is held against; None where all are near enough."""
    known = [(i, value) for i, value in enumerate(values) if value is not None]
    if len(known) < 2:
        return None, 0.0
    best: tuple[int | None, float] = (None, 0.0)
    # Of two the second is held against the first, which is the master where there is one.
    for i, value in known[1:] if len(known) == 2 else known:
        against = median(other for j, other in known if j != i)
        off = value - against
        if abs(off) >= max(least, share * against) - 1e-9 and abs(off) > abs(best[1]):
            best = (i, off)
    return best


def _rest_line(row: PieceRow, rests: dict[str, RestRow], ids: Sequence[str]) -> PairLine:
    """A rest differs by its verdict, not by its length: longer than needed does no harm."""
    verdicts = tuple(rests[piece].verdict if piece in rests else "" for piece in ids)
    worst = next((i for i, p in enumerate(ids) if p in rests and rests[p].faulty), None)
    all_faulty = all(rest.faulty for rest in rests.values())
    return PairLine(
        step=row.step,
        row=next(iter(rests.values())),
        measure=REST,
        what="",
        values=tuple(rests[p].rested_s if p in rests else None for p in ids),
        verdicts=verdicts,
        unlike=None if all_faulty else worst,
    )


def _gauge_line(rows: Sequence[PieceRow], what: str, ids: Sequence[str]) -> list[PairLine]:
    gauged = {r.workpiece: r for r in rows if isinstance(r, GaugeRow) and r.what == what}
    values = [gauged[piece].mm if piece in gauged else None for piece in ids]
    if all(value is None for value in values):
        return []
    any_row = next(iter(gauged.values()))
    least = max(any_row.plus_mm, any_row.minus_mm) or GAUGE_MM
    # Just at the tolerance still fits.
    return [_line(any_row, GAUGE, values, least + 1e-6, what=what)]
