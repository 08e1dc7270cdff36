"""How a review calls things: pieces, orders, steps, days and lengths of time."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta, timezone
from typing import Protocol

from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import Step
from forgelog.units import UnitSystem
from forgelog.work.queries import component_of
from forgelog.work.state import Order, State, Workpiece

TYPE_CHECKING = False
if TYPE_CHECKING:
    from forgelog.learn.rows import OrderRow, PieceRow


def order_words(order: Order | OrderRow) -> str:
    """The order as the smith calls it: "orchard gate"."""
    return harmless(order.title or order.label or order.id)


def piece_words(state: State, piece: Workpiece) -> str:
    """The piece with its order: "orchard gate: strap left 1, remade"."""
    return f"{order_words(state.orders[piece.order])}: {slot_words(state, piece)}"


def slot_words(state: State, piece: Workpiece) -> str:
    """The piece within its order: "strap left 1, remade"."""
    slot = piece.slot or f"{component_of(state, piece).name} {piece.serial}"
    return harmless(f"{slot}, remade" if piece.remade_from else slot)


class Placed(Protocol):
    """What names a piece within its order."""

    @property
    def slot(self) -> str:
        """The place in the order that it fills."""

    @property
    def component_name(self) -> str:
        """What it is to be."""

    @property
    def serial(self) -> int:
        """Its number in the order."""

    @property
    def remade_from(self) -> str:
        """The spoilt piece in whose stead it is made."""


def row_slot(row: Placed) -> str:
    """`slot_words` of a row."""
    slot = row.slot or f"{row.component_name} {row.serial}"
    return harmless(f"{slot}, remade" if row.remade_from else slot)


def row_piece(row: PieceRow, orders: Mapping[str, OrderRow]) -> str:
    """`piece_words` of a row."""
    return f"{order_words(orders[row.order])}: {row_slot(row)}"


def row_step(row: PieceRow, units: UnitSystem | str = UnitSystem.MM) -> str:
    """`step_words` of a row."""
    if not row.do:
        return harmless(row.step or "rest")
    words = render(row.do, units)
    return f"{words}, cycle {row.cycle} of {row.cycles}" if row.cycle else words


def row_rest(row: PieceRow, units: UnitSystem | str = UnitSystem.MM) -> str:
    """What a rest is called; a plain one by what it waits for: "rest to black"."""
    words = row_step(row, units)
    until = harmless(getattr(row, "until", ""))
    if words != "rest" or not until:
        return words
    return f"rest {until}" if getattr(row, "timed", False) else f"rest to {until}"


def step_words(step: Step | None, step_id: str, units: UnitSystem | str = UnitSystem.MM) -> str:
    """What the step does: "roll the eye"; which cycle it is, where there are several."""
    if step is None:
        return harmless(step_id or "rest")
    words = render(step.do, units)
    return f"{words}, cycle {step.cycle} of {step.cycles}" if step.cycle else words


def local_time(moment_s: float, offset_min: int) -> datetime:
    """The time of day that the smith's clock showed."""
    return datetime.fromtimestamp(moment_s, timezone(timedelta(minutes=offset_min)))


def day_words(moment: datetime) -> str:
    """A day with its time, as people write it: "Mon 3 Nov 2025, 14:02"."""
    day = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")[moment.weekday()]
    month = "JanFebMarAprMayJunJulAugSepOctNovDec"[3 * moment.month - 3 : 3 * moment.month]
    return f"{day} {moment.day} {month} {moment.year}, {moment:%H:%M}"


def counted(number: int, word: str, many: str = "") -> str:
    """A number with its word: "1 heat", "3 heats"."""
    return f"{number} {word if number == 1 else many or word + 's'}"


def cut(text: str, width: int) -> str:
    """The text, or its beginning with two points where it is longer."""
    return text if len(text) <= width else text[: max(0, width - 2)].rstrip() + ".."


def folded(text: str, width: int, indent: str = "") -> list[str]:
    """The text in lines of so many letters at most, each behind the indent."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        while len(indent) + len(word) > width:
            if line:
                lines.append(line)
                line = ""
            lines.append(word[: width - len(indent)])
            word = word[width - len(indent) :]
        if line and len(indent) + len(line) + 1 + len(word) > width:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}".strip()
    if line:
        lines.append(line)
    return [indent + each for each in lines]


def minutes(seconds: float) -> float:
    """Minutes as they are told in a review, to half a second."""
    return round(seconds / 60.0, 2)
