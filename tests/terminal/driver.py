"""Drives the real program in a real pseudo-terminal, and reads only what its screen shows.

    with Terminal(["-m", "forgelog", "demo"], width=100, height=30) as terminal:
        terminal.wait_for("SPACE")
        terminal.press("space")
        terminal.wait_for("in the fire")
        print(terminal.text())

Every wait has a deadline and none sleeps: a reader thread feeds the emulator and wakes whoever
waits.
"""

from __future__ import annotations

import codecs
import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import TracebackType

import pyte

ROOT = Path(__file__).resolve().parents[2]
DEADLINE_S = 30.0

KEYS = {
    "space": " ",
    "enter": "\r",
    "tab": "\t",
    "backspace": "\x7f",
    "up": "\x1b[A",
    "down": "\x1b[B",
    "right": "\x1b[C",
    "left": "\x1b[D",
    "escape": "\x1b",
    "ctrl+c": "\x03",
}

_NOT_FOR_PYTE = re.compile(r"\x1b\[[<>=][\d;]*u|\x1b\[\?[\d;]*\$p")
"""Key protocol and mode queries, which the emulator would print."""

_MODE = re.compile(rb"\x1b\[\?(\d+)([hl])")


class Stuck(AssertionError):
    """What was waited for did not come; the message shows the screen."""


class Terminal:
    """A program in a pseudo-terminal of its own, with an emulator looking on."""

    def __init__(
        self,
        arguments: Sequence[str],
        *,
        width: int = 100,
        height: int = 30,
        env: Mapping[str, str] | None = None,
        without: Sequence[str] = (),
        python: str = sys.executable,
        whole_s: float = 0.01,
    ) -> None:
        """Start Python with these arguments.

        Args:
            arguments: As on the command line, after the name of the interpreter.
            width: Columns.
            height: Rows.
            env: Variables to set besides a small, fixed set.
            without: Variables to take out of it.
            python: The interpreter.
            whole_s: The screen counts as painted once nothing has arrived for so long: half a
                page is never read. 0 for every byte as it comes.
        """
        self.whole_s = whole_s
        self.screen = pyte.Screen(width, height)
        self.stream = pyte.Stream(self.screen)
        self.received = b""
        self.changed = threading.Condition()
        self.ended = False
        self.paints = 0
        """How many times something arrived."""
        self.master, slave = pty.openpty()
        self._set_size(slave, width, height)
        known = {
            "PATH": os.environ.get("PATH", os.defpath),
            "HOME": os.environ.get("HOME", "/"),
            "TERM": "xterm-256color",
            "LC_ALL": "C.UTF-8",
            "PYTHONPATH": str(ROOT),
            "PYTHONDONTWRITEBYTECODE": "",
            **(env or {}),
        }
        self.process = subprocess.Popen(
            [python, *arguments],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            env={name: value for name, value in known.items() if name not in without},
            cwd=ROOT,
            preexec_fn=_own_terminal,
        )
        os.close(slave)
        self.reader = threading.Thread(target=self._read, daemon=True)
        self.reader.start()

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """End the program if it still runs, and give everything back."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait(DEADLINE_S)
        self.reader.join(DEADLINE_S)
        if self.master >= 0:
            os.close(self.master)
            self.master = -1

    def send(self, data: str | bytes) -> None:
        """Type raw bytes."""
        os.write(self.master, data.encode() if isinstance(data, str) else data)

    def press(self, *keys: str) -> None:
        """Press keys by name, or type single letters."""
        for key in keys:
            self.send(KEYS.get(key, key))

    def lines(self) -> list[str]:
        """What the screen shows, blanks at the ends of lines left out."""
        with self.changed:
            return [line.rstrip() for line in self.screen.display]

    def text(self) -> str:
        """What the screen shows, as one text."""
        return "\n".join(self.lines())

    def is_reversed(self, column: int, row: int) -> bool:
        """Whether a cell stands in reverse video."""
        with self.changed:
            return bool(self.screen.buffer[row][column].reverse)

    def colours(self) -> set[str]:
        """Names of all colours on the screen, the terminal's own ones left out."""
        with self.changed:
            cells = [
                self.screen.buffer[row][column]
                for row in range(self.screen.lines)
                for column in range(self.screen.columns)
            ]
            return {name for cell in cells for name in (cell.fg, cell.bg)} - {"default"}

    def wait(
        self, what: str, condition: Callable[[str], bool], deadline_s: float = DEADLINE_S
    ) -> str:
        """Wait until the screen's text meets a condition; return the text.

        Raises:
            Stuck: it did not by the deadline, or the program ended before.
        """
        ends = time.monotonic() + deadline_s
        while True:
            with self.changed:
                text = self.text_unlocked()
                if condition(text):
                    return text
                left = ends - time.monotonic()
                if left <= 0 or self.ended:
                    why = "the program ended" if self.ended else f"{deadline_s:.0f} s passed"
                    raise Stuck(f"{what}: {why}; the screen shows\n{text}")
                self.changed.wait(left)

    def text_unlocked(self) -> str:
        """The screen's text, for who holds the lock."""
        return "\n".join(line.rstrip() for line in self.screen.display)

    def wait_for(self, words: str, deadline_s: float = DEADLINE_S) -> str:
        """Wait until the screen shows these words; return its text."""
        return self.wait(f'"{words}" did not come', lambda text: words in text, deadline_s)

    def wait_gone(self, words: str, deadline_s: float = DEADLINE_S) -> str:
        """Wait until the screen does not show these words any more; return its text."""
        return self.wait(f'"{words}" stayed', lambda text: words not in text, deadline_s)

    def wait_exit(self, deadline_s: float = DEADLINE_S) -> int:
        """Wait until the program has ended; return its exit code, negative for a signal.

        Raises:
            Stuck: it had not by the deadline.
        """
        try:
            code = self.process.wait(deadline_s)
        except subprocess.TimeoutExpired:
            raise Stuck(f"it did not end; the screen shows\n{self.text()}") from None
        self.reader.join(deadline_s)
        return code

    def resize(self, width: int, height: int) -> None:
        """Give the window another size, as a person dragging its corner would."""
        with self.changed:
            self.screen.resize(height, width)
            self._set_size(self.master, width, height)
        self.process.send_signal(signal.SIGWINCH)

    def hang_up(self) -> None:
        """Close the terminal under the program."""
        master, self.master = self.master, -1
        self.ended = True
        os.close(master)

    def modes(self) -> dict[int, bool]:
        """Private modes of the terminal as the program left them: 1049 alternate, 25 cursor."""
        return {int(mode): sign == b"h" for mode, sign in _MODE.findall(self.received)}

    def echoes(self) -> bool:
        """Whether the terminal shows what is typed, as a shell needs it."""
        flags = termios.tcgetattr(self.master)[3]
        return bool(flags & termios.ECHO and flags & termios.ICANON)

    def _read(self) -> None:
        decode = codecs.getincrementaldecoder("utf-8")("replace").decode
        while True:
            master = self.master
            if master < 0:
                break
            try:
                if not select.select([master], [], [], 0.2)[0]:
                    if self.process.poll() is not None:
                        break
                    continue
                data = os.read(master, 65536)
            except (OSError, ValueError):
                break
            if not data:
                break
            data += self._rest_of_paint(master)
            with self.changed:
                self.received += data
                self.paints += 1
                self.stream.feed(_NOT_FOR_PYTE.sub("", decode(data)))
                self.changed.notify_all()
        with self.changed:
            self.ended = True
            self.changed.notify_all()

    def _rest_of_paint(self, master: int) -> bytes:
        """What still arrives of a paint: a pseudo-terminal hands on 4 kB at a time."""
        rest = b""
        try:
            while self.whole_s and select.select([master], [], [], self.whole_s)[0]:
                data = os.read(master, 65536)
                if not data:
                    break
                rest += data
        except (OSError, ValueError):
            pass
        return rest

    @staticmethod
    def _set_size(fileno: int, width: int, height: int) -> None:
        fcntl.ioctl(fileno, termios.TIOCSWINSZ, struct.pack("HHHH", height, width, 0, 0))


def _own_terminal() -> None:
    os.setsid()
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)
