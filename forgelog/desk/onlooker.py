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
from forgelog.floor.view import KeyLine, View
from forgelog.work.apply import now
from forgelog.work.moments import Stamp
from forgelog.work.state import SessionRecord, State

ONLY_LOOKING = "only looking: another floor has this book"
NOTHING_WRITTEN = "only looking: nothing is done"
LEAVE = "leave: only looking"
LEAVING = frozenset({"backspace", "q"})
"""Of a pedal's four keys one must lead away."""


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
        self._stand: Stand = self._begun(stamp)

    @property
    def state(self) -> State:
        """What stood when the journal was looked at last."""
        return self._state

    @property
    def stand(self) -> Stand:
        """What is looked at."""
        return self._stand

    def press(self, key: str) -> None:
        """Move what is looked at, or leave; a key that would do something says that it cannot."""
        if key in LEAVING:
            self._stand = msgspec.structs.replace(self._stand, leave=True)
            return
        seen = self._seen_by(key)
        self._stand = seen or msgspec.structs.replace(self._stand, message=ONLY_LOOKING)

    def _seen_by(self, key: str) -> Stand | None:
        """Where a key leads that only moves what is looked at; None for every other."""
        if key in ("space", "enter"):
            return None
        at = now(self._state, self._clock.stamp())
        pressed = press(self._state, self._stand, key, at, self.settings)
        opens = pressed.stand.listing or pressed.stand.asking or pressed.stand.entry
        return None if pressed.facts or opens else pressed.stand

    def _begun(self, stamp: Stamp) -> Stand:
        stand = begin(self._state, now(self._state, stamp), self.settings)
        return msgspec.structs.replace(stand, listing=None)

    def view(self) -> View:
        """What the floor shows now; the journal is read again where it has grown."""
        self._look_again()
        at = now(self._state, self._clock.stamp())
        shown = view(self._state, self._stand, at, self.settings)
        return msgspec.structs.replace(shown, keys=tuple(map(self._key_line, shown.keys)))

    def _key_line(self, line: KeyLine) -> KeyLine:
        """What a key does for somebody who only looks."""
        key = line.key.lower()
        if key in LEAVING:
            return KeyLine(key=line.key, words=LEAVE)
        if self._seen_by(key) is None:
            return KeyLine(key=line.key, words=NOTHING_WRITTEN, live=False)
        return line

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
            self._stand = self._begun(self._clock.stamp())


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
