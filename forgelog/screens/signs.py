"""The row of alarms and of words that stand out: PAUSED, PRACTICE, NOT YET ON DISK."""

from __future__ import annotations

from forgelog.floor.view import View
from forgelog.screens.page import Look, Page, cells


def put_signs(page: Page, y: int, view: View, signs: tuple[str, ...]) -> None:
    """Alarms to the left, signs to the right; alarms that do not fit are counted."""
    right = page.width - 1
    for words in reversed((*(("PAUSED",) if view.paused else ()), view.practice, *signs)):
        if words:
            right = page.put_right(right, y, f" {words} ", Look.SIGN) - 1
    x = 1
    for i, words in enumerate(view.alarms):
        left = len(view.alarms) - i - 1
        more = f" +{left} more" if left else ""
        if i and x + cells(words) + 2 + len(more) > right:
            page.put(x, y, f"+{left + 1} more", Look.STRONG)
            return
        x = page.put(x, y, f" {words} ", Look.LOOK, most=max(8, right - x - len(more))) + 1
