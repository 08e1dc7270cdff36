"""What the record says of causes: what spoilt work more than once, and what lost cycles led to."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.desk.review_facts import FindingTold
from forgelog.desk.review_read import Past
from forgelog.desk.review_scope import Scope
from forgelog.desk.review_words import counted, row_piece, row_step
from forgelog.learn.rows import AGAIN, CRACKED, KEPT, SCRAPPED, RestRow, SpoiltRow
from forgelog.recipe.plain import harmless, listed
from forgelog.recipe.prose import render
from forgelog.units import UnitSystem

_KINDS = {SCRAPPED: "scrapped", CRACKED: "cracked"}


def tell_causes(past: Past, scope: Scope) -> tuple[FindingTold, ...]:
    """Causes that spoilt work more than once, where the last time still matters."""
    return tuple(_causes(past, scope))


def _causes(past: Past, scope: Scope) -> Iterator[FindingTold]:
    groups: dict[str, list[SpoiltRow]] = {}
    for row in past.spoilt:
        if row.kind != AGAIN and scope.takes(row.recipe, row.session):
            groups.setdefault(cause_of(row).casefold(), []).append(row)
    for rows in sorted(groups.values(), key=lambda g: -g[-1].at_s):
        last = rows[-1]
        open_still = past.orders[last.order].closed is None
        if len({row.workpiece for row in rows}) < 2 or not (
            open_still or last.session == past.shown
        ):
            continue
        heat = f", in heat {last.heat}" if last.heat else ""
        steps: dict[tuple[str, str, int, int], SpoiltRow] = {}
        for row in rows:
            steps.setdefault((row.step, row.do, row.cycle, row.cycles), row)
        where = dict.fromkeys(
            row_step(row, scope.units) if row.step else "at the end" for row in steps.values()
        )
        yield FindingTold(
            kind="cause",
            words=f"{counted(len(rows), 'time')} {harmless(cause_of(last))}, at "
            f"{listed(where, 'and')}; the last: {row_piece(last, past.orders)}{heat}.",
            advice=_watch(past, last, scope),
        )


def cause_of(row: SpoiltRow) -> str:
    """Why, in the smith's words; else what it was."""
    return row.why or _KINDS.get(row.kind, row.kind)


def _watch(past: Past, row: SpoiltRow, scope: Scope) -> str:
    """What the recipe says to watch for at that step."""
    recipe = past.recipes.get(row.recipe)
    if recipe is None:
        return ""
    for component in recipe.components:
        for step in component.steps:
            if (component.id, step.id) == (row.component, row.step) and step.watch:
                return f"The recipe says to watch: {render(step.watch, scope.units)}"
    return ""


def tell_lesson(past: Past, units: UnitSystem) -> str:
    """What became of the last piece that went on with lost normalising cycles and was spoilt."""
    lost: dict[str, list[RestRow]] = {}
    for rest in past.lost:
        lost.setdefault(rest.workpiece, []).append(rest)
    for row in reversed(past.spoilt):
        if row.kind not in (SCRAPPED, CRACKED) or row.workpiece not in lost:
            continue
        before = [rest for rest in lost[row.workpiece] if rest.started_s <= row.at_s]
        if before:
            cycles = listed((f"{row_step(rest, units)} ({_how(rest)})" for rest in before), "and")
            at = f", at {row_step(row, units)}" if row.step else ""
            return (
                f"In your own record: {row_piece(row, past.orders)} went on after {cycles}, "
                f"and was {_KINDS[row.kind]}{at}: {harmless(cause_of(row))}."
            )
    return ""


def _how(rest: RestRow) -> str:
    return "not counting" if rest.verdict == KEPT else rest.verdict


def tell_good(past: Past) -> str:
    """What was good in the shown session; "" where there is nothing to tell of."""
    rests = [rest for rest in past.rests if rest.session == past.shown]
    steps = [s for s in past.steps if s.session == past.shown and s.heats and s.planned]
    parts = []
    if len(rests) > 1 and all(rest.verdict == KEPT for rest in rests):
        parts.append(f"all {len(rests)} rests were kept")
    fewer = sum((s.heats or 0) <= (s.planned or 0) for s in steps)
    if len(steps) > 1 and fewer * 2 >= len(steps):
        parts.append(f"{fewer} of {len(steps)} steps took no more heats than planned")
    if (rests or steps) and not any(row.session == past.shown for row in past.spoilt):
        parts.append("nothing was spoilt")
    return f"Good in this session: {listed(parts, 'and')}." if parts else ""
