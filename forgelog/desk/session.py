"""One session at the fire: every key goes in here and is on the disk before the next.

Apply first, then write, then show. A fact that cannot be taken never reaches the disk, or every
resume would fail on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress

import msgspec

from forgelog import __version__
from forgelog.book.appending import SessionWriter
from forgelog.book.folders import cache_folder
from forgelog.book.lock import FloorLock
from forgelog.book.naming import new_session
from forgelog.desk.clock import Clock, PracticeClock, RealClock
from forgelog.desk.cut_off import unfinished as unfinished
from forgelog.desk.errors import CannotDo, FloorTaken
from forgelog.desk.faults import note_fault
from forgelog.desk.in_play import in_play, left_lying
from forgelog.desk.shop import Shop, seen_by
from forgelog.desk.writing import write_down
from forgelog.floor.press import begin, press
from forgelog.floor.settings import FloorSettings, LearntHeats
from forgelog.floor.show import view
from forgelog.floor.stand import Stand
from forgelog.floor.view import View
from forgelog.work.apply import apply, now
from forgelog.work.facts import AnyFact, FireLit, Press, RecipePinned, SessionBegan
from forgelog.work.making import make_all
from forgelog.work.moments import Stamp
from forgelog.work.only import orders_of
from forgelog.work.state import Order, State

Learnt = Mapping[tuple[str, str, str, str], LearntHeats]
"""By recipe, component, step and method."""


class FloorSession:
    """A floor that runs. Made by `start` and `resume`."""

    def __init__(
        self,
        state: State,
        writer: SessionWriter,
        lock: FloorLock,
        clock: Clock,
        settings: FloorSettings,
    ) -> None:
        self._writer = writer
        self._lock = lock
        self._clock = clock
        self._state = state
        self.settings = settings
        """What the floor knows of the shop and the record."""
        self._stand = begin(state, now(state, clock.stamp()), settings)

    @property
    def state(self) -> State:
        """What stands: all of it is applied, and on the disk or waiting for it."""
        return self._state

    @property
    def stand(self) -> Stand:
        """Where the smith stands at the screen."""
        return self._stand

    @property
    def not_on_disk(self) -> int:
        """How many presses wait for the disk."""
        return self._writer.not_on_disk

    @property
    def why_not_on_disk(self) -> str:
        """Why they wait: "the disk is full"; "" where the disk is only slow."""
        return self._writer.why

    @property
    def id(self) -> str:
        """The session's id."""
        return self._state.session

    def press(self, key: str) -> None:
        """Take a key. When this returns, what it did is on the disk, or `not_on_disk` counts it.

        Never raises for what a key may do: what cannot be is noted, and nothing has changed.

        Args:
            key: As `floor.press` takes it.
        """
        stamp = self._clock.stamp()
        try:
            pressed = press(self._state, self._stand, key, now(self._state, stamp), self.settings)
        except Exception as fault:
            self._refuse(fault, f"the key {key[:20]!r}")
            return
        facts: tuple[AnyFact, ...] = pressed.facts  # type: ignore[assignment]
        if not facts or self._take(stamp, facts):
            self._stand = pressed.stand

    def view(self) -> View:
        """What the floor shows now."""
        at = now(self._state, self._clock.stamp())
        return view(self._state, self._stand, at, self.settings)

    def close(self) -> bool:
        """Leave the floor; what is under way can be resumed.

        Returns:
            True when every press is on the disk.
        """
        done = self._writer.close()
        self._lock.drop()
        return done

    def _take(self, stamp: Stamp, facts: tuple[AnyFact, ...]) -> bool:
        new = Press(seq=self._state.press + 1, at=stamp, facts=facts)
        try:
            state = apply(self._state, new)
            self._writer.append(new)
        except Exception as fault:
            self._refuse(fault, repr(facts))
            return False
        self._state = state
        return True

    def _refuse(self, fault: Exception, what: str) -> None:
        note_fault(fault, what)
        words = f"that did not work and is not in the record: {fault}"
        self._stand = msgspec.structs.replace(self._stand, message=words)


def start(
    shop: Shop,
    orders: Iterable[str],
    *,
    fire: str = "",
    method: str = "",
    light: str = "",
    clock: Clock | None = None,
    learnt: Learnt | None = None,
) -> FloorSession:
    """Light the fire on some orders.

    An order that has no workpieces yet gets them, from its recipe at its sizes. What a session
    that was cut off left in hand or on the bench is laid aside.

    Args:
        shop: The book, opened just now.
        orders: Ids of the orders.
        fire: Id of the fire; the first of the shop where "".
        method: hand, striker, power or press; the shop's usual one where "".
        light: day or dim; the shop's where "".
        clock: Of this machine where None.
        learnt: Heats that the journal has taught.

    Raises:
        FloorTaken: another floor on this device has the book.
        CannotDo: an order that is closed, held or unknown, a recipe with errors, a practice clock
            on a real book.
    """
    wanted = tuple(dict.fromkeys(orders))
    clock = clock or RealClock()
    places = {f.id: f for f in shop.settings.shop.fires}
    chosen = places.get(fire) if fire else shop.settings.shop.fires[0]
    if chosen is None:
        raise CannotDo(f"the shop has no fire {fire!r}; it has {', '.join(places)}")
    lock = _locked(shop)
    try:
        shop, seen = _others_laid_aside(shop, wanted, clock)
        state = in_play(shop, wanted, clock.stamp())
        facts: list[AnyFact] = [
            pinned(shop, state.orders[order]) for order in wanted if not state.orders[order].pins
        ]
        facts.append(
            FireLit(
                fire=chosen.name,
                fire_kind=chosen.kind,
                places=chosen.places,
                method=method or shop.settings.shop.methods[0],
                light=light or shop.settings.shop.light,
                air_degc=shop.settings.shop.air_degc,
                orders=wanted,
            )
        )
        return _begun(
            shop, state, wanted, [*left_lying(state), *facts], clock, lock, learnt, seen=seen
        )
    except BaseException:
        lock.drop()
        raise


def resume(
    shop: Shop,
    *,
    clock: Clock | None = None,
    learnt: Learnt | None = None,
) -> FloorSession:
    """Go on where the last session was cut off: a new file that continues it.

    What was in the fire is there still, as far as the journal knows; the floor asks.

    Args:
        shop: The book, opened just now.
        clock: Of this machine where None; for practice, one that runs as fast as it ran.
        learnt: Heats that the journal has taught.

    Raises:
        FloorTaken: another floor on this device has the book.
        CannotDo: there is no session to go on with.
    """
    lock = _locked(shop)
    try:
        record = unfinished(shop)
        if record is None:
            raise CannotDo("there is no session that was cut off")
        if clock is None and record.practice > 0:
            clock = PracticeClock(record.practice, start=shop.state.stamp)
        clock = clock or RealClock()
        state = in_play(shop, record.orders, clock.stamp(), checked=False)
        orders = tuple(o for o in record.orders if o in state.orders)
        return _begun(shop, state, orders, [], clock, lock, learnt, continues=record.id)
    except BaseException:
        lock.drop()
        raise


def pinned(shop: Shop, order: Order) -> RecipePinned:
    """The order's recipe at its sizes and bars, with a workpiece for all that is to be made.

    Raises:
        CannotDo: the recipe is gone or has errors.
    """
    recipe = shop.resolved(order.recipe, order.sizes_mm, order.bars)
    made = make_all(order, recipe)
    return RecipePinned(order=order.id, recipe=recipe, made=made)


def floor_settings(
    shop: Shop, clock: Clock, stamp: Stamp, learnt: Learnt | None = None
) -> FloorSettings:
    """What the floor has to know of the shop, the record and this device."""
    own = shop.settings.shop
    return FloorSettings(
        units=own.units,
        dialect=shop.device.dialect or own.dialect,
        learnt=dict(learnt or {}),
        tools={name: tool.state for tool in shop.settings.tools for name in tool.ids},
        alarms_off=own.alarms_off,
        local_offset_min=stamp.offset,
        practice=speed_of(clock),
    )


def speed_of(clock: Clock) -> float:
    """How fast a practice clock runs; 0 for any other."""
    return clock.speed if isinstance(clock, PracticeClock) else 0.0


def _others_laid_aside(
    shop: Shop, orders: tuple[str, ...], clock: Clock
) -> tuple[Shop, dict[str, int]]:
    """What a cut-off session left in hand of orders that are not in play now, laid aside.

    Returns:
        The book with that in it, and which session at the desk says so.
    """
    others = [f for f in left_lying(shop.state) if orders_of(f)[0] not in orders]
    if not others:
        return shop, {}
    with suppress(CannotDo):  # a disk that takes nothing must not keep the smith from the fire
        after = write_down(shop, *others, clock=clock)
        return shop.again(), {after.session: after.press}
    return shop, {}


def _begun(
    shop: Shop,
    state: State,
    orders: tuple[str, ...],
    facts: list[AnyFact],
    clock: Clock,
    lock: FloorLock,
    learnt: Learnt | None,
    *,
    continues: str = "",
    seen: Mapping[str, int] | None = None,
) -> FloorSession:
    stamp = clock.stamp()
    practice = speed_of(clock)
    if practice and not shop.is_practice_copy:
        raise CannotDo("practice is never written into a real book; `forgelog demo` has a copy")
    began = SessionBegan(
        version=__version__,
        session=new_session(shop.book, shop.device.id, stamp.wall),
        device=shop.device.id,
        who=shop.settings.shop.who,
        practice=practice,
        continues=continues,
        orders=orders,
        seen={**seen_by(shop.files, orders), **(seen or {})},
    )
    header = Press(seq=0, at=stamp, facts=(began, *facts))
    try:
        state = apply(state, header)
        writer = SessionWriter(shop.book, header)
    except ValueError as problem:
        raise CannotDo(f"this session cannot begin: {problem}") from None
    settings = floor_settings(shop, clock, stamp, learnt)
    return FloorSession(state, writer, lock, clock, settings)


def _locked(shop: Shop) -> FloorLock:
    lock = FloorLock(shop.book, cache_folder())
    if not lock.take():
        raise FloorTaken("another floor on this device has this book; here you can only look")
    return lock
