"""Steels by the names that smiths call them: heats for forging, normalising, hardening, temper.

Every figure carries its source; where sources differ the span reaches over all of them. The
maker's own sheet comes before any of these, and a test piece before that.
"""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import pairwise

import msgspec

from forgelog.units import ReadError


class SteelError(ReadError):
    """A name that is no steel of the table."""


class Span(msgspec.Struct, frozen=True, kw_only=True):
    """A figure that reaches from low to high, and where it comes from."""

    low: float
    high: float
    source: str


class Grade(msgspec.Struct, frozen=True, kw_only=True):
    """What is known of one steel. Temperatures in degC, analysis in per cent."""

    id: str
    name: str
    also: tuple[str, ...] = ()
    """Other spellings."""
    hardenable: bool | None = None
    """None where it is not known what the steel is."""
    air_hardening: bool = False
    """True where it hardens in still air, so that it is outside the sums of normalising."""
    changes: bool = True
    """False of steel that has no change on heating, so that it is not normalised."""
    analysis: dict[str, tuple[float, float]] = {}
    analysis_source: str = ""
    nominal: dict[str, float] = {}
    """A middling analysis for the formulas."""
    start: Span | None = None
    """Hottest forging heat."""
    stop: Span | None = None
    """Where forging stops."""
    normalise: Span | None = None
    harden: Span | None = None
    quench: tuple[str, ...] = ()
    """The usual first."""
    quench_source: str = ""
    temper: Span | None = None
    hardness: tuple[tuple[str, dict[int, float]], ...] = ()
    """HRC by temper in degC, each table with its source."""
    note: str = ""


class Critical(msgspec.Struct, frozen=True, kw_only=True):
    """Where a grade changes on heating, as far apart as the formulas put it. degC."""

    ac1: Span
    ac3: Span
    """To be above for normalising; Accm from 0.77 % carbon up."""


def grade(name: str) -> Grade:
    """Look up a steel: "mild", "1045", "C45", "AISI 5160", "O-1", "unknown".

    Raises:
        SteelError: no such steel in the table; says what is near.
    """
    found = find_grade(name)
    if found is None:
        from difflib import get_close_matches

        ids = {_key(one.id): one.id for one in grades()}
        near = get_close_matches(_key(name[:60]), list(ids), n=1, cutoff=0.7)
        hint = ids[near[0]] if near else ""
        known = ", ".join(one.id for one in grades())
        raise SteelError(name, "is no steel of the table", f"one of {known}", hint)
    return found


def find_grade(name: str) -> Grade | None:
    """The steel of that name, or None; spaces, dashes and capitals do not matter."""
    if not name:
        return None
    plain = next((one for one in grades() if one.id == name), None)
    return plain or _by_key().get(_key(name[:60]))


def grades() -> tuple[Grade, ...]:
    """Every steel of the table."""
    from forgelog.trade.steel_grades import GRADES

    return GRADES


def hardenable(name: str) -> bool | None:
    """Whether a steel hardens when it is quenched; None where that is not known.

    Unknown steel is not hardened before a test piece has shown what it does.
    """
    found = find_grade(name)
    return found.hardenable if found else None


def critical_of(steel: Grade) -> Critical | None:
    """Ac1 and Ac3 of a grade by the formulas, or None where it has none, or no analysis is known.

    Source: Andrews 1965 (short and long), Grange 1961, Eldis, for its middling analysis. From
    0.60 % carbon up, where Andrews' Ac3 ends, Ac3 lies between Ac1 and what the formulas give.
    """
    from forgelog.trade import critical

    analysis = steel.nominal
    if not analysis or not steel.changes:
        return None
    firsts = (
        critical.andrews_ac1(analysis),
        critical.grange_ac1(analysis),
        critical.eldis_ac1(analysis),
    )
    ac1 = Span(low=min(firsts), high=max(firsts), source="Andrews 1965, Grange 1961, Eldis")
    if analysis["C"] >= 0.77:
        top = critical.accm(analysis)
        line = Span(low=ac1.low, high=max(ac1.high, top), source="Ac1 and the line of Accm")
        return Critical(ac1=ac1, ac3=line)
    thirds = (
        critical.andrews_ac3(analysis),
        critical.andrews_ac3_long(analysis),
        critical.grange_ac3(analysis),
        critical.eldis_ac3(analysis),
    )
    low = max(min(thirds), ac1.low)
    ac3 = Span(low=low, high=max(*thirds, low), source="Andrews 1965, Grange 1961, Eldis")
    return Critical(ac1=ac1, ac3=ac3)


def through_degc(name: str) -> float | None:
    """The heat above which a steel has changed all through, degC: the top of its Ac3 span.

    None where the steel is not known, or has no change.
    """
    found = find_grade(name)
    both = critical_of(found) if found else None
    return both.ac3.high if both else None


def temper_hrc(steel: Grade, degc: float) -> Span | None:
    """Hardness after a temper, HRC, as far apart as the tables put it; None where none reaches.

    A guide for a section that hardened through; always tested on a scrap.
    """
    found: list[float] = []
    names: list[str] = []
    for source, table in steel.hardness:
        heats = sorted(table)
        for low, high in pairwise(heats):
            if low <= degc <= high:
                share = (degc - low) / (high - low)
                found.append(table[low] + share * (table[high] - table[low]))
                names.append(source)
                break
    if not found:
        return None
    return Span(low=min(found), high=max(found), source="; ".join(dict.fromkeys(names)))


def _key(name: str) -> str:
    text = re.sub(r"\b(aisi|sae|en|astm|steel|grade)\b", "", name.lower())
    return re.sub(r"[^a-z0-9]", "", text)


@lru_cache(maxsize=1)
def _by_key() -> dict[str, Grade]:
    return {_key(name): one for one in grades() for name in (one.id, one.name, *one.also)}
