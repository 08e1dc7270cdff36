from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.book.sessions import journal_files
from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import call_off, close_order, deliver_order
from forgelog.desk.errors import CannotDo
from forgelog.desk.order_text import order_lines, order_rows
from forgelog.desk.order_view import due_words, local_day, order_shown, orders_shown
from forgelog.desk.orders import (
    change_sizes,
    date_of,
    find_order,
    free_order,
    has_been,
    hold_order,
    promise_order,
    read_sizes,
    take_order,
)
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.work.state import Order
from tests.desk.working import work


def take(shop: Shop, clock: FakeClock, recipe: str = "test-pin", **more: object) -> Order:
    clock.go_on(60.0)
    return take_order(shop.again(), recipe, clock=clock, **more)  # type: ignore[arg-type]


def test_an_order_is_written_down_and_read_back(shop: Shop, clock: FakeClock) -> None:
    order = take(
        shop,
        clock,
        label="2026-14",
        title="orchard gate",
        count=2,
        sizes_mm={"drop": 75.0},
        promised="2026-03-01",
    )
    assert order == shop.again().state.orders[order.id]
    assert order.id.startswith(f"{shop.device.id}-")
    assert (order.label, order.title, order.count) == ("2026-14", "orchard gate", 2)
    assert (order.sizes_mm, order.promised) == ({"drop": 75.0}, "2026-03-01")
    assert order.pins == ()


def test_an_order_without_a_label_is_called_by_the_end_of_its_id(
    shop: Shop, clock: FakeClock
) -> None:
    order = take(shop, clock)
    assert order.id.endswith(f"-{order.label}")
    assert order.title == "Pin for tests"


def test_a_second_order_of_a_recipe_is_told_apart_by_its_title(
    shop: Shop, clock: FakeClock
) -> None:
    first, second, third = (take(shop, clock) for _ in range(3))
    assert second.title == f"2. {first.title}"
    assert third.title == f"3. {first.title}"
    assert take(shop, clock, title="orchard gate").title == "orchard gate"


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"recipe": "test-pim"}, 'no recipe "test-pim".*did you mean "test-pin"'),
        ({"sizes_mm": {"dorp": 50.0}}, 'no size of this recipe.*did you mean "drop"'),
        ({"sizes_mm": {"drop": 500.0}}, "more than the most, 120 mm"),
        (
            {"sizes_mm": {"drop": 1.0, "x": 2.0}},
            r"no size of this recipe.*less than the least, 20 mm",
        ),
        ({"count": 0}, "from 1 to 200"),
        ({"count": 201}, "from 1 to 200"),
        ({"promised": "1.3.2026"}, 'no date; write year, month and day, like "2026-05-30"'),
        ({"promised": "2026-02-30"}, "is no date"),
        ({"label": "x" * 81}, "at most 80"),
        ({"title": "a\u202eb"}, "cannot be seen"),
    ],
)
def test_an_order_that_cannot_be_made_is_refused_in_words(
    shop: Shop, clock: FakeClock, more: dict[str, object], says: str
) -> None:
    with pytest.raises(CannotDo) as refused:
        take(shop, clock, **more)  # type: ignore[arg-type]
    import re

    assert re.search(says, str(refused.value), re.DOTALL), str(refused.value)
    assert journal_files(shop.book) == []


def test_two_open_orders_cannot_have_one_label(shop: Shop, clock: FakeClock) -> None:
    first = take(shop, clock, label="Gate")
    with pytest.raises(CannotDo, match="already"):
        take(shop, clock, label="gate")
    call_off(shop.again(), first, "given up", clock=clock)
    take(shop, clock, label="gate")


def test_an_order_is_found_by_label_letter_id_and_their_beginnings(
    shop: Shop, clock: FakeClock
) -> None:
    gate, hooks = take(shop, clock, label="Gate 14"), take(shop, clock, label="gallery")
    session = start(shop.again(), [gate.id, hooks.id], clock=clock)
    session.close()
    state = shop.again().state
    for name in ("Gate 14", "gate 14", "gate", gate.id, gate.id.partition("-")[2], "A", "a"):
        assert find_order(state, name).id == gate.id, name
    assert find_order(state, "b").id == hooks.id
    with pytest.raises(CannotDo, match=r'may mean "Gate 14".*and "gallery".*write more'):
        find_order(state, "ga")
    with pytest.raises(CannotDo, match='no order "galery"; open are Gate 14 and gallery') as no:
        find_order(state, "galery")
    assert 'did you mean "gallery"?' in str(no.value)
    with pytest.raises(CannotDo):
        find_order(state, "")


def test_a_closed_order_is_found_when_no_open_one_is_meant(shop: Shop, clock: FakeClock) -> None:
    old = take(shop, clock, label="gate")
    call_off(shop.again(), old, "delivered", clock=clock)
    assert find_order(shop.again().state, "gate").id == old.id
    new = take(shop, clock, label="gate")
    assert find_order(shop.again().state, "gate").id == new.id
    assert find_order(shop.again().state, old.id).id == old.id


def test_an_order_is_changed_held_freed_promised_and_closed(shop: Shop, clock: FakeClock) -> None:
    order = take(shop, clock)

    def now() -> Order:
        clock.go_on(60.0)
        return shop.again().state.orders[order.id]

    change_sizes(shop.again(), now(), {"drop": 80.0}, clock=clock)
    assert now().sizes_mm == {"drop": 80.0}
    hold_order(shop.again(), now(), "waits for bar", clock=clock)
    assert now().held == "waits for bar"
    with pytest.raises(CannotDo, match="held already"):
        hold_order(shop.again(), now(), clock=clock)
    free_order(shop.again(), now(), clock=clock)
    assert now().held is None
    with pytest.raises(CannotDo, match="not held"):
        free_order(shop.again(), now(), clock=clock)
    promise_order(shop.again(), now(), "2026-04-01", clock=clock)
    assert now().promised == "2026-04-01"
    promise_order(shop.again(), now(), "", clock=clock)
    assert now().promised == ""
    call_off(shop.again(), now(), "never paid", clock=clock)
    assert now().closed == "never paid"
    for deed in (deliver_order, close_order, hold_order, free_order):
        with pytest.raises(CannotDo, match=r"is closed \(never paid\)"):
            deed(shop.again(), now(), clock=clock)


def test_a_size_out_of_range_changes_nothing(shop: Shop, clock: FakeClock) -> None:
    order = take(shop, clock)
    files = journal_files(shop.book)
    with pytest.raises(CannotDo, match="the most, 120 mm"):
        change_sizes(shop.again(), order, {"drop": 121.0}, clock=clock)
    assert journal_files(shop.book) == files


def test_sizes_are_read_as_they_are_written() -> None:
    assert read_sizes(["post=120mm", "stand = 1 1/8 in"]) == {
        "post": 120.0,
        "stand": pytest.approx(28.575),
    }


@pytest.mark.parametrize(
    ("texts", "says"),
    [
        (["post"], 'write it like "post=120 mm"'),
        (["=3 mm"], 'write it like "post=120 mm"'),
        (["post=120"], "has no unit"),
        (["post=1 mm", "post=2 mm"], "given twice"),
    ],
)
def test_sizes_that_cannot_be_read_are_told(texts: list[str], says: str) -> None:
    with pytest.raises(CannotDo, match=says):
        read_sizes(texts)


def test_how_far_an_order_is(shop: Shop, clock: FakeClock) -> None:
    order = take(shop, clock, count=2)
    before = order_shown(shop.again(), order)
    assert (before.steps_done, before.steps, before.begun) == (0, 2 * 2 * 4 + 1, False)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 30)
    session.close()
    after = order_shown(shop.again(), shop.again().state.orders[order.id])
    assert after.begun
    assert after.steps == before.steps
    done = sum(p.step for p in session.state.pieces.values())
    assert after.steps_done == done > 3
    assert [p.slot for p in after.pieces][:2] == ["wedge 1", "pin left 1"]


def test_orders_are_listed_by_their_promise(shop: Shop, clock: FakeClock) -> None:
    take(shop, clock, label="none")
    take(shop, clock, label="late", promised="2026-09-01")
    take(shop, clock, label="soon", promised="2026-02-01")
    closed = take(shop, clock, label="gone")
    call_off(shop.again(), closed, "given up", clock=clock)
    opened = shop.again()
    assert [o.label for o in orders_shown(opened)] == ["soon", "late", "none"]
    assert [o.label for o in orders_shown(opened, closed=True)][-1] == "gone"
    rows = order_rows(orders_shown(opened))
    assert rows[0].split()[1] == "soon"
    assert len({row.index("of 9 steps") for row in rows}) == 1


def test_a_recipe_that_is_gone_is_told_on_its_order(shop: Shop, clock: FakeClock) -> None:
    order = take(shop, clock)
    (shop.book / "recipes" / "test-pin.toml").unlink()
    shown = order_shown(shop.again(), order)
    assert 'no recipe "test-pin"' in shown.problems[0]
    assert any(line.startswith("  ! ") for line in order_lines(shown))


@pytest.mark.parametrize(
    ("promised", "words"),
    [
        ("2026-05-10", "today"),
        ("2026-05-11", "tomorrow"),
        ("2026-05-20", "in 10 days"),
        ("2026-05-09", "1 day late"),
        ("2026-04-10", "30 days late"),
        ("", ""),
    ],
)
def test_how_long_there_is(promised: str, words: str) -> None:
    assert due_words(promised, date(2026, 5, 10)) == words


def test_the_day_is_that_of_the_wall_calendar() -> None:
    just_before_midnight = 1769813999.0  # 2026-01-30 22:59:59 UTC
    assert local_day(just_before_midnight, 0) == date(2026, 1, 30)
    assert local_day(just_before_midnight, 120) == date(2026, 1, 31)
    assert local_day(just_before_midnight, -720) == date(2026, 1, 30)


def test_dates_are_those_of_the_calendar() -> None:
    assert date_of(" 2028-02-29 ") == "2028-02-29"
    for text in ("2026-02-29", "20260101", "2026-1-1", "tomorrow"):
        with pytest.raises(CannotDo):
            date_of(text)


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(list(words))
    out, err = capsys.readouterr()
    return code, out, err


def test_the_command_takes_lists_and_shows(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    at = ("--book", str(book), "order")
    take_it = (
        "take",
        "test-pin",
        "--label",
        "14",
        "--size",
        "drop=3 in",
        "--promised",
        "2026-03-01",
    )
    code, out, _ = run(capsys, *at, *take_it)
    assert code == 0
    assert "taken: 14: Pin for tests" in out
    assert "drop 76 mm, the customer's" in out
    code, out, _ = run(capsys, *at, "list", "--json")
    (shown,) = json.loads(out)
    assert shown["label"] == "14"
    assert shown["sizes"][0]["mm"] == pytest.approx(76.2)
    code, out, _ = run(capsys, *at, "show", "14", "--json")
    assert json.loads(out) == shown
    code, out, _ = run(capsys, *at, "list")
    assert "0 of 9 steps" in out
    code, out, _ = run(capsys, *at, "hold", "14", "no bar")
    assert "held: no bar" in out
    code, _, err = run(capsys, *at, "close", "1")
    assert code == 2
    assert "nothing of it has been begun" in err
    code, out, _ = run(capsys, *at, "close", "1", "--called-off", "never paid")
    assert code == 0
    assert "called off: never paid" in out
    code, out, _ = run(capsys, *at, "list")
    assert "no open orders" in out


def test_the_command_refuses_in_words(
    book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = run(capsys, "--book", str(book), "order", "take", "nothing")
    assert (code, out) == (2, "")
    assert err.startswith('forgelog: the book has no recipe "nothing"')
    code, _, err = run(capsys, "--book", str(tmp_path / "no"), "order", "list")
    assert code == 2
    assert "new-book" in err


def test_a_book_is_made_by_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "new-book", str(tmp_path / "our shop"))
    assert code == 0
    assert (tmp_path / "our shop" / "shop.toml").is_file()
    assert "order take RECIPE" in out
    code, _, err = run(capsys, "new-book", str(tmp_path / "our shop"))
    assert code == 2
    assert "is not empty; nothing was made" in err


def test_a_promised_day_that_has_been_is_known(clock: FakeClock) -> None:
    today = local_day(clock.stamp().wall, clock.stamp().offset)
    assert has_been(date(today.year - 1, today.month, 1).isoformat(), clock=clock)
    assert not has_been(today.isoformat(), clock=clock)
    assert not has_been("", clock=clock)


def test_taking_an_order_for_a_day_that_has_been_says_so(
    shop: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["--book", str(shop.book), "order", "take", "test-pin", "--promised"]
    assert main([*words, "2020-01-01"]) == 0
    assert "2020-01-01 has been" in capsys.readouterr().out
    assert main([*words, "2999-01-01"]) == 0
    assert "has been" not in capsys.readouterr().out
