"""The journal of a simulated shop in memory, and the book that is opened on it.

Everything that reads a real journal reads this one: the same narrowing, the same fold. Only the
names of sessions and orders come from the seed, and the lines are kept instead of written.
"""

from __future__ import annotations

import time
from functools import cached_property
from random import Random

from forgelog.book.device import Device
from forgelog.book.press_line import write_line
from forgelog.book.sessions import SessionFile
from forgelog.book.settings import BookSettings
from forgelog.book.shipped import shipped_folder
from forgelog.desk.shop import Shop, open_orders, seen_by, with_presses
from forgelog.desk.simulate.watch import Watch
from forgelog.work.facts import AnyFact, Press, SessionBegan
from forgelog.work.only import narrowed, orders_of

DEVICE = "demo2s"
VERSION = "simulated"
"""Stands where a real session has forgelog's version: no version has pressed these keys."""
PRACTICE = 1.0
"""Simulated work counts as practice, at the pace of the clock on the wall: never as real work."""
_LETTERS = "23456789abcdefghjkmnpqrstvwxyz"


class SimulatedShop(Shop):
    """The book as it stands between two sessions, with its journal in memory."""

    def __init__(self, sessions: tuple[SessionFile, ...], settings: BookSettings) -> None:
        super().__init__(shipped_folder("recipes").parent, Device(id=DEVICE))
        self._sessions = sessions
        self._settings = settings

    def after(self, sessions: tuple[SessionFile, ...]) -> SimulatedShop:
        """The same book with these sessions in it; recipes that were read stay read."""
        shop = SimulatedShop(sessions, self._settings)
        shop._read, shop._resolved = self._read, self._resolved
        return shop

    @cached_property
    def settings(self) -> BookSettings:
        """Those of the time, not of the end."""
        return self._settings

    @cached_property
    def is_practice_copy(self) -> bool:
        """In its own world the work is real."""
        return False

    @cached_property
    def files(self) -> tuple[SessionFile, ...]:
        """The sessions with only what they say of open orders."""
        wanted = open_orders(f for f in self._sessions if f.header and f.header.kind == "desk")
        return tuple(
            with_presses(file, (narrowed(press, wanted) for press in file.presses))
            for file in self._sessions
            if file.header is not None
            and (file.header.kind == "desk" or wanted.intersection(file.header.orders))
        )

    @cached_property
    def whole(self) -> tuple[SessionFile, ...]:
        """Every session."""
        return self._sessions


class Journal:
    """What has been pressed up to now, session by session."""

    def __init__(self, rng: Random, watch: Watch, settings: BookSettings) -> None:
        self.rng = rng
        self.watch = watch
        self.who = settings.shop.who
        self._presses: dict[str, list[Press]] = {}
        self._shop = SimulatedShop((), settings)

    def tail(self, rng: Random | None = None) -> str:
        """Four letters from the seed; `rng` where other chances are not to move by it."""
        return "".join((rng or self.rng).choice(_LETTERS) for _ in range(4))

    def shop(self) -> SimulatedShop:
        """The book as it stands now."""
        files = []
        for session, presses in sorted(self._presses.items()):
            header = presses[0].facts[0]
            assert isinstance(header, SessionBegan)
            files.append(SessionFile(session=session, header=header, presses=tuple(presses)))
        self._shop = self._shop.after(tuple(files))
        return self._shop

    def began(
        self,
        shop: Shop,
        orders: tuple[str, ...],
        *,
        kind: str = "floor",
        continues: str = "",
        rng: Random | None = None,
    ) -> SessionBegan:
        """The first fact of a session that begins now."""
        when = time.strftime("%Y%m%dT%H%M%SZ", time.gmtime(self.watch.wall_s))
        return SessionBegan(
            version=VERSION,
            session=f"{when}-{DEVICE}-{self.tail(rng)}",
            device=DEVICE,
            who=self.who,
            orders=orders,
            seen=seen_by(shop.files, orders),
            kind=kind,
            practice=PRACTICE if kind == "floor" else 0.0,
            continues=continues,
        )

    def append(self, session: str, press: Press) -> None:
        """Keep one press."""
        self._presses.setdefault(session, []).append(press)

    def at_desk(self, *facts: AnyFact, rng: Random | None = None) -> None:
        """What was settled at the desk: a small session of its own."""
        orders = tuple(dict.fromkeys(o for fact in facts for o in orders_of(fact)))
        began = self.began(self.shop(), orders, kind="desk", rng=rng)
        stamp = self.watch.stamp()
        self.append(began.session, Press(seq=0, at=stamp, facts=(began,)))
        self.append(began.session, Press(seq=1, at=stamp, facts=facts))
        self.watch.go_on(60)

    def files(self) -> dict[str, bytes]:
        """Every file of the journal, by its path from the book's folder."""
        return {
            f"journal/{session[:4]}/{session}.jsonl": b"".join(map(write_line, presses))
            for session, presses in sorted(self._presses.items())
        }
