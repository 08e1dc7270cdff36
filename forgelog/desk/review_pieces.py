"""What a review tells of pieces: rests kept and not kept, pieces spoilt, and other trouble."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.desk.review_facts import RemakeTold, RestsTold, RestTold, TroubleTold
from forgelog.desk.review_read import Past
from forgelog.desk.review_scope import Scope
from forgelog.desk.review_sums import Sums
from forgelog.desk.review_words import minutes, row_piece, row_rest, row_step
from forgelog.learn.rests import by_urgency
from forgelog.learn.rows import AGAIN, CRACKED, END_CUT_OFF, SCRAPPED, UNSURE, RestRow, SpoiltRow
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.trade.sections import show_section
from forgelog.units import UnitSystem, show_temperature

CYCLE_RISK = "coarse grain, a common cause of cracked tools (common practice)"
REST_RISK = "worked on too cold: cold shuts, cracks (common practice)"
DO_AGAIN = (
    "It is not hardened yet: normalise it again first (on the floor: something else, a step is "
    "not done after all)."
)
HARDENED = "It was hardened after that: look for cracks before it is used."


def tell_rests(past: Past, sums: Sums, scope: Scope) -> RestsTold:
    """How the rests went: those not kept with what they risk, lost normalising cycles first.

    Args:
        past: Its rests.
        sums: How many there were, also where not all of them are in `past`.
        scope: How much is told.
    """
    seen = by_urgency(rest for rest in past.rests if scope.takes(rest.recipe, rest.session))
    tally = sums.rests
    return RestsTold(
        kept=tally.kept,
        unsure=tally.unsure,
        short=tally.short,
        skipped=tally.skipped,
        broken=tally.broken,
        faults=tuple(_rest(past, rest, scope) for rest in seen if rest.faulty),
        doubts=tuple(
            _rest(past, rest, scope) for rest in seen if rest.verdict == UNSURE and not rest.faulty
        ),
        each=tuple(_each(past, scope)),
    )


def _each(past: Past, scope: Scope) -> Iterator[RestTold]:
    """Every rest of the pieces that rested in the shown session, or have a fault that is open."""
    spoken_of = {
        rest.workpiece
        for rest in past.rests
        if scope.takes(rest.recipe, rest.session)
        and (rest.session == past.shown or (rest.faulty and _open(past, rest)))
    }
    rows = sorted(past.rests, key=lambda r: (r.order, r.serial, r.nth))
    return (_rest(past, rest, scope) for rest in rows if rest.workpiece in spoken_of)


def _open(past: Past, rest: RestRow) -> bool:
    return not rest.over and past.orders[rest.order].closed is None


def _rest(past: Past, rest: RestRow, scope: Scope) -> RestTold:
    return RestTold(
        recipe=rest.recipe,
        workpiece=rest.workpiece,
        piece=row_piece(rest, past.orders),
        session=rest.session,
        step=rest.step,
        do=row_rest(rest, scope.units),
        until=harmless(rest.until),
        verdict=rest.verdict,
        normalising=rest.normalising,
        matters=rest.matters,
        open=_open(past, rest),
        hardened=rest.hardened,
        scrapped=rest.over,
        rested_min=None if rest.rested_s is None else minutes(rest.rested_s),
        needed_min=minutes(rest.needed_s) if rest.needed_s else None,
        low_min=minutes(rest.low_s) if rest.high_s else None,
        high_min=minutes(rest.high_s) if rest.high_s else None,
        section="" if rest.section is None else show_section(rest.section, scope.units),
        start_degc=None if rest.start_degc is None else round(rest.start_degc),
        to_degc=None if rest.timed or rest.degc is None else round(rest.degc),
        medium=harmless(rest.medium),
        by_sum=_by_sum(rest, scope.units),
        degc_at_end=None if rest.degc_at_end is None else round(rest.degc_at_end),
        broken_by=harmless(rest.broken_by),
        risk=_risk(rest, scope),
        advice=_advice(rest),
    )


def _by_sum(rest: RestRow, units: UnitSystem) -> str:
    parts = [show_section(rest.section, units)] if rest.section is not None else []
    if rest.start_degc is not None and rest.degc is not None and not rest.timed:
        start, to = show_temperature(rest.start_degc, units), show_temperature(rest.degc, units)
        parts.append(f"about {start} to {to}")
    if rest.start_degc is None or not parts:
        return ""
    return f"{', '.join(parts)} in {harmless(rest.medium)}"


def _risk(rest: RestRow, scope: Scope) -> str:
    if rest.normalising:
        return CYCLE_RISK
    return f"why it rests: {render(rest.why_rest, scope.units)}" if rest.why_rest else REST_RISK


def _advice(rest: RestRow) -> str:
    if not rest.lost_cycle or rest.over:
        return ""
    if rest.hardened:
        return HARDENED
    return DO_AGAIN if rest.hardens else ""


def tell_remakes(
    past: Past, scope: Scope, *, older: bool = True
) -> tuple[tuple[RemakeTold, ...], int]:
    """Pieces that were spoilt, the latest first, and how many are left out.

    Args:
        past: What went wrong in it.
        scope: How much is told.
        older: False leaves out those of closed orders that were not spoilt in the shown session.
    """
    every = [r for r in past.spoilt if r.kind == SCRAPPED and scope.takes(r.recipe, r.session)]
    spoilt = [
        row
        for row in every
        if older or past.orders[row.order].closed is None or row.session == past.shown
    ]
    told = tuple(
        RemakeTold(
            recipe=row.recipe,
            workpiece=row.workpiece,
            piece=row_piece(row, past.orders),
            step=row.step,
            do=row_step(row, scope.units) if row.step else "when it was finished",
            why=harmless(row.why),
            remade_as=row.remade_as,
            open=past.orders[row.order].closed is None,
            in_shown=row.session == past.shown,
        )
        for row in sorted(spoilt, key=lambda r: (-r.at_s, r.workpiece))
    )
    return told, len(every) - len(spoilt)


def tell_troubles(past: Past, scope: Scope) -> tuple[TroubleTold, ...]:
    """Pieces that had trouble and were worked on: burnt ends, cracks, steps done again."""
    return tuple(
        TroubleTold(
            recipe=row.recipe,
            workpiece=row.workpiece,
            piece=row_piece(row, past.orders),
            words=harmless(words),
        )
        for row in sorted(past.spoilt, key=lambda r: (r.order, r.serial, r.nth))
        if (words := _trouble(row))
        and past.orders[row.order].closed is None
        and scope.takes(row.recipe, row.session)
    )


def _trouble(row: SpoiltRow) -> str:
    """What is told of a piece that was worked on; "" where nothing is."""
    if row.kind == END_CUT_OFF:
        lost = "" if row.lost_mm is None else f", {row.lost_mm:g} mm lost"
        return f"{row.why} end cut off{lost}"
    if row.kind == CRACKED:
        return row.why or "cracked"
    return f"again: {row.why}" if row.kind == AGAIN and row.why else ""
