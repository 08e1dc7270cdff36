"""What all records teach, learnt once for each state of the index and kept in it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from forgelog.desk.indexed import Index
from forgelog.learn.heats import LearntSteps, StepKey, learn_piled_heats, pile_heats
from forgelog.learn.minutes import LearntTimes, learn_piled_times
from forgelog.learn.records import heat_records
from forgelog.learn.rule import MOST_RECORDS, Pile

KIND = "lessons"


class Lessons:
    """What is learnt of real work, or of practice; each of the three when it is asked for."""

    def __init__(self, index: Index, practice: bool) -> None:
        self._index = index
        self._practice = practice
        self._name = "practice" if practice else "real"

    @cached_property
    def heats(self) -> LearntSteps:
        """Heats of every forging step, by each method."""

        def learn() -> LearntSteps:
            return learn_piled_heats(self._mine(self._index.heats))

        return self._index.once(KIND, f"heats {self._name}", LearntSteps, learn)

    @cached_property
    def hand(self) -> LearntTimes:
        """Time in hand of every forging step, by each method."""

        def learn() -> LearntTimes:
            return learn_piled_times(self._mine(self._index.hand))

        return self._index.once(KIND, f"hand {self._name}", LearntTimes, learn)

    @cached_property
    def bench(self) -> LearntTimes:
        """Time of every cold step."""

        def learn() -> LearntTimes:
            return learn_piled_times(self._mine(self._index.bench))

        return self._index.once(KIND, f"bench {self._name}", LearntTimes, learn)

    def without(self, session: str) -> LearntSteps:
        """Heats without what one session adds: that must not widen what it is judged by."""
        piles = self._mine(self._index.heats)
        for key in self._index.keys_of(session):
            if key[0] != self._practice or key[1:] not in piles:
                continue
            rows = self._index.newest(key, MOST_RECORDS, without=session)
            records = [r for r in heat_records(rows) if r.session != session]
            if records:
                piles[key[1:]] = pile_heats(records)
            else:
                del piles[key[1:]]
        return learn_piled_heats(piles)

    def _mine(self, piles: Mapping[tuple[bool, str, str, str, str], Pile]) -> dict[StepKey, Pile]:
        """In one order, however they came into the index: sums of floats hang on it."""
        return {key[1:]: pile for key, pile in sorted(piles.items()) if key[0] == self._practice}


def lessons(index: Index, practice: bool) -> Lessons:
    """What all records teach.

    Args:
        index: The index.
        practice: Of practice alone, or of real work alone.
    """
    return Lessons(index, practice)
