"""Steels: heats for forging and heat treatment, changes by named formulas, hardness."""

from __future__ import annotations

import re

from forgelog.desk.sums.answer import Answer, Row
from forgelog.desk.sums.asking import Asked, CannotSum, Field, Sum
from forgelog.trade import critical
from forgelog.trade.steels import Grade, Span, find_grade, grade, grades, temper_hrc

_ELEMENTS = ("C", "Si", "Mn", "P", "S", "Cr", "Mo", "Ni", "V", "W", "Cu", "Al", "As", "Ti", "N")
_MOST_PERCENT = {"C": 2.0}
_NO_PROOF = "the maker's own sheet comes before these, and a test piece before that"


def _steel(asked: Asked) -> Answer:
    text = asked.word("steel")
    analysis = _composition(text)
    if analysis is not None:
        rows = _changes(analysis)
        note = (
            "the formulas are for plain carbon and low-alloy steels; they differ by 10 to 40 degC"
        )
        return Answer(text, rows, _FORMULAS, note, _NO_PROOF)
    found = grade(text)
    return _of_grade(found, asked.maybe("temper"))


_FORMULAS = "Andrews 1965, Grange 1961, Eldis (in Barralis and Maeder 1982)"


def _of_grade(found: Grade, temper: float | None) -> Answer:
    rows: list[Row] = []
    if found.start is not None and found.stop is not None:
        whole = {"start": found.start.low, "stop": found.stop.high}
        rows.append(Row("", "forge it from", [whole["start"], whole["stop"]], "temperature"))
        rows.append(Row("forging_range_degc", "", whole))
    rows.append(Row("name", "steel", found.name))
    sources: list[str] = []

    def add(key: str, words: str, span: Span | None) -> None:
        if span is not None:
            value = {"low": span.low, "high": span.high, "source": span.source}
            rows.append(Row(f"{key}_degc", "", value))
            rows.append(Row("", words, [span.low, span.high], "temperature"))
            sources.append(span.source)

    add("forge_start", "forging starts, at most", found.start)
    add("forge_stop", "and stops at", found.stop)
    add("normalise", "normalise at", found.normalise)
    add("harden", "harden at", found.harden)
    if found.quench:
        rows.append(Row("quench", "", list(found.quench)))
        rows.append(Row("", "quench in", ", ".join(found.quench)))
        sources.append(found.quench_source)
    add("temper", "temper at", found.temper)
    rows.append(Row("hardenable", "hardens", found.hardenable))
    if found.air_hardening:
        rows.append(Row("air_hardening", "hardens in air", True))
    if found.nominal and found.changes:
        rows.extend(_changes(found.nominal))
        sources.append(_FORMULAS)
    rows.extend(_hardness(found, temper))
    if found.analysis:
        listed = {name: list(limits) for name, limits in found.analysis.items()}
        rows.append(Row("analysis_percent", "", listed))
        words = ", ".join(
            f"{name} {low:g}-{high:g}" if low else f"{name} to {high:g}"
            for name, (low, high) in found.analysis.items()
        )
        rows.append(Row("", "analysis, per cent", words))
        sources.append(found.analysis_source)
    note = found.note or "where sources differ, the range reaches over all of them"
    source = "; ".join(dict.fromkeys(part for part in sources if part)) or "no source"
    return Answer(found.id, tuple(rows), source, note, _NO_PROOF)


def _changes(analysis: dict[str, float]) -> tuple[Row, ...]:
    ac1 = {
        "Andrews": critical.andrews_ac1(analysis),
        "Grange": critical.grange_ac1(analysis),
        "Eldis": critical.eldis_ac1(analysis),
    }
    ac3 = {
        "Andrews": critical.andrews_ac3(analysis),
        "Andrews long": critical.andrews_ac3_long(analysis),
        "Grange": critical.grange_ac3(analysis),
        "Eldis": critical.eldis_ac3(analysis),
    }
    ms = {
        "Andrews": critical.martensite_start(analysis),
        "Andrews product": critical.martensite_start_product(analysis),
    }
    rows: list[Row] = []
    for key, words, table in (
        ("Ac1_degc", "begins to change, Ac1", ac1),
        ("Ac3_degc", "changed all through, Ac3", ac3),
        ("Ms_degc", "martensite begins, Ms", ms),
    ):
        low, high = min(table.values()), max(table.values())
        rows.append(Row(key, "", {"low": low, "high": high, **table}))
        rows.append(Row("", words, [low, high], "temperature"))
    carbon = analysis.get("C", 0.0)
    if carbon >= 0.77:
        rows.append(Row("Accm_degc", "carbide gone, Accm", critical.accm(analysis), "temperature"))
    cev = critical.carbon_equivalent(analysis)
    rows.append(Row("carbon_equivalent_percent", "carbon equivalent, IIW", cev, "analysis"))
    if carbon >= 0.6:
        rows.append(Row("", "Ac3 of the formulas", "ends at 0.60 % carbon; take it as a guide"))
    return tuple(rows)


def _hardness(found: Grade, temper: float | None) -> list[Row]:
    rows: list[Row] = []
    if temper is not None:
        span = temper_hrc(found, temper)
        if span is None:
            raise CannotSum(f"no table has the hardness of {found.id} tempered at {temper:g} degC")
        table = {"low": span.low, "high": span.high, "source": span.source}
        rows.append(Row("hardness_hrc", "", {**table, "temper_degc": temper}))
        rows.append(Row("", f"tempered at {temper:g} degC", [span.low, span.high], "hardness"))
    if found.hardness:
        tables = [{"source": source, "hrc_by_degc": table} for source, table in found.hardness]
        rows.append(Row("temper_table", "", tables))
        heats = sorted({degc for _, table in found.hardness for degc in table})
        last = -100
        for degc in heats:
            one = temper_hrc(found, degc)
            # 149 and 150 of two tables are one line
            if one is not None and degc - last > 4:
                last = degc
                words = f"temper {degc} degC"
                rows.append(Row("", words, [one.low, one.high], "hardness"))
    return rows


def _composition(text: str) -> dict[str, float] | None:
    """An analysis such as "C 0.45 Mn 0.65" or "0.45 C, 0.65 Mn"; None of a grade's name."""
    if find_grade(text) is not None:
        return None
    sign = "|".join(sorted(_ELEMENTS, key=len, reverse=True))
    body = text.replace(",", " ").replace("%", " ").replace("=", " ")
    number = r"(\d?\.\d{1,4}|\d{1,2}(?:\.\d{1,4})?)"
    found: dict[str, float] = {}
    for pattern, name_at in ((rf"({sign}) ?{number}", 1), (rf"{number} ?({sign})", 2)):
        if re.fullmatch(rf"(?:\s*(?:{pattern})\s*)+", body, re.IGNORECASE):
            for match in re.finditer(pattern, body, re.IGNORECASE):
                name = next(one for one in _ELEMENTS if one.lower() == match[name_at].lower())
                if name in found:
                    raise CannotSum(f"{name} stands there twice")
                found[name] = float(match[3 - name_at])
            break
    if not found:
        return None
    if "C" not in found:
        raise CannotSum("the analysis does not say how much carbon: C 0.45 Mn 0.65 Si 0.25")
    for name, percent in found.items():
        most = _MOST_PERCENT.get(name, 6.0)
        if percent > most:
            raise CannotSum(f"{name} is {percent:g} %; the formulas end at {most:g} %")
    return found


SUMS = (
    Sum(
        "steel",
        "Heats for forging and heat treatment, changes by named formulas, hardness by temper.",
        (
            Field(
                name="steel",
                says="a grade or an analysis",
                kind="text",
                needed=True,
                bare=True,
                usual=tuple(one.id for one in grades() if one.id != "unknown"),
            ),
            Field(
                name="temper",
                says="hardness after a temper at this heat",
                kind="temperature",
                usual=("205 degC", "230 degC", "260 degC", "315 degC", "370 degC", "480 degC"),
            ),
        ),
        ("1045", '"C 0.45 Mn 0.65 Si 0.25"', 'O1 --temper "205 degC"'),
        _steel,
    ),
)
