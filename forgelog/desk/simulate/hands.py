"""The simulated smith's hands: keys after a moment, TAB to a card, a choice out of a list."""

from __future__ import annotations

from random import Random

from forgelog.desk.simulate.floor import SimulatedFloor
from forgelog.floor.stand import ELSE
from forgelog.floor.view import View


class Hands:
    """They know of the floor what its bottom line and its lists say."""

    def __init__(self, floor: SimulatedFloor, rng: Random) -> None:
        self.floor = floor
        self.rng = rng

    def key(self, key: str, after_s: float | None = None) -> bool:
        """Press a key after a moment."""
        return self.floor.press(key, self.rng.uniform(1.0, 2.6) if after_s is None else after_s)

    @staticmethod
    def key_that(view: View, words: str, *, says: bool = True) -> str:
        """The key whose words these are, or the first whose words they are not."""
        return next(k.key.lower() for k in view.keys if (k.words == words) == says)

    def go_to(self, card: str) -> bool:
        """TAB until this card is there."""
        for _ in range(60):
            if self.floor.stand.chosen == card:
                return True
            self.key("tab", 0.5)
        return False

    def from_list(self, *choices: str) -> bool:
        """Open "something else" and take one choice after another."""
        if not self.go_to(ELSE):
            return False
        self.key("enter")
        return all(self.find(choice) for choice in choices)

    def find(self, words: str) -> bool:
        """TAB to a choice of the open list, and take it."""
        listed = self.floor.view().list
        for _ in listed.choices if listed else ():
            listed = self.floor.view().list
            assert listed is not None
            if listed.choices[listed.at].startswith(words):
                self.key("enter")
                return True
            self.key("tab", 0.5)
        if listed is not None:
            self.key("space")
        return False
