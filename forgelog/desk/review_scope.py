"""How much of the journal a review tells of."""

from __future__ import annotations

import msgspec

from forgelog.units import UnitSystem


class Scope(msgspec.Struct, frozen=True, kw_only=True):
    """How much of the journal is told."""

    session: str = ""
    """Only what happened in this session; "" for all of them."""
    recipe: str = ""
    """Only this recipe; "" for all of them."""
    units: UnitSystem = UnitSystem.MM

    def takes(self, recipe: str, session: str) -> bool:
        """Whether something of this recipe, in this session, is told of."""
        return (not self.session or session == self.session) and (
            not self.recipe or recipe == self.recipe
        )
