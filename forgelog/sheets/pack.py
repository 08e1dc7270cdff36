"""The pack list: what goes out, whether its finish is dry, and what it weighs."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.desk.pack_told import FinishPacked, PackTold
from forgelog.sheets.blocks import (
    AnyBlock,
    Check,
    Checks,
    Facts,
    Part,
    Points,
    Room,
    Sheet,
    Table,
    Words,
)
from forgelog.sheets.job import pairs

WEIGHED = (
    "Weights are by the sum of the finished forms, without packing. Nothing here says that a part "
    "carries a load."
)


def pack_sheet(told: PackTold) -> Sheet:
    """The pack list of an order."""
    title = f"{told.order.label}: {told.order.title}"
    return Sheet(
        kind="PACK LIST",
        title=title,
        head=f"PACK LIST  {title}",
        foot=f"told {told.day} by forgelog",
        lead=tuple(_lead(told)),
        parts=tuple(_parts(told)),
    )


def _lead(told: PackTold) -> Iterator[AnyBlock]:
    sets = "1 set" if told.order.count == 1 else f"{told.order.count} sets"
    yield Facts(
        rows=(
            ("Order", told.order.id),
            ("Promised", told.order.promised or "no date"),
            *_delivered(told),
            ("What", f"{sets} of {told.recipe}, {told.steel}"),
            *pairs(told.customer),
        )
    )
    if told.open_steps:
        steps = "1 step is" if told.open_steps == 1 else f"{told.open_steps} steps are"
        yield Words(words=f"Not to go out yet: {steps} still to be done.", strong=True)


def _delivered(told: PackTold) -> Iterator[tuple[str, str]]:
    order = told.order
    if order.delivered:
        yield "Delivered", ", ".join(filter(None, (order.delivered, order.delivered_on)))
    if order.spares:
        yield "Kept back", ", ".join(order.spares)


def _parts(told: PackTold) -> Iterator[Part]:
    forged = [
        (
            f"{part.count} {part.name}",
            "; ".join(filter(None, (part.marks, part.made_of))),
            part.mass or "to be weighed",
        )
        for part in told.parts
    ]
    bought = [
        (one.counted, one.says, mass or "to be weighed")
        for one, mass in zip(told.bought, told.bought_mass, strict=True)
    ]
    total = [("together", "", told.mass)] if told.mass else []
    if told.mass and told.not_weighed:
        total = [("together, as far as known", "", told.mass)]
    head = ("what", "", "weight")
    if forged:
        rows = (*forged, *bought, *total)
        table = Table(head=head, rows=rows, right=frozenset({2}), total=bool(total), ticked=True)
        yield Part(title="In the parcel", blocks=(table, Words(words=WEIGHED)))
    if told.finishes:
        yield Part(
            title="Finish",
            blocks=(
                Checks(items=tuple(_finish(one) for one in told.finishes)),
                Points(
                    items=(
                        "Packed wet, oil sticks to the paper, and oily rags heat themselves:"
                        " none goes into the parcel or the bin.",
                    )
                ),
            ),
        )
    yield Part(
        title="Sent",
        blocks=(
            Checks(
                items=(
                    Check(words="counted against this list"),
                    Check(words="both of a pair side by side once more"),
                    Check(words="threads greased, edges covered"),
                    Check(words="weighed: ________   parcels: ________"),
                    Check(words="gone on: ________   with: ________________"),
                )
            ),
            Room(title="Notes", lines=3),
        ),
    )


def _finish(one: FinishPacked) -> Check:
    words = f"{one.name}: {one.do}"
    if one.dries:
        words += f"; dries {one.dries}"
    if one.dry_from:
        words += f", dry from {one.dry_from}"
    elif one.dries:
        words += ", done on ________ at ________"
    note = "" if one.done == one.of else f"{one.done} of {one.of} done"
    return Check(words=words, note="; ".join(filter(None, (note, one.says))))
