"""Shop time out of two clocks: what rests count and what work counts.

A press carries the readings of the clocks as they stood (a Stamp). The fold turns the difference
of two stamps into shop time (a Moment), so a session that is read again years later keeps the
times that the smith saw.
"""

from __future__ import annotations

import msgspec

AGREE_S = 2.0
"""Clocks that differ by less over one interval are taken to agree."""


class Stamp(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Readings of the clocks at one press. Seconds."""

    wall: float
    """Seconds since 1970, UTC, by the clock on the wall of the machine."""
    offset: int = 0
    """Local time less UTC, minutes."""
    steady: float
    """A clock that nobody sets; counts suspend where the machine has such a clock."""
    awake: float
    """A clock that stands still while the machine sleeps."""
    boot: str = ""
    """Which start of the machine `steady` and `awake` belong to."""
    sleeps: bool = True
    """True where `steady` counts suspend too (so that only `awake` stands still)."""


class Moment(msgspec.Struct, frozen=True, kw_only=True):
    """Shop time. Seconds."""

    rest_s: float
    """What rests, fire and cooling count: never stands still, never runs back in a session."""
    work_s: float = 0.0
    """What work counts: stands still in a pause, while the machine sleeps or is off."""
    mark: str = ""
    """"", slept, clock set or power was off: what was odd about the interval that ended here."""


def start(stamp: Stamp) -> Moment:
    """The moment at which a session begins: the wall clock is all there is."""
    return Moment(rest_s=stamp.wall)


def advance(moment: Moment, last: Stamp, stamp: Stamp, *, paused: bool) -> Moment:
    """Shop time at `stamp`, given the moment and stamp before it.

    Same boot: where wall and steady agree within 2 s the steady one holds. Wall ahead of a steady
    clock that cannot count suspend: the machine slept, rests count it and work does not. Any other
    disagreement: somebody set the clock; steady holds and the moment is marked. Another boot: only
    the wall is left for rests (never backwards), and work counts nothing.

    Args:
        moment: Shop time at `last`.
        last: Readings then.
        stamp: Readings now.
        paused: True while work clocks are stopped.
    """
    walled_s = stamp.wall - last.wall
    if stamp.boot != last.boot:
        return Moment(
            rest_s=moment.rest_s + max(0.0, walled_s), work_s=moment.work_s, mark="power was off"
        )
    steady_s = max(0.0, stamp.steady - last.steady)
    awake_s = max(0.0, stamp.awake - last.awake)
    worked_s = 0.0 if paused else min(awake_s, steady_s)
    if abs(walled_s - steady_s) <= AGREE_S:
        mark = "slept" if steady_s - awake_s > AGREE_S else ""
        return Moment(rest_s=moment.rest_s + steady_s, work_s=moment.work_s + worked_s, mark=mark)
    if walled_s > steady_s and not stamp.sleeps:
        return Moment(
            rest_s=moment.rest_s + walled_s, work_s=moment.work_s + worked_s, mark="slept"
        )
    return Moment(
        rest_s=moment.rest_s + steady_s, work_s=moment.work_s + worked_s, mark="clock set"
    )
