"""What stands now: orders, workpieces, fire, heat. Frozen; only `work.apply` makes a new one.

All `_s` fields are moments of shop time: `since_s` and the like on the rest clock (wall-like
seconds), names with `work` on the work clock (stands still in a pause).
"""

from __future__ import annotations

import msgspec

from forgelog.work.bar import Bar
from forgelog.work.facts import AnyFact
from forgelog.work.moments import Moment, Stamp
from forgelog.work.state.orders import Order, QuoteRecord, SpareWanted
from forgelog.work.state.pieces import (
    BENCH,
    FINISHED,
    FIRE,
    FITTED,
    HAND,
    RESTING,
    SCRAPPED,
    WAITING,
    GaugeRecord,
    HeatOpen,
    Mishap,
    RestRecord,
    StepRecord,
    Workpiece,
)
from forgelog.work.state.shop import (
    BarSawn,
    CutRecord,
    Fire,
    FuelRecord,
    HotMark,
    SessionRecord,
    SuggestionAnswer,
    Trouble,
)

__all__ = [
    "BENCH",
    "FINISHED",
    "FIRE",
    "FITTED",
    "HAND",
    "RESTING",
    "SCRAPPED",
    "WAITING",
    "BarSawn",
    "CutRecord",
    "Fire",
    "FuelRecord",
    "GaugeRecord",
    "HeatOpen",
    "HotMark",
    "Mishap",
    "Order",
    "QuoteRecord",
    "RestRecord",
    "SessionRecord",
    "SpareWanted",
    "State",
    "StepRecord",
    "SuggestionAnswer",
    "Trouble",
    "Workpiece",
]


class State(msgspec.Struct, frozen=True, kw_only=True):
    """Everything that stands, and the way back."""

    moment: Moment = Moment(rest_s=0.0)
    stamp: Stamp | None = None
    session: str = ""
    press: int = -1
    """Sequence number of the last press of the session."""
    orders: dict[str, Order] = {}
    pieces: dict[str, Workpiece] = {}
    hot: dict[str, HotMark] = {}
    """By workpiece. Only the cooling sum takes a piece off the HOT list."""
    fire: Fire = Fire()
    method: str = "hand"
    light: str = "dim"
    air_degc: float = 20.0
    paused: bool = False
    ended: bool = False
    practice: float = 0.0
    tools: dict[str, tuple[str, str]] = {}
    """State and setting of each tool, as last seen."""
    tools_since_s: dict[str, float] = {}
    """When each of them came to that state, as the smith said."""
    jigs: dict[str, str] = {}
    """How each jig was last set up at the fire; resolved prose."""
    offcuts: dict[str, Bar] = {}
    """Offcuts kept on the rack since the smith's own list, by label."""
    offcuts_gone: dict[str, int] = {}
    """Labels of offcuts used up, and how many of the smith's own list went under each."""
    cuts: tuple[CutRecord, ...] = ()
    """Cut lengths and how they came out, oldest first."""
    sawn: tuple[BarSawn, ...] = ()
    """Bars that were sawn, oldest first."""
    fuel: dict[str, FuelRecord] = {}
    """What was burnt, by session at the fire."""
    sessions: tuple[SessionRecord, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    answers: dict[str, SuggestionAnswer] = {}
    """To suggestions, by their id; the newest answer holds."""
    before: State | None = None
    """The state before the last press, as far back as undo reaches."""
    undone: tuple[State, ...] = ()
    """What stood before each press was taken back; the last can be put back."""
    made_by: tuple[str, int] = ("", -1)
    """Session and number of the press that made this state; an undo goes back to an earlier one."""
    made_of: tuple[AnyFact, ...] = ()
    """The facts of that press, so that an undo can say what it takes back."""
