"""A second floor on the same device: it sees the one that runs, and writes nothing."""

from __future__ import annotations

import msgspec

from forgelog.desk.clock import Clock, PracticeClock, RealClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.in_play import in_play
from forgelog.desk.session import floor_settings
from forgelog.desk.shop import Shop
from forgelog.floor.press import begin, press
from forgelog.floor.settings import FloorSettings
from forgelog.floor.show import view
from forgelog.floor.stand import Stand
from forgelog.floor.view import View
from forgelog.work.apply import now
from forgelog.work.state import SessionRecord, State

ONLY_LOOKING = "only looking: another floor has this book"


class Onlooker:
    """Shows the session that runs elsewhere on this device. Made by `look_on`."""

    not_on_disk = 0
    """Nothing is written here."""
    why_not_on_disk = ""

    def __init__(self, shop: Shop, orders: tuple[str, ...], clock: Clock) -> None:
        self._shop = shop
        self._orders = orders
        self._clock = clock
        self._seen = _signature(shop)
        stamp = clock.stamp()
        self._state = in_play(shop, orders, stamp, checked=False)
        self.settings: FloorSettings = floor_settings(shop, clock, stamp)
        """What the floor knows of the shop; nothing of the record."""
        self._stand: Stand = begin(self._state, now(self._state, stamp), self.settings)

    @property
    def state(self) -> State:
        """What stood when the journal was looked at last."""
        return self._state

    @property
    def stand(self) -> Stand:
        """What is looked at."""
        return self._stand

    def press(self, key: str) -> None:
        """Move what is looked at; a key that would do something says that it cannot."""
        at = now(self._state, self._clock.stamp())
        pressed = press(self._state, self._stand, key, at, self.settings)
        if pressed.facts:
            self._stand = msgspec.structs.replace(self._stand, message=ONLY_LOOKING)
        else:
            self._stand = pressed.stand

    def view(self) -> View:
        """What the floor shows now; the journal is read again where it has grown."""
        self._look_again()
        at = now(self._state, self._clock.stamp())
        return view(self._state, self._stand, at, self.settings)

    def close(self) -> bool:
        """Stop looking."""
        return True

    def _look_again(self) -> None:
        seen = _signature(self._shop)
        if seen == self._seen:
            return
        self._seen = seen
        self._shop = self._shop.again()
        record = _running(self._shop)
        self._orders = record.orders if record is not None else self._orders
        self._state = in_play(self._shop, self._orders, self._clock.stamp(), checked=False)
        if self._stand.chosen and self._stand.chosen not in self._state.pieces:
            at = now(self._state, self._clock.stamp())
            self._stand = begin(self._state, at, self.settings)


def look_on(shop: Shop, *, clock: Clock | None = None) -> Onlooker:
    """Look at the session that runs on this device.

    Args:
        shop: The book, opened just now.
        clock: Of this machine where None.

    Raises:
        CannotDo: no session has been begun on this device.
    """
    record = _running(shop)
    if record is None:
        raise CannotDo("there is no session to look at")
    if clock is None and record.practice > 0:
        clock = PracticeClock(record.practice, start=shop.state.stamp)
    return Onlooker(shop, record.orders, clock or RealClock())


def _running(shop: Shop) -> SessionRecord | None:
    newest = shop.last_at_fire
    return next((r for r in shop.state.sessions if r.id == newest), None)


def _signature(shop: Shop) -> tuple[int, ...]:
    """What changes on the disk when the other floor goes on, or begins another session."""
    newest = shop.last_at_fire
    folder = shop.book / "journal" / newest[:4]
    try:
        sizes = [p.stat().st_size for p in sorted(folder.glob(f"{newest}*.jsonl"))]
        return (folder.stat().st_mtime_ns, *sizes)
    except OSError:
        return ()
