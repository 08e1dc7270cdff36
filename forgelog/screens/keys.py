"""Learn keys: a pedal or a remote of four keys is asked for each of them, once."""

from __future__ import annotations

from textual import events
from textual._time import get_time

from forgelog.desk.device import FOUR, learn_keys
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.page import Look, Page, wrapped
from forgelog.screens.parts import put_large

USE = {
    "space": "out of the fire, back in the fire: the key that does most of the work",
    "enter": "step done",
    "tab": "next piece, next choice",
    "backspace": "undo",
}
AGAIN_S = 0.3
"""A pedal that sends its key twice at one tread is not taken to confirm it."""


class KeysScreen(FourKeyScreen):
    """Asks for each of the four keys; keeps what came, for this device."""

    def __init__(self) -> None:
        super().__init__()
        self.stage = 0
        self.learnt: dict[str, str] = {}
        self.arrived = ""
        self.arrived_at = 0.0

    @property
    def asked(self) -> str:
        """The key that is asked for; "" once all have been."""
        return FOUR[self.stage] if self.stage < len(FOUR) else ""

    def head(self) -> tuple[str, str, str]:
        """How far it is."""
        return "THIS DEVICE", "LEARN KEYS", f"key {min(self.stage + 1, 4)} of 4"

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """What to press, and what came."""
        y = top + 1
        if self.asked:
            y += put_large(page, 1, y, f"PRESS {self.asked}") + 1
            for row in wrapped(f"the key that shall be {self.asked.upper()}", page.width - 2):
                page.put(1, y, row, Look.STRONG)
                y += 1
            page.put(1, y, f"({USE[self.asked]})")
            y += 2
            if self.arrived:
                page.put(1, y, f"{_named(self.arrived)} came. Press it again to keep it.")
            else:
                page.put(1, y, "Press it twice. Nothing comes? Then this terminal does not get it.")
            y += 2
        for key in FOUR[: self.stage]:
            page.put(1, y, f"{key.upper():10}", Look.STRONG)
            page.put(12, y, self.sent_for(key))
            y += 1

    def sent_for(self, key: str) -> str:
        """What stands for a key now, in words."""
        names = [_named(sent) for sent, stands_for in self.learnt.items() if stands_for == key]
        return ", ".join(names) if names else "itself"

    def meanings(self) -> dict[str, Meaning]:
        """While a key is asked for, every key is an answer."""
        if self.asked:
            words = "an answer, as any key is"
            meanings = dict.fromkeys(FOUR, Meaning(words))
            return meanings | {"enter": Meaning("an answer; ctrl+c leaves")}
        return {
            "space": Meaning("ask once more", self.begin_again),
            "enter": Meaning("keep these keys", self.keep),
            "tab": Meaning("keep nothing, leave", self.back),
            "backspace": Meaning("keep nothing, leave", self.back),
        }

    def on_key(self, event: events.Key) -> None:
        """While a key is asked for its own name counts, not what it stands for."""
        if not self.asked:
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        self.hear(event.key, get_time())
        self.canvas.redraw()

    def hear(self, name: str, now_s: float) -> None:
        """A key came while one is asked for."""
        self.message = ""
        taken = self.learnt.get(name) or (name if name in FOUR[: self.stage] else "")
        if taken:
            self.arrived = ""
            self.message = f"{_named(name)} is {taken.upper()} already: press another key"
        elif name == self.arrived and now_s - self.arrived_at >= AGAIN_S:
            if name != self.asked:
                self.learnt[name] = self.asked
            self.arrived = ""
            self.stage += 1
        else:
            self.arrived, self.arrived_at = name, now_s

    def begin_again(self) -> None:
        """From the first key on."""
        self.stage, self.learnt, self.arrived = 0, {}, ""

    def keep(self) -> None:
        """Keep them, and leave."""
        fault = self.house.change_device(learn_keys(self.house.device, self.learnt))
        if fault:
            self.message = fault
        else:
            self.back()


def _named(name: str) -> str:
    """The name of a key in words: "page down" for "pagedown"."""
    words = {"pagedown": "page down", "pageup": "page up", "space": "the space bar"}
    return words.get(name, name.replace("_", " ").replace("+", " and "))
