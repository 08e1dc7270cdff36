"""The rack: what the smith wrote down of it, and what came on it and went from it since."""

from __future__ import annotations

import re
from collections.abc import Iterable

import msgspec

from forgelog.trade.sections import Section
from forgelog.work.bar import Bar
from forgelog.work.changes import CannotBe, replace
from forgelog.work.facts import CutProved, OffcutKept, OffcutUsed
from forgelog.work.state import CutRecord, State

OURS = "K"
"""Labels that are proposed begin so: kept."""
SAME_MM = 1.0
"""Lengths told in mm and in inches are the same within this."""
_OURS = re.compile(rf"{OURS}(\d{{1,6}})", re.IGNORECASE)


def offcut_kept(state: State, fact: OffcutKept) -> State:
    """A rest of a bar is on the rack; its label is free again only once it is used up."""
    if fact.label in state.offcuts:
        raise CannotBe(f"there is an offcut {fact.label} on the rack already")
    if not (fact.label and fact.long_mm > 0.0):
        raise CannotBe("an offcut has a label and a length")
    kept = Bar(
        section=fact.section,
        long_mm=fact.long_mm,
        steel=fact.steel,
        label=fact.label,
        where=fact.where,
        offcut=True,
    )
    return replace(state, offcuts={**state.offcuts, fact.label: kept})  # type: ignore[no-any-return]


def offcut_used(state: State, fact: OffcutUsed) -> State:
    """It is gone. One that no fact has kept is one of the smith's own list."""
    if fact.label in state.offcuts:
        left = {label: bar for label, bar in state.offcuts.items() if label != fact.label}
        went = {**state.offcuts_gone, fact.label: state.offcuts_gone.get(fact.label, 0)}
        return replace(state, offcuts=left, offcuts_gone=went)  # type: ignore[no-any-return]
    went = {**state.offcuts_gone, fact.label: state.offcuts_gone.get(fact.label, 0) + 1}
    return replace(state, offcuts_gone=went)  # type: ignore[no-any-return]


def cut_proved(state: State, fact: CutProved) -> State:
    """How a cut length came out is kept; the last word on a component is the newest."""
    if not fact.cut_mm > 0.0 or fact.cut_mm - fact.over_mm <= 0.0:
        raise CannotBe("a cut length is above 0, and so is what it should have been")
    record = CutRecord(
        recipe=fact.recipe,
        component=fact.component,
        cut_mm=fact.cut_mm,
        over_mm=fact.over_mm,
        section=fact.section,
        asked_mm=fact.asked_mm,
        worked_for=fact.worked_for,
        at_s=state.moment.rest_s,
    )
    return replace(state, cuts=(*state.cuts, record))  # type: ignore[no-any-return]


def rack_now(written: Iterable[Bar], state: State) -> tuple[Bar, ...]:
    """What lies on the rack: the smith's own list, less the offcuts used up, and those kept since.

    Whole bars that were sawn are taken off before (`work.sawn.without_sawn`), not here.

    Args:
        written: Bars and offcuts as the smith wrote them.
        state: What stands; all sessions at the desk must be in it.

    Returns:
        Bars first as they were written, then offcuts, the oldest first.
    """
    bars: list[Bar] = []
    gone = dict(state.offcuts_gone)
    for bar in written:
        if bar.offcut and bar.label and gone.get(bar.label, 0) > 0:
            less = min(bar.count, gone[bar.label])
            gone[bar.label] -= less
            bar = msgspec.structs.replace(bar, count=bar.count - less)
        if bar.count > 0:
            bars.append(bar)
    return (*bars, *state.offcuts.values())


def next_label(written: Iterable[Bar], state: State) -> str:
    """A label that no offcut bears or ever bore: "K1", "K2"."""
    used = (*(bar.label for bar in written), *state.offcuts, *state.offcuts_gone)
    numbers = [int(found[1]) for label in used if (found := _OURS.fullmatch(label.strip()))]
    return f"{OURS}{max(numbers, default=0) + 1}"


def last_cut(
    state: State, recipe: str, component: str, section: Section, asked_mm: float
) -> CutRecord | None:
    """The newest proof of a cut length; None where there is none.

    Args:
        state: What stands.
        recipe: Id of the recipe.
        component: Id of the component.
        section: The bar; a length proved on another bar says nothing of this one.
        asked_mm: What the recipe tells to cut now; a length proved at other sizes says nothing.
    """
    for cut in reversed(state.cuts):
        if (cut.recipe, cut.component, cut.section) == (recipe, component, section) and (
            abs(cut.asked_mm - asked_mm) <= SAME_MM
        ):
            return cut
    return None
