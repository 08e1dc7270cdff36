"""A list with titles between its rows: TAB goes down it, some rows can be marked."""

from __future__ import annotations

import msgspec

from forgelog.screens.page import Look, Page, cells, cut


class Item(msgspec.Struct, frozen=True, kw_only=True):
    """A row that can be chosen."""

    id: str
    words: str
    right: str = ""
    """Stands at the right edge: a date, a count."""
    title: str = ""
    """Stands in a row of its own above it, where a part of the list begins."""
    markable: bool = False


class Chooser(msgspec.Struct, frozen=True, kw_only=True):
    """The list, the row that is chosen, and the rows that are marked."""

    items: tuple[Item, ...]
    at: int = 0
    marked: frozenset[str] = frozenset()

    @property
    def item(self) -> Item | None:
        """The chosen row; None in an empty list."""
        return self.items[self.at] if self.items else None

    def moved(self, by: int) -> Chooser:
        """The choice further down or up, round the ends."""
        if not self.items:
            return self
        return msgspec.structs.replace(self, at=(self.at + by) % len(self.items))

    def with_mark_turned(self) -> Chooser:
        """The chosen row marked, or its mark taken off."""
        item = self.item
        if item is None or not item.markable:
            return self
        return msgspec.structs.replace(self, marked=self.marked ^ {item.id})

    def with_items(self, items: tuple[Item, ...]) -> Chooser:
        """Other rows; the choice stays with its row where it is still there."""
        ids = [item.id for item in items]
        old = self.item
        at = ids.index(old.id) if old is not None and old.id in ids else 0
        return msgspec.structs.replace(self, items=items, at=at, marked=self.marked & set(ids))


def put_chooser(page: Page, top: int, rows: int, chooser: Chooser) -> None:
    """Draw the list, scrolled so that the choice is seen with what stands round it."""
    shown: list[int | str] = []
    at_row = 0
    for i, item in enumerate(chooser.items):
        if item.title:
            if shown:
                shown.append("")
            shown.append(item.title)
        if i == chooser.at:
            at_row = len(shown)
        shown.append(i)
    first = max(0, min(at_row - rows // 2, len(shown) - rows))
    if at_row <= 1:
        first = 0
    above, below = bool(first), first + rows < len(shown)
    for y, row in enumerate(shown[first : first + rows]):
        crowded = (above and y == 0) or (below and y == rows - 1)
        if isinstance(row, str):
            page.put(1, top + y, row, Look.STRONG)
        else:
            _put_item(page, top + y, chooser, row, page.width - (14 if crowded else 1))
    if above:
        page.put_right(page.width - 1, top, " more above ", Look.QUIET)
    if below:
        page.put_right(page.width - 1, top + rows - 1, " more below ", Look.QUIET)


def _put_item(page: Page, y: int, chooser: Chooser, index: int, edge: int) -> None:
    item = chooser.items[index]
    chosen = index == chooser.at
    mark = ("[x] " if item.id in chooser.marked else "[ ] ") if item.markable else ""
    look = Look.SIGN if chosen else Look.PLAIN
    right = edge - cells(item.right) - 2 if item.right else edge
    words = cut(f"{mark}{item.words}", right - 4)
    page.put(1, y, f"{'>' if chosen else ' '} ", Look.STRONG)
    after = page.put(3, y, words, look)
    if item.right:
        if right - after > 3:
            page.put_drawn(after + 1, y, "." * (right - after - 2))
        page.put(right, y, item.right, Look.STRONG if chosen else Look.PLAIN)
