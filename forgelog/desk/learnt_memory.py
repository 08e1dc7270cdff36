"""What the journal has taught, without folding years of it at every start.

A closed order teaches the same for ever, so its records are kept in the cache folder until a file
that names it changes its size. The cache may be deleted at any time.
"""

from __future__ import annotations

import hashlib
from contextlib import suppress
from pathlib import Path

import msgspec

from forgelog import __version__
from forgelog.book.disk import write_over
from forgelog.book.folders import cache_folder
from forgelog.book.sessions import read_sessions
from forgelog.desk.learnt import learnt_from, with_own_figures
from forgelog.desk.shop import Shop, with_presses
from forgelog.floor.settings import LearntHeats
from forgelog.learn.heats import HeatRecord, StepKey
from forgelog.learn.records import done_steps, heat_records
from forgelog.recipe.resolved import Recipe
from forgelog.work.fold import fold
from forgelog.work.learning import own_heats
from forgelog.work.only import narrowed
from forgelog.work.state import Order, State

Files = tuple[tuple[str, int], ...]


class Taught(msgspec.Struct, frozen=True, kw_only=True):
    """What one order has taught."""

    files: Files
    """Names and sizes of the journal's files that name the order."""
    taken_s: float
    records: tuple[HeatRecord, ...]
    practised: tuple[HeatRecord, ...]
    """The same of practice sessions."""
    recipe: Recipe | None
    """The one that it worked from last."""


class _Memory(msgspec.Struct, frozen=True, kw_only=True):
    version: str
    orders: dict[str, Taught] = {}


def learnt_so_far(shop: Shop) -> dict[StepKey, LearntHeats]:
    """Heats of every step that the smith has made, of closed orders and open ones.

    In a practice copy only practice teaches; in a real book there is none.

    Args:
        shop: The book.
    """
    path = _memory_path(shop)
    known = _remembered(path)
    taught: dict[str, Taught] = {}
    for order in shop.state.orders.values():
        if order.closed is None:
            taught[order.id] = _taught(shop.state, order.id, ())
            continue
        named = _files_of(shop, order.id)
        files = _sizes(named)
        was = known.get(order.id)
        taught[order.id] = (
            was if was is not None and was.files == files else _read(shop, order.id, named, files)
        )
    closed = {o: t for o, t in taught.items() if shop.state.orders[o].closed is not None}
    if closed != known:
        memory = _Memory(version=__version__, orders=closed)
        with suppress(OSError):
            write_over(path, msgspec.msgpack.encode(memory))
    practice = shop.is_practice_copy
    records = [r for t in taught.values() for r in (t.practised if practice else t.records)]
    records.sort(key=lambda r: (r.ended_s, r.workpiece))
    newest = sorted(taught.items(), key=lambda pair: (pair[1].taken_s, pair[0]))
    recipes = {t.recipe.id: t.recipe for _, t in newest if t.recipe is not None}
    learnt = learnt_from(records, recipes.values())
    return with_own_figures(learnt, own_heats(shop.state))


def _files_of(shop: Shop, order: str) -> list[Path]:
    return [p for p, h in shop.headers.items() if h is None or order in h.orders]


def _sizes(paths: list[Path]) -> Files:
    sizes: list[tuple[str, int]] = []
    for path in paths:
        with suppress(OSError):
            sizes.append((path.name, path.stat().st_size))
    return tuple(sizes)


def _read(shop: Shop, order: str, paths: list[Path], files: Files) -> Taught:
    sessions = (
        with_presses(f, (narrowed(p, (order,), heads=False) for p in f.presses))
        for f in read_sessions(paths)
    )
    return _taught(fold(sessions), order, files)


def _taught(state: State, order: str, files: Files) -> Taught:
    found: Order | None = state.orders.get(order)
    pieces = {w: p for w, p in state.pieces.items() if p.order == order}
    mine = msgspec.structs.replace(state, pieces=pieces)
    return Taught(
        files=files,
        taken_s=found.taken_s if found else 0.0,
        records=tuple(heat_records(done_steps(mine))),
        practised=tuple(heat_records(done_steps(mine, practice=True))),
        recipe=found.pins[-1] if found and found.pins else None,
    )


def _memory_path(shop: Shop) -> Path:
    book = str(shop.book.resolve()).encode("utf-8", "surrogateescape")
    return cache_folder() / f"learnt-{hashlib.sha256(book).hexdigest()[:16]}.bin"


def _remembered(path: Path) -> dict[str, Taught]:
    try:
        memory = msgspec.msgpack.decode(path.read_bytes(), type=_Memory)
    except (OSError, ValueError, RecursionError):
        return {}
    return memory.orders if memory.version == __version__ else {}
