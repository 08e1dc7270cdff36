"""What the journal has taught, out of the index: no start has to fold years of it."""

from __future__ import annotations

from forgelog.book.index_catching_up import Report
from forgelog.desk.indexed import Index, NotYetError, ask_index
from forgelog.desk.learnt import learnt_heats, learnt_steps, with_own_figures
from forgelog.desk.lessons import lessons
from forgelog.desk.others_evidence import with_others
from forgelog.desk.shop import Shop
from forgelog.floor.settings import LearntHeats
from forgelog.learn.heats import StepKey
from forgelog.work.learning import own_heats

PATIENCE_S = 2.0
"""Longer than this the floor does not wait for the index to catch up before it starts."""


def learnt_so_far(
    shop: Shop, *, report: Report | None = None, patience_s: float | None = None
) -> dict[StepKey, LearntHeats]:
    """Heats of every step that the smith has made, of closed orders and open ones.

    In a practice copy only practice teaches; in a real book there is none.

    Args:
        shop: The book.
        report: Told of the progress, where the index has to be caught up.
        patience_s: Longer than this the index is not waited for: then only the open orders teach,
            and the next start finds the index further on. None waits as long as it takes.
    """
    practice = shop.is_practice_copy

    def work_out(index: Index) -> dict[StepKey, LearntHeats]:
        recipes = [index.recipe(pin) for pin in index.recipes().values()]
        found = learnt_steps(lessons(index, practice).heats, recipes)
        return with_own_figures(found, own_heats(index.stands))

    def learnt(index: Index) -> dict[StepKey, LearntHeats]:
        name = "practice" if practice else "real"
        return index.once("learnt", name, dict[StepKey, LearntHeats], lambda: work_out(index))

    try:
        found = ask_index(shop, learnt, report=report, patience_s=patience_s)
    except NotYetError:
        found = learnt_heats(shop.state, practice=practice)
    return with_others(shop, found)
