from __future__ import annotations

import json
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.book.press_line import LineError, read_first, read_line, write_line
from forgelog.work.facts import Gauged, Noted, Press, SessionBegan
from tests.book.presses import forged, header, press, sessions, stamp


def with_check(body: bytes) -> bytes:
    return b'%b,"crc":"%08x"}' % (body, zlib.crc32(body))


@given(sessions)
def test_every_press_is_read_back_as_it_was(presses: list[Press]) -> None:
    for one in presses:
        assert read_line(write_line(one)) == one


@given(sessions)
def test_a_line_is_json_whose_last_key_is_the_check_of_all_before_it(presses: list[Press]) -> None:
    for one in presses:
        line = write_line(one)
        assert line.endswith(b"\n")
        assert line.count(b"\n") == 1
        *_, last = json.loads(line)
        assert last == "crc"
        body, check = line.rsplit(b',"crc":"', 1)
        assert int(check[:8], 16) == zlib.crc32(body)


@pytest.mark.parametrize("end", [b"", b"\n", b"\r\n"])
def test_a_line_is_whole_whatever_way_it_ends(end: bytes) -> None:
    one = press(3)
    assert read_line(write_line(one).rstrip(b"\n") + end) == one


@given(st.data())
def test_a_flipped_bit_is_seen_wherever_it_is(data: st.DataObject) -> None:
    line = bytearray(write_line(forged(5)[data.draw(st.integers(0, 4))])[:-1])
    bit = data.draw(st.integers(0, len(line) * 8 - 1))
    line[bit // 8] ^= 1 << bit % 8
    with pytest.raises(LineError):
        read_line(bytes(line))


@given(st.binary(max_size=300))
def test_any_bytes_are_refused_in_words(line: bytes) -> None:
    with pytest.raises(LineError, match=r"^(is|holds|has) "):
        read_line(line)


@given(st.binary(max_size=100))
def test_any_bytes_with_a_right_check_are_refused_in_words(body: bytes) -> None:
    with pytest.raises(LineError, match=r"^(is|holds|has) "):
        read_line(with_check(body))


def test_a_fact_of_a_newer_version_is_named() -> None:
    body = (
        b'{"seq":1,"at":{"wall":1.0,"steady":1.0,"awake":1.0},'
        b'"facts":[{"fact":"noted","words":"x"},{"fact":"hammer oiled","drops":3}]'
    )
    with pytest.raises(LineError, match='holds "hammer oiled", which only a newer forgelog knows'):
        read_line(with_check(body))


def test_a_further_field_of_a_newer_version_is_passed_over() -> None:
    body = (
        b'{"seq":1,"at":{"wall":1.0,"steady":1.0,"awake":1.0,"tide":2},'
        b'"facts":[{"fact":"noted","words":"x","mood":"good"}],"more":[]'
    )
    assert read_line(with_check(body)).facts == (Noted(words="x"),)


@pytest.mark.parametrize(
    "depth", [10, 1_000_000], ids=["a few brackets", "so many that a reader could fall over"]
)
def test_brackets_without_end_are_refused(depth: int) -> None:
    with pytest.raises(LineError):
        read_line(with_check(b'{"seq":1,"z":' + b"[" * depth))


def test_a_number_that_is_no_number_never_reaches_the_disk() -> None:
    gauged = Gauged(workpiece="a", step="b", what="bore", fits=True, mm=float("nan"))
    with pytest.raises(ValueError, match="read back"):
        write_line(press(1, gauged))
    with pytest.raises(ValueError, match="read back"):
        write_line(Press(seq=1, at=stamp(float("inf")), facts=(Noted(words="x"),)))


def test_half_a_letter_never_reaches_the_disk() -> None:
    with pytest.raises(ValueError, match="read back"):
        write_line(press(1, Noted(words="\ud800")))


def test_the_first_line_says_what_session_it_is() -> None:
    began = read_first(write_line(header(kind="desk", orders=("a", "b"))))
    assert isinstance(began, SessionBegan)
    assert (began.kind, began.orders) == ("desk", ("a", "b"))


def test_a_line_that_says_nothing_of_a_session_is_no_first_line() -> None:
    with pytest.raises(LineError):
        read_first(write_line(press(1)))
