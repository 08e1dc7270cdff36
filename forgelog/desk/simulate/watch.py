"""The clock of a simulated shop: it stands until it is told to go on, and counts in tenths."""

from __future__ import annotations

from calendar import timegm
from datetime import date

from forgelog.work.moments import Stamp

SUMMER_TIME_ENDS = timegm((2026, 10, 25, 1, 0, 0))
"""The shop is somewhere in the United Kingdom; this is when its clocks go back in 2026."""


class Watch:
    """All clocks of one laptop. Tenths of a second are whole numbers, so no sum ever drifts."""

    def __init__(self) -> None:
        self._tenths = 0
        self._started = 0
        self._boots = 0

    @property
    def wall_s(self) -> float:
        """Seconds since 1970, UTC."""
        return self._tenths / 10

    def stamp(self) -> Stamp:
        """The readings now."""
        running_s = (self._tenths - self._started) / 10
        return Stamp(
            wall=self.wall_s,
            offset=self.offset_min,
            steady=running_s,
            awake=running_s,
            boot=f"sim{self._boots}",
        )

    @property
    def offset_min(self) -> int:
        """Local time less UTC, minutes."""
        return 60 if self.wall_s < SUMMER_TIME_ENDS else 0

    def go_on(self, seconds: float) -> None:
        """Let time pass."""
        self._tenths += max(0, round(seconds * 10))

    def switch_on(self, day: date, minutes: int) -> None:
        """Switch the laptop on at a time of day; never earlier than it stands.

        Args:
            day: The day.
            minutes: Local time, minutes from midnight.
        """
        at = timegm((day.year, day.month, day.day, 0, minutes, 0))
        at -= 3600 if at - 3600 < SUMMER_TIME_ENDS else 0
        self._tenths = max(self._tenths + 10, at * 10)
        self.start_again(0.0)

    def start_again(self, after_s: float) -> None:
        """The power comes back after some time."""
        self.go_on(after_s)
        self._started = self._tenths - 50
        self._boots += 1
