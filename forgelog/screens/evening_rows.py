"""The rows of the evening page: what can be told, and what has been."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

import msgspec

from forgelog.desk.evening_told import Evening
from forgelog.screens.chooser import Item

NOT_TOLD = "not told"
PASSED = "not tonight"


def evening_rows(evening: Evening, passed: Collection[str]) -> tuple[Item, ...]:
    """Every row, what the day left open first, then what comes first tomorrow.

    Args:
        evening: What is asked and said.
        passed: Ids of rows that were left for tonight.
    """
    parts = (
        ("THE DAY", _day(evening)),
        ("WHERE IT LIES", _lying(evening)),
        ("FUEL", _fuel(evening)),
        ("RACK", _rack(evening)),
        ("CUT LENGTHS: HOW DID THEY COME OUT?", _cuts(evening)),
        ("TOMORROW", _next(evening)),
        ("GOOD NIGHT", [Item(id="leave", words="that was the evening: leave")]),
    )
    return tuple(row for title, rows in parts for row in _titled(title, rows, passed))


def _titled(title: str, rows: Iterable[Item], passed: Collection[str]) -> Iterator[Item]:
    """A part of the list; a row that was left says so at its edge."""
    for i, row in enumerate(rows):
        left = row.right == NOT_TOLD and row.id in passed
        yield msgspec.structs.replace(
            row, right=PASSED if left else row.right, title="" if i else title
        )


def _day(evening: Evening) -> Iterator[Item]:
    if evening.session:
        yield Item(id="review", words="look back at the day")
    if evening.heats:
        count = len(evening.heats)
        steps = "1 step" if count == 1 else f"{count} steps"
        yield Item(id="heats", words=f"heats that nobody pressed: {steps}", right=NOT_TOLD)


def _lying(evening: Evening) -> Iterator[Item]:
    for i, one in enumerate(evening.lying):
        yield Item(id=f"lying {i}", words=one.words, right=one.where or NOT_TOLD)


def _fuel(evening: Evening) -> Iterator[Item]:
    fuel = evening.fuel
    if fuel is not None:
        how = "the bottle before and after" if fuel.weighed else f"how much {fuel.kind}"
        yield Item(id="fuel", words=f"{fuel.fire}: {how}", right=fuel.told or NOT_TOLD)


def _rack(evening: Evening) -> Iterator[Item]:
    if evening.bars:
        right = f"write {evening.label} on it"
        yield Item(id="keep", words="an offcut goes back on the rack", right=right)
    if evening.offcuts:
        right = f"{len(evening.offcuts)} lie there"
        yield Item(id="use", words="an offcut is used up", right=right)


def _cuts(evening: Evening) -> Iterator[Item]:
    for i, one in enumerate(evening.cuts):
        yield Item(id=f"cut {i}", words=one.words, right=one.told or NOT_TOLD)


def _next(evening: Evening) -> Iterator[Item]:
    for i, words in enumerate(evening.next):
        yield Item(id=f"next {i}", words=words)
    for i, words in enumerate(evening.sheets):
        yield Item(id=f"sheet {i}", words=f"on paper: {words}")
