"""What the index keeps: records of files, sessions, orders and steps, made by the fold."""

from __future__ import annotations

import msgspec

from forgelog.learn.rows import OrderRow, RestRow, SpoiltRow, StepRow
from forgelog.learn.timeline import Timeline
from forgelog.work.facts import SessionBegan
from forgelog.work.state import Order, SessionRecord, State, Workpiece

NEWEST_ROWS = 64
"""So many of the newest rows of each step are kept together, for what looks at the last pieces."""
LAST_TOLD = 4
"""So many pieces of a step with heats, and with a time, are told of without its rows."""

KeyName = tuple[bool, str, str, str, str]
"""Practice or not; then recipe, component, step and method."""


class Kept(msgspec.Struct, frozen=True, kw_only=True):
    """Base of what the index keeps."""


class FileKept(Kept, frozen=True, kw_only=True):
    """A file of the journal as it was when it was folded."""

    size: int
    mtime_ns: int
    session: str


class Mark(Kept, frozen=True, kw_only=True):
    """A session in the order in which sessions are folded."""

    session: str
    wall_s: float
    header: SessionBegan


class Tip(Kept, frozen=True, kw_only=True):
    """How far the index has come."""

    batches: int = 0
    """Counts every batch, so that another program's is noticed."""
    folded: int = 0
    """Sessions that are in it."""
    stands: tuple[int, ...] = ()
    """Before which sessions a `Standing` is kept, by their place."""
    practised: tuple[str, ...] = ()
    """Ids of the practice sessions."""


class Standing(Kept, frozen=True, kw_only=True):
    """What stands between two sessions, without what can be fetched when it is wanted."""

    state: State
    """With no orders and no pieces, and with the records of sessions that can still change."""
    astir: tuple[str, ...] = ()
    """Orders that time or another order's work can still change: something burns, rests, runs."""
    due_s: float | None = None
    """When the first rest may pass by itself; None where none can."""


class Version(Kept, frozen=True, kw_only=True):
    """An order with its pieces as it stood after a session."""

    order: Order
    """Without its recipes."""
    pins: tuple[str, ...] = ()
    """Hashes of its recipes."""
    pieces: tuple[Workpiece, ...] = ()


class Tally(Kept, frozen=True, kw_only=True):
    """How the rests of an order went, and what was spoilt, of one recipe."""

    practice: bool
    recipe: str
    kept: int = 0
    unsure: int = 0
    short: int = 0
    skipped: int = 0
    broken: int = 0
    faults: int = 0
    doubts: int = 0
    scrapped: int = 0
    worked: int = 0
    """Pieces that a step was done on, those of a handful each."""
    lost: int = 0
    """How often one of them was scrapped."""


class Spent(Kept, frozen=True, kw_only=True):
    """Time that a session has spent on an order."""

    practice: bool
    session: str
    hand_s: float = 0.0
    """With a piece in hand at the fire."""
    bench_s: float = 0.0


class OrderKept(Kept, frozen=True, kw_only=True):
    """An order of the book."""

    row: OrderRow
    pins: tuple[tuple[str, str], ...] = ()
    """Id and hash of each recipe that it worked from."""
    versions: tuple[int, ...] = ()
    """After which sessions a `Version` is kept, by their place."""
    tallies: tuple[Tally, ...] = ()
    spent: tuple[Spent, ...] = ()
    keys: tuple[KeyName, ...] = ()
    """Steps that were done on its pieces."""


class Share(Kept, frozen=True, kw_only=True):
    """What one order adds to what is known of a step."""

    made: int = 0
    """Pieces, without those spoilt in it."""
    shared: int = 0
    corrected: int = 0
    spoilt: int = 0
    unknown: int = 0
    worked: int = 0
    """Pieces with a time at it."""
    taught: int = 0
    """Pieces that heats are learnt from."""
    timed: int = 0
    """Pieces that the time in hand or at the bench is learnt from."""
    first_s: float = 0.0
    last_s: float = 0.0


class Tail(Kept, frozen=True, kw_only=True):
    """The newest rows of a step, oldest first, and each order's share of all."""

    rows: tuple[StepRow, ...] = ()
    shares: dict[str, Share] = {}


class Sum(Kept, frozen=True, kw_only=True):
    """All that is known of a step by one method, added up."""

    key: KeyName
    all: Share
    last: tuple[tuple[float, int | None, float], ...] = ()
    """End, heats and time at it of the last pieces that were not spoilt in it, oldest first: so
    many that some of them have heats, and some a time, where the newest rows have that."""
    newest: StepRow
    """Its last row of all."""


class Mishaps(Kept, frozen=True, kw_only=True):
    """What went wrong with the pieces of an order."""

    spoilt: tuple[SpoiltRow, ...]
    """All of it, oldest first."""
    lost: tuple[RestRow, ...] = ()
    """Normalising cycles that do not count, of pieces that were scrapped or cracked."""


class SessionKept(Kept, frozen=True, kw_only=True):
    """A session; its record is None where its first line could not be taken."""

    record: SessionRecord | None = None
    heats: int = 0
    worked_s: float = 0.0
    orders: tuple[str, ...] = ()
    """Orders that it has changed."""


class Named(Kept, frozen=True, kw_only=True):
    """What a piece is called in a timeline."""

    order: str
    slot: str
    component_name: str
    serial: int
    remade_from: str


class Line(Kept, frozen=True, kw_only=True):
    """The timeline of a session, with the words that it is told in."""

    timeline: Timeline
    offset_min: int
    """Local time less UTC."""
    steps: tuple[str, ...] = ()
    """Of each span the id of its step; "" after the last one."""
    names: dict[str, Named] = {}
    """By workpiece."""
