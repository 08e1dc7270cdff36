"""Small deeds on the disk that either happen whole or not at all, and what to say when not."""

from __future__ import annotations

import errno
import os
from pathlib import Path

_FULL = (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC), errno.EFBIG)
_SHUT = (errno.EROFS, errno.EACCES, errno.EPERM)
_CANNOT_SYNC = (errno.EINVAL, getattr(errno, "ENOTSUP", errno.EINVAL), errno.ENOSYS)


def why_not(problem: OSError) -> str:
    """The trouble in the smith's words: "the disk is full"."""
    if problem.errno in _FULL:
        return "the disk is full"
    if problem.errno in _SHUT:
        return "the book's folder is read-only"
    if problem.errno == errno.ENOENT:
        return "the book's folder is gone"
    return f"the disk does not answer ({problem.strerror or problem})"


def sync(fd: int) -> None:
    """Wait until the file is on the disk itself. A file system that has no such thing is let be."""
    try:
        os.fsync(fd)
    except OSError as problem:
        if problem.errno not in _CANNOT_SYNC:
            raise


def sync_folder(folder: Path) -> None:
    """Wait until the folder's list of names is on the disk."""
    try:
        fd = os.open(folder, os.O_RDONLY)
    except OSError:
        return  # Windows opens no folders; there the file's own sync has to do.
    try:
        sync(fd)
    finally:
        os.close(fd)


def make_folder(folder: Path) -> None:
    """Make a folder with those above it, each on the disk before the next.

    Raises:
        OSError: it cannot be made.
    """
    if folder.is_dir():
        return
    if folder.parent != folder:
        make_folder(folder.parent)
    try:
        folder.mkdir()
    except FileExistsError:
        if not folder.is_dir():
            raise
    sync_folder(folder.parent)


def write_all(fd: int, data: bytes) -> None:
    """Write every byte; the disk may take them in several bites.

    Raises:
        OSError: the disk took no more.
    """
    while data:
        taken = os.write(fd, data)
        if taken <= 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        data = data[taken:]


def write_new(path: Path, data: bytes) -> None:
    """Write a file that is not there yet: whole, or not at all.

    Raises:
        FileExistsError: something of this name is there; it is left as it is.
        OSError: it cannot be written.
    """
    if path.exists() or path.is_symlink():
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
    make_folder(path.parent)
    beside = _written_beside(path, data)
    try:
        try:
            os.link(beside, path)  # unlike a rename it never takes the place of another file
        except FileExistsError:
            raise
        except (OSError, NotImplementedError, AttributeError):
            if path.exists():
                raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path)) from None
            beside.rename(path)
    finally:
        beside.unlink(missing_ok=True)
    sync_folder(path.parent)


def write_over(path: Path, data: bytes) -> None:
    """Write a file, in the place of the one that was there: whole, or the old one stays.

    For forgelog's own files only, never for one that the smith writes.

    Raises:
        OSError: it cannot be written.
    """
    make_folder(path.parent)
    beside = _written_beside(path, data)
    try:
        beside.replace(path)
    except OSError:
        beside.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def _written_beside(path: Path, data: bytes) -> Path:
    beside = path.with_name(f".{path.name}.{os.getpid()}.new")
    beside.unlink(missing_ok=True)
    fd = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o644)
    try:
        try:
            write_all(fd, data)
            sync(fd)
        finally:
            os.close(fd)
    except OSError:
        beside.unlink(missing_ok=True)
        raise
    return beside
