"""What rings: derived from clock and state, never events. An alarm says look, never ready."""

from __future__ import annotations

import msgspec

from forgelog.floor.blocks import waits_for_temper
from forgelog.floor.names import short_name
from forgelog.floor.settings import FloorSettings
from forgelog.floor.sums import heat_left, look_s
from forgelog.work.moments import Moment
from forgelog.work.queries import in_fire, in_hand, resting, step_of
from forgelog.work.state import State

TEMPER_AGAIN_S = 300.0
"""A waiting temper is said again after so long."""
BURNT_FACTOR = 2.0
"""In the fire for this many times the time to LOOK: it is said again, as burning."""


class Alarm(msgspec.Struct, frozen=True, kw_only=True):
    """Something that rings."""

    id: str
    """The same as long as it is the same ringing."""
    kind: str
    """look, heat, rest or temper."""
    words: str


def alarms(state: State, now: Moment, settings: FloorSettings) -> tuple[Alarm, ...]:
    """All that rings now, most pressing first; those switched off are left out."""
    found: list[Alarm] = []
    for piece in waits_for_temper(state):
        waited_s = max(0.0, now.rest_s - piece.since_s)
        times = int(waited_s // TEMPER_AGAIN_S)
        minutes = int(waited_s // 60)
        if times:
            found.append(
                Alarm(
                    id=f"temper {piece.id} {times}",
                    kind="temper",
                    words=f"TEMPER waits {minutes} min: {short_name(state, piece)}",
                )
            )
    for piece in in_fire(state):
        look = look_s(state, piece, settings)
        gone_s = now.rest_s - piece.since_s
        if gone_s >= look:
            burning = look > 0 and gone_s >= look * BURNT_FACTOR
            words = "LOOK, it may burn" if burning else "LOOK"
            found.append(
                Alarm(
                    id=f"look {piece.id} {piece.since_s:.0f} {int(burning)}",
                    kind="look",
                    words=f"{words}: {short_name(state, piece)}",
                )
            )
    held = in_hand(state)
    if held is not None and held.open is not None and not held.open.quench:
        step = step_of(state, held)
        if step is not None and step.kind == "forge":
            left_s, _ = heat_left(state, held, step, now)
            if left_s <= 0:
                found.append(
                    Alarm(
                        id=f"heat {held.id} {held.open.since_s:.0f}",
                        kind="heat",
                        words="the heat is about gone: look",
                    )
                )
    for piece in resting(state):
        rest = piece.rest
        if rest is None or rest.skipping != "matters":
            continue
        if now.rest_s >= rest.started_s + rest.needed_s:
            found.append(
                Alarm(
                    id=f"rest {piece.id} {rest.started_s:.0f}",
                    kind="rest",
                    words=f"rest about done, look: {short_name(state, piece)}",
                )
            )
    off = settings.alarms_off - {"temper"}
    return tuple(a for a in found if a.kind not in off)
