"""A whole book, looked over: damaged, doubled, with files missing, under clocks that disagree."""

from __future__ import annotations

from pathlib import Path
from shutil import copytree

import pytest

from forgelog.__main__ import main
from forgelog.book.device import Device
from forgelog.desk.check_book import (
    CLOCK,
    CONTRADICTION,
    DAMAGED,
    MISSING,
    RECIPE,
    SETTINGS,
    TWICE,
    BookLooked,
    look_over,
)
from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from tests.desk.working import work


@pytest.fixture
def worked(shop: Shop, clock: FakeClock) -> Shop:
    """One order, worked on in two sessions."""
    order = take_order(shop, "test-pin", clock=clock)
    for _ in range(2):
        clock.go_on(3600.0)
        session = start(shop.again(), [order.id], clock=clock)
        work(session, clock, 12)
        session.close()
    return shop.again()


def files(shop: Shop) -> list[Path]:
    return sorted(shop.book.rglob("*.jsonl"))


def looked(shop: Shop, clock: FakeClock) -> BookLooked:
    return look_over(shop.again(), clock)


def kinds(shop: Shop, clock: FakeClock) -> list[str]:
    return [found.kind for found in looked(shop, clock).findings]


def test_a_sound_book_has_nothing_to_see_to(worked: Shop, clock: FakeClock) -> None:
    found = looked(worked, clock)
    assert found.findings == ()
    assert (found.sessions, found.orders, len(found.devices)) == (3, 1, 1)
    assert found.presses == sum(len(f.read_bytes().splitlines()) for f in files(worked))


def test_a_damaged_line_is_named_and_the_rest_is_read(worked: Shop, clock: FakeClock) -> None:
    file = files(worked)[1]
    lines = file.read_bytes().splitlines(keepends=True)
    lines[4] = lines[4].replace(b"fact", b"fakt", 1)
    file.write_bytes(b"".join(lines))
    assert DAMAGED in kinds(worked, clock)
    words = [f.words for f in looked(worked, clock).findings if f.kind == DAMAGED]
    assert any(f"{file.name}:5: the line" in one for one in words)


def test_a_copy_is_told_from_a_file_that_differs(worked: Shop, clock: FakeClock) -> None:
    file = files(worked)[1]
    copy = file.with_name(file.name.replace(".jsonl", " (copy).jsonl"))
    copy.write_bytes(file.read_bytes())
    before = worked.again().whole_state
    (found,) = looked(worked, clock).findings
    assert found.kind == TWICE
    assert "is a copy of" in found.words
    assert "may be deleted" in found.do
    copy.write_bytes(b"".join(file.read_bytes().splitlines(keepends=True)[:6]))
    (found,) = looked(worked, clock).findings
    assert "too, and differs" in found.words
    assert worked.again().whole_state == before


def test_a_file_that_another_has_seen_is_missed(worked: Shop, clock: FakeClock) -> None:
    files(worked)[1].unlink()
    found = looked(worked, clock).findings
    assert found[0].kind == MISSING
    assert "is not here" in found[0].words
    assert "copy the journal folder" in found[0].do


def test_an_order_whose_beginning_is_on_another_laptop_is_missed(
    worked: Shop, clock: FakeClock
) -> None:
    files(worked)[0].unlink()
    words = [f.words for f in looked(worked, clock).findings if f.kind == MISSING]
    assert any("was taken" in one and "is not here" in one for one in words)


def test_a_clock_that_runs_ahead_is_told(worked: Shop) -> None:
    early = FakeClock(wall=1_000_000_000.0)
    found = [f for f in looked(worked, early).findings if f.kind == CLOCK]
    assert len(found) == 3
    assert all("still to come" in f.words for f in found)


def test_laptops_whose_clocks_disagree_are_told_by_what_each_has_seen(
    worked: Shop, clock: FakeClock
) -> None:
    behind = FakeClock(wall=clock.stamp().wall - 20_000.0)
    other = Shop(worked.book, Device(id="helper2"))
    order = next(iter(other.state.orders))
    session = start(other, [order], clock=behind)
    work(session, behind, 4)
    session.close()
    found = [f for f in looked(worked, clock).findings if f.kind == CLOCK]
    assert found
    assert "before what it has seen" in found[0].words
    assert "helper2" in found[0].do


def test_work_on_one_piece_at_two_laptops_is_a_contradiction(
    worked: Shop, clock: FakeClock, tmp_path: Path
) -> None:
    copytree(worked.book, tmp_path / "other")
    order = next(iter(worked.state.orders))
    for book, device in ((worked.book, "anvil7k"), (tmp_path / "other", "helper2")):
        clock.go_on(600.0)
        session = start(Shop(book, Device(id=device)), [order], clock=clock)
        work(session, clock, 30)
        session.close()
    copytree(tmp_path / "other" / "journal", worked.book / "journal", dirs_exist_ok=True)
    found = looked(worked, clock).findings
    assert CONTRADICTION in [f.kind for f in found]
    assert all(f.do for f in found)


def test_faults_of_settings_and_recipes_are_told_too(worked: Shop, clock: FakeClock) -> None:
    (worked.book / "shop.toml").write_text('units = "furlongs"\n')
    recipes = worked.book / "recipes"
    (recipes / "broken.toml").write_text("format = 1\n")
    (recipes / "twin.toml").write_text((recipes / "test-pin.toml").read_text())
    assert sorted(set(kinds(worked, clock))) == sorted({SETTINGS, RECIPE, TWICE})


def test_the_command_says_what_to_do_about_each(
    worked: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "--book", str(worked.book)]) in (0, 1)
    assert capsys.readouterr().out.endswith("to see to\n")
    (worked.book / "recipes" / "broken.toml").write_text("format = 1\n")
    assert main(["--book", str(worked.book), "check"]) == 1
    out = capsys.readouterr().out
    assert "recipes/broken.toml has" in out
    assert "forgelog check recipes/broken.toml tells them" in out


def test_check_without_a_folder_takes_the_usual_book(
    worked: Shop, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("FORGELOG_BOOK", str(worked.book))
    for words in (["check"], ["check", "--book"]):
        assert main(words) in (0, 1)
        assert "3 sessions" in capsys.readouterr().out
