"""What the first page loads: a start goes by it."""

from __future__ import annotations

import subprocess
import sys

FIRST_PAGE = "import forgelog.screens.app, forgelog.screens.home, forgelog.screens.terminal"

HEAVY = (
    "pint",
    "tomli_w",
    "jsonschema",
    "rich.markdown",
    "textual.widgets._data_table",
    "forgelog.recipe.read",
    "forgelog.recipe.rules",
    "forgelog.book.settings",
    "forgelog.desk.session",
    "forgelog.desk.home",
    "forgelog.floor.press",
    "forgelog.screens.floor",
    "forgelog.learn.heats",
)


def test_home_loads_nothing_that_its_first_page_does_not_need() -> None:
    code = f"import sys\n{FIRST_PAGE}\nprint(*sorted(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    loaded = set(done.stdout.split())
    assert "forgelog.screens.home" in loaded
    assert loaded & set(HEAVY) == set()
