"""The clocks of the shop: the machine's own, one that runs faster for practice, one for tests."""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import Protocol

import msgspec

from forgelog.work.moments import Stamp


class Clock(Protocol):
    """Reads all clocks at once."""

    def stamp(self) -> Stamp:
        """The readings now."""


class RealClock:
    """The clocks of this machine.

    On Linux and macOS one of them counts suspend and another does not, so a sleeping laptop is
    seen; elsewhere the steady clock may or may not, and the wall clock decides.
    """

    def __init__(self) -> None:
        steady, awake = _clock_ids()
        self._steady = steady
        self._awake = awake
        self._boot = boot_id()

    def stamp(self) -> Stamp:
        """The readings now."""
        wall = time.time()
        if self._steady is None or self._awake is None:
            steady = awake = time.monotonic()
        else:
            steady, awake = time.clock_gettime(self._steady), time.clock_gettime(self._awake)
        return Stamp(
            wall=round(wall, 3),
            offset=local_offset_min(wall),
            steady=round(steady, 3),
            awake=round(awake, 3),
            boot=self._boot,
            sleeps=self._steady is not None,
        )


class PracticeClock:
    """A clock that runs faster, for practice: all of its hands together."""

    def __init__(
        self, speed: float, clock: Clock | None = None, *, start: Stamp | None = None
    ) -> None:
        """Start it.

        Args:
            speed: Practice seconds in one real second, > 0.
            clock: The clock under it; the machine's own where None.
            start: Where its hands stand at first, as a practice that goes on left them; at the
                present time where None.

        Raises:
            ValueError: the speed is no number above 0.
        """
        if not 0 < speed < float("inf"):
            raise ValueError(f"a practice clock cannot run {speed} times as fast")
        self.speed = speed
        self._clock = clock or RealClock()
        self._start = self._clock.stamp()
        self._shown = start or self._start

    def stamp(self) -> Stamp:
        """The readings now, as if time ran faster since the start."""
        now = self._clock.stamp()

        start, shown = self._start, self._shown

        def faster(shown: float, start: float, reading: float) -> float:
            return round(shown + (reading - start) * self.speed, 3)

        return msgspec.structs.replace(
            now,
            wall=faster(shown.wall, start.wall, now.wall),
            steady=faster(shown.steady, start.steady, now.steady),
            awake=faster(shown.awake, start.awake, now.awake),
            boot=shown.boot,
        )


class FakeClock:
    """A clock that stands until it is told to go on."""

    def __init__(self, wall: float = 1769760900.0, *, boot: str = "boot", offset: int = 0) -> None:
        """Set it.

        Args:
            wall: Seconds since 1970, UTC.
            boot: Which start of the machine it belongs to.
            offset: Local time less UTC, minutes.
        """
        self._stamp = Stamp(wall=wall, steady=1000.0, awake=1000.0, boot=boot, offset=offset)

    def stamp(self) -> Stamp:
        """The readings now."""
        return self._stamp

    def go_on(self, seconds: float) -> None:
        """Let time pass."""
        self._move(wall=seconds, steady=seconds, awake=seconds)

    def sleep(self, seconds: float) -> None:
        """Let time pass while the machine sleeps."""
        self._move(wall=seconds, steady=seconds)

    def set_wall(self, seconds: float) -> None:
        """Set the wall clock forward, or back."""
        self._move(wall=seconds)

    def start_again(self, seconds: float, *, boot: str = "boot again") -> None:
        """Switch the machine off for some time, and on again."""
        was = self._stamp
        self._stamp = msgspec.structs.replace(
            was, wall=was.wall + seconds, steady=5.0, awake=5.0, boot=boot
        )

    def _move(self, *, wall: float, steady: float = 0.0, awake: float = 0.0) -> None:
        was = self._stamp
        self._stamp = msgspec.structs.replace(
            was, wall=was.wall + wall, steady=was.steady + steady, awake=was.awake + awake
        )


def local_offset_min(wall: float) -> int:
    """Local time less UTC at that time, minutes."""
    return time.localtime(wall).tm_gmtoff // 60


def boot_id() -> str:
    """Which start of the machine this is; where it cannot be told, which start of the program.

    The second kind makes every start of the program look like a start of the machine, so that only
    the wall clock counts across it: less exact, never wrong.
    """
    try:
        return Path("/proc/sys/kernel/random/boot_id").read_text().strip()[:8]
    except OSError:
        import secrets

        return f"run-{secrets.token_hex(4)}"


def _clock_ids() -> tuple[int | None, int | None]:
    """The clock that counts suspend and the one that does not, where the machine has both."""
    if hasattr(time, "CLOCK_BOOTTIME"):
        return time.CLOCK_BOOTTIME, time.CLOCK_MONOTONIC
    if sys.platform == "darwin" and hasattr(time, "CLOCK_UPTIME_RAW"):
        # From memory: there CLOCK_MONOTONIC goes on during sleep, and the uptime clock stands.
        return time.CLOCK_MONOTONIC, time.CLOCK_UPTIME_RAW
    return None, None
