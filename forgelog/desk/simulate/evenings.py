"""What the simulated smith tells in the evening: fuel, offcuts, cut lengths. Our own invention."""

from __future__ import annotations

from datetime import date
from random import Random

import msgspec

from forgelog.desk.cut_wanted import as_cut_mm
from forgelog.recipe.resolved import FORGING_KINDS
from forgelog.trade.sections import parse_section
from forgelog.units import UnitSystem
from forgelog.work.facts import AnyFact, CutProved, FuelUsed, OffcutKept, OffcutUsed
from forgelog.work.queries import component_of, recipe_of
from forgelog.work.state import State

HEAT_H, LIGHTING_H = 3.0 / 60.0, 10.0 / 60.0
"""Fire that a heat takes, and that lighting takes, hours."""
USE_KG_H = {"gas": 0.9, "coke": 4.0}
FULL_KG, EMPTY_KG = 33.0, 15.5
"""The bottle with its gas, and when it is changed."""
LEFT_OPEN = date(2026, 11, 17)
"""From this day on the fuel is not told yet: the evening page asks for it."""


class Evening(msgspec.Struct, frozen=True, kw_only=True):
    """What is told of one day beside the fuel."""

    kept: tuple[tuple[str, str, float], ...] = ()
    """Label, bar and length in mm of offcuts, all of mild steel."""
    used: tuple[str, ...] = ()
    proved: tuple[tuple[str, float], ...] = ()
    """Component, and how much of the bar was too much; below 0 for short. mm."""


EVENINGS = {
    date(2026, 9, 10): Evening(kept=(("K1", "12 mm square", 310.0),), proved=(("hook", -4.0),)),
    date(2026, 10, 12): Evening(
        kept=(("K2", "40 x 8 mm flat", 260.0),), proved=(("strap", 0.0), ("pintle", -6.0))
    ),
    date(2026, 10, 16): Evening(used=("K1",), proved=(("hook", 0.0),)),
    date(2026, 11, 13): Evening(kept=(("K3", "25 mm square", 280.0),)),
}


class Teller:
    """Tells, evening by evening, with chances of his own."""

    def __init__(self, seed: int) -> None:
        self.rng = Random(f"{seed} in the evening")
        self.bottle_kg = FULL_KG
        self.next_mm: dict[tuple[str, str, float], float] = {}
        """What was to be tried next, by recipe, component and the length that was told."""

    def tells(self, state: State, session: str, day: date) -> list[AnyFact]:
        """The facts of an evening.

        Args:
            state: What stood when the fire went out.
            session: The day's last session at the fire.
            day: Which one.
        """
        told: list[AnyFact] = []
        burnt = self._fuel(state, session, day)
        if burnt is not None:
            told.append(burnt)
        evening = EVENINGS.get(day, Evening())
        for label, bar, long_mm in evening.kept:
            told.append(OffcutKept(label=label, section=parse_section(bar), long_mm=long_mm))
        told += [OffcutUsed(label=label) for label in evening.used]
        told += [
            proved
            for component, over_mm in evening.proved
            if (proved := self._proved(state, component, over_mm, session)) is not None
        ]
        return told

    def _fuel(self, state: State, session: str, day: date) -> FuelUsed | None:
        heats = sum(
            record.heats or 0
            for piece in state.pieces.values()
            for record in piece.done
            if record.session == session and record.kind in FORGING_KINDS
        )
        per_h = USE_KG_H.get(state.fire.kind)
        told = self.rng.random() < 0.8
        if not heats or per_h is None or not told or day >= LEFT_OPEN:
            return None
        kg = round(per_h * (LIGHTING_H + heats * HEAT_H) * self.rng.uniform(0.9, 1.1), 1)
        fire, kind = state.fire.name, state.fire.kind
        if kind != "gas":
            return FuelUsed(session=session, kg=kg, fire=fire, fire_kind=kind)
        if self.bottle_kg - kg < EMPTY_KG:
            self.bottle_kg = FULL_KG
        before_kg = self.bottle_kg
        self.bottle_kg = round(before_kg - kg, 1)
        return FuelUsed(
            session=session,
            kg=kg,
            fire=fire,
            fire_kind=kind,
            before_kg=before_kg,
            after_kg=self.bottle_kg,
        )

    def _proved(
        self, state: State, component: str, over_mm: float, session: str
    ) -> CutProved | None:
        """How the pieces of the day came out, from the length that was cut."""
        pieces = (p for p in state.pieces.values() if p.component == component)
        piece = next((p for p in pieces if any(r.session == session for r in p.done)), None)
        stock = component_of(state, piece).stock if piece is not None else None
        if piece is None or stock is None:
            return None
        recipe = recipe_of(state, piece).id
        told_mm = stock.sum_mm if stock.cut_mm is None else stock.cut_mm
        asked_mm = as_cut_mm(told_mm, UnitSystem.MM)
        cut_mm = self.next_mm.get((recipe, component, asked_mm), asked_mm)
        self.next_mm[recipe, component, asked_mm] = cut_mm - over_mm
        return CutProved(
            recipe=recipe,
            component=component,
            cut_mm=cut_mm,
            over_mm=over_mm,
            section=stock.section,
            asked_mm=asked_mm,
            worked_for=piece.order,
        )
