"""One press as one line of the journal: JSON with a check number as its last key.

The line is compact JSON; the check is the CRC-32 of all bytes that stand before `,"crc"`.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator

import msgspec

from forgelog.recipe.plain import harmless, shortened
from forgelog.work.facts import Press, SessionBegan

LONGEST_LINE = 8 * 1024 * 1024
"""Bytes. A recipe of 100 components is pinned in a tenth of it; what is longer is no press."""

_TAIL = b',"crc":"'
_TAIL_LENGTH = len(_TAIL) + 8 + 2
_LINE_END = re.compile(rb',"crc":"[0-9a-f]{8}"\}')
_LINE_START = re.compile(rb'\{"seq":')
_MOST_PIECES = 64
"""A damaged line is searched for so many whole presses at most."""

_ENCODER = msgspec.json.Encoder()
_DECODER = msgspec.json.Decoder(Press)


class LineError(ValueError):
    """A line that is not one whole press. Its text says what is the matter with it."""


class _AnyPress(msgspec.Struct):
    """A press of which nothing is known but that it holds facts."""

    facts: list[dict[str, object]] = []


class _At(msgspec.Struct):
    """Of its readings of the clocks, the one that says where on earth it was."""

    offset: int = 0


class _First(msgspec.Struct):
    """A press whose facts are left as they stand: a first line may hold a whole recipe."""

    facts: list[msgspec.Raw] = []
    at: _At | None = None


_ANY = msgspec.json.Decoder(_AnyPress)
_FIRST = msgspec.json.Decoder(_First)
_BEGAN = msgspec.json.Decoder(SessionBegan)


def write_line(press: Press) -> bytes:
    """The press as a line of the journal, with its line feed.

    Raises:
        ValueError: the press would not be read back as it is (a number that is no number, half a
            letter); such a line must never reach the disk.
    """
    try:
        body = _ENCODER.encode(press)[:-1]
        line = b'%b,"crc":"%08x"}' % (body, zlib.crc32(body))
        same = _DECODER.decode(line) == press
    except ValueError:
        same = False
    if not same or len(line) >= LONGEST_LINE:
        raise ValueError("this press would not be read back as it is")
    return line + b"\n"


def read_line(line: bytes) -> Press:
    """The press of a line; with or without its line feed.

    Raises:
        LineError: it is torn, damaged, or says something that this version does not know.
    """
    line = line.rstrip(b"\r\n")
    _check(line)
    try:
        press = _DECODER.decode(line)
    except msgspec.ValidationError as problem:
        raise LineError(_unknown(line, problem)) from None
    except UnicodeDecodeError:
        raise LineError("holds letters that are no UTF-8") from None
    except (msgspec.DecodeError, RecursionError):
        raise LineError("is no JSON") from None
    if press.seq < 0:
        raise LineError("has a number below 0")
    return press


def read_first(line: bytes) -> SessionBegan:
    """What the first line of a file says of its session; the other facts in it are not read.

    Raises:
        LineError: it is torn, damaged, or says nothing of a session.
    """
    line = line.rstrip(b"\r\n")
    _check(line)
    try:
        facts = _FIRST.decode(line).facts
        return _BEGAN.decode(facts[0])
    except (ValueError, IndexError, RecursionError):
        raise LineError("does not say which session began") from None


def offset_of_first(line: bytes) -> int:
    """Local time less UTC, minutes, as the first line of a file has it; 0 where it does not say.

    Raises:
        LineError: it is torn or damaged.
    """
    line = line.rstrip(b"\r\n")
    _check(line)
    try:
        at = _FIRST.decode(line).at
    except (ValueError, RecursionError):
        return 0
    return at.offset if at is not None else 0


def presses_within(line: bytes) -> Iterator[Press]:
    """The whole presses that stand inside a damaged line: after a block of zeros, or run together.

    Args:
        line: A line that `read_line` refused.
    """
    place = 0
    for end in [m.end() for m in _LINE_END.finditer(line)][:_MOST_PIECES]:
        starts = [m.start() for m in _LINE_START.finditer(line, place, end)]
        for start in starts[:_MOST_PIECES]:
            try:
                press = read_line(line[start:end])
            except LineError:
                continue
            yield press
            place = end
            break


def excerpt(line: bytes) -> str:
    """The beginning of a line, fit to be shown."""
    return shortened(harmless(line[:200].decode("utf-8", "replace").rstrip()), 80)


def _check(line: bytes) -> None:
    if not line.strip(b"\0 \t"):
        raise LineError("is empty, or zeros only")
    if len(line) >= LONGEST_LINE:
        raise LineError("is too long to be a press")
    if line[-_TAIL_LENGTH:-10] != _TAIL or line[-2:] != b'"}':
        raise LineError("is cut short, or is no line of the journal")
    if line[-10:-2] != b"%08x" % zlib.crc32(line[:-_TAIL_LENGTH]):
        raise LineError("is damaged: its check number does not fit")


def _unknown(line: bytes, problem: msgspec.ValidationError) -> str:
    """What a sound line says that this version does not know."""
    known = {str(kind.__struct_config__.tag) for kind in _kinds()}
    try:
        facts = _ANY.decode(line).facts
    except (ValueError, RecursionError):
        facts = []
    for fact in facts:
        if str(fact.get("fact")) not in known:
            name = shortened(harmless(str(fact.get("fact"))), 40)
            return f'holds "{name}", which only a newer forgelog knows'
    return f"holds a fact that is not as it should be ({harmless(str(problem))})"


def _kinds() -> tuple[type[msgspec.Struct], ...]:
    from typing import get_args

    from forgelog.work.facts import AnyFact

    return get_args(AnyFact)
