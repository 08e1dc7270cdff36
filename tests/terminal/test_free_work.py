"""A piece made without a recipe on the real screen; its draft, filled in, is forged again."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.desk.draft import draft_of
from forgelog.desk.orders import take_order
from forgelog.desk.shop import open_shop
from forgelog.recipe.read import read_recipe
from tests.terminal.driver import Terminal
from tests.terminal.test_apprentice import MOST_PRESSES, SPEED, Apprentice
from tests.terminal.test_apprentice import env as env

pytestmark = [
    pytest.mark.terminal,
    pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are not on Windows"),
]

ARGUMENTS = ["-m", "forgelog", "home", "--speed"]
SLOWER = 100
"""A list is gone down while the piece is in hand: that must not look like heats nobody pressed."""


class Inventor(Apprentice):
    """Works by head, and says in one choice what it was."""

    def until(self, key: str, words: str, otherwise: str) -> None:
        """Press one key until another says what is wanted, then press that."""
        for _ in range(200):
            _, line = self.read()
            if line[key].startswith(words):
                if self.press(key):
                    return
                continue
            self.press(otherwise)
        raise AssertionError(f"{key} never said {words!r}:\n{self.terminal.text()}")

    def heats(self, count: int, said: str) -> None:
        """So many heats at the anvil, then what it was."""
        for heat in range(count):
            _, line = self.read()
            if line["space"].startswith("put it"):
                self.until("space", "put it in the fire", "tab")
            self.until("space", "out of the fire", "tab")
            if heat + 1 < count:
                self.until("space", "heat over", "tab")
        self.until("enter", "it is done: say what it was", "tab")
        self.until("enter", said, "tab")

    def lies(self) -> None:
        """The piece is laid aside, wherever it went."""
        _, line = self.read()
        if line["space"].startswith("out of the fire"):
            self.until("space", "out of the fire", "tab")
            self.until("tab", "trouble", "tab")
            self.until("enter", "lay it aside", "tab")

    def next(self, said: str) -> None:
        """What comes now, of a piece that lies there or has rested."""
        self.until("enter", "a rest, cold work", "tab")
        self.until("enter", said, "tab")


def filled(draft: str) -> str:
    """The draft with every gap filled in that has a key, and the other marks taken out."""
    rows = []
    for row in draft.split("\n"):
        found = re.fullmatch(r"( *)# gap: ((?:says|tools|why) = .*)", row)
        if found:
            rows.append(found[1] + found[2].replace("...", "small hammer"))
        elif "# gap:" not in row:
            rows.append(row)
    return "\n".join(rows)


def test_a_piece_made_by_head_becomes_a_recipe_that_is_forged_again(
    env: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    with Terminal([*ARGUMENTS, str(SLOWER)], width=100, height=30, env=env) as terminal:
        terminal.wait_for("HOME")
        inventor = Inventor(terminal)
        inventor.until("enter", "say what it is cut from", "tab")
        terminal.wait_for("WORK WITHOUT A RECIPE")
        inventor.until("enter", "begin the work", "tab")
        terminal.wait_for("lay out this order")
        terminal.press("enter")
        terminal.wait_for("light the fire, begin")
        terminal.press("enter")
        terminal.wait_for("BACKSPACE  nothing to undo")
        inventor.heats(3, "draw down")
        inventor.heats(1, "bend")
        inventor.lies()
        inventor.next("let it rest: black")
        inventor.next("file")
        inventor.until("enter", "file done", "tab")
        inventor.next("nothing more: it is finished")
        inventor.until("enter", "end the session", "tab")
        terminal.wait_for("EVENING")
        terminal.press("ctrl+c")
        assert terminal.wait_exit() == 0
    shop = open_shop()
    (order,) = shop.state.orders.values()
    (piece,) = shop.state.pieces.values()
    assert [(r.kind, r.heats) for r in piece.done][:2] == [("forge", 3), ("forge", 1)]
    draft = draft_of(shop, order)
    assert draft.gaps >= 6
    recipe, problems = read_recipe(draft.text.encode(), "draft.toml")
    assert recipe is not None, problems
    assert [step.do for step in recipe.component[0].step] == ["draw down", "bend", "rest", "file"]
    assert recipe.component[0].step[0].heats is not None
    assert recipe.component[0].step[0].heats.hand == 3

    assert main(["draft", order.label]) == 0
    path = Path(env["FORGELOG_BOOK"]) / "recipes" / f"{draft.id}.toml"
    assert path.read_text() == draft.text
    text = filled(draft.text)
    text = text.replace('square" }', 'square", cut = "200 mm" }')
    text = text.replace("revision = 1", 'revision = 1\nsays = "A bent hook."\nlicence = "CC0-1.0"')
    path.write_text(text)
    capsys.readouterr()
    assert main(["check", "--strict", str(path)]) == 0, capsys.readouterr().out

    again = take_order(open_shop(), draft.id, title="made again")
    with Terminal([*ARGUMENTS, str(SPEED)], width=100, height=30, env=env) as terminal:
        terminal.wait_for("made again")
        apprentice = Apprentice(terminal)
        while not any(
            row.startswith(" > ") and "made again" in row for row in terminal.text().split("\n")
        ):
            apprentice.press("tab")
        terminal.press("enter")
        terminal.wait_for("light the fire, begin")
        terminal.press("enter")
        terminal.wait_for("BACKSPACE  nothing to undo")
        while "ENTER  end the session" not in terminal.text():
            assert apprentice.presses < MOST_PRESSES, terminal.text()
            apprentice.works()
        terminal.press("ctrl+c")
        assert terminal.wait_exit() == 0
    made = [p for p in open_shop().whole_state.pieces.values() if p.order == again.id]
    assert [p.place for p in made] == ["finished"]
    assert [r.heats for r in made[0].done if r.kind == "forge"] == [3, 1]
