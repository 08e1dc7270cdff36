"""Suggestions of cut lengths, of rests, and of heats that are always told afterwards."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator

from forgelog.learn.rows import CRACKED, SCRAPPED, RestRow, StepRow
from forgelog.learn.suggest import (
    CORRECTED,
    CUT,
    REST,
    Grounds,
    Suggestion,
    share_words,
)
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.units import show_length, write_length

LEAST_OFF_MM = 1.0
"""A length that came out nearer is as good as right. Common practice."""
LEAST_RESTS = 4
LEAST_SHORT = 2
LEAST_CORRECTED = 4
"""Of the last pieces at a step, at least so many are looked at."""
LOOKED_BACK = 8
MOSTLY = 0.6
SURE = 0.10
"""Chance at which a difference between two groups is no longer called too few to say."""


def suggest_cuts(grounds: Grounds) -> Iterator[Suggestion]:
    """Another cut length, by the newest piece that was measured on the bar of the recipe."""
    for recipe in grounds.recipes.values():
        for component in recipe.components:
            stock = component.stock
            if stock is None:
                continue
            mine = [
                cut
                for cut in grounds.cuts
                if (cut.recipe, cut.component) == (recipe.id, component.id)
                and cut.section in (None, stock.section)
            ]
            if not mine or abs(mine[-1].over_mm) < LEAST_OFF_MM:
                continue
            newest = mine[-1]
            cut_mm = newest.try_mm
            if stock.cut_mm is not None and abs(stock.cut_mm - cut_mm) < LEAST_OFF_MM:
                continue
            off = show_length(abs(newest.over_mm), grounds.units)
            way = "long" if newest.over_mm > 0.0 else "short"
            alike = sum((cut.over_mm > 0.0) == (newest.over_mm > 0.0) for cut in mine)
            yield Suggestion(
                id=f"{CUT}/{recipe.id}/{component.id}/{newest.cut_mm:g}",
                what=CUT,
                recipe=recipe.id,
                component=component.id,
                words=(
                    f"{harmless(component.name)} came out {off} {way}: "
                    f"try {show_length(cut_mm, grounds.units)}"
                ),
                evidence=(
                    f"cut at {show_length(newest.cut_mm, grounds.units)}; "
                    f"{way} on {share_words(alike, len(mine))} measured"
                ),
                toml=f'cut = "{write_length(cut_mm)}"',
            )


def suggest_rests(grounds: Grounds) -> Iterator[Suggestion]:
    """A rest that is often cut short, with what came of it: cracks among those and the others."""
    rests: dict[tuple[str, str, str], list[RestRow]] = defaultdict(list)
    for rest in grounds.rests:
        rests[rest.place].append(rest)
    gone = {(s.workpiece, s.at_s) for s in grounds.spoilt if s.kind in (CRACKED, SCRAPPED)}
    spoilt_s: dict[str, float] = {}
    for workpiece, at_s in gone:
        spoilt_s[workpiece] = max(at_s, spoilt_s.get(workpiece, at_s))
    for place, mine in rests.items():
        found = grounds.step_at(*place)
        faulty = [rest for rest in mine if rest.faulty]
        if found is None or len(mine) < LEAST_RESTS or len(faulty) < LEAST_SHORT:
            continue
        kept = [rest for rest in mine if not rest.faulty]
        cracked, others = (
            sum(spoilt_s.get(rest.workpiece, -math.inf) > rest.started_s for rest in group)
            for group in (faulty, kept)
        )
        told = (
            f"of those {share_words(cracked, len(faulty))} cracked or were scrapped afterwards; "
            f"of the others {share_words(others, len(kept))}"
        )
        chance = chance_of_more(cracked, len(faulty), others, len(kept))
        says = "that speaks for the rest" if chance < SURE else "too few to say"
        yield Suggestion(
            id=f"{REST}/{'/'.join(place)}",
            what=REST,
            recipe=place[0],
            component=place[1],
            step=place[2],
            words=(
                f"{grounds.do_words(*found)}: this rest was short on "
                f"{share_words(len(faulty), len(mine))}{_after(grounds, place)}"
            ),
            evidence=f"{told} - {says}",
        )


def chance_of_more(hits: int, of: int, other_hits: int, other_of: int) -> float:
    """The chance that so many hits or more fall into the first group, if both groups are alike.

    >>> chance_of_more(1, 3, 0, 5)
    0.375

    Source:
        R. A. Fisher's exact test, one-sided (from memory).
    """
    whole, all_hits = of + other_of, hits + other_hits
    ways = math.comb(whole, all_hits)
    more = sum(
        math.comb(of, k) * math.comb(other_of, all_hits - k)
        for k in range(hits, min(of, all_hits) + 1)
    )
    return more / ways


def suggest_corrected(grounds: Grounds) -> Iterator[Suggestion]:
    """A step whose heats are mostly told in the evening: the keys of it are not pressed."""
    rows: dict[tuple[str, str, str], list[StepRow]] = defaultdict(list)
    for row in grounds.steps:
        if row.forged and not (row.scrapped or row.lot):
            rows[row.place].append(row)
    for place, mine in rows.items():
        last = mine[-LOOKED_BACK:]
        told = sum(row.corrected or row.heats_unknown for row in last)
        found = grounds.step_at(*place)
        if found is None or len(last) < LEAST_CORRECTED or told < MOSTLY * len(last):
            continue
        yield Suggestion(
            id=f"{CORRECTED}/{'/'.join(place)}",
            what=CORRECTED,
            recipe=place[0],
            component=place[1],
            step=place[2],
            words=(
                f"{grounds.do_words(*found)}: its heats are told or put right afterwards; "
                "SPACE at the end of each heat counts them for you"
            ),
            evidence=f"on {share_words(told, len(last))} of the last pieces",
        )


def _after(grounds: Grounds, place: tuple[str, str, str]) -> str:
    """The step that the rest follows: ", after set down the pin"."""
    component = next(c for c in grounds.recipes[place[0]].components if c.id == place[1])
    at = next(i for i, step in enumerate(component.steps) if step.id == place[2])
    if at == 0:
        return ""
    return f", after {render(component.steps[at - 1].do, grounds.units)}"
