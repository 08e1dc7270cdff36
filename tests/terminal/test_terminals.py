"""The real screen in a real pseudo-terminal: sizes, kinds of terminal, and rude ends."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.terminal.driver import ROOT, Terminal

pytestmark = [
    pytest.mark.terminal,
    pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are not on Windows"),
]


def canned(
    tmp_path: Path,
    view: str = "in hand",
    *,
    width: int = 100,
    height: int = 30,
    without: tuple[str, ...] = (),
    **env: str,
) -> Terminal:
    return Terminal(
        ["-m", "tests.terminal.canned_floor", view],
        width=width,
        height=height,
        env={"FORGELOG_DEVICE": str(tmp_path), **env},
        without=without,
    )


def left_sane(terminal: Terminal) -> bool:
    modes = terminal.modes()
    return not modes[1049] and modes[25] and not modes[1004] and not modes[2004]


@pytest.mark.parametrize(("width", "height"), [(80, 24), (100, 30), (120, 30), (200, 60)])
def test_every_key_and_its_meaning_stands_on_the_screen(
    tmp_path: Path, width: int, height: int
) -> None:
    with canned(tmp_path, width=width, height=height) as terminal:
        text = terminal.wait_for("BACKSPACE")
        for words in (
            "heat over, back in the fire",
            "the eye is rolled: let it rest",
            "trouble, lay aside",
            "undo: out of the fire",
            "STRAP · left, 1 of 2",
            "step 5 of 9",
            "heat 2 of about 3",
            "A strap 1:40 LOOK",
            "14:02 · gas · by hand",
        ):
            assert words in text
        assert len(terminal.lines()) == height


@pytest.mark.parametrize("term", ["linux", "xterm-256color", "xterm", "screen", "vt220"])
def test_it_runs_on_every_kind_of_terminal(tmp_path: Path, term: str) -> None:
    with canned(tmp_path, TERM=term) as terminal:
        terminal.wait_for("BACKSPACE")
        terminal.press("space")
        terminal.wait_for("key 1: space")
        terminal.press("q")
        assert terminal.wait_exit() == 0
        assert left_sane(terminal)


def test_the_linux_console_gets_no_more_than_its_sixteen_colours(tmp_path: Path) -> None:
    with canned(tmp_path, TERM="linux") as terminal:
        terminal.wait_for("BACKSPACE")
        assert terminal.colours() <= {"red", "brown", "green"}
        assert b"38;2;" not in terminal.received
        assert b"38;5;" not in terminal.received


def test_the_linux_console_is_asked_nothing_that_it_would_print(tmp_path: Path) -> None:
    with canned(tmp_path, TERM="linux") as terminal:
        terminal.wait_for("BACKSPACE")
        terminal.press("q")
        assert terminal.wait_exit() == 0
        for sequence in (b"\x1b]", b"\x1b[>", b"\x1b[<", b"$p"):
            assert sequence not in terminal.received


def test_no_colour_is_sent_where_none_is_wanted(tmp_path: Path) -> None:
    with canned(tmp_path, NO_COLOR="1") as terminal:
        terminal.wait_for("BACKSPACE")
        assert terminal.colours() == set()
        lines = terminal.lines()
        row = next(y for y, line in enumerate(lines) if "LOOK" in line)
        assert terminal.is_reversed(lines[row].index("LOOK"), row)


@pytest.mark.parametrize("env", [{"LC_ALL": "C"}, {"LC_ALL": "", "LANG": "en_GB.ISO-8859-1"}])
def test_a_terminal_without_utf8_gets_ascii_only(tmp_path: Path, env: dict[str, str]) -> None:
    with canned(tmp_path, "hostile", **env) as terminal:
        text = terminal.wait_for("BACKSPACE")
        assert terminal.received.isascii()
        assert "14:02 - gas - by hand" in text
        assert "####" in text
        terminal.press("q")
        assert terminal.wait_exit() == 0


@pytest.mark.parametrize("locale", ["C.UTF-8", "C"])
@pytest.mark.parametrize(("width", "height"), [(80, 24), (100, 30)])
def test_hostile_words_reach_the_screen_as_words(
    tmp_path: Path, locale: str, width: int, height: int
) -> None:
    with canned(tmp_path, "hostile", width=width, height=height, LC_ALL=locale) as terminal:
        text = terminal.wait_for("BACKSPACE")
        assert "[/]WWW" in text
        assert "title" in text
        assert b"\x1b]0;" not in terminal.received
        assert "\u202e".encode() not in terminal.received
        assert "\u2066".encode() not in terminal.received
        assert b"\x07" not in terminal.received
        terminal.press("v")
        terminal.wait_gone("FIRE 2 of 3")
        terminal.press("v")
        terminal.wait_for("FIRE 2 of 3")


def test_a_window_too_small_says_what_it_needs_and_still_takes_keys(tmp_path: Path) -> None:
    with canned(tmp_path, width=60, height=15) as terminal:
        text = terminal.wait_for("60 x 15 found")
        assert "make the window larger" in text
        assert "80 x 24 needed" in text
        assert "SPACE heat over, back in the fire" in text
        terminal.press("space", "q")
        assert terminal.wait_exit() == 0


def test_a_window_may_change_its_size_at_any_time(tmp_path: Path) -> None:
    with canned(tmp_path) as terminal:
        terminal.wait_for("BACKSPACE")
        terminal.resize(60, 15)
        terminal.wait_for("60 x 15 found")
        terminal.press("space")
        terminal.resize(80, 24)
        terminal.wait_for("key 1: space")
        terminal.resize(200, 60)
        text = terminal.wait(
            "all four keys in one row",
            lambda text: any("SPACE" in row and "BACKSPACE  " in row for row in text.split("\n")),
        )
        assert "key 1: space" in text


def test_keys_come_through_whatever_the_terminal_calls_them(tmp_path: Path) -> None:
    sent = [
        (" ", "space"),
        ("\r", "enter"),
        ("\n", "enter"),
        ("\x1bOM", "enter"),
        ("\t", "tab"),
        ("\x7f", "backspace"),
        ("\x08", "backspace"),
        ("\x1b[32;;32u", "space"),
        ("\x1b[13u", "enter"),
        ("\x1b[9u", "tab"),
        ("\x1b[127u", "backspace"),
        ("\x1b[57414u", "enter"),
        ("\x1b[32;1:1u", "space"),
        ("3", "3"),
        ("\x1bOs", "3"),
        ("?", "?"),
        ("R", "r"),
    ]
    with canned(tmp_path) as terminal:
        terminal.wait_for("BACKSPACE")
        for count, (data, key) in enumerate(sent, 1):
            terminal.send(data)
            terminal.wait_for(f"key {count}: {key}")


def test_what_is_no_key_does_nothing(tmp_path: Path) -> None:
    rubbish = [
        "\x1b[32;1:3u",
        "\x1b[13;1:3u",
        "\x1b[57414;1:3u",
        "\x1b[99999999999u",
        "\x1b[?62;22c",
        "\x1b[5;200;300t",
        "\x1b[1;1:3A",
        "\x1b[Z",
        "\x1b[I",
        "\x1b[O",
        "\x1b[200~123 \r\x1b[201~",
        "\x1a",
        "\x00",
    ]
    with canned(tmp_path) as terminal:
        terminal.wait_for("BACKSPACE")
        for data in rubbish:
            terminal.send(data)
        terminal.send(b"\xff\xfe\xc3(\xf0\x9f")
        terminal.send(b"\x80 ")
        text = terminal.wait_for("key 1: space")
        assert "STRAP" in text


def test_ctrl_c_leaves_the_terminal_as_it_was(tmp_path: Path) -> None:
    with canned(tmp_path) as terminal:
        terminal.wait_for("BACKSPACE")
        assert not terminal.echoes()
        terminal.press("ctrl+c")
        assert terminal.wait_exit() == 0
        assert left_sane(terminal)
        assert terminal.echoes()


@pytest.mark.parametrize("sign", [signal.SIGHUP, signal.SIGTERM])
def test_a_signal_ends_it_cleanly_and_is_told_by_the_exit_code(
    tmp_path: Path, sign: signal.Signals
) -> None:
    with canned(tmp_path) as terminal:
        terminal.wait_for("BACKSPACE")
        terminal.process.send_signal(sign)
        assert terminal.wait_exit() == 128 + sign
        assert left_sane(terminal)
        assert terminal.echoes()


def test_a_terminal_that_is_closed_ends_it(tmp_path: Path) -> None:
    with canned(tmp_path) as terminal:
        terminal.wait_for("BACKSPACE")
        terminal.hang_up()
        assert terminal.process.wait(20) == 129


def test_a_fault_of_its_own_is_one_line_and_an_exit_code(tmp_path: Path) -> None:
    with canned(tmp_path) as terminal:
        terminal.wait_for("BACKSPACE")
        terminal.press("h")
        assert terminal.wait_exit() == 3
        text = terminal.text()
        assert "What was pressed up to now is in the journal." in text
        assert "a fault in forgelog itself" in text
        assert "Traceback" not in text
        assert left_sane(terminal)
        assert terminal.echoes()


def test_a_new_alarm_rings_once_and_flashes_until_a_key(tmp_path: Path) -> None:
    with canned(tmp_path) as terminal:
        terminal.wait_for("BACKSPACE")
        assert b"\x07" not in terminal.received
        terminal.press("n")
        terminal.wait_for("LOOK 1")
        terminal.wait(
            "the page in reverse", lambda text: bool(terminal.screen.buffer[0][0].reverse)
        )
        assert terminal.received.count(b"\x07") == 1
        terminal.press("space")
        text = terminal.wait("plain", lambda text: not terminal.screen.buffer[0][0].reverse)
        assert "LOOK 1" in text
        assert terminal.received.count(b"\x07") == 1


def test_without_a_terminal_it_says_so_in_one_line(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.terminal.canned_floor", "in hand"],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={**os.environ, "FORGELOG_DEVICE": str(tmp_path)},
        timeout=60,
        check=False,
    )
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr == "forgelog needs a terminal to show its pages on\n"


def test_a_note_is_typed_in_one_line(tmp_path: Path) -> None:
    with canned(tmp_path) as terminal:
        terminal.wait_for("BACKSPACE")
        terminal.press("m")
        terminal.wait_for("NOTE: ")
        terminal.send("q a small cold shutt")
        terminal.wait_for("NOTE: q a small cold shutt")
        assert "keep the note" in terminal.text()
        terminal.press("backspace", "enter")
        terminal.wait_for("text:q a small cold shut")


def test_a_note_may_be_left_with_one_key(tmp_path: Path) -> None:
    with canned(tmp_path) as terminal:
        terminal.wait_for("BACKSPACE")
        terminal.press("m")
        terminal.wait_for("NOTE: ")
        terminal.send("never mind")
        terminal.press("tab")
        terminal.wait("left", lambda text: any(row.endswith("text:") for row in text.split("\n")))
