"""Small planning problems for the tests, all invented."""

from __future__ import annotations

from typing import Any

from forgelog.floor.planning.going import Figures
from forgelog.floor.planning.problem import read_problem

Json = dict[str, Any]


def forge(heats: int = 2, **changes: Any) -> Json:
    """A forging step of a thin bar."""
    step = {
        "kind": "forge",
        "name": "forge",
        "heats": heats,
        "cold_s": 80,
        "reheat_s": 35,
        "fade": 3,
        "hand_s": 25,
        "hold_s": 65,
        "tooling": None,
    }
    return {**step, **changes}


def rest(seconds: int) -> Json:
    """A rest."""
    return {"kind": "rest", "rest_s": seconds}


def bench(bouts: int, seconds: int) -> Json:
    """Bench work."""
    return {"kind": "bench", "name": "file", "bouts": bouts, "bout_s": seconds}


def instance(*components: list[Json], places: int = 3, **changes: Any) -> Json:
    """One order, one piece a component: c1, c2 and so on."""
    pieces = [
        {
            "id": f"p{n}",
            "components": [{"id": f"c{n}", "set": "", "needs": [], "steps": steps}],
        }
        for n, steps in enumerate(components, 1)
    ]
    made: Json = {
        "format": 1,
        "name": "small",
        "size": "small",
        "seed": 0,
        "day_s": 28_800,
        "fire": {"kind": "gas", "places": places, "light_s": 600, "close_s": 600},
        "tooling": {"dies": {"setup_s": 150}, "swage": {"setup_s": 60}},
        "orders": [{"id": "o1", "weight": 1, "due_s": 3600, "pieces": pieces}],
    }
    return {**made, **changes}


def figures_of(data: Json) -> Figures:
    """The figures of an instance."""
    return Figures(read_problem(data))
