"""The planning problem and how far the work on it is: plain records, independent of any recipe.

All times are seconds of working time from the start of the first day. Nights take no room on this
scale, but they end every rest and leave all steel cold.
"""

from __future__ import annotations

import msgspec


class Record(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the records."""


class Forge(Record, frozen=True, kw_only=True, tag_field="kind", tag="forge"):
    """So many heats: put in, soak, draw, work."""

    heats: int
    cold_s: int
    reheat_s: int
    fade: int
    """Seconds out of the fire that cost one second more of soak."""
    hand_s: int
    hold_s: int
    """How long it may stay in the fire once it is hot."""
    tooling: str | None = None
    name: str = ""


class Rest(Record, frozen=True, kw_only=True, tag_field="kind", tag="rest"):
    """A cooling that takes neither hands nor fire."""

    rest_s: int


class Bench(Record, frozen=True, kw_only=True, tag_field="kind", tag="bench"):
    """Cold work in bouts; other work may come between them."""

    bouts: int
    bout_s: int
    name: str = ""


class Part(Record, frozen=True, kw_only=True):
    """A part of a heat treatment: watched in the fire, worked, then left in the air."""

    soak_s: int
    hand_s: int
    air_s: int = 0
    slack_s: int = 0
    name: str = ""


class Treat(Record, frozen=True, kw_only=True, tag_field="kind", tag="treat"):
    """A heat treatment: its parts follow one another and no other piece is in the fire."""

    parts: tuple[Part, ...]
    name: str = ""


Step = Forge | Rest | Bench | Treat


class Component(Record, frozen=True, kw_only=True):
    """One lump of steel on its way; its steps go in order."""

    id: str
    set: str = ""
    needs: tuple[str, ...] = ()
    steps: tuple[Step, ...]


class Piece(Record, frozen=True, kw_only=True):
    """What the customer gets: one component, or several that are put together."""

    id: str
    components: tuple[Component, ...]


class Order(Record, frozen=True, kw_only=True):
    """Finished with its last component."""

    id: str
    pieces: tuple[Piece, ...]
    weight: int = 1
    due_s: int | None = None
    """None where no date was promised."""


class Fire(Record, frozen=True, kw_only=True):
    """How many pieces it takes and when in the day it burns."""

    places: int
    light_s: int = 0
    close_s: int = 0
    kind: str = "gas"


class Tooling(Record, frozen=True, kw_only=True):
    """What stands at the anvil for a step; one at a time."""

    setup_s: int


class Problem(Record, frozen=True, kw_only=True):
    """Everything that is to be made, in whole seconds."""

    day_s: int
    fire: Fire
    orders: tuple[Order, ...]
    tooling: dict[str, Tooling] = {}
    name: str = ""


class Standing(Record, frozen=True, kw_only=True):
    """How far one component is."""

    step: int = 0
    """Index of the step it stands at; past the last when all are done."""
    done: int = 0
    """Heats, bouts or parts of this step that are done."""
    end_s: int | None = None
    """When its last heat, bout, part or rest ended; None when nothing was done yet."""
    warm: bool = False
    """Its last work was a heat, and no rest, bench work or night came after."""
    put_s: int | None = None
    """In the fire since."""
    due_s: int | None = None
    """When it should be hot, where that is known better than by its planned soak."""
    hot_s: int | None = None
    """Seen to be hot since; None while it is not, or not in the fire."""


class Run(Record, frozen=True, kw_only=True):
    """What has happened, as the smith sees it, with nothing in hand."""

    now_s: int = 0
    standing: dict[str, Standing] = {}
    """By component; those that are missing are not begun."""
    tooling: str | None = None
    """What is set up at the anvil."""


def read_problem(data: object) -> Problem:
    """A problem from a parsed instance file of format 1.

    Raises:
        ValueError: it is not an instance of format 1.
    """
    if not isinstance(data, dict) or data.get("format") != 1:
        raise ValueError("not a planning instance of format 1")
    return msgspec.convert(data, Problem)
