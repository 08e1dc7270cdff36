"""Tools and jigs of a session, with their settings and state; what is missing first."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.book.settings import OwnTool
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import Step
from forgelog.trade.words import in_dialect

MISSING = ("to be made", "to be repaired")
NOT_LISTED = "not in tools.toml"


class ToolShown(msgspec.Struct, frozen=True, kw_only=True):
    """One tool or jig."""

    id: str
    name: str
    settings: tuple[str, ...] = ()
    """Each setting that a step wants."""
    set_now: str = ""
    """How it is set at present, where that is known."""
    state: str
    """have, proved, to be made, to be repaired, or not in tools.toml."""
    jig: bool = False
    for_steps: tuple[str, ...] = ()
    """What it is needed for."""

    @property
    def missing(self) -> bool:
        """It cannot be used as it is."""
        return self.state in MISSING

    @property
    def set_ups(self) -> int:
        """How often it is set up at least, as it stands now; only told of a jig."""
        return len(set(self.settings) - {self.set_now}) if self.jig else 0

    @property
    def words(self) -> str:
        """ "hook jig, set to 60 mm (to be made)"; a jig at several settings names them all."""
        settings = "".join(f", {setting}" for setting in self.settings)
        if self.jig and len(self.settings) > 1:
            settings = f", at {len(self.settings)} settings: {'; '.join(sorted(self.settings))}"
            settings += f"; {self.set_ups} set-ups at least"
        state = f" ({self.state})" if self.state != "have" else ""
        return f"{self.name}{settings}{state}"


def tools_shown(shop: Shop, steps: Iterable[Step]) -> tuple[ToolShown, ...]:
    """The tools of some steps: missing ones, then those not listed, then the rest, by name.

    Args:
        shop: The book; what was last seen of a tool at the floor outranks tools.toml.
        steps: The steps that are left.
    """
    units = shop.settings.shop.units
    dialect = shop.device.dialect or shop.settings.shop.dialect
    own = {name: tool for tool in shop.settings.tools for name in tool.ids}
    found: dict[str, ToolShown] = {}
    for step in steps:
        for tool in step.tools:
            listed = own.get(tool.id)
            seen = shop.state.tools.get(tool.id)
            setting = in_dialect(render(tool.setting, units), dialect)
            was = found.get(tool.id)
            found[tool.id] = ToolShown(
                id=tool.id,
                name=in_dialect(render(tool.name, units), dialect),
                settings=_with(was.settings if was else (), setting),
                set_now=_set_now(shop, tool.id, listed, dialect),
                state=seen[0] if seen else listed.state if listed else NOT_LISTED,
                jig=tool.jig or (listed.jig if listed else False),
                for_steps=_with(was.for_steps if was else (), render(step.do, units)),
            )
    return tuple(sorted(found.values(), key=_missing_first))


def _set_now(shop: Shop, tool: str, listed: OwnTool | None, dialect: str) -> str:
    """As it was last set up at the fire, else as the smith said, else as tools.toml says."""
    stands = shop.state.jigs.get(tool) or shop.state.tools.get(tool, ("", ""))[1]
    if stands:
        return in_dialect(render(stands, shop.settings.shop.units), dialect)
    return harmless(listed.setting) if listed is not None else ""


def _with(words: tuple[str, ...], more: str) -> tuple[str, ...]:
    return words if not more or more in words else (*words, more)


def _missing_first(tool: ToolShown) -> tuple[bool, bool, bool, str]:
    return not tool.missing, tool.state != NOT_LISTED, not tool.jig, tool.name.casefold()
