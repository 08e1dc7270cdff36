"""What is wrong with a recipe, as values: found, expected, and the nearest right spelling."""

from __future__ import annotations

from typing import Literal

import msgspec

from forgelog.recipe.plain import harmless, shortened

Path = tuple[str | int, ...]
"""Where a thing stands in the file: ("component", 2, "step", 3, "heats"), counted from 0."""

DEEPEST = 16
"""Keys in keys and lists in lists beyond this are not followed; a recipe needs nine."""

Severity = Literal["error", "warning"]


class Fault(msgspec.Struct, frozen=True, kw_only=True):
    """Something wrong, before it is known where it stands."""

    found: str
    """What is there: 'has "pots", which is no size of this recipe'."""
    expected: str = ""
    """What to do: 'write a length with its unit, like "12 mm"'."""
    hint: str = ""
    """The nearest right spelling, or a word of help; a whole clause."""


class Problem(msgspec.Struct, frozen=True, kw_only=True):
    """Something wrong, with its place."""

    file: str = ""
    line: int | None = None
    """Counted from 1; None where no line of the file can be named."""
    where: str = ""
    """The part of the recipe in words: 'strap, step 3 "draw down"'."""
    found: str
    expected: str = ""
    hint: str = ""
    source_line: str = ""
    """The line of the file as it stands there."""
    severity: Severity = "error"

    @property
    def text(self) -> str:
        """The problem as `forgelog check` prints it: one line, then the source and the hint."""
        place = harmless(self.file)
        if self.line is not None:
            place = f"{place}:{self.line}" if place else f"line {self.line}"
        heads = [place] if place else []
        if self.severity == "warning":
            heads.append("warning")
        if self.where:
            heads.append(self.where)
        says = f"{self.found}; {self.expected}" if self.expected else self.found
        rows = [": ".join([*heads, says])]
        if self.source_line.strip():
            rows.append("    " + shortened(harmless(self.source_line.strip()), 90))
        if self.hint:
            rows.append("    " + self.hint)
        return "\n".join(rows)
