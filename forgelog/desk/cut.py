"""The cut list: which piece is sawn from which bar, in which order, and what is to be bought."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import count

import msgspec

from forgelog.desk.cut_plan import CutPlanned, SectionPlanned, plan_of_orders, saw_for
from forgelog.desk.cut_substitutes import substitutes_for
from forgelog.desk.cut_told import (
    BarTold,
    CutTold,
    OrderTold,
    RunTold,
    SectionTold,
    taken_words,
)
from forgelog.desk.cut_wanted import Wanted
from forgelog.desk.errors import CannotDo
from forgelog.desk.rack import propose_label
from forgelog.desk.review_words import counted
from forgelog.desk.shop import Shop
from forgelog.money.cutting import NEW, OFFCUT, Saw, SawnBar, rounded_up_mm
from forgelog.recipe.plain import harmless
from forgelog.trade.bars import bar_mass_kg
from forgelog.trade.sections import Section, show_section, write_section
from forgelog.units import UnitSystem, show_length, show_mass
from forgelog.work.bar import Bar
from forgelog.work.rack import OURS


def cut_of(shop: Shop, orders: Iterable[str] = ()) -> CutTold:
    """The cut list of some orders.

    Args:
        shop: The book, opened just now.
        orders: Ids of orders; none for all that are open and not held.

    Raises:
        CannotDo: an order is unknown or closed.
    """
    return tell_cut(shop, plan_of_orders(shop, orders))


def tell_cut(shop: Shop, planned: CutPlanned) -> CutTold:
    """The cut list in words."""
    return _told(shop, planned, _labels(shop), count(1))


def tell_bars(
    shop: Shop, planned: CutPlanned, numbers: Iterable[int]
) -> tuple[CutPlanned, CutTold]:
    """Of a cut list only some bars, under the numbers and labels that the whole list gives them.

    Args:
        shop: The book, opened just now.
        planned: The whole list.
        numbers: Of bars, as the whole list tells them.

    Raises:
        CannotDo: the list has no bar of such a number.
    """
    told = tell_cut(shop, planned)
    chosen = set(numbers)
    for number in sorted(chosen):
        if not 1 <= number <= len(told.bars):
            has = f"has bars 1 to {len(told.bars)}" if told.bars else "has no bar"
            raise CannotDo(f"there is no bar {number} in the list: it {has}")
    sections = []
    for one, section in zip(planned.sections, told.sections, strict=True):
        pairs = zip(one.plan.bars, section.bars, strict=True)
        bars = tuple(sawn for sawn, bar in pairs if bar.number in chosen)
        plan = msgspec.structs.replace(one.plan, bars=bars, lacking=())
        if bars:
            sections.append(msgspec.structs.replace(one, plan=plan))
    part = msgspec.structs.replace(planned, sections=tuple(sections))
    mine = [bar for bar in told.bars if bar.number in chosen]
    labels = iter([bar.rest_label for bar in mine if bar.rest_label])
    return part, _told(shop, part, labels, iter([bar.number for bar in mine]))


def _told(
    shop: Shop, planned: CutPlanned, labels: Iterator[str], numbers: Iterator[int]
) -> CutTold:
    units = shop.settings.shop.units
    saw = saw_for(shop.settings.shop.saw, units)
    sections = tuple(_section(shop, one, saw, labels, numbers) for one in planned.sections)
    kg = sum(section.mass_kg for section in sections)
    pieces = sum(section.pieces for section in sections)
    cut = {w.order.id: w.order for s in planned.sections for w in s.wanted}
    kerf_mm = rounded_up_mm(saw.kerf_mm, saw.grain_mm)
    buy = tuple(
        f"{section.section}, {section.steel}: {section.buy_words}"
        for section in sections
        if section.buy
    )
    return CutTold(
        orders=tuple(
            OrderTold(id=o.id, label=harmless(o.label), title=harmless(o.title))
            for o in cut.values()
        ),
        sections=sections,
        pieces=pieces,
        mass_kg=kg,
        mass=show_mass(kg, units),
        kerf_mm=kerf_mm,
        kerf=_long(kerf_mm, units),
        least_mm=saw.least_mm,
        least=show_length(saw.least_mm, units),
        bar_mm=saw.new_mm,
        bar=show_length(saw.new_mm, units),
        buy=buy,
        unsized=tuple(_unsized(planned, units)),
        left_out=planned.left_out,
        notes=tuple(_notes(planned, units)),
        first=_first(sections, planned),
    )


def _section(
    shop: Shop, one: SectionPlanned, saw: Saw, labels: Iterator[str], numbers: Iterator[int]
) -> SectionTold:
    units = shop.settings.shop.units
    bars = tuple(_bar(one, bar, saw, units, labels, next(numbers)) for bar in one.plan.bars)
    needed = sum(cut.long_mm * cut.count for bar in one.plan.bars for cut in bar.cuts)
    new = one.plan.new
    buy_kg = bar_mass_kg(one.section, saw.new_mm) * new if new else 0.0
    kg = bar_mass_kg(one.section, needed) if needed else 0.0
    bought = f"{counted(new, 'bar')} of {show_length(saw.new_mm, units)}"
    return SectionTold(
        section=show_section(one.section, units),
        section_written=write_section(one.section),
        steel=harmless(one.steel),
        bars=bars,
        pieces=sum(bar.pieces for bar in bars),
        needed_mm=needed,
        needed=_long(needed, units),
        mass_kg=kg,
        mass=show_mass(kg, units),
        buy=new,
        buy_mm=saw.new_mm,
        buy_kg=buy_kg,
        buy_words=f"{bought}, {show_mass(buy_kg, units)}" if new else "",
        lacking=tuple(_lacking(one, saw, units)),
        notes=(*_section_notes(one, units), *substitutes_for(shop, one)),
    )


def _bar(
    one: SectionPlanned,
    sawn: SawnBar,
    saw: Saw,
    units: UnitSystem,
    labels: Iterator[str],
    number: int,
) -> BarTold:
    grain = saw.grain_mm
    kerf_mm = rounded_up_mm(saw.kerf_mm, grain)
    lying = one.bars[int(sawn.id)] if sawn.id else None
    runs = []
    at_mm = 0.0
    given: dict[str, int] = {}
    for cut in sawn.cuts:
        marks = []
        for _ in range(cut.count):
            at_mm += cut.long_mm
            marks.append(round(at_mm, 6))
            at_mm += kerf_mm
        wanted = one.wanted[int(cut.id)]
        before = _sawn_before(one, sawn, cut.id) + given.get(cut.id, 0)
        given[cut.id] = given.get(cut.id, 0) + cut.count
        runs.append(
            _run(wanted, cut.long_mm, marks, wanted.workpieces[before : before + cut.count], units)
        )
    useful = sawn.rest_mm > 0 and sawn.rest_mm >= saw.least_mm
    label = next(labels) if useful else ""
    all_kerfs = kerf_mm * sawn.saw_cuts
    return BarTold(
        number=number,
        kind=sawn.kind,
        words=_bar_words(sawn, lying, units),
        label=harmless(lying.label) if lying is not None else "",
        where=harmless(lying.where) if lying is not None else "",
        long_mm=sawn.long_mm,
        long=show_length(sawn.long_mm, units),
        runs=tuple(runs),
        cuts=sawn.saw_cuts,
        kerf_mm=all_kerfs,
        kerf=_long(all_kerfs, units),
        rest_mm=sawn.rest_mm,
        rest=_long(sawn.rest_mm, units) if sawn.rest_mm else "",
        rest_label=label,
        rest_words=_rest_words(sawn, label, units),
    )


def _sawn_before(one: SectionPlanned, sawn: SawnBar, piece: str) -> int:
    """How many of these pieces come from bars that are taken earlier."""
    many = 0
    for bar in one.plan.bars:
        if bar is sawn:
            break
        many += sum(cut.count for cut in bar.cuts if cut.id == piece)
    return many


def _run(
    wanted: Wanted,
    long_mm: float,
    marks: list[float],
    workpieces: tuple[str, ...],
    units: UnitSystem,
) -> RunTold:
    stock = wanted.stock
    label, name = harmless(wanted.order.label), harmless(wanted.component.name)
    many = f"{len(marks)} of " if len(marks) > 1 else ""
    notes = []
    if stock.cut_mm is None:
        notes.append("by the sum")
    elif stock.planned is not None:
        notes.append("by area from the proved length")
    if stock.grip_mm:
        grip = show_length(stock.grip_mm, units)
        each = " of each" if len(marks) > 1 else ""
        notes.append(f"{grip}{each} are grip, cut off afterwards")
    return RunTold(
        order=wanted.order.id,
        label=label,
        component=wanted.component.id,
        name=name,
        count=len(marks),
        long_mm=long_mm,
        long=_long(long_mm, units),
        marks_mm=tuple(marks),
        marks=tuple(_long(mark, units) for mark in marks),
        workpieces=workpieces,
        grip_mm=stock.grip_mm,
        proved=stock.cut_mm is not None,
        words=f"{many}{_long(long_mm, units)}: {name} ({label})",
        note="; ".join(notes),
    )


def _bar_words(sawn: SawnBar, lying: Bar | None, units: UnitSystem) -> str:
    long = show_length(sawn.long_mm, units)
    if sawn.kind == NEW or lying is None:
        return f"new bar of {long}"
    where = f" ({harmless(lying.where)})" if lying.where else ""
    label = f" {harmless(lying.label)}" if lying.label else ""
    if sawn.kind == OFFCUT:
        return f"offcut{label}, {long}{where}"
    return f"bar{label} of {long}{where}"


def _rest_words(sawn: SawnBar, label: str, units: UnitSystem) -> str:
    if not sawn.rest_mm:
        return "nothing left over"
    rest = f"left over: {_long(sawn.rest_mm, units)}"
    return f"{rest}; write {label} on it" if label else f"{rest}, too short to keep"


def _lacking(one: SectionPlanned, saw: Saw, units: UnitSystem) -> Iterator[str]:
    for piece in one.plan.lacking:
        wanted = one.wanted[int(piece.id)]
        many = f"{piece.count} of " if piece.count > 1 else ""
        what = f"{harmless(wanted.component.name)} ({harmless(wanted.order.label)})"
        long = _long(rounded_up_mm(piece.long_mm, saw.grain_mm), units)
        new = show_length(saw.new_mm, units)
        yield (
            f"{what}, {many}{long}: longer than a new bar ({new}) and than any left on the rack. "
            "Get a longer bar and list it in stock.toml, or forge it from two and weld"
        )


def _section_notes(one: SectionPlanned, units: UnitSystem) -> Iterator[str]:
    if not one.bars:
        yield "nothing of this bar is on the rack"
    if not one.plan.fewest:
        yield "one bar fewer was searched for and not found; it is not proved that none would do"
    for wanted in one.wanted:
        stock = wanted.stock
        if stock.cut_mm is None or stock.volume_mm3 <= 0:
            continue
        name = f"{harmless(wanted.component.name)} ({harmless(wanted.order.label)})"
        if stock.sum_mm > stock.cut_mm * 1.02:
            proved, by_sum = (show_length(mm, units) for mm in (stock.cut_mm, stock.sum_mm))
            yield f"{name} is cut {proved}, which proved itself; the sum says {by_sum}"


def _unsized(planned: CutPlanned, units: UnitSystem) -> Iterator[str]:
    for one in planned.all_wanted:
        name = f"{harmless(one.component.name)} ({harmless(one.order.label)})"
        if one.to_cut > 0 and one.stock.section.kind == "sheet":
            yield f"{name}: {one.to_cut} from sheet, which is not in a list of bars"
        elif one.to_cut > 0 and not one.long_mm:
            bar = show_section(one.stock.section, units)
            yield f"{name}: {one.to_cut} from {bar}; the recipe gives no length"


def _notes(planned: CutPlanned, units: UnitSystem) -> Iterator[str]:
    for one in planned.all_wanted:
        name = f"{harmless(one.component.name)} ({harmless(one.order.label)})"
        if one.ready:
            yield f"{name}: {counted(one.ready, 'blank')} sawn already"
        for blank in one.unfit:
            bar = show_section(blank.section, units)
            yield (
                f"{name}: {blank.count} were sawn of {bar}, {_long(blank.cut_mm, units)}; wanted "
                f"now is {_wanted_words(one.stock.section, one.long_mm, units)}, so they are "
                "cut anew"
            )
        if one.order.held is not None and one.to_cut:
            yield f"{harmless(one.order.label)} is held ({harmless(one.order.held)})"


def _wanted_words(section: Section, long_mm: float, units: UnitSystem) -> str:
    return f"{show_section(section, units)}, {_long(long_mm, units)}"


def _first(sections: tuple[SectionTold, ...], planned: CutPlanned) -> str:
    pieces = sum(section.pieces for section in sections)
    lacking = sum(len(section.lacking) for section in sections)
    if not pieces and not lacking:
        if any(one.ready for one in planned.all_wanted):
            return "Nothing is left to cut: all of it lies sawn or was begun."
        return "There is nothing to cut."
    bars = [bar for section in sections for bar in section.bars]
    buy = sum(section.buy for section in sections)
    words = counted(pieces, "piece") + (f" from {taken_words(bars)}" if bars else "")
    words += f"; buy {counted(buy, 'bar')}" if buy else "; nothing is to be bought"
    if lacking:
        words += ". Some pieces are longer than any bar"
    return f"{words}."


def _labels(shop: Shop) -> Iterator[str]:
    """Labels for rests, that none bears or ever bore, one after the other."""
    number = int(propose_label(shop).removeprefix(OURS))
    while True:
        yield f"{OURS}{number}"
        number += 1


def _long(mm: float, units: UnitSystem) -> str:
    return show_length(mm, units, fine=True)
