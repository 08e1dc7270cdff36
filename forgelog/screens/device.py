"""Settings of this device: keys, bell, flash, view."""

from __future__ import annotations

from forgelog.desk.device import learn_keys, learnt_keys, with_alarms, with_far
from forgelog.screens.chooser import Chooser, Item, put_chooser
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.page import Page


class DeviceScreen(FourKeyScreen):
    """A list of settings, each turned with ENTER."""

    def __init__(self) -> None:
        super().__init__()
        self.chooser = Chooser(items=())

    def on_mount(self) -> None:
        """The settings as they are."""
        self.chooser = self.chooser.with_items(self.items())

    def head(self) -> tuple[str, str, str]:
        """Whose they are."""
        return "THIS DEVICE", "KEYS, BELL, VIEW", ""

    def items(self) -> tuple[Item, ...]:
        """One row a setting, with what it is now."""
        device = self.house.device
        learnt = len(learnt_keys(device))
        return (
            Item(id="keys", words="learn keys of a pedal or remote", right=f"{learnt} learnt"),
            Item(id="forget", words="forget the learnt keys"),
            Item(id="bell", words="bell when something is to be looked at", right=on(device.bell)),
            Item(id="flash", words="flash of the whole page then", right=on(device.flash)),
            Item(id="far", words="begin with the far view", right=on(device.far)),
        )

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The list."""
        put_chooser(page, top, rows, self.chooser)

    def meanings(self) -> dict[str, Meaning]:
        """TAB goes down the list, ENTER turns what is chosen."""
        item = self.chooser.item
        words = {"keys": "learn keys", "forget": "forget them"}
        enter = words.get(item.id if item else "", "turn it on or off")
        back = Meaning("back to the list of orders", self.back)
        return {
            "space": Meaning("nothing to mark here"),
            "enter": Meaning(enter, self.turn),
            "tab": Meaning("next", lambda: self.move(1)),
            "backspace": back,
            "q": back,
            "down": Meaning("next", lambda: self.move(1)),
            "up": Meaning("the one before", lambda: self.move(-1)),
        }

    def move(self, by: int) -> None:
        """Down or up the list."""
        self.chooser = self.chooser.moved(by)

    def turn(self) -> None:
        """Do what the chosen row says."""
        device, item = self.house.device, self.chooser.item
        if item is None:
            return
        if item.id == "keys":
            from forgelog.screens.keys import KeysScreen

            self.house.push_screen(KeysScreen())
            return
        changed = {
            "forget": lambda: learn_keys(device, {}),
            "bell": lambda: with_alarms(device, bell=not device.bell, flash=device.flash),
            "flash": lambda: with_alarms(device, bell=device.bell, flash=not device.flash),
            "far": lambda: with_far(device, not device.far),
        }[item.id]()
        self.message = self.house.change_device(changed)
        self.chooser = self.chooser.with_items(self.items())

    def on_screen_resume(self) -> None:
        """Keys may have been learnt meanwhile."""
        self.chooser = self.chooser.with_items(self.items())


def on(is_on: bool) -> str:
    """ "on" or "off"."""
    return "on" if is_on else "off"
