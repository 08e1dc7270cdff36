"""The smallest app of the framework that fills a screen: what starting cannot be faster than."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.widgets import Static


class Minimal(App[None]):
    """One text."""

    def compose(self) -> ComposeResult:
        """One widget."""
        yield Static("ready for a key " * 100, markup=False)


if __name__ == "__main__":
    Minimal().run(mouse=False)
