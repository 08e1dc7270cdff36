"""A page with four keys on which a line can be typed: while it is open, letters are letters."""

from __future__ import annotations

from abc import abstractmethod

from textual import events

from forgelog.floor.view import KeyLine
from forgelog.screens.entry import CURSOR, Entry, entry_keys, sent_by
from forgelog.screens.fourkeys import FourKeyScreen


class TypingScreen(FourKeyScreen):
    """A page that opens a line by setting `entry`."""

    def __init__(self) -> None:
        super().__init__()
        self.entry: Entry | None = None
        """The open line; None while there is none."""

    @abstractmethod
    def take_line(self, line: str) -> None:
        """The line was sent; it is closed by then, and may be opened again."""

    def lines_of_keys(self) -> tuple[KeyLine, ...]:
        """While a line is typed the keys are those of the line."""
        return super().lines_of_keys() if self.entry is None else entry_keys(self.entry)

    def show_entry(self) -> None:
        """The open line stands above the keys."""
        if self.entry is not None:
            self.message = f"{self.entry.asked.upper()}: {self.entry.typed}{CURSOR}"

    def on_key(self, event: events.Key) -> None:
        """While a line is typed letters are letters, but not those that were learnt as keys."""
        letter = event.character
        types = self.entry is not None and event.key not in self.house.learnt
        if self.entry is None or not types or letter is None or not letter.isprintable():
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        self.add_letters(letter)

    def on_paste(self, event: events.Paste) -> None:
        """Pasted words go into an open line, and nowhere else."""
        event.stop()
        if self.entry is not None:
            self.add_letters(event.text)

    def add_letters(self, letters: str) -> None:
        """Letters go to the end of the open line."""
        if self.entry is not None:
            self.entry = self.entry.with_letters(letters)
            self.show_entry()
            self.canvas.redraw()

    def pressed(self, key: str) -> None:
        """A key of an open line, or what the bottom line says."""
        if self.entry is None:
            super().pressed(key)
            return
        self.message = ""
        line = sent_by(self.entry, key)
        if line is not None:
            self.entry = None
            if line:
                self.take_line(line)
        elif key == "backspace":
            self.entry = self.entry.without_last()
        elif key == "space":
            self.entry = self.entry.with_letters(" ")
        self.show_entry()
