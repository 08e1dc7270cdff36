"""A short day in the real program: order, lay-out, fire, a power cut, one key, end of the day."""

from __future__ import annotations

import signal
import sys
from contextlib import suppress
from pathlib import Path

import pytest

from forgelog.book.new_book import make_book
from forgelog.desk.shop import open_shop
from tests.desk.conftest import PIN
from tests.terminal.driver import Stuck, Terminal

pytestmark = [
    pytest.mark.terminal,
    pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are not on Windows"),
]


@pytest.fixture
def env(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    folders = {f"FORGELOG_{name}": str(tmp_path / name) for name in ("BOOK", "DEVICE", "CACHE")}
    for name, folder in folders.items():
        monkeypatch.setenv(name, folder)
    make_book(tmp_path / "BOOK")
    (tmp_path / "BOOK" / "recipes" / "test-pin.toml").write_text(PIN)
    return folders


def forgelog(env: dict[str, str], *words: str) -> Terminal:
    return Terminal(["-m", "forgelog", *words], width=80, height=24, env=env)


def key_row(text: str, key: str) -> str:
    """What the bottom line says of a key."""
    return next(row for row in text.split("\n")[-3:] if f" {key} " in f" {row}")


def press_until(terminal: Terminal, sent: str, words: str) -> None:
    """Press at a person's pace until the screen has gone on."""
    for _ in range(40):
        terminal.send(sent)
        with suppress(Stuck):
            terminal.wait_for(words, deadline_s=0.5)
            return
    terminal.wait_for(words, deadline_s=0.5)


def test_a_day_goes_on_after_the_power_was_cut(env: dict[str, str]) -> None:
    with forgelog(env) as terminal:
        terminal.wait_for("RECIPES")
        terminal.press("enter")
        terminal.wait_for("> Pin for tests")
        terminal.press("enter")
        terminal.wait_for("> take this order")
        terminal.press("enter")
        terminal.wait_for("not begun")
        terminal.wait_for("[ ] Pin for tests")
        terminal.press("enter")
        terminal.wait_for("light the fire, begin")
        terminal.press("enter")
        terminal.wait_for("FIRE 0 of 3")
        terminal.press("space")
        terminal.wait_for("FIRE 1 of 3")
        # Once the screen has shown it, it is on the disk: a cut loses nothing.
        terminal.process.send_signal(signal.SIGKILL)
        assert terminal.wait_exit() == -signal.SIGKILL
    with forgelog(env) as terminal:
        terminal.wait_for("go on where it was cut off")
        terminal.press("enter")
        terminal.wait("the floor", lambda text: "HOME" not in text and "BACKSPACE" in text)
        state = open_shop().state
        assert {p.place for p in state.pieces.values()} == {"waiting", "fire"}
        terminal.press("ctrl+c")
        assert terminal.wait_exit() == 0


def test_a_key_that_the_screen_has_shown_is_on_the_disk(env: dict[str, str]) -> None:
    from forgelog.desk.orders import take_order

    take_order(open_shop(), "test-pin")
    with forgelog(env) as terminal:
        terminal.wait_for("lay out this order")
        terminal.press("enter")
        terminal.wait_for("light the fire, begin")
        terminal.press("enter")
        terminal.wait_for("FIRE 0 of 3")
        terminal.press("space")
        terminal.wait_for("FIRE 1 of 3")
        assert [p.place for p in open_shop().state.pieces.values()].count("fire") == 1
        terminal.press("backspace")
        terminal.wait_for("FIRE 0 of 3")
        assert [p.place for p in open_shop().state.pieces.values()].count("fire") == 0
        terminal.process.send_signal(signal.SIGHUP)
        assert terminal.wait_exit() == 129


def test_learn_keys_teaches_the_whole_program(env: dict[str, str]) -> None:
    with forgelog(env, "learn-keys") as terminal:
        terminal.wait_for("that shall be SPACE")
        for words, sent in (
            ("that shall be ENTER", "\x1b[6~"),
            ("that shall be TAB", "\x1b[15~"),
            ("that shall be BACKSPACE", "b"),
            ("keep these keys", "c"),
        ):
            terminal.send(sent)
            terminal.wait_for("came. Press it again to keep it.")
            press_until(terminal, sent, words)
        terminal.press("enter")
        assert terminal.wait_exit() == 0
    with forgelog(env) as terminal:
        terminal.wait_for("RECIPES")
        terminal.send("c")
        terminal.wait_for("> leave forgelog")
        terminal.send("\x1b[15~")
        assert terminal.wait_exit() == 0


def test_without_a_book_it_says_how_to_make_one(tmp_path: Path) -> None:
    env = {f"FORGELOG_{name}": str(tmp_path / name) for name in ("BOOK", "DEVICE", "CACHE")}
    with forgelog(env) as terminal:
        assert terminal.wait_exit() == 2
        assert "new-book" in terminal.text()


def test_a_second_floor_on_the_same_book_only_looks(env: dict[str, str]) -> None:
    from forgelog.desk.orders import take_order

    take_order(open_shop(), "test-pin")
    with forgelog(env) as first:
        first.wait_for("lay out this order")
        first.press("enter")
        first.wait_for("light the fire, begin")
        first.press("enter")
        first.wait_for("FIRE 0 of 3")
        with forgelog(env) as second:
            second.wait_for("go on where it was cut off")
            second.press("enter")
            second.wait_for("FIRE 0 of 3")
            second.press("space")
            second.wait_for("only looking: another floor has this book")
            first.press("space")
            first.wait_for("FIRE 1 of 3")
            second.wait_for("FIRE 1 of 3")
    assert [p.place for p in open_shop().state.pieces.values()].count("fire") == 1
