"""What the simulated shop was asked for, and its days at the fire: our own invention."""

from __future__ import annotations

from datetime import date

import msgspec

from forgelog.desk.simulate.smith import Slip


class PlannedOrder(msgspec.Struct, frozen=True, kw_only=True):
    """An order as the customer gave it."""

    label: str
    title: str
    recipe: str
    taken: date
    promised: date
    delivered: date | None = None
    """None where it is still open."""
    count: int = 1
    sizes_mm: dict[str, float] = {}


class PlannedDay(msgspec.Struct, frozen=True, kw_only=True):
    """A day at the fire."""

    day: date
    orders: tuple[str, ...]
    """Labels."""
    share: float = 1.0
    """Of the first order's steps that are done when he goes home."""
    most_min: float = 540.0
    """After so many minutes he goes home all the same."""
    at_min: int = 8 * 60
    """Local time at which the fire is lit, minutes from midnight."""
    fire: int = 0
    method: str = "hand"
    slips: tuple[Slip, ...] = ()
    lies: str = "box 1"


ORDERS = (
    PlannedOrder(
        label="D-101",
        title="hall hooks for a cottage",
        recipe="leaf-coat-hooks",
        taken=date(2026, 9, 4),
        promised=date(2026, 9, 18),
        delivered=date(2026, 9, 14),
    ),
    PlannedOrder(
        label="D-102",
        title="poker and shovel, inn",
        recipe="poker-and-shovel",
        taken=date(2026, 9, 7),
        promised=date(2026, 9, 25),
        delivered=date(2026, 9, 18),
        sizes_mm={"poker": 700.0},
    ),
    PlannedOrder(
        label="D-103",
        title="hammer for the shop",
        recipe="cross-peen-hammer",
        taken=date(2026, 9, 14),
        promised=date(2026, 10, 2),
        delivered=date(2026, 9, 30),
    ),
    PlannedOrder(
        label="D-104",
        title="orchard gate",
        recipe="gate-hinge-set",
        taken=date(2026, 9, 21),
        promised=date(2026, 10, 16),
        delivered=date(2026, 10, 14),
        sizes_mm={"post": 120.0, "post_thin": 116.0},
    ),
    PlannedOrder(
        label="D-105",
        title="hooks for a school",
        recipe="leaf-coat-hooks",
        taken=date(2026, 10, 5),
        promised=date(2026, 10, 23),
        delivered=date(2026, 10, 19),
        sizes_mm={"stem": 150.0},
    ),
    PlannedOrder(
        label="D-106",
        title="shelf in a bakery",
        recipe="scroll-shelf-brackets",
        taken=date(2026, 10, 9),
        promised=date(2026, 11, 2),
        delivered=date(2026, 10, 30),
        sizes_mm={"wall": 215.0, "wall_thin": 210.0},
    ),
    PlannedOrder(
        label="D-107",
        title="hammer for a joiner",
        recipe="cross-peen-hammer",
        taken=date(2026, 10, 26),
        promised=date(2026, 11, 9),
        delivered=date(2026, 11, 6),
        sizes_mm={"handle": 320.0},
    ),
    PlannedOrder(
        label="D-108",
        title="paddock gate",
        recipe="gate-hinge-set",
        taken=date(2026, 11, 2),
        promised=date(2026, 12, 4),
    ),
    PlannedOrder(
        label="D-109",
        title="two hammers, a school",
        recipe="cross-peen-hammer",
        taken=date(2026, 11, 9),
        promised=date(2026, 12, 11),
        count=2,
    ),
    PlannedOrder(
        label="D-110",
        title="shelf over a stove",
        recipe="scroll-shelf-brackets",
        taken=date(2026, 11, 16),
        promised=date(2026, 12, 18),
        sizes_mm={"arm": 250.0},
    ),
)

DAYS = (
    PlannedDay(
        day=date(2026, 9, 8),
        orders=("D-101",),
        share=0.5,
        slips=(Slip(what="undo", component="hook", step="draw the stem"),),
    ),
    PlannedDay(
        day=date(2026, 9, 10),
        orders=("D-101",),
        slips=(
            Slip(what="door", after_min=70),
            Slip(what="misfit", component="hook", step="gauge on the board"),
        ),
    ),
    PlannedDay(
        day=date(2026, 9, 15),
        orders=("D-102",),
        share=0.5,
        at_min=13 * 60,
        slips=(Slip(what="burnt", component="poker", step="draw the point"),),
    ),
    PlannedDay(day=date(2026, 9, 17), orders=("D-102",), fire=1),
    PlannedDay(
        day=date(2026, 9, 22),
        orders=("D-103",),
        share=0.58,
        slips=(
            Slip(what="short", component="head", step="normalise-1", words="0.03"),
            Slip(what="short", component="head", step="normalise-2", words="0.5"),
        ),
        lies="on the rack",
    ),
    PlannedDay(
        day=date(2026, 9, 24),
        orders=("D-103",),
        most_min=330.0,
        slips=(
            Slip(what="crack", component="head", step="test the hardness", words="cracked"),
            Slip(
                what="note",
                words="crack across the cheek: this one gets all three cycles",
            ),
        ),
    ),
    PlannedDay(day=date(2026, 9, 29), orders=("D-103",)),
    PlannedDay(
        day=date(2026, 10, 1),
        orders=("D-104",),
        share=0.22,
        slips=(Slip(what="unpressed", component="strap", step="taper the tail"),),
    ),
    PlannedDay(
        day=date(2026, 10, 6),
        orders=("D-104",),
        share=0.5,
        fire=1,
        slips=(Slip(what="cut", after_min=20),),
        lies="box 2",
    ),
    PlannedDay(
        day=date(2026, 10, 8),
        orders=("D-104",),
        share=0.75,
        slips=(Slip(what="end", after_min=5),),
        lies="beside the fire",
    ),
    PlannedDay(day=date(2026, 10, 12), orders=("D-104",)),
    PlannedDay(day=date(2026, 10, 15), orders=("D-105",), share=0.55, method="power"),
    PlannedDay(
        day=date(2026, 10, 16),
        orders=("D-105", "D-106"),
        most_min=240.0,
        method="power",
        slips=(
            Slip(what="scrap", component="hook", step="bend the hook", words="burnt"),
            Slip(what="unpressed", component="small-scroll", step="scroll both ends"),
        ),
    ),
    PlannedDay(
        day=date(2026, 10, 20),
        orders=("D-106",),
        share=0.6,
        method="power",
    ),
    PlannedDay(
        day=date(2026, 10, 22),
        orders=("D-106",),
        share=0.7,
        method="power",
        slips=(Slip(what="burnt", component="bolt", step="upset the head"),),
    ),
    PlannedDay(
        day=date(2026, 10, 27),
        orders=("D-106",),
        share=0.85,
    ),
    PlannedDay(day=date(2026, 10, 29), orders=("D-106",)),
    PlannedDay(
        day=date(2026, 11, 3),
        orders=("D-107",),
        share=0.58,
        method="power",
        lies="on the rack",
    ),
    PlannedDay(day=date(2026, 11, 5), orders=("D-107",), fire=1),
    PlannedDay(
        day=date(2026, 11, 10),
        orders=("D-108",),
        share=0.3,
        slips=(Slip(what="note", after_min=60, words="40 x 8 from the new bundle, scales more"),),
    ),
    PlannedDay(
        day=date(2026, 11, 13),
        orders=("D-108",),
        share=0.6,
        slips=(Slip(what="unpressed", component="strap", step="punch the last two"),),
        lies="box 2",
    ),
    PlannedDay(
        day=date(2026, 11, 17),
        orders=("D-109",),
        share=0.25,
        method="power",
        lies="on the rack",
    ),
    PlannedDay(
        day=date(2026, 11, 20),
        orders=("D-109",),
        share=0.55,
        method="power",
        slips=(
            Slip(what="short", component="head", step="normalise-2", words="0.03"),
            Slip(what="undo", component="head", step="true the head"),
        ),
        lies="on the rack",
    ),
)
