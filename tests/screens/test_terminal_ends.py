"""Bytes in, bytes out: what a terminal may send, and what it is sent."""

from __future__ import annotations

import os
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has another driver")

if sys.platform != "win32":
    from textual import events
    from textual.keys import Keys

    from forgelog.screens.terminal import KeyParser, Wire, speaks_utf8


def keys_of(data: str) -> list[str]:
    found = KeyParser().feed(data)
    return [event.key for event in found if isinstance(event, events.Key)]


@pytest.mark.parametrize(
    ("data", "keys"),
    [
        (" ", ["space"]),
        ("\r", ["enter"]),
        ("\x1b[32u", ["space"]),
        ("\x1b[32;1:1u", ["space"]),
        ("\x1b[32;1:2u", ["space"]),
        ("\x1b[32;1:3u", []),
        ("\x1b[32;;32u", ["space"]),
        ("\x1b[97:65;2;65u", ["A"]),
        ("\x1b[A", ["up"]),
        ("\x1b[1;1:1A", ["up"]),
        ("\x1b[1;1:3A", []),
        ("\x1b[[A", ["f1"]),
        ("\x1b[3~", ["delete"]),
        ("\x1b[99999999999999u", []),
        ("\x1b[?62;22c", []),
        ("\x1b[0n", []),
        ("\x1b[8;30;100t", []),
    ],
)
def test_reports_of_keys_are_read_and_others_passed_over(data: str, keys: list[str]) -> None:
    assert keys_of(data) == keys
    assert keys_of(data + " ") == [*keys, "space"]


@given(st.text(alphabet="\x1b[]?<>:;0123456789uA~Mmt$y \x07\r\tOPabc", max_size=40))
def test_no_input_ends_in_a_fault(data: str) -> None:
    parser = KeyParser()
    events_seen = list(parser.feed(data)) if data else []
    assert all(e.key != Keys.Ignore for e in events_seen if isinstance(e, events.Key))


def through_a_pipe(text: str, **options: object) -> bytes:
    reading, writing = os.pipe()
    gone: list[bool] = []
    try:
        Wire(writing, lambda: gone.append(True), **options).write(text)  # type: ignore[arg-type]
        os.close(writing)
        assert gone == []
        return os.read(reading, 65536)
    finally:
        os.close(reading)


def test_utf8_goes_out_as_it_is() -> None:
    assert through_a_pipe("Ä █ 鍛 ·", utf8=True) == "Ä █ 鍛 ·".encode()


def test_without_utf8_every_sign_becomes_ascii_of_the_same_width() -> None:
    assert through_a_pipe("Ä█░·─’ 鍛 é", utf8=False) == b"A#.--' ?? e"


def test_half_a_letter_never_ends_it() -> None:
    assert through_a_pipe("a\ud800b", utf8=True) == b"a?b"
    assert through_a_pipe("a\ud800b", utf8=False) == b"a?b"


@pytest.mark.parametrize("term", ["linux", "vt220", "dumb"])
def test_old_terminals_are_asked_nothing(term: str) -> None:
    for text in ("\x1b[>25u", "\x1b[<u", "\x1b[?2026$p", "\x1b]22;default\x07"):
        assert through_a_pipe(text, utf8=True, term=term) == b""


def test_other_terminals_are_asked_about_their_keys() -> None:
    assert through_a_pipe("\x1b[>25u", utf8=True, term="xterm-256color") == b"\x1b[>25u"
    assert through_a_pipe("\x1b]22;default\x07", utf8=True, term="xterm-256color") == b""


def test_a_terminal_that_went_away_is_reported_once() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    gone: list[bool] = []
    wire = Wire(writing, lambda: gone.append(True), utf8=True)
    wire.write("a")
    wire.write("b")
    os.close(writing)
    assert gone == [True]


def test_a_terminal_that_does_not_wait_gets_all_the_same() -> None:
    import threading

    reading, writing = os.pipe()
    os.set_blocking(writing, False)
    sent = "heat " * 60_000
    got = bytearray()

    def read() -> None:
        while len(got) < len(sent):
            got.extend(os.read(reading, 65536))

    reader = threading.Thread(target=read)
    reader.start()
    Wire(writing, lambda: None, utf8=True).write(sent)
    reader.join(20)
    os.close(reading)
    os.close(writing)
    assert bytes(got) == sent.encode()


@pytest.mark.parametrize(
    ("environ", "utf8"),
    [
        ({}, True),
        ({"LANG": "en_GB.UTF-8"}, True),
        ({"LANG": "en_GB.utf8"}, True),
        ({"LANG": "C"}, False),
        ({"LANG": "en_GB.UTF-8", "LC_ALL": "C"}, False),
        ({"LANG": "C", "LC_CTYPE": "de_DE.UTF-8"}, True),
        ({"LANG": "C", "LC_CTYPE": "C.UTF-8"}, False),
        ({"LANG": "en_GB.UTF-8", "LC_CTYPE": "C.UTF-8"}, True),
        ({"LC_ALL": "", "LANG": "en_US.ISO-8859-1"}, False),
    ],
)
def test_the_locale_says_whether_the_terminal_reads_utf8(
    environ: dict[str, str], utf8: bool
) -> None:
    assert speaks_utf8(environ) is utf8
