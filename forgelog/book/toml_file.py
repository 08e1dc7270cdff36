"""Reads the smith's settings files: every fault with its line, and all that is sound besides."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path as FilePath
from typing import Any, Generic, TypeVar

import msgspec

from forgelog.recipe.expressions import unit_fault
from forgelog.recipe.problems import Fault, Path, Problem
from forgelog.recipe.read import located
from forgelog.recipe.shape import shaped_as
from forgelog.recipe.syntax import decoded, parsed
from forgelog.units import ReadError

T = TypeVar("T", bound=msgspec.Struct)
N = TypeVar("N")


class TomlFile(Generic[T]):
    """One settings file as it was read; more can be found wrong with it afterwards."""

    def __init__(self, cls: type[T], data: bytes, name: str) -> None:
        """Read a file. Never raises, whatever the bytes.

        Args:
            cls: The written form of such a file.
            data: The file as it lies on the disk.
            name: The file's name, for the problems.
        """
        self.name = name
        self._found = None
        self._problems: list[Problem] = []
        text = decoded(data, self._report_line)
        if text is not None:
            self._found = parsed(text, self._report_line)
        table: Any = self._found.table if self._found else {}
        self.written: T = shaped_as(cls, table, self.report)
        """What was sound; defaults for the rest, and "" for what must be there and is not."""

    @property
    def problems(self) -> tuple[Problem, ...]:
        """All that is wrong, in the order of lines."""
        return tuple(sorted(dict.fromkeys(self._problems), key=lambda p: p.line or 0))

    def report(self, path: Path, fault: Fault) -> None:
        """Note that something is wrong with the thing at a path."""
        if self._found is None:
            return
        if not self._found.whole and fault.found.startswith("has no "):
            return
        self._problems.append(located(self._found, self.name, path, fault))

    def quantity(self, path: Path, text: str, read: Callable[[str], N], default: N) -> N:
        """Read a text with its unit; the default where there is none or it cannot be read.

        Args:
            path: Where it stands.
            text: "" where the file says nothing.
            read: `parse_length` and the like.
            default: Taken instead.
        """
        if not text:
            return default
        try:
            return read(text)
        except ReadError as problem:
            self.report(path, unit_fault(problem))
            return default

    def _report_line(self, line: int | None, fault: Fault, severity: Any) -> None:
        self._problems.append(
            Problem(
                file=self.name,
                line=line,
                found=fault.found,
                expected=fault.expected,
                hint=fault.hint,
                severity=severity,
            )
        )


def bytes_of(path: FilePath) -> tuple[bytes, Problem | None]:
    """The bytes of a file; none, and nothing wrong, where there is no such file."""
    try:
        return path.read_bytes(), None
    except FileNotFoundError:
        return b"", None
    except OSError as error:
        found = f"the file cannot be read: {error.strerror or error}"
        return b"", Problem(file=path.name, found=found)
