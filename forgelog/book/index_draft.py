"""Changes to the index that are not written yet, read as if they were."""

from __future__ import annotations

from functools import cached_property
from typing import Any, TypeVar

import msgspec

from forgelog.book.index_records import (
    FileKept,
    KeyName,
    Mark,
    Mishaps,
    OrderKept,
    Sum,
    Tip,
)
from forgelog.book.index_store import IndexStore
from forgelog.learn.rows import SessionRow
from forgelog.learn.rule import Pile

T = TypeVar("T")

TIP, DOC = "tip", "doc"


class MovedError(Exception):
    """Another program has written to the index meanwhile: look again at what is to be done."""


class Draft:
    """The index with a batch of changes on top. The large lists are read once and written whole."""

    def __init__(self, store: IndexStore) -> None:
        self._store = store
        self._changes: dict[tuple[str, str], Any] = {}
        self.tip = store.get(TIP, "", Tip) or Tip()

    @cached_property
    def files(self) -> dict[str, FileKept]:
        """The files that are in the index, by "YEAR/NAME"."""
        return self._list("files", dict[str, FileKept]) or {}

    @cached_property
    def marks(self) -> list[Mark]:
        """The sessions, in the order in which they are folded."""
        return self._list("marks", list[Mark]) or []

    @cached_property
    def floors(self) -> dict[str, SessionRow]:
        """The sessions at the fire, by id."""
        return self._list("floors", dict[str, SessionRow]) or {}

    @cached_property
    def orders(self) -> dict[str, OrderKept]:
        """The orders, by id."""
        return self._list("orders", dict[str, OrderKept]) or {}

    @cached_property
    def sums(self) -> dict[KeyName, Sum]:
        """The steps, added up."""
        return self._list("sums", dict[KeyName, Sum]) or {}

    @cached_property
    def mishaps(self) -> dict[str, Mishaps]:
        """What went wrong with pieces, by order."""
        return self._list("mishaps", dict[str, Mishaps]) or {}

    @cached_property
    def heats(self) -> dict[KeyName, Pile]:
        """What is learnt from of heats, by step."""
        return self._list("heats", dict[KeyName, Pile]) or {}

    @cached_property
    def hand(self) -> dict[KeyName, Pile]:
        """What is learnt from of the time in hand, by step."""
        return self._list("hand", dict[KeyName, Pile]) or {}

    @cached_property
    def bench(self) -> dict[KeyName, Pile]:
        """What is learnt from of the time at the bench, by step, whatever the method."""
        return self._list("bench", dict[KeyName, Pile]) or {}

    def _list(self, name: str, form: type[T]) -> T | None:
        """One of the large lists; only an index that nothing was ever written to has none."""
        return self._store.need(DOC, name, form) if self.tip.batches else None

    def get(self, kind: str, name: str, form: type[T]) -> T | None:
        """What is kept under a name, or will be."""
        if (kind, name) in self._changes:
            return self._changes[kind, name]  # type: ignore[no-any-return]
        return self._store.get(kind, name, form)

    def need(self, kind: str, name: str, form: type[T]) -> T:
        """The same, where there must be something.

        Raises:
            IndexDamagedError: there is nothing.
        """
        found = self.get(kind, name, form)
        return self._store.need(kind, name, form) if found is None else found

    def put(self, kind: str, name: str, record: object) -> None:
        """Keep something."""
        self._changes[kind, name] = record

    def drop(self, kind: str, name: str) -> None:
        """Forget something."""
        self._changes[kind, name] = None

    def write(self) -> None:
        """Write the batch: all of it, or nothing.

        Raises:
            MovedError: another program was quicker; nothing is written.
            IndexShutError: the file does not take it now.
        """
        tip = msgspec.structs.replace(
            self.tip, batches=self.tip.batches + 1, folded=len(self.marks)
        )
        with self._store.batch():
            if (self._store.get(TIP, "", Tip) or Tip()).batches != self.tip.batches:
                raise MovedError
            for (kind, name), record in self._changes.items():
                if record is None:
                    self._store.drop(kind, name)
                else:
                    self._store.put(kind, name, record)
            self._store.put(DOC, "files", self.files)
            self._store.put(DOC, "marks", self.marks)
            self._store.put(DOC, "floors", self.floors)
            self._store.put(DOC, "orders", self.orders)
            self._store.put(DOC, "sums", self.sums)
            self._store.put(DOC, "mishaps", self.mishaps)
            self._store.put(DOC, "heats", self.heats)
            self._store.put(DOC, "hand", self.hand)
            self._store.put(DOC, "bench", self.bench)
            self._store.put(TIP, "", tip)
        self.tip = tip
        self._changes = {}
