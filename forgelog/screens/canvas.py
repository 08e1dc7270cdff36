"""The one widget: shows a page of lines and repaints only the rows that changed."""

from __future__ import annotations

from collections.abc import Callable

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

from forgelog.screens.page import Line, Look

_STYLES = {
    Look.PLAIN: Style(),
    Look.STRONG: Style(bold=True),
    Look.QUIET: Style(),
    Look.SIGN: Style(bold=True, reverse=True),
    Look.LOOK: Style(bold=True, reverse=True, color="yellow"),
    Look.HOT: Style(bold=True, color="red"),
    Look.HEAT: Style(bold=True, color="yellow"),
    Look.DONE: Style(bold=True, color="green"),
}
"""Bold, reverse and three of the sixteen colours that every terminal has; the smith's own
terminal gives the ground, so that a page can be dark in a dim shop and light in daylight."""

_REVERSED = {
    look: style + Style(reverse=not style.reverse, bold=True) for look, style in _STYLES.items()
}

Layout = Callable[[int, int], tuple[Line, ...]]
"""Makes the lines of a page for a width and a height."""


class Canvas(Widget, can_focus=False, can_focus_children=False):
    """Shows lines that a layout makes. Hands nothing to the focus and reads no keys."""

    def __init__(self, layout: Layout) -> None:
        super().__init__()
        self.page_layout = layout
        self.shown: tuple[Line, ...] = ()
        """The lines on the screen now."""
        self.flashing = False
        """True while the whole page stands in reverse."""

    def get_content_width(self, container: Size, viewport: Size) -> int:
        """All of it."""
        return container.width

    def redraw(self) -> bool:
        """Lay the page out again and repaint the rows that differ; return whether any did."""
        width, height = self.size
        if not width or not height:
            return False
        lines = self.page_layout(width, height)
        before = self.shown
        self.shown = lines
        if len(before) != len(lines):
            self.refresh()
            return True
        changed = [y for y, line in enumerate(lines) if line != before[y]]
        if changed:
            self.refresh(*(Region(0, y, width, 1) for y in changed))
        return bool(changed)

    def flash(self, on: bool) -> None:
        """Put the page in reverse, or back."""
        if on != self.flashing:
            self.flashing = on
            self.refresh()

    def on_resize(self) -> None:
        """The window has another size."""
        self.shown = ()
        self.redraw()

    def render_line(self, y: int) -> Strip:
        """One row of the page."""
        if y >= len(self.shown):
            return Strip.blank(self.size.width)
        styles = _REVERSED if self.flashing else _STYLES
        return Strip([Segment(text, styles[look]) for text, look in self.shown[y]])
