"""What the journal gives reason to change: each suggestion with its evidence, and none without.

A suggestion changes nothing by itself. Its id is the same for ever, so that one that was declined
is never made again. How sure it must be is said at each kind, in `suggest_heats.py` and
`suggest_other.py`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from forgelog.learn.heats import learn_heats
from forgelog.learn.records import heat_records
from forgelog.learn.rows import RestRow, SpoiltRow, StepRow
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import Component, Recipe, Step
from forgelog.units import UnitSystem
from forgelog.work.state import CutRecord, SuggestionAnswer

HEATS, CUT, REST, CORRECTED, FIRST = KINDS = ("heats", "cut", "rest", "corrected", "first")


class Suggestion(msgspec.Struct, frozen=True, kw_only=True):
    """Something to change, or to know. All words are final and harmless."""

    id: str
    """Stable: "heats/gate-hook/strap/roll-the-eye/hand"."""
    what: str
    """One of KINDS."""
    recipe: str
    """Id; "" where it speaks of all work."""
    component: str = ""
    step: str = ""
    method: str = ""
    words: str
    """A sentence: "plan 4 heats, not 3, for roll the eye by hand"."""
    evidence: str
    """What stands behind it: "7 pieces of yours; most often 3 to 5"."""
    heats: int | None = None
    """Planned heats that taking it up would make the book's own."""
    planned: int | None = None
    """The recipe's plan."""
    toml: str = ""
    """A line to copy into the recipe, which nobody but the smith changes."""


class Grounds(msgspec.Struct, frozen=True, kw_only=True):
    """All that suggestions are made from: real work or practice, never both."""

    recipes: Mapping[str, Recipe]
    """By id, as they are now."""
    steps: Sequence[StepRow] = ()
    """Oldest first, as all others."""
    rests: Sequence[RestRow] = ()
    spoilt: Sequence[SpoiltRow] = ()
    cuts: Sequence[CutRecord] = ()
    answers: Mapping[str, SuggestionAnswer] = {}
    units: UnitSystem = UnitSystem.MM

    def own_heats(self, key: tuple[str, str, str, str]) -> int | None:
        """The planned heats that the smith took up for a step; None where the plan holds."""
        return next(
            (
                a.heats
                for a in self.answers.values()
                if a.accepted and (a.recipe, a.component, a.step, a.method) == key
            ),
            None,
        )

    def step_at(self, recipe: str, component: str, step: str) -> tuple[Component, Step] | None:
        """A component and its step, as they are now; None where the recipe has none such."""
        for part in self.recipes[recipe].components if recipe in self.recipes else ():
            for one in part.steps:
                if (part.id, one.id) == (component, step):
                    return part, one
        return None

    def do_words(self, component: Component, step: Step) -> str:
        """What the step does, with its component: "strap: roll the eye"."""
        return f"{harmless(component.name)}: {render(step.do, self.units)}"


def suggest(grounds: Grounds) -> tuple[Suggestion, ...]:
    """Every suggestion that has reason and no answer, those that change a figure first.

    One that was taken up comes again only where the figure that was taken up no longer holds.
    """
    from forgelog.learn.suggest_heats import suggest_first, suggest_heats
    from forgelog.learn.suggest_other import suggest_corrected, suggest_cuts, suggest_rests

    records = heat_records(grounds.steps)
    learnt = learn_heats(records)
    found = [
        *suggest_heats(grounds, learnt),
        *suggest_cuts(grounds),
        *suggest_rests(grounds),
        *suggest_corrected(grounds),
        *suggest_first(records, learnt),
    ]
    return tuple(s for s in found if _open(s, grounds.answers.get(s.id)))


def _open(suggestion: Suggestion, answer: SuggestionAnswer | None) -> bool:
    if answer is None:
        return True
    return answer.accepted and suggestion.heats is not None and suggestion.heats != answer.heats


def share_words(count: int, of: int) -> str:
    """ "3 of 8"."""
    return f"{count} of {of}"


def range_words(low: int, high: int) -> str:
    """A range of heats: "3 to 5 most often"."""
    return f"{low} most often" if low == high else f"{low} to {high} most often"
