"""Sessions, steps and rests as plain tables, for a spreadsheet or a notebook."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import msgspec

from forgelog.desk.errors import CannotDo
from forgelog.desk.indexed import Index, ask_index
from forgelog.desk.shop import Shop
from forgelog.learn.rows import PieceRow, RestRow, SessionRow, StepRow
from forgelog.recipe.plain import did_you_mean, harmless, listed, quoted
from forgelog.recipe.prose import render
from forgelog.trade.sections import show_section
from forgelog.units import UnitSystem

Value = str | int | float | bool | None
_FORMULA = ("=", "+", "-", "@")


class Column(msgspec.Struct, frozen=True):
    """One column of a table."""

    name: str
    """Ends in its unit, where it has one."""
    says: str
    of: Callable[[Any], Value]


class Table(msgspec.Struct, frozen=True, kw_only=True):
    """A table: its columns, and what stands in them."""

    name: str
    says: str
    columns: tuple[Column, ...]


def _column(name: str, says: str, of: Callable[[Any], Value] | None = None) -> Column:
    return Column(name, says, of or (lambda row: getattr(row, name)))


def _words(text: str) -> str:
    return harmless(render(text, UnitSystem.MM))


def _minutes(seconds: float | None) -> float | None:
    return None if seconds is None else round(seconds / 60, 2)


def _degc(degc: float | None) -> float | None:
    return None if degc is None else round(degc, 1)


def _moment(at_s: float, offset_min: int = 0) -> str:
    zone = timezone(timedelta(minutes=offset_min)) if offset_min else UTC
    return datetime.fromtimestamp(at_s, zone).isoformat(timespec="seconds")


def _section(row: StepRow | RestRow) -> str:
    return show_section(row.section, UnitSystem.MM) if row.section is not None else ""


_PIECE = (
    _column("order", "id of the order"),
    _column("workpiece", "id of the workpiece: order, component, serial"),
    _column("recipe", "id of the recipe that it follows"),
    _column("revision", "the recipe's label", lambda row: _words(row.revision)),
    _column("component", "id of the component"),
    _column("mark", "hand or variant; empty where all are alike", lambda row: _words(row.mark)),
    _column("remade_from", "the spoilt piece in whose stead it is made"),
    _column("step", "id of the step"),
    _column("do", "what the step does", lambda row: _words(row.do)),
    _column("cycle", "of a normalising step: which cycle, from 1; 0 otherwise"),
    _column("session", "id of the session in which it ended"),
    _column("practice", "true in a practice session"),
)

TABLES = {
    table.name: table
    for table in (
        Table(
            name="sessions",
            says="one row a session at the fire",
            columns=(
                _column("session", "its id"),
                _column("practice", "true in a practice session"),
                _column("device", "id of the device"),
                _column("who", "who worked, as shop.toml had it", lambda row: _words(row.who)),
                _column(
                    "began",
                    "local time, ISO 8601",
                    lambda r: _moment(r.began_s, r.offset_min),
                ),
                _column("ended", "its last press", lambda r: _moment(r.ended_s, r.offset_min)),
                _column("continues", "the session that was cut off and went on here"),
                _column("presses", "how many presses it has"),
                _column("heats", "heats counted in it"),
                _column("worked_min", "on the work clock", lambda row: _minutes(row.worked_s)),
                _column("fire", "the shop's own name of the fire", lambda row: _words(row.fire)),
                _column("method", "hand, striker, power or press, as it began"),
                _column("orders", "ids of its orders, with spaces", lambda r: " ".join(r.orders)),
            ),
        ),
        Table(
            name="steps",
            says="one row a step that a piece has behind it",
            columns=(
                *_PIECE,
                _column("kind", "kind of the step: forge, bench, normalise and so on"),
                _column("method", "hand, striker, power or press"),
                _column("heats", "heats that it took; empty where nobody pressed or told them"),
                _column("planned_heats", "planned when it was done", lambda row: row.planned),
                _column("planned_min", "of cold work", lambda row: _minutes(row.minutes_s)),
                _column(
                    "shared_heat",
                    "true: one of its heats counts in a neighbour step, too",
                    lambda row: row.shared,
                ),
                _column("work_min", "in hand or at the bench", lambda row: _minutes(row.work_s)),
                _column("fire_min", "in the fire for it", lambda row: _minutes(row.fire_s)),
                _column("started", "UTC, ISO 8601", lambda row: _moment(row.started_s)),
                _column("ended", "UTC, ISO 8601", lambda row: _moment(row.ended_s)),
                _column("in_fire", "most pieces in the fire during it"),
                _column("run", "the piece's number at this step in its order, from 1"),
                _column("section", "the section that was worked", _section),
                _column("lot", "small parts in the handful; 0 for a piece alone"),
                _column("corrected", "true: the heats were put right afterwards"),
                _column("scrapped", "true: the piece was spoilt in it"),
                _column("again", "true: the piece had done it before"),
                _column("judged_by", "what the heat was judged by"),
            ),
        ),
        Table(
            name="rests",
            says="one row a rest that was needed and is over",
            columns=(
                *_PIECE,
                _column("kind", "rest, normalise, anneal or temper"),
                _column("until", "what it waits for", lambda row: _words(row.until)),
                _column("verdict", "kept, unsure, short, skipped or broken"),
                _column("counts", "of a normalising cycle: whether it counts; empty where unsure"),
                _column("started", "UTC, ISO 8601", lambda row: _moment(row.started_s)),
                _column("rested_min", "how long it rested", lambda row: _minutes(row.rested_s)),
                _column("needed_min", "what the smith was told", lambda r: _minutes(r.needed_s)),
                _column("low_min", "fast end of the sum", lambda row: _minutes(row.low_s)),
                _column("high_min", "slow end of the sum", lambda row: _minutes(row.high_s)),
                _column("start_degc", "where the sum let it begin", lambda r: _degc(r.start_degc)),
                _column("to_degc", "where it had to come to", lambda row: _degc(row.degc)),
                _column("end_degc", "where the sum had it then", lambda r: _degc(r.degc_at_end)),
                _column("medium", "still air, draught, bed or fire"),
                _column("section", "the section that cooled", _section),
                _column("skipping", "note or matters"),
                _column("broken_by", "what broke it off", lambda row: _words(row.broken_by)),
            ),
        ),
    )
}
"""The tables that are exported, by name."""


def export(shop: Shop, name: str) -> list[dict[str, Value]]:
    """The rows of a table, each with all of its columns.

    Args:
        shop: The book.
        name: sessions, steps or rests.

    Raises:
        CannotDo: there is no such table.
    """
    table = table_named(name)
    return [{column.name: column.of(row) for column in table.columns} for row in _rows(shop, name)]


def table_named(name: str) -> Table:
    """The table of this name.

    Raises:
        CannotDo: there is none; names those that there are.
    """
    if name in TABLES:
        return TABLES[name]
    hint = did_you_mean(name, TABLES)
    words = f"there is no table {quoted(name)}; there are {listed(TABLES, 'and')}"
    raise CannotDo(f"{words}\n    {hint}" if hint else words)


def as_csv(rows: Sequence[Mapping[str, Value]], table: Table) -> str:
    """The rows as comma-separated values (RFC 4180), a heading first.

    A text that a spreadsheet would take for a formula has an apostrophe before it.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([column.name for column in table.columns])
    for row in rows:
        writer.writerow([_cell(row[column.name]) for column in table.columns])
    return out.getvalue()


def _cell(value: Value) -> Value:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str) and value.startswith(_FORMULA):
        return f"'{value}"
    return "" if value is None else value


def _rows(shop: Shop, name: str) -> Iterable[PieceRow | SessionRow]:
    def ask(index: Index) -> Iterable[PieceRow | SessionRow]:
        if name == "sessions":
            return tuple(s for s in index.floors if s.practice == index.practice)
        rows = index.rows(index.orders)
        of_table = rows.steps if name == "steps" else rows.rests
        return tuple(row for row in of_table if row.practice == index.practice)

    return ask_index(shop, ask)
