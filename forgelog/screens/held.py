"""The floor when the day is ended and presses still wait for the disk: nobody leaves unasked."""

from __future__ import annotations

import msgspec

from forgelog.floor.view import KeyLine, View

LEAVES = "enter"
"""The key that leaves all the same; the others stay, while it is tried again and again."""


def held_view(view: View, waiting: int) -> View:
    """The floor's view with the question in it.

    Args:
        view: What was last seen.
        waiting: How many presses are not on the disk.
    """
    presses = "1 press is" if waiting == 1 else f"{waiting} presses are"
    stay = "stay: it is tried again"
    return msgspec.structs.replace(
        view,
        question=f"{presses} not on the disk. Make room for them, or leave without.",
        question_left_s=None,
        list=None,
        done_words="",
        keys=(
            KeyLine(key="SPACE", words=stay),
            KeyLine(key="ENTER", words="leave: what waits is lost"),
            KeyLine(key="TAB", words=stay),
            KeyLine(key="BACKSPACE", words=stay),
        ),
    )
