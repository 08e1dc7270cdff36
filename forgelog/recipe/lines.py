"""Which line of a TOML text each key stands on; the standard reader does not say.

The scanner takes any text whatsoever: what is no TOML it passes over, line by line. On text
that the standard reader takes, it finds every key and every element of every list.
"""

from __future__ import annotations

import re
from functools import lru_cache

import msgspec

from forgelog.recipe.problems import DEEPEST, Path


class Layout(msgspec.Struct, frozen=True, kw_only=True):
    """Where things stand in a TOML text."""

    lines: dict[Path, int]
    """Line, from 1, of each key, table and element of a list."""
    statements: tuple[tuple[int, int], ...] = ()
    """First and last line of each heading and of each key with its value."""
    too_deep: int | None = None
    """The line where the nesting went beyond `DEEPEST` and the scan ended."""

    def line_of(self, path: Path) -> int | None:
        """The line of the path, else of the nearest thing that holds it, else None."""
        for end in range(len(path), 0, -1):
            if (line := self.lines.get(path[:end])) is not None:
                return line
        return None


_BLANK = re.compile(r"[ \t]*+")
_GAP = re.compile(r"(?:[ \t\r\n]++|#[^\n]*+)*+")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]++")
_BASIC = re.compile(r'"((?:[^"\\\n]|\\.)*+)"')
_LITERAL = re.compile(r"'([^'\n]*+)'")
_LONG_BASIC = re.compile(r'"""(?:[^"\\]++|\\.|"(?!""))*+"""(?:"{1,2})?+', re.DOTALL)
_LONG_LITERAL = re.compile(r"'''(?:[^']++|'(?!''))*+'''(?:'{1,2})?+")
_WORD = re.compile(r"[^,\[\]{}#\n\"']*+")
_ESCAPE = re.compile(r"\\(u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}|.)", re.DOTALL)
_ESCAPES = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r"}


class _TooDeepError(Exception):
    pass


@lru_cache(maxsize=1)
def scan_lines(text: str) -> Layout:
    """Find the line of each key path. Never raises, whatever the text.

    Args:
        text: The TOML text; lines end in a line feed, with or without a carriage return.
    """
    scanner = _Scanner(text)
    try:
        scanner.run()
    except _TooDeepError:
        return Layout(
            lines=scanner.lines,
            statements=tuple(scanner.statements),
            too_deep=scanner.line_at(scanner.place),
        )
    return Layout(lines=scanner.lines, statements=tuple(scanner.statements))


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.place = 0
        self.lines: dict[Path, int] = {}
        self.statements: list[tuple[int, int]] = []
        self._table: Path = ()
        self._counts: dict[Path, int] = {}
        self._counted_to = 0
        self._line = 1

    def line_at(self, place: int) -> int:
        """The line of a place; asked for in rising order, so each letter is looked at once."""
        if place < self._counted_to:
            return self.text.count("\n", 0, place) + 1
        self._line += self.text.count("\n", self._counted_to, place)
        self._counted_to = place
        return self._line

    def run(self) -> None:
        while True:
            self._skip(_GAP)
            if self.place >= len(self.text):
                return
            first = self.line_at(self.place)
            if self.text[self.place] == "[":
                self._heading(first)
            else:
                self._statement(first)
            self._to_end_of_line()
            self.statements.append((first, self.line_at(self.place)))

    def _heading(self, line: int) -> None:
        double = self.text.startswith("[[", self.place)
        self.place += 2 if double else 1
        keys = self._keys()
        if not keys:
            return
        path: Path = ()
        for key in keys[:-1]:
            path = (*path, key)
            self.lines.setdefault(path, line)
            if path in self._counts:
                path = (*path, self._counts[path] - 1)
        path = (*path, keys[-1])
        if double:
            self.lines.setdefault(path, line)
            number = self._counts.get(path, 0)
            self._counts[path] = number + 1
            path = (*path, number)
        self.lines[path] = line
        self._table = path
        self._check_depth(path)

    def _statement(self, line: int) -> None:
        path = self._key_path(self._table, line)
        if path is None:
            return
        self._skip(_BLANK)
        if self.text.startswith("=", self.place):
            self.place += 1
            self._skip(_BLANK)
            self._value(path)

    def _key_path(self, start: Path, line: int) -> Path | None:
        path = start
        for key in self._keys():
            path = (*path, key)
            self.lines.setdefault(path, line)
        self._check_depth(path)
        return path if path is not start else None

    def _keys(self) -> list[str]:
        keys: list[str] = []
        while True:
            self._skip(_BLANK)
            key = self._key()
            if key is None:
                return keys
            keys.append(key)
            if len(keys) > DEEPEST:
                raise _TooDeepError
            self._skip(_BLANK)
            if not self.text.startswith(".", self.place):
                return keys
            self.place += 1

    def _key(self) -> str | None:
        for pattern in (_BARE_KEY, _LITERAL, _BASIC):
            if match := pattern.match(self.text, self.place):
                self.place = match.end()
                if pattern is _BARE_KEY:
                    return match[0]
                return match[1] if pattern is _LITERAL else _unescaped(match[1])
        return None

    def _value(self, path: Path) -> None:
        """Pass over one value, with all that it holds, noting the lines of what is in it."""
        holders: list[tuple[str, Path, int]] = []
        while True:
            self._check_depth(path)
            sign = self.text[self.place : self.place + 1]
            if sign == "[":
                self.place += 1
                holders.append(("]", path, 0))
            elif sign == "{":
                self.place += 1
                holders.append(("}", path, 0))
            elif not self._scalar():
                return
            next_path = self._next_in(holders)
            if next_path is None:
                return
            path = next_path

    def _next_in(self, holders: list[tuple[str, Path, int]]) -> Path | None:
        """Go to the next value inside the innermost holder; None at the end of all of them."""
        while holders:
            end, path, number = holders.pop()
            self._skip(_GAP)
            if self.text.startswith(",", self.place) and number:
                self.place += 1
                self._skip(_GAP)
            if self.text.startswith(end, self.place):
                self.place += 1
                continue
            if self.place >= len(self.text):
                return None
            holders.append((end, path, number + 1))
            line = self.line_at(self.place)
            if end == "]":
                self.lines.setdefault((*path, number), line)
                return (*path, number)
            inner = self._key_path(path, line)
            self._skip(_BLANK)
            if inner is None or not self.text.startswith("=", self.place):
                return None
            self.place += 1
            self._skip(_BLANK)
            return inner
        return None

    def _scalar(self) -> bool:
        """Pass over one plain value; False where none stands."""
        before = self.place
        for pattern in (_LONG_BASIC, _LONG_LITERAL):
            if match := pattern.match(self.text, before):
                self.place = match.end()
                return True
        if self.text.startswith(('"""', "'''"), before):
            self.place = len(self.text)
            return False
        for pattern in (_BASIC, _LITERAL, _WORD):
            if match := pattern.match(self.text, before):
                self.place = match.end()
                break
        return self.place > before

    def _skip(self, pattern: re.Pattern[str]) -> None:
        if match := pattern.match(self.text, self.place):
            self.place = match.end()

    def _to_end_of_line(self) -> None:
        end = self.text.find("\n", self.place)
        self.place = len(self.text) if end < 0 else end

    def _check_depth(self, path: Path) -> None:
        if len(path) > DEEPEST:
            raise _TooDeepError


def _unescaped(text: str) -> str:
    def one(match: re.Match[str]) -> str:
        sign = match[1]
        if sign[0] in "uU" and len(sign) > 1:
            number = int(sign[1:], 16)
            return chr(number) if number < 0x110000 else match[0]
        return _ESCAPES.get(sign, sign)

    return _ESCAPE.sub(one, text)
