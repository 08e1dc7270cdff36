"""The blind apprentice: knows no recipe, reads only the real screen, and finishes the order.

It does what the card and the bottom line say. How often it ended a heat and finished a step is
counted by what it pressed, and must be what the journal says.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from pathlib import Path

import pytest

from forgelog.book.folders import mark_as_practice
from forgelog.desk.founding import found_book
from forgelog.desk.orders import take_order
from forgelog.desk.shop import open_shop
from forgelog.work.facts import HeatOver, StepFinished, Undone
from tests.terminal.driver import Stuck, Terminal

pytestmark = [
    pytest.mark.terminal,
    pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are not on Windows"),
]

SPEED = 1500
"""Two minutes of the fire in less than a tenth of a second."""
MOST_PRESSES = 3000
QUIET_S = 0.03
"""So long after the last stroke a picture is taken to be whole."""
FIVE = (
    "gate-hinge-set",
    "leaf-coat-hooks",
    "poker-and-shovel",
    "scroll-shelf-brackets",
    "cross-peen-hammer",
)
LINE = re.compile(
    r" SPACE  (?P<space>.*?)\s+ENTER  (?P<enter>.*?)\n TAB  (?P<tab>.*?)\s+BACKSPACE  (?P<undo>.*)"
)


@pytest.fixture
def env(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """A practice book of its own."""
    folders = {f"FORGELOG_{name}": str(tmp_path / name) for name in ("BOOK", "DEVICE", "CACHE")}
    for name, folder in folders.items():
        monkeypatch.setenv(name, folder)
    found_book(tmp_path / "BOOK")
    mark_as_practice(tmp_path / "BOOK")
    return folders


class Apprentice:
    """Reads the screen, presses the four keys, counts what it did."""

    def __init__(self, terminal: Terminal) -> None:
        self.terminal = terminal
        self.presses = 0
        self.did: Counter[str] = Counter()
        self.turn = 0

    def read(self) -> tuple[str, dict[str, str]]:
        """The whole screen, and what the bottom line says of each key."""
        self.terminal.wait("the bottom line", lambda t: LINE.search(t) is not None)
        text = self.settled()
        found = LINE.search(text)
        assert found is not None
        return text, found.groupdict()

    def press(self, key: str) -> bool:
        """Press, and wait until the bottom line has answered; False where it did not.

        At this speed a key can come sooner than a knuckle could: it is then dropped as a bounce,
        and the screen says so.
        """
        shown = self.terminal.text()
        before = LINE.search(shown)
        assert before is not None
        self.presses += 1
        self.terminal.press(key)

        def changed(text: str) -> bool:
            now = LINE.search(text)
            return now is not None and now.groups() != before.groups()

        def answered(text: str) -> bool:
            return changed(text) or ("came twice" in text and "came twice" not in shown)

        try:
            self.terminal.wait("the bottom line to answer", answered, deadline_s=2.0)
        except Stuck:
            return False
        return changed(self.settled())

    def settled(self) -> str:
        """The screen once nothing more is being painted: an answer may come in two strokes."""
        with self.terminal.changed:
            while self.terminal.changed.wait(timeout=QUIET_S):
                pass
            return self.terminal.text_unlocked()

    def wait_a_little(self) -> None:
        """Nothing to do: let the clock on the screen go on."""
        before = self.terminal.text()
        try:
            self.terminal.wait("the clock to go on", lambda t: t != before, deadline_s=1.0)
        except Stuck:
            return

    def works(self) -> str:
        """Do one thing; return the words of what was done, "" when it only looked on."""
        text, line = self.read()
        if line["space"] == "leave the list":
            return self.take("space", line["space"])
        if "heat over" in line["space"]:
            return self.in_hand(text, line)
        if line["enter"].startswith("it fits"):
            return self.take("enter", line["enter"])
        for key in ("space", "enter"):
            if re.match(
                r"put it in the fire|out (of|to|and)|begin|let it rest|one more|it fits|go on at",
                line[key],
            ):
                if line[key].startswith("out") and not self.is_hot(text):
                    break
                return self.take(key, line[key])
        if "the bench clock" in line["space"]:
            return self.take("enter", line["enter"])
        self.turn += 1
        if self.turn % 4 == 0:
            self.wait_a_little()
        self.press("tab")
        return ""

    def is_hot(self, text: str) -> bool:
        """Whether the card says to look."""
        return "in the fire: LOOK" in text

    def take(self, key: str, words: str) -> str:
        """Press for these words; "" where the press was dropped."""
        return words if self.press(key) else ""

    def in_hand(self, text: str, line: dict[str, str]) -> str:
        """A heat: as many as the card plans, then the step is done."""
        planned = re.search(r"heat (\d+) of about (\d+)", text)
        key = "space" if planned and int(planned[1]) < int(planned[2]) else "enter"
        done = self.take(key, line[key])
        if done and "one more" not in done:
            self.did["heat over" if key == "space" else "step done in hand"] += 1
        return done


@pytest.mark.parametrize("recipe", FIVE)
def test_the_blind_apprentice_finishes_an_order_by_the_bottom_line_alone(
    recipe: str, env: dict[str, str]
) -> None:
    order = take_order(open_shop(), recipe, title="for a test")
    arguments = ["-m", "forgelog", "home", "--speed", str(SPEED)]
    with Terminal(arguments, width=100, height=30, env=env) as terminal:
        terminal.wait_for("lay out this order")
        terminal.press("enter")
        terminal.wait_for("light the fire, begin")
        terminal.press("enter")
        apprentice = Apprentice(terminal)
        terminal.wait_for("BACKSPACE  nothing to undo")
        while "ENTER  end the session" not in terminal.text():
            assert apprentice.presses < MOST_PRESSES, terminal.text()
            apprentice.works()
        terminal.press("enter")
        terminal.wait_for("EVENING")
        terminal.press("backspace")
        terminal.wait_for("HOME")
        terminal.press("ctrl+c")
        assert terminal.wait_exit() == 0
    state = open_shop().whole_state
    pieces = [p for p in state.pieces.values() if p.order == order.id]
    assert pieces
    assert {p.place for p in pieces} <= {"finished", "fitted"}
    told: Counter[str] = Counter()
    for file in open_shop().files:
        for press in file.presses:
            for fact in press.facts:
                assert not isinstance(fact, Undone)
                if isinstance(fact, HeatOver):
                    told["heat over"] += 1
                if isinstance(fact, StepFinished) and fact.hot is not None:
                    told["step done in hand"] += 1
    assert told["heat over"] == apprentice.did["heat over"]
    assert told["step done in hand"] >= apprentice.did["step done in hand"] > 0
    assert not any(r.verdict == "skipped" for p in pieces for r in p.rests)
