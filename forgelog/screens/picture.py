"""The floor's screen as a picture, drawn without a terminal."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Callable

from forgelog.desk.device import Device
from forgelog.screens.app import ForgelogApp
from forgelog.screens.paged import PagedScreen

_FONT = re.compile(r"@font-face\s*\{[^}]*\}\s*")
"""A picture must not call for anything from a network; every viewer has a fixed-width font."""


def picture(page: Callable[[ForgelogApp], PagedScreen], size: tuple[int, int]) -> str:
    """Draw a page as SVG text.

    Args:
        page: Makes the page.
        size: Columns and rows of the window.
    """
    app = ForgelogApp(page, device=Device(id="picture0", bell=False, flash=False))

    async def draw() -> str:
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            return app.export_screenshot(title="forgelog")

    return _FONT.sub("", asyncio.run(draw()))
