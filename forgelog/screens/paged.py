"""What every page has in common: one canvas, keys by name, and a look for changes on each tick."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from forgelog.screens.canvas import Canvas
from forgelog.screens.page import Line
from forgelog.screens.pressed import key_for

if TYPE_CHECKING:
    from forgelog.screens.app import ForgelogApp


class PagedScreen(Screen[Any], inherit_bindings=False):
    """A page that is drawn as a whole and hears keys by their floor names."""

    AUTO_FOCUS = None

    def __init__(self) -> None:
        super().__init__()
        self.canvas = Canvas(self.draw)

    def compose(self) -> ComposeResult:
        """One widget."""
        yield self.canvas

    @property
    def house(self) -> ForgelogApp:
        """The app."""
        return cast("ForgelogApp", self.app)

    def draw(self, width: int, height: int) -> tuple[Line, ...]:
        """The lines of the page for a window."""
        raise NotImplementedError

    def pressed(self, key: str) -> None:
        """A key came, by its floor name: space, enter, tab, backspace, a digit, a letter."""
        raise NotImplementedError

    def tick(self) -> None:
        """A moment has passed. A page that changes by itself looks whether it has."""

    def on_key(self, event: events.Key) -> None:
        """Hand a key on under its floor name; keys without one do nothing."""
        event.stop()
        event.prevent_default()
        key = key_for(event.key, event.character, self.house.learnt)
        if key:
            self.pressed(key)
            self.canvas.redraw()

    def on_screen_resume(self) -> None:
        """It is on top again: it shows what stands now."""
        self.canvas.redraw()
