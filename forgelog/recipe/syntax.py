"""From bytes to TOML tables: every fault of the text that can be found, with its line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from typing import Any

import msgspec

from forgelog.recipe.plain import code_point, hidden_signs, listed
from forgelog.recipe.problems import DEEPEST, Fault, Severity

TYPE_CHECKING = False
if TYPE_CHECKING:
    from forgelog.recipe.lines import Layout

LARGEST_BYTES = 256 * 1024
"""A recipe is a page or two; a file beyond this is something else."""

_TRIES = 20
"""So many broken lines are passed over in the search for more."""

ReportLine = Callable[[int | None, Fault, Severity], None]
"""Takes what is wrong with a line."""


class Parsed(msgspec.Struct, frozen=True, kw_only=True):
    """A text that could be read as TOML, perhaps after leaving out broken lines."""

    table: Mapping[str, Any]
    text: str
    rows: tuple[str, ...]
    """The lines of the file."""
    whole: bool
    """False where lines were left out, so that keys may be missing for that reason alone."""

    @property
    def layout(self) -> Layout:
        """Which line each key stands on; worked out when it is first asked for."""
        return _layout(self.text)


def decoded(data: bytes, report: ReportLine) -> str | None:
    """The text of the file, or None where it is no text.

    Args:
        data: The bytes as they lie on the disk.
        report: Is told what is wrong.
    """
    if len(data) > LARGEST_BYTES:
        found = f"the file has {len(data):,} bytes".replace(",", " ")
        expected = f"at most {LARGEST_BYTES // 1024} KiB are read"
        report(None, Fault(found=found, expected=expected), "error")
        return None
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        found = "the file is saved as UTF-16"
        report(None, Fault(found=found, expected="save it as UTF-8"), "error")
        return None
    if data.startswith(b"\xef\xbb\xbf"):
        data = data[3:]
        found = "the file begins with a byte order mark, which is passed over"
        report(1, Fault(found=found, expected="save it as UTF-8 without one"), "warning")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        place = error.start - (data.rfind(b"\n", 0, error.start) + 1) + 1
        found = f"byte {place} of this line is {data[error.start]:#04x}, which is no UTF-8"
        report(line, Fault(found=found, expected="save the file as UTF-8"), "error")
        return None


def rows_of(text: str) -> tuple[str, ...]:
    """The lines of a text, however they end."""
    rows = text.split("\n")
    return tuple(row.removesuffix("\r") for row in rows) if "\r" in text else tuple(rows)


def parsed(text: str, report: ReportLine) -> Parsed | None:
    """Read the text as TOML, or None where nothing more can be said of it.

    A broken line that stands by itself is reported and left out, so that the lines after it
    are looked at as well.
    """
    rows = rows_of(text)
    clean = _hidden_in(rows, report)
    if max(row.count(".") for row in rows) > DEEPEST and _too_deep(text, report):
        return None  # before the reader, which is slow at a name of very many parts
    lines = text.split("\n")
    whole = clean
    for _ in range(_TRIES):
        try:
            table = tomllib.loads("\n".join(lines))
        except tomllib.TOMLDecodeError as error:
            if _too_deep(text, report):
                return None
            whole = False
            line = _line_in(str(error), lines)
            if not hidden_signs(rows[line - 1]):
                report(line, _in_words(str(error), rows[line - 1], _layout(text), line), "error")
            if not _stands_alone(_layout(text), lines, line):
                return None
            lines[line - 1] = ""
        except (ValueError, RecursionError, OverflowError):
            if not _too_deep(text, report):
                found = "the file holds a number with more digits than can be read"
                report(_long_number(rows), Fault(found=found), "error")
            return None
        else:
            if _goes_deep(table, DEEPEST) and _too_deep(text, report):
                return None
            return Parsed(table=table, text=text, rows=rows, whole=whole)
    return None


def _layout(text: str) -> Layout:
    from forgelog.recipe.lines import scan_lines

    return scan_lines(text)


def _too_deep(text: str, report: ReportLine) -> bool:
    """Report the line where the nesting goes too deep to be followed, if there is one."""
    line = _layout(text).too_deep
    if line is not None:
        found = f"goes more than {DEEPEST} tables or lists deep"
        report(line, Fault(found=found, expected="no recipe needs more than 9"), "error")
    return line is not None


def _goes_deep(table: Any, most: int) -> bool:
    """Whether anything lies under more than so many keys and numbers."""
    level = [table]
    for _ in range(most):
        level = [
            inner
            for held in level
            for inner in (held.values() if isinstance(held, dict) else held)
            if isinstance(inner, (dict, list))
        ]
    return any(level)


def _hidden_in(rows: tuple[str, ...], report: ReportLine) -> bool:
    """Report signs that show nothing, in comments too; True where there are none."""
    clean = True
    for number, row in enumerate(rows, 1):
        if not row.isprintable() and (hidden := hidden_signs(row)):
            names = listed((code_point(sign) for sign in hidden[:5]), "and")
            found = f"the line holds {names}, which cannot be seen"
            report(number, Fault(found=found, expected="take it out"), "error")
            clean = False
    return clean


_AT = r" \(at line (\d+), column \d+\)$"
_AT_END = " (at end of document)"


def _line_in(message: str, lines: list[str]) -> int:
    """The line that the TOML reader names; of a text that ends too soon, its last line."""
    if match := re.search(_AT, message):
        return min(int(match[1]), len(lines))
    last = len(lines)
    while last > 1 and not lines[last - 1].strip():
        last -= 1
    return last


def _stands_alone(layout: Layout, lines: list[str], line: int) -> bool:
    """Whether the broken line is a statement by itself, so that the next can be read."""
    row = lines[line - 1].strip()
    return bool(row) and not row.startswith("[") and (line, line) in layout.statements


def _in_words(message: str, row: str, layout: Layout, line: int) -> Fault:
    """What the TOML reader says, in a smith's words."""
    head = re.sub(_AT, "", message).removesuffix(_AT_END)
    name = re.match(r"\s*([A-Za-z0-9_.-]+)\s*=", row)
    key = name[1][:40] if name else "the value"
    for start, found, expected in _WORDS:
        if head.startswith(start):
            begun = (first for first, last in layout.statements if first < line <= last)
            hint = f"it begins in line {begin}" if (begin := next(begun, None)) else ""
            return Fault(found=found.replace("KEY", key), expected=expected, hint=hint)
    return Fault(found="this is no TOML that can be read", expected="", hint=head[:120])


_WORDS = (
    (
        "Expected '=' after a key",
        'a key has no "=" after it',
        'write key = value, like name = "Gate hook"; a heading stands in [brackets]',
    ),
    (
        "Invalid value",
        "what stands after the = cannot be read",
        'write words and lengths in quotes, like cut = "300 mm"',
    ),
    ("Illegal character '\\n'", "the quotes are not closed", 'end the words with a "'),
    ("Unterminated string", "the quotes are not closed", 'end the words with a "'),
    ("Unescaped '\\\\' in a string", "a backslash stands alone", "write it twice: \\\\\\\\"),
    ("Invalid hex value", "a \\u needs four hexadecimal digits after it", ""),
    ("Escaped character is not", "a \\u names no sign", ""),
    ("Cannot overwrite a value", "KEY is written twice in one table", "leave one of them"),
    ("Cannot declare", "this heading is written twice, or is a key already", "leave one of them"),
    ("Cannot mutate immutable", "this was closed above and takes no more keys", "add them there"),
    ("Cannot redefine namespace", "this heading is a key already", "leave one of them"),
    ("Duplicate inline table key", "a key is written twice between { and }", "leave one of them"),
    (
        "Unclosed array",
        "a list is not closed",
        'put words in quotes, a comma between the parts, and a "]" at the end',
    ),
    (
        "Unclosed inline table",
        "a { is not closed",
        'put words in quotes, a comma between the parts, and a "}" at the end',
    ),
    ("Expected ']]'", "the heading is not closed", 'end it with "]]"'),
    ("Expected ']'", "the heading is not closed", 'end it with "]"'),
    (
        "Expected newline or end of document",
        "the line goes on where its value has ended",
        "begin a new line, or put words in quotes",
    ),
    (
        "Invalid initial character for a key",
        "no key stands where one should be",
        "write the key before the =",
    ),
    ("Invalid statement", "the line begins with no key and no heading", "write key = value"),
    ("Found invalid character", "the line holds a sign that cannot be seen", "take it out"),
    ("Expected newline or ", "the line is broken", "begin a new line"),
    ("Invalid date or datetime", "this is no date", "write words in quotes"),
)
"""How the TOML reader's message begins, what it means, and what to do."""


def _long_number(rows: tuple[str, ...]) -> int | None:
    for number, row in enumerate(rows, 1):
        if re.search(r"[0-9_]{4000,}", row):
            return number
    return None
