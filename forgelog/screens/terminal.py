"""The terminal's two ends: bytes in, bytes out.

The framework's own driver ends in a fault on a byte that is no UTF-8, on a key-release report, and
hangs when the terminal goes away. Ours reads what it can, passes over what it does not know, and
says when there is nobody left to write to.
"""

from __future__ import annotations

import codecs
import contextlib
import os
import re
import selectors
from collections.abc import Callable, Iterable, Mapping
from typing import Any, cast

from rich.cells import cell_len
from textual import events
from textual._xterm_parser import XTermParser
from textual.app import App
from textual.drivers.linux_driver import LinuxDriver
from textual.keys import Keys

GONE = 129
"""Exit code when the terminal went away: as a shell reports a hang-up."""

_ASCII = {
    "·": "-",
    "×": "x",
    "–": "-",
    "—": "-",
    "─": "-",
    "│": "|",
    "█": "#",
    "░": ".",
    "…": ".",
    "°": " ",
    "’": "'",
    "‘": "'",
    "“": '"',
    "”": '"',
    "½": "~",
    "\u00a0": " ",
}


class _Plain(dict[int, str]):
    """Signs that are not ASCII, as ASCII of the same width: accents off, "?" for the rest."""

    def __missing__(self, code: int) -> str:
        import unicodedata

        sign = chr(code)
        if code < 0x80:
            plain = sign
        elif sign in _ASCII:
            plain = _ASCII[sign]
        else:
            base = unicodedata.normalize("NFKD", sign)[0]
            plain = base if base.isascii() and base.isprintable() else "?" * cell_len(sign)
        self[code] = plain
        return plain


def speaks_utf8(environ: Mapping[str, str] | None = None) -> bool:
    """True where the locale says that the terminal reads UTF-8, or says nothing at all."""
    known = os.environ if environ is None else environ
    names = ["LC_ALL", "LC_CTYPE", "LANG"]
    if known.get("LC_CTYPE") in ("C.UTF-8", "C.utf8", "UTF-8"):
        # Python sets this one itself where the locale is C or unknown: it tells nothing.
        names.remove("LC_CTYPE")
    for name in names:
        if value := known.get(name):
            return "utf8" in value.lower().replace("-", "")
    return True


_POINTER = re.compile(r"\x1b\]22;[a-z-]*\x07")
"""Shape of the mouse pointer. Nothing here needs it, and old consoles ring at its end."""

_QUESTIONS = re.compile(r"\x1b\[[<>]\d*u|\x1b\[\?\d+\$p")
"""Key protocol and questions about modes."""

_OLD_TERMINALS = ("linux", "vt", "cons", "dumb", "ansi")
"""They print what they do not know of a sequence."""


class Wire:
    """Writes text to the terminal as bytes; calls `gone` once when nobody is there any more."""

    def __init__(
        self, fileno: int, gone: Callable[[], None], *, utf8: bool, term: str = ""
    ) -> None:
        self._fileno = fileno
        self._gone = gone
        self._passed_over = (
            (_POINTER, _QUESTIONS) if term.startswith(_OLD_TERMINALS) else (_POINTER,)
        )
        self._plain = None if utf8 else _Plain()
        self._broken = False

    def fileno(self) -> int:
        """Of the terminal."""
        return self._fileno

    def write(self, text: str) -> None:
        """Send it all; once the terminal has gone, send nothing."""
        if self._broken:
            return
        if len(text) < 32 and any(sequence.fullmatch(text) for sequence in self._passed_over):
            return
        if self._plain is not None:
            text = text.translate(self._plain)
        left = memoryview(text.encode("utf-8", "replace"))
        while left:
            try:
                left = left[os.write(self._fileno, left) :]
            except BlockingIOError:
                # Somebody set the terminal to non-blocking: wait until it takes more.
                with selectors.DefaultSelector() as selector:
                    selector.register(self._fileno, selectors.EVENT_WRITE)
                    selector.select(1.0)
            except OSError:
                self._broken = True
                self._gone()
                return

    def flush(self) -> None:
        """Nothing is held back."""


_CONTROL_SEQUENCE = re.compile(r"\x1b\[[0-?]*[ -/]*[@-Z\\-~]\Z")
_MOUSE_OR_REPORT = re.compile(r"\x1b\[(?:<|M|\?[\d;]*\$|\d+;\d+R|20[01]~|48;|[IO]\Z)")
_KEY_REPORT = re.compile(r"\x1b\[([\d:]*)((?:;[\d:]*)*)([u~A-HPQRS])\Z")
_RELEASE = 3


class KeyParser(XTermParser):
    """Reads keys; a release of a key, or a report that nobody asked for, is not a key."""

    def _sequence_to_key_events(self, sequence: str, alt: bool = False) -> Iterable[events.Key]:
        if len(sequence) > 1 and (report := _KEY_REPORT.match(sequence)):
            plain = _pressed(*report.groups())
            if plain is None:
                return [_ignored(sequence)]
            sequence = plain
        try:
            found = list(super()._sequence_to_key_events(sequence, alt))
        except (ValueError, OverflowError):
            return [_ignored(sequence)]
        if not found and _CONTROL_SEQUENCE.match(sequence) and not _MOUSE_OR_REPORT.match(sequence):
            # The framework would hand out its letters and digits as keys, one by one.
            return [_ignored(sequence)]
        return found


def _ignored(sequence: str) -> events.Key:
    return events.Key(Keys.Ignore, sequence)


def _pressed(code: str, rest: str, end: str) -> str | None:
    """The report of a key without its sub-fields, or None where it is a release."""
    fields = rest.split(";")[1:]
    if fields:
        modifiers, _, kind = fields[0].partition(":")
        if kind.isdecimal() and int(kind) == _RELEASE:
            return None
        fields[0] = modifiers
    return f"\x1b[{code.partition(':')[0]}{''.join(';' + field for field in fields)}{end}"


class FloorDriver(LinuxDriver):
    """The framework's driver with our two ends."""

    def __init__(self, app: App[Any], **options: Any) -> None:
        super().__init__(app, **options)
        self.wire = Wire(1, self.say_gone, utf8=speaks_utf8(), term=os.environ.get("TERM", ""))
        # The framework types this as the standard error; all it asks of it is to write and flush.
        self._file = cast("Any", self.wire)

    def say_gone(self) -> None:
        """The terminal is no longer there: the app shall end."""
        # The loop may have ended while a thread was still writing.
        with contextlib.suppress(RuntimeError):
            self._loop.call_soon_threadsafe(self._app.exit, None, GONE)

    def _get_terminal_size(self) -> tuple[int, int]:
        # The terminal knows better than COLUMNS and LINES, which a resize leaves behind.
        try:
            width, height = os.get_terminal_size(self.wire.fileno())
        except (OSError, ValueError):
            return super()._get_terminal_size()
        return (width, height) if width and height else super()._get_terminal_size()

    def run_input_thread(self) -> None:
        """Read keys until the app ends or the terminal goes away."""
        parser = KeyParser(self._debug)
        decode = codecs.getincrementaldecoder("utf-8")("replace").decode
        with selectors.SelectSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            while not self.exit_event.is_set():
                if selector.select(0.1):
                    try:
                        data = os.read(self.fileno, 4096)
                    except InterruptedError:
                        continue
                    except OSError:
                        data = b""
                    if not data:
                        self.say_gone()
                        return
                    # Half of a letter gives no text yet, and no text would end the parser.
                    if text := decode(data):
                        for event in parser.feed(text):
                            self.process_message(event)
                for event in parser.tick():
                    self.process_message(event)
