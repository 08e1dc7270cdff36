"""The lists behind TAB and "something else": which one is open, and its choices."""

from __future__ import annotations

from collections.abc import Callable

from forgelog.floor import list_breaks, list_else, list_free, list_sizes, list_trouble
from forgelog.floor.choices import Choice, ListOf, Made
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import Listing
from forgelog.work.moments import Moment
from forgelog.work.state import State


def open_list(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> ListOf:
    """The list that is open: its title and its choices, never empty."""
    title, choices = _LISTS[listing.kind](listing, state, now, settings)
    if not choices:
        choices = (Choice(words="nothing to choose: leave", message="there was nothing to choose"),)
    return ListOf(title=title, choices=choices)


_LISTS: dict[str, Callable[[Listing, State, Moment, FloorSettings], Made]] = {
    "trouble": list_trouble.trouble,
    "why": list_trouble.why,
    "spoilt": list_trouble.spoilt,
    "swap": list_trouble.swap,
    "water": list_trouble.water,
    "method": list_trouble.method,
    "else": list_else.else_list,
    "troubled": list_trouble.pieces("trouble", "which piece?"),
    "watered": list_trouble.pieces("water", "which piece?"),
    "reopen": list_else.reopen,
    "unpressed": list_else.unpressed,
    "gauges": list_sizes.gauges,
    "sizes": list_sizes.sizes,
    "tools": list_else.tools,
    "judged": list_else.judged,
    "rested": list_else.rested,
    "lie": list_else.lie,
    "said": list_free.said,
    "next said": list_free.next_said,
    "pause": list_breaks.pause,
    "power": list_breaks.power,
}
