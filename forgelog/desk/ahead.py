"""Reads ahead what will be asked next: the index is caught up, what it teaches is learnt."""

from __future__ import annotations

from collections.abc import Callable

from forgelog.desk.clock import Clock
from forgelog.desk.indexed import NotYetError, ask_index
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.review import look_back
from forgelog.desk.shop import Shop


def read_ahead(shop: Shop, stop: Callable[[], bool], *, clock: Clock | None = None) -> bool:
    """Make ready what the floor's start and the review want of the index.

    Args:
        shop: The book.
        stop: Asked again and again whether to break off; what is done stays done.
        clock: Of this machine where None.

    Returns:
        Whether it came to its end.
    """
    try:
        ask_index(shop, lambda index: None, stop=stop)
    except NotYetError:
        return False
    for make in (lambda: learnt_so_far(shop), lambda: look_back(shop, clock=clock)):
        if stop():
            return False
        make()
    return True
