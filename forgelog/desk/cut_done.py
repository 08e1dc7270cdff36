"""Bars that were sawn: written down for the rack and the next cut list, and taken back."""

from __future__ import annotations

from collections.abc import Iterable

from forgelog.book.device import tail
from forgelog.desk.clock import Clock
from forgelog.desk.cut import tell_bars, tell_cut
from forgelog.desk.cut_plan import SectionPlanned, plan_of_orders
from forgelog.desk.cut_told import BarTold, CutTold
from forgelog.desk.errors import CannotDo
from forgelog.desk.review_words import counted
from forgelog.desk.shop import Shop
from forgelog.desk.writing import write_down
from forgelog.money.cutting import NEW
from forgelog.recipe.plain import harmless
from forgelog.trade.sections import show_section
from forgelog.units import show_length
from forgelog.work.facts import (
    AnyFact,
    BarCut,
    BarNotCut,
    OffcutKept,
    OffcutUsed,
    SawnPieces,
)
from forgelog.work.sawn import listed_of
from forgelog.work.state import BarSawn


def cut_done(
    shop: Shop,
    orders: Iterable[str] = (),
    *,
    bars: Iterable[int] = (),
    expected: CutTold | None = None,
    clock: Clock | None = None,
) -> CutTold:
    """Write down that everything on the cut list, or some bars of it, was sawn as it says.

    Args:
        shop: The book, opened just now; open it again afterwards.
        orders: As for `cut_of`.
        bars: Numbers of bars in the list; none for all. The list that is left is worked out
            anew, so its numbers are others.
        expected: The whole list that was worked from; where the book gives another one by now,
            nothing is written down.
        clock: Of this machine where None.

    Returns:
        What was written down as sawn.

    Raises:
        CannotDo: there is nothing to cut or no such bar, the list has changed, or the disk does
            not take it.
    """
    planned = plan_of_orders(shop, orders)
    told = tell_cut(shop, planned)
    if expected is not None and told != expected:
        raise CannotDo("the cut list has changed since: look at it again before writing it down")
    if not told.pieces:
        raise CannotDo("there is nothing to cut")
    if numbers := tuple(bars):
        planned, told = tell_bars(shop, planned, numbers)
    facts = [
        fact
        for one, section in zip(planned.sections, told.sections, strict=True)
        for place, bar in enumerate(section.bars)
        for fact in _facts(shop, one, place, bar)
    ]
    write_down(shop, *facts, clock=clock)
    return told


def last_cuts(shop: Shop) -> tuple[BarSawn, ...]:
    """The bars that were written down as sawn last, all at one time."""
    sawn = shop.state.sawn
    return tuple(one for one in sawn if one.at_s == sawn[-1].at_s) if sawn else ()


def last_words(shop: Shop) -> str:
    """What `take_back` would take back: "3 bars (12 mm square, 25 x 8 mm flat)"; "" for nothing."""
    last = last_cuts(shop)
    if not last:
        return ""
    units = shop.settings.shop.units
    kinds = dict.fromkeys(show_section(one.cut.section, units) for one in last)
    return f"{counted(len(last), 'bar')} ({', '.join(kinds)})"


def take_back(shop: Shop, *, clock: Clock | None = None) -> str:
    """Take back what was last written down as sawn: rack, rests and blanks are as before.

    Returns:
        What was taken back.

    Raises:
        CannotDo: nothing is written down, a blank was taken up since, or a rest is gone from the
            rack since.
    """
    last = last_cuts(shop)
    if not last:
        raise CannotDo("no bar is written down as sawn")
    facts: list[AnyFact] = []
    for one in last:
        cut = one.cut
        if cut.rest_label:
            if cut.rest_label not in shop.state.offcuts:
                raise CannotDo(
                    f"its offcut {harmless(cut.rest_label)} is gone from the rack since: "
                    "this cannot be taken back any more"
                )
            facts.append(OffcutUsed(label=cut.rest_label))
        facts.append(BarNotCut(cut=cut.cut))
        if cut.kind == "offcut" and cut.label and not cut.listed:
            facts.append(
                OffcutKept(
                    label=cut.label,
                    section=cut.section,
                    long_mm=cut.long_mm,
                    steel=cut.steel,
                    where=cut.where,
                )
            )
    words = last_words(shop)
    write_down(shop, *facts, clock=clock)
    return words


def _facts(shop: Shop, one: SectionPlanned, place: int, told: BarTold) -> list[AnyFact]:
    """One bar that was sawn, and what becomes of its label and of its rest."""
    sawn = one.plan.bars[place]
    lying = one.bars[int(sawn.id)] if sawn.id else None
    labelled = lying is not None and lying.offcut and bool(lying.label)
    listed = 0
    if lying is not None and not labelled:
        listed = listed_of(shop.settings.bars, lying)
    facts: list[AnyFact] = [
        BarCut(
            cut=f"{shop.device.id}-{tail(8)}",
            section=lying.section if lying is not None else one.section,
            long_mm=sawn.long_mm,
            steel=lying.steel if lying is not None else one.steel,
            label=lying.label if lying is not None else "",
            where=lying.where if lying is not None else "",
            kind=sawn.kind if lying is not None else NEW,
            listed=listed,
            pieces=tuple(
                SawnPieces(
                    order=run.order,
                    component=run.component,
                    cut_mm=run.long_mm,
                    count=run.count,
                    workpieces=run.workpieces,
                )
                for run in told.runs
            ),
            rest_mm=told.rest_mm,
            rest_label=told.rest_label,
        )
    ]
    if labelled and lying is not None:
        facts.append(OffcutUsed(label=lying.label))
    if told.rest_label:
        facts.append(
            OffcutKept(
                label=told.rest_label,
                section=lying.section if lying is not None else one.section,
                long_mm=told.rest_mm,
                steel=lying.steel if lying is not None else one.steel,
                where=lying.where if lying is not None else "",
            )
        )
    return facts


def done_words(shop: Shop, told: CutTold) -> tuple[str, ...]:
    """What to write on which rest, after the sawing."""
    units = shop.settings.shop.units
    return tuple(
        f"write {bar.rest_label} on {show_length(bar.rest_mm, units)} of {section.section}"
        for section in told.sections
        for bar in section.bars
        if bar.rest_label
    )
