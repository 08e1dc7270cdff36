"""One deed of the rule: of a component, a set-up, or a wait."""

from __future__ import annotations

PUT = "put"
HEAT = "heat"
BOUT = "bench"
PART = "treat"
SETUP = "setup"
ASIDE = "aside"
SCRAP = "scrap"
WAIT = "wait"


class Move:
    """One deed: of a component, or a set-up, or waiting until a moment at the latest."""

    __slots__ = ("asides", "do", "i", "score", "start", "tooling", "until")

    def __init__(
        self,
        do: str,
        *,
        i: int = -1,
        tooling: str = "",
        until: int = 0,
        start: int = 0,
        score: float = 0.0,
    ) -> None:
        self.do = do
        self.i = i
        self.tooling = tooling
        self.until = until
        """Of a wait."""
        self.start = start
        """When it can begin."""
        self.score = score
        self.asides: list[int] = []
        """To be laid aside before it, or they may burn."""
