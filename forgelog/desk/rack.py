"""The rack as it is now: stock.toml, which stays the smith's, and what the journal says since."""

from __future__ import annotations

from forgelog.desk.clock import Clock
from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop
from forgelog.desk.writing import write_down
from forgelog.recipe.plain import did_you_mean, harmless, listed, quoted
from forgelog.trade.sections import Section, parse_section, show_section
from forgelog.units import UnitSystem, parse_length, show_length
from forgelog.work.bar import Bar
from forgelog.work.facts import OffcutKept, OffcutUsed
from forgelog.work.rack import next_label, rack_now
from forgelog.work.sawn import without_sawn
from forgelog.work.state import State

LONGEST_LABEL = 20


def rack(shop: Shop) -> tuple[Bar, ...]:
    """What lies on the rack now: bars as the smith wrote them, then offcuts, the oldest first.

    Bars that were sawn since are not there any more (`work.sawn.without_sawn` says until when).
    """
    return rack_now(without_sawn(shop.settings.bars, shop.state), shop.state)


def offcuts(shop: Shop) -> tuple[Bar, ...]:
    """The labelled offcuts that lie there now."""
    return tuple(bar for bar in rack(shop) if bar.offcut and bar.label)


def propose_label(shop: Shop) -> str:
    """A label for the next offcut, that none bears or ever bore."""
    return next_label(shop.settings.bars, shop.state)


def keep_offcut(
    shop: Shop,
    section: Section,
    long_mm: float,
    *,
    steel: str = "mild",
    label: str = "",
    where: str = "",
    clock: Clock | None = None,
) -> State:
    """Write down that the rest of a bar is back on the rack.

    Args:
        shop: The book, opened just now; open it again afterwards.
        section: The bar.
        long_mm: What is left of it. mm, > 0.
        steel: The steel.
        label: What is written on it; "" for the proposed one.
        where: Where it lies.
        clock: Of this machine where None.

    Raises:
        CannotDo: the label is borne already, or cannot be, or the disk does not take it.
    """
    label = " ".join(label.split()) or propose_label(shop)
    if len(label) > LONGEST_LABEL or not label.isprintable():
        raise CannotDo(f"{quoted(label)} is no label: write at most {LONGEST_LABEL} letters")
    if not long_mm > 0.0:
        raise CannotDo("an offcut is longer than nothing")
    if any(bar.label.casefold() == label.casefold() for bar in rack(shop)):
        raise CannotDo(
            f"{quoted(label)} lies on the rack already; {quoted(propose_label(shop))} is free"
        )
    kept = OffcutKept(label=label, section=section, long_mm=long_mm, steel=steel, where=where)
    return write_down(shop, kept, clock=clock)


def keep_in_words(
    shop: Shop,
    section: str,
    long: str,
    *,
    steel: str,
    label: str,
    where: str,
    clock: Clock | None = None,
) -> str:
    """Keep an offcut, as it is written in the shell.

    Returns:
        A line that says what to write on it.

    Raises:
        SectionError: the bar is none.
        UnitError: the length is none.
        CannotDo: as for `keep_offcut`.
    """
    bar, long_mm = parse_section(section), parse_length(long)
    keep_offcut(shop, bar, long_mm, steel=steel, label=label, where=where, clock=clock)
    kept = offcuts(shop.again())[-1]
    return f"write on it: {bar_words(kept, shop.settings.shop.units)}"


def rack_words(shop: Shop) -> tuple[str, ...]:
    """The rack in lines."""
    return tuple(bar_words(bar, shop.settings.shop.units) for bar in rack(shop))


def bar_words(bar: Bar, units: UnitSystem) -> str:
    """ "K3: 340 mm of 12 mm square, mild, box 2"; "2 bars of 6000 mm, 12 mm square, mild"."""
    long, section = show_length(bar.long_mm, units), show_section(bar.section, units)
    rest = ", ".join(filter(None, (harmless(bar.steel), harmless(bar.where))))
    if bar.offcut:
        many = f"{bar.count} of " if bar.count > 1 else ""
        return f"{harmless(bar.label) or 'no label'}: {many}{long} of {section}, {rest}"
    return f"{bar.count} {'bar' if bar.count == 1 else 'bars'} of {long}, {section}, {rest}"


def use_up(shop: Shop, label: str, *, clock: Clock | None = None) -> State:
    """Write down that a labelled offcut is gone.

    Args:
        shop: The book, opened just now; open it again afterwards.
        label: What is written on it; large and small letters count alike.
        clock: Of this machine where None.

    Raises:
        CannotDo: no offcut bears that label, or the disk does not take it.
    """
    known = [bar.label for bar in offcuts(shop)]
    found = next((one for one in known if one.casefold() == label.strip().casefold()), None)
    if found is None:
        words = f"no offcut on the rack is labelled {quoted(label)}"
        if known:
            words += f"; there are {listed([harmless(one) for one in known], 'and')}"
        hint = did_you_mean(label, known)
        raise CannotDo(f"{words}\n    {hint}" if hint else words)
    return write_down(shop, OffcutUsed(label=found), clock=clock)


def cut_words(cut_mm: float, over_mm: float, units: UnitSystem) -> str:
    """How a cut length came out: "115 mm came out 6 mm short: try 121 mm"."""
    cut = show_length(cut_mm, units)
    if over_mm == 0.0:
        return f"{cut} came out right"
    off = f"{show_length(abs(over_mm), units, fine=True)} {'long' if over_mm > 0 else 'short'}"
    return f"{cut} came out {off}: try {show_length(cut_mm - over_mm, units)}"
