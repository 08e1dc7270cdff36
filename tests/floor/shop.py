"""A floor in memory: state, stand and a clock that a test turns by hand."""

from __future__ import annotations

from pathlib import Path

import msgspec

from forgelog.floor.press import begin, press
from forgelog.floor.settings import FloorSettings
from forgelog.floor.show import view
from forgelog.floor.stand import Stand
from forgelog.floor.view import View
from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolve import resolve
from forgelog.recipe.resolved import Recipe
from forgelog.work.apply import apply, now
from forgelog.work.facts import (
    AnyFact,
    FireLit,
    OrderTaken,
    Press,
    RecipePinned,
    SessionBegan,
)
from forgelog.work.making import make_pieces
from forgelog.work.moments import Moment, Stamp
from forgelog.work.state import State, Workpiece

RECIPES = Path(__file__).parents[2] / "recipes"
EIGHT = 1_790_000_000.0
"""A morning at the fire, seconds since 1970."""


def recipe_of_file(name: str) -> Recipe:
    """A recipe of the project's own, at its default sizes."""
    data = (RECIPES / f"{name}.toml").read_bytes()
    written, problems = read_recipe(data, name)
    assert written is not None, problems
    return resolve(written)


class Shop:
    """One session at the fire, without disk or screen."""

    def __init__(
        self,
        *recipes: Recipe,
        count: int = 1,
        settings: FloorSettings | None = None,
        places: int = 3,
        method: str = "hand",
    ) -> None:
        self.settings = settings or FloorSettings()
        self.at = Stamp(wall=EIGHT, steady=1000.0, awake=1000.0, boot="a")
        self.state = State()
        self.presses: list[Press] = []
        self.seq = 0
        names = tuple(f"o{i + 1}" for i in range(len(recipes)))
        self.tell(
            SessionBegan(version="0", session="s1", device="bench", orders=names),
        )
        for name, recipe in zip(names, recipes, strict=True):
            self.tell(OrderTaken(order=name, label=name, title=f"order {name}", recipe=recipe.id))
            made = make_pieces(name, recipe, count)
            self.tell(RecipePinned(order=name, recipe=recipe, made=made))
        self.tell(FireLit(places=places, method=method, orders=names))
        self.stand: Stand = begin(self.state, self.now, self.settings)

    @property
    def now(self) -> Moment:
        """Shop time."""
        return now(self.state, self.at)

    def wait(self, seconds: float) -> None:
        """Time passes."""
        self.at = msgspec.structs.replace(
            self.at,
            wall=self.at.wall + seconds,
            steady=self.at.steady + seconds,
            awake=self.at.awake + seconds,
        )

    def tell(self, *facts: AnyFact) -> None:
        """Facts that come from elsewhere than the floor's keys."""
        told = Press(seq=self.seq, at=self.at, facts=facts)
        self.state = apply(self.state, told)
        self.presses.append(told)
        self.seq += 1

    def press(self, key: str, after_s: float = 1.0) -> View:
        """Some seconds later a key is pressed; what the floor shows then."""
        self.wait(after_s)
        pressed = press(self.state, self.stand, key, self.now, self.settings)
        if pressed.facts:
            self.tell(*pressed.facts)  # type: ignore[arg-type]
        self.stand = pressed.stand
        return self.view()

    def view(self) -> View:
        """What the floor shows now."""
        return view(self.state, self.stand, self.now, self.settings)

    def words(self, key: str) -> str:
        """What a key says now."""
        return next(k.words for k in self.view().keys if k.key == key.upper())

    def piece(self, component: str, number: int = 1) -> Workpiece:
        """A workpiece by component and number among those of the order."""
        found = [p for p in self.state.pieces.values() if p.component == component]
        return found[number - 1]

    def choose(self, piece: Workpiece) -> None:
        """The card of this piece."""
        self.stand = msgspec.structs.replace(self.stand, chosen=piece.id)
