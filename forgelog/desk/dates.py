"""Days by the calendar on the wall, and how long there is until a promised one."""

from __future__ import annotations

from datetime import date, timedelta


def due_words(promised: str, today: date) -> str:
    """How long there is: "today", "in 3 days", "2 days late"; "" without a date."""
    try:
        days = (date.fromisoformat(promised) - today).days
    except ValueError:
        return ""
    if days == 0:
        return "today"
    if days == 1:
        return "tomorrow"
    if days > 0:
        return f"in {days} days"
    return "1 day late" if days == -1 else f"{-days} days late"


def local_day(seconds: float, offset_min: int) -> date:
    """The day that the calendar on the wall shows then.

    Args:
        seconds: Since 1970, UTC.
        offset_min: Local time less UTC, minutes.
    """
    return date(1970, 1, 1) + timedelta(seconds=seconds + offset_min * 60)
