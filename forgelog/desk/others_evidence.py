"""What other smiths' records say of a step, as a first guess that one's own soon outweigh.

Evidence that came with a taken recipe stands for one piece of one's own, however many pieces it is
from: another smith has another fire and another arm. With no record of one's own it is the guess;
with one it weighs a half, with three a quarter, with nine a tenth.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

import msgspec

from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop
from forgelog.floor.settings import LearntHeats
from forgelog.learn.heats import StepKey, whole_heats
from forgelog.recipe.process import process_hash
from forgelog.recipe.written import WrittenRecipe
from forgelog.recipe.written_evidence import WrittenTaken

WORTH = 1.0
"""So many of one's own pieces another smith's evidence of a step is worth. Stated, not measured."""


def with_others(shop: Shop, learnt: Mapping[StepKey, LearntHeats]) -> dict[StepKey, LearntHeats]:
    """What was learnt, with the evidence that came with the recipes that open orders work from.

    Args:
        shop: The book.
        learnt: By step; figures that the smith took up as the book's own are let be.
    """
    found = dict(learnt)
    for recipe in _in_use(shop):
        for row in _rows(recipe):
            key = (recipe.id, row.component, row.step, row.by or "hand")
            found[key] = together(learnt.get(key), row)
    return found


def together(own: LearntHeats | None, others: WrittenTaken) -> LearntHeats:
    """One's own figure and another smith's, each at its weight; logarithmic, as heats are learnt.

    Args:
        own: None where the step was never made.
        others: With heats.
    """
    heats = others.heats
    assert heats is not None
    if own is None:
        return LearntHeats(
            heats=heats.middle, low=heats.least, high=heats.most, records=0, others=others.pieces
        )
    if own.own:
        return own
    share = WORTH / (WORTH + own.records)
    shift = math.exp(share * math.log(heats.middle / own.heats))
    return msgspec.structs.replace(
        own,
        heats=whole_heats(own.heats * shift),
        low=whole_heats(own.low * shift),
        high=whole_heats(own.high * shift),
        early=tuple(
            (whole_heats(mid * shift), whole_heats(low * shift), whole_heats(high * shift))
            for mid, low, high in own.early
        ),
        others=others.pieces,
    )


def _rows(recipe: WrittenRecipe) -> Iterable[WrittenTaken]:
    """The evidence of forging, where it speaks of the process as it stands."""
    shared, evidence = recipe.shared, recipe.evidence
    if shared is None or evidence is None or shared.process != process_hash(recipe):
        return ()
    return (row for row in evidence.steps if row.heats is not None and row.pieces > 0)


def _in_use(shop: Shop) -> Iterable[WrittenRecipe]:
    for name in dict.fromkeys(order.recipe for order in shop.state.orders.values()):
        try:
            yield shop.recipe(name)
        except CannotDo:
            continue
