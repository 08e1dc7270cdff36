"""The index's file: named bodies in SQLite, each with a check, and whole batches or nothing.

The index is derived and disposable: everything in it can be made again from the journal. So a file
that is damaged, of another version or half written is thrown away, and one that cannot be used now
(locked, on a disk that takes nothing) is done without. Every body carries a CRC over its name and
itself, because SQLite alone does not notice a byte that was changed within a row.
"""

from __future__ import annotations

import sqlite3
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from forgelog.book.disk import make_folder

T = TypeVar("T")

APPLICATION = 0x666F7267
"""Says of an SQLite file that it is an index of forgelog ("forg")."""
FORMAT = 1
"""Of the file; the records in it go by the fingerprint."""
BUSY_S = 3.0
"""So long another program may hold the file before it is done without."""

_SMALL = 256
"""Bytes. Shorter bodies are kept as they are."""
_NOT_NOW = frozenset(
    (
        *(sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED, sqlite3.SQLITE_READONLY),
        *(sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_FULL),
        *(sqlite3.SQLITE_IOERR, sqlite3.SQLITE_NOLFS, sqlite3.SQLITE_AUTH),
    )
)


class IndexDamagedError(Exception):
    """What the file says cannot be taken: it is thrown away and made again."""


class IndexShutError(Exception):
    """The file cannot be used now: locked, read-only, or the disk is full."""


class IndexStore:
    """Bodies by kind and name. Nothing is changed but inside `batch`."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._db = connection
        self._decoders: dict[Any, msgspec.msgpack.Decoder[Any]] = {}

    def get(self, kind: str, name: str, form: type[T]) -> T | None:
        """The record of this name, or None where there is none.

        Raises:
            IndexDamagedError: it is not as it was written.
            IndexShutError: the file cannot be read now.
        """
        with _told():
            row = self._db.execute(
                "SELECT check_sum, body FROM kept WHERE kind = ? AND name = ?", (kind, name)
            ).fetchone()
            return None if row is None else self._read(kind, name, row, form)

    def need(self, kind: str, name: str, form: type[T]) -> T:
        """The record of this name, which must be there.

        Raises:
            IndexDamagedError: it is not there, or not as it was written.
            IndexShutError: the file cannot be read now.
        """
        found = self.get(kind, name, form)
        if found is None:
            raise IndexDamagedError(f"{kind} {name} is missing")
        return found

    def put(self, kind: str, name: str, record: object) -> None:
        """Keep a record under this name, in the place of what was there."""
        body = msgspec.msgpack.encode(record)
        body = b"z" + zlib.compress(body, 1) if len(body) > _SMALL else b"-" + body
        with _told():
            self._db.execute(
                "INSERT OR REPLACE INTO kept (kind, name, check_sum, body) VALUES (?, ?, ?, ?)",
                (kind, name, _check(kind, name, body), body),
            )

    def drop(self, kind: str, name: str) -> None:
        """Forget a record."""
        with _told():
            self._db.execute("DELETE FROM kept WHERE kind = ? AND name = ?", (kind, name))

    @contextmanager
    def batch(self) -> Iterator[None]:
        """All that is changed inside is changed together, or not at all.

        Raises:
            IndexShutError: another program writes, or the disk does not take it.
        """
        with _told():
            self._db.execute("BEGIN IMMEDIATE")
        try:
            yield
        except BaseException:
            with suppress(sqlite3.Error):
                self._db.execute("ROLLBACK")
            raise
        try:
            with _told():
                self._db.execute("COMMIT")
        except BaseException:
            with suppress(sqlite3.Error):
                self._db.execute("ROLLBACK")
            raise

    def close(self) -> None:
        """Let the file go."""
        with suppress(sqlite3.Error):
            self._db.close()

    def in_memory(self) -> IndexStore:
        """A copy that is thrown away in the end, for a file that takes nothing."""
        memory = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
        with _told():
            self._db.backup(memory)
        return IndexStore(memory)

    def _read(self, kind: str, name: str, row: tuple[Any, Any], form: type[T]) -> T:
        check, body = row
        if not isinstance(body, bytes) or check != _check(kind, name, body):
            raise IndexDamagedError(f"{kind} {name} is damaged")
        return self._decoded(zlib.decompress(body[1:]) if body[:1] == b"z" else body[1:], form)

    def decoded(self, body: bytes, form: type[T]) -> T:
        """A record out of bytes that a record has held.

        Raises:
            IndexDamagedError: they are none.
        """
        with _told():
            return self._decoded(body, form)

    def _decoded(self, body: bytes, form: type[T]) -> T:
        decoder = self._decoders.get(form)
        if decoder is None:
            decoder = self._decoders[form] = msgspec.msgpack.Decoder(form)
        return decoder.decode(body)  # type: ignore[no-any-return]


def open_store(path: Path | None, fingerprint: str) -> IndexStore:
    """Open the index's file, or begin it; one of another version is begun anew.

    Args:
        path: The file; None for one in memory.
        fingerprint: Of the records in it: what another program has made is not read.

    Raises:
        IndexDamagedError: something lies there that is no index, or a damaged one.
        IndexShutError: it cannot be opened now.
    """
    if path is not None:
        try:
            make_folder(path.parent)
        except OSError as problem:
            raise IndexShutError(str(problem)) from None
    connection: sqlite3.Connection | None = None
    try:
        with _told():
            connection = sqlite3.connect(
                ":memory:" if path is None else path,
                timeout=BUSY_S,
                isolation_level=None,
                check_same_thread=False,
            )
            _prepare(connection, fingerprint)
        return IndexStore(connection)
    except BaseException:
        if connection is not None:
            connection.close()
        raise


def throw_away(path: Path) -> None:
    """Remove the index's file, with what SQLite has laid beside it.

    Raises:
        IndexShutError: it cannot be removed.
    """
    for name in (path.name, *(f"{path.name}-{more}" for more in ("journal", "wal", "shm"))):
        try:
            path.with_name(name).unlink(missing_ok=True)
        except OSError as problem:
            raise IndexShutError(str(problem)) from None


def _prepare(connection: sqlite3.Connection, fingerprint: str) -> None:
    ask: Callable[[str], Any] = lambda what: connection.execute(f"PRAGMA {what}").fetchone()[0]  # noqa: E731
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    connection.execute("PRAGMA cache_size = -32768")
    if ask("page_count") == 0:
        # Rollback journal and full syncs: a write-ahead log wants shared memory, which a cache
        # folder on a network does not give, and a batch is written seldom.
        connection.execute("BEGIN IMMEDIATE")
        connection.execute(f"PRAGMA application_id = {APPLICATION}")
        connection.execute(f"PRAGMA user_version = {FORMAT}")
        connection.execute("CREATE TABLE IF NOT EXISTS made_by (fingerprint TEXT)")
        connection.execute("INSERT INTO made_by VALUES (?)", (fingerprint,))
        connection.execute(
            "CREATE TABLE IF NOT EXISTS kept (kind TEXT, name TEXT, check_sum INTEGER, body BLOB,"
            " PRIMARY KEY (kind, name))"
        )
        connection.execute("COMMIT")
    made_by = connection.execute("SELECT fingerprint FROM made_by").fetchone()
    if (ask("application_id"), ask("user_version")) != (APPLICATION, FORMAT):
        raise IndexDamagedError("the file is no index of this version")
    if made_by is None or made_by[0] != fingerprint:
        raise IndexDamagedError("the index was made by another version")


def _check(kind: str, name: str, body: bytes) -> int:
    return zlib.crc32(body, zlib.crc32(f"{kind}\0{name}\0".encode("utf-8", "surrogatepass")))


@contextmanager
def _told() -> Iterator[None]:
    """Whatever SQLite and the decoders raise, as one of our two errors."""
    try:
        yield
    except sqlite3.Error as problem:
        code = getattr(problem, "sqlite_errorcode", None)
        if code is not None and code & 0xFF in _NOT_NOW:
            raise IndexShutError(str(problem)) from None
        raise IndexDamagedError(str(problem)) from None
    except (ValueError, zlib.error, RecursionError, OverflowError, TypeError) as problem:
        raise IndexDamagedError(str(problem)) from None
