"""Pages as plain text, kept to be compared letter by letter.

`python -m tests.screens.pictures` draws them anew; look at what changed before you keep it.
"""

from __future__ import annotations

from pathlib import Path

from forgelog.screens.far import far
from forgelog.screens.near import near
from forgelog.screens.page import text_of
from tests.screens.canned import ALL

FOLDER = Path(__file__).parent / "pictures"

PICTURES = {
    "near-in-hand-100x30": ("in hand", near, 100, 30),
    "near-in-hand-80x24": ("in hand", near, 80, 24),
    "near-in-hand-200x60": ("in hand", near, 200, 60),
    "near-done-100x30": ("done", near, 100, 30),
    "near-question-80x24": ("question", near, 80, 24),
    "near-list-80x24": ("list", near, 80, 24),
    "near-full-80x24": ("full", near, 80, 24),
    "far-in-hand-80x24": ("in hand", far, 80, 24),
    "far-done-100x30": ("done", far, 100, 30),
    "too-small-60x15": ("in hand", near, 60, 15),
}


def drawn(name: str) -> str:
    """A picture as it is drawn now."""
    view, lay_out, width, height = PICTURES[name]
    return text_of(lay_out(ALL[view], width, height)) + "\n"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name in PICTURES:
        (FOLDER / f"{name}.txt").write_text(drawn(name), encoding="utf-8")
