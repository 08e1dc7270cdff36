"""What kind of step a recipe means, and which of a step's keys belong to each kind."""

from __future__ import annotations

HEAT_KINDS = ("normalise", "anneal", "harden", "temper")
COLD_KINDS = ("bench", "fit", "gauge", "finish")
KINDS = ("forge", "rest", *HEAT_KINDS, *COLD_KINDS)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Protocol

    class Doing(Protocol):
        """What is looked at to know the kind of a step."""

        @property
        def do(self) -> str: ...
        @property
        def kind(self) -> str | None: ...
        @property
        def heats(self) -> object: ...
        @property
        def until(self) -> str | None: ...


BENCH_VERBS = (
    "file",
    "drill",
    "ream",
    "countersink",
    "tap",
    "thread",
    "rivet",
    "saw",
    "grind",
    "polish",
    "clean",
    "wire-brush",
    "brush",
    "mark",
    "scribe",
    "chamfer",
    "deburr",
    "turn",
    "sand",
)
"""Verbs of cold work; a step that begins with one and plans no heats is bench work."""

_NAMED = {
    "rest": "rest",
    "normalise": "normalise",
    "normalize": "normalise",
    "anneal": "anneal",
    "harden": "harden",
    "temper": "temper",
}
"""Verbs that outrank planned heats."""

_COLD = {
    **dict.fromkeys(BENCH_VERBS, "bench"),
    "gauge": "gauge",
    "gage": "gauge",
    "measure": "gauge",
    "fit": "fit",
    "assemble": "fit",
    "finish": "finish",
    "oil": "finish",
    "wax": "finish",
    "paint": "finish",
}
"""Verbs that say the kind where no heats are planned."""

KEYS_OF: dict[str, frozenset[str]] = {
    "heats": frozenset({"forge"}),
    "work": frozenset({"forge"}),
    "to": frozenset({"forge", "bench"}),
    "follows": frozenset({"forge"}),
    "until": frozenset({"rest", "normalise", "anneal"}),
    "in": frozenset({"rest", "normalise", "anneal"}),
    "why": frozenset({"rest", *HEAT_KINDS}),
    "skipping": frozenset({"rest", *HEAT_KINDS}),
    "at": frozenset(HEAT_KINDS),
    "soak": frozenset(HEAT_KINDS),
    "cycles": frozenset({"normalise", "temper"}),
    "quench": frozenset({"harden"}),
    "judge": frozenset(HEAT_KINDS),
    "minutes": frozenset(COLD_KINDS),
    "dries": frozenset({"finish"}),
}
"""The kinds of step that a key belongs to; a key that is not here belongs to all."""


def kind_of(step: Doing) -> str | None:
    """The kind of a step: its own word, else from its verb, heats or rest; None if unknown."""
    if step.kind is not None:
        return step.kind if step.kind in KINDS else None
    verb = (step.do.split() or [""])[0].lower().strip(".,:;")
    if verb in _NAMED:
        return _NAMED[verb]
    if step.heats is not None:
        return "forge"
    if verb in _COLD:
        return _COLD[verb]
    return "rest" if step.until is not None else None
