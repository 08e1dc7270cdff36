"""Writes the review of the demo book into README.md: `python -m tests.desk.readme_review`.

It is the first page that `forgelog review` prints on a fresh demo; a test compares the two, so that
what README shows is what the program says.
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

from forgelog.commands.review import as_text
from forgelog.desk.clock import FakeClock
from forgelog.desk.demo import lay_out_demo
from forgelog.desk.review import ReviewView, review_view
from forgelog.desk.shop import open_shop

README = Path(__file__).parents[2] / "README.md"
BEGINS, ENDS = "<!-- the review of the demo -->\n", "<!-- ends -->\n"
LATE = 1_900_000_000.0
"""Long after the demo's past."""
WIDTH = 96
PAGES = 2


def page(folder: Path) -> str:
    """The first page of the review of a fresh demo, made in a folder."""
    lay_out_demo(folder)
    view = review_view(open_shop(folder), width=WIDTH, clock=FakeClock(LATE))
    first = ReviewView(
        first=view.first,
        pages=view.pages[:PAGES],
        to_put_right=view.to_put_right,
        practice=view.practice,
    )
    return as_text(first, WIDTH)


def shown() -> str:
    """What README shows of it now."""
    text = README.read_text(encoding="utf-8")
    return text.partition(BEGINS)[2].partition(ENDS)[0]


def fenced(text: str) -> str:
    """The page as README holds it."""
    return f"```text\n{text}\n```\n"


def main() -> int:
    """Put the page into README."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["FORGELOG_DEVICE"] = f"{folder}/device"
        os.environ["FORGELOG_CACHE"] = f"{folder}/cache"
        new = fenced(page(Path(folder) / "demo"))
    text = README.read_text(encoding="utf-8")
    before, mark, rest = text.partition(BEGINS)
    if not mark or ENDS not in rest:
        print(f"README has no place for it: {BEGINS.strip()} and {ENDS.strip()}")
        return 1
    README.write_text(f"{before}{mark}{new}{ENDS}{rest.partition(ENDS)[2]}", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
