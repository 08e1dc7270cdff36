"""A session at a simulated fire: the same keys, views and facts as a real one.

What `desk/session` takes from the machine (clock, names, disk) comes from the seed here.
"""

from __future__ import annotations

from forgelog.desk.in_play import in_play, left_lying
from forgelog.desk.session import pinned
from forgelog.desk.simulate.journal import Journal
from forgelog.floor.press import begin, press
from forgelog.floor.settings import FloorSettings
from forgelog.floor.show import view
from forgelog.floor.stand import Stand
from forgelog.floor.view import View
from forgelog.work.apply import apply, settle
from forgelog.work.apply import now as moment_now
from forgelog.work.facts import AnyFact, FireLit, Press
from forgelog.work.moments import Moment
from forgelog.work.state import State


class SimulatedFloor:
    """One session, from the fire being lit to its end or to a power cut."""

    def __init__(
        self,
        journal: Journal,
        orders: tuple[str, ...],
        *,
        fire: int = 0,
        method: str = "hand",
        continues: str = "",
    ) -> None:
        """Begin it.

        Args:
            journal: Where it is kept.
            orders: Ids of the orders in play.
            fire: Which fire of the shop.
            method: hand or power.
            continues: The session that was cut off and goes on here; "" for a new fire.
        """
        self.journal = journal
        self.watch = journal.watch
        shop = journal.shop()
        stamp = self.watch.stamp()
        state = in_play(shop, orders, stamp, checked=not continues)
        facts: list[AnyFact] = []
        if not continues:
            place = shop.settings.shop.fires[fire]
            facts = [
                *left_lying(state),
                *(pinned(shop, state.orders[o]) for o in orders if not state.orders[o].pins),
                FireLit(
                    fire=place.name,
                    fire_kind=place.kind,
                    places=place.places,
                    method=method,
                    light=shop.settings.shop.light,
                    air_degc=shop.settings.shop.air_degc,
                    orders=orders,
                ),
            ]
        began = journal.began(shop, orders, continues=continues)
        self.id = began.session
        self.settings = FloorSettings(local_offset_min=stamp.offset)
        header = Press(seq=0, at=stamp, facts=(began, *facts))
        self._state = apply(state, header)
        journal.append(self.id, header)
        self.stand = begin(self._state, self.now, self.settings)
        self._seen: tuple[State, Stand, float] | None = None
        self._view: View | None = None

    @property
    def now(self) -> Moment:
        """Shop time."""
        return moment_now(self._state, self.watch.stamp())

    @property
    def state(self) -> State:
        """What stands now, with rests passed that pass by themselves."""
        return settle(self._state, self.now)

    def view(self) -> View:
        """What the screen shows now."""
        state, stand, wall_s = self._state, self.stand, self.watch.wall_s
        old = self._seen
        if old is None or old[0] is not state or old[1] is not stand or old[2] != wall_s:
            self._seen = (state, stand, wall_s)
            self._view = view(state, stand, self.now, self.settings)
        assert self._view is not None
        return self._view

    def press(self, key: str, after_s: float) -> bool:
        """Press a key some time from now.

        Args:
            key: As `floor.press` takes it.
            after_s: How long the smith takes, seconds.

        Returns:
            True where it made facts.
        """
        self.watch.go_on(after_s)
        stamp = self.watch.stamp()
        pressed = press(self._state, self.stand, key, self.now, self.settings)
        facts: tuple[AnyFact, ...] = pressed.facts  # type: ignore[assignment]
        if facts:
            new = Press(seq=self._state.press + 1, at=stamp, facts=facts)
            self._state = apply(self._state, new)
            self.journal.append(self.id, new)
        self.stand = pressed.stand
        return bool(facts)
