"""Who an order is for: a file of the smith's own, never in the journal, that stops nothing."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from forgelog.__main__ import main
from forgelog.book.customers import customer_file
from forgelog.desk.clock import FakeClock
from forgelog.desk.customers import customer_of, note_customer
from forgelog.desk.errors import CannotDo
from forgelog.desk.order_text import order_lines, order_rows
from forgelog.desk.order_view import order_shown
from forgelog.desk.orders import take_order
from forgelog.desk.shop import Shop
from forgelog.work.state import Order


def taken(shop: Shop, clock: FakeClock, label: str = "gate") -> Order:
    clock.go_on(60.0)
    return take_order(shop.again(), "test-pin", label=label, clock=clock)


def lies_at(shop: Shop, order: Order) -> Path:
    path = customer_file(shop.book, order.id)
    assert path is not None
    return path


def test_a_name_is_written_once_and_shown_with_the_order(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    note_customer(shop, order, '  Anna  "Nan" Orchard ')
    shown = order_shown(shop.again(), order)
    assert shown.customer is not None
    assert shown.customer.name == 'Anna "Nan" Orchard'
    assert any('for       Anna "Nan" Orchard (customers/' in line for line in order_lines(shown))
    (row,) = order_rows([shown])
    assert 'for Anna "Nan" Orchard' in row


def test_the_name_is_never_in_the_journal(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    note_customer(shop, order, "Anna Orchard")
    for path in shop.book.rglob("*"):
        if path.is_file() and path != lies_at(shop, order):
            assert b"Orchard" not in path.read_bytes(), path


def test_what_the_smith_wrote_there_is_shown_and_never_written_over(
    shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock)
    note_customer(shop, order, "Anna Orchard")
    path = lies_at(shop, order)
    own = (
        'name = "A. Orchard and son"\naddress = """\n2 Mill Lane\n\nExampleton\n"""\n'
        'notes = "mind the\\u001b[31m dog"\n'
    )
    path.write_text(own)
    with pytest.raises(CannotDo, match="yours: change it there"):
        note_customer(shop, order, "Somebody Else")
    assert path.read_text() == own
    one = customer_of(shop, order.id)
    assert one is not None
    assert (one.name, one.address) == ("A. Orchard and son", ("2 Mill Lane", "Exampleton"))
    assert "\x1b" not in one.notes


@pytest.mark.parametrize(
    "data",
    [b"", b"name = ", b"\xff\xfe\x00", b"[name", b"[[name]]", b"# nothing yet"],
)
def test_a_missing_or_broken_file_stops_nothing(shop: Shop, clock: FakeClock, data: bytes) -> None:
    order = taken(shop, clock)
    assert order_shown(shop.again(), order).customer is None
    lies_at(shop, order).write_bytes(data)
    shown = order_shown(shop.again(), order)
    assert order_lines(shown)
    assert order_rows([shown])
    if data not in (b"", b"[[name]]", b"# nothing yet"):
        assert shown.customer is not None
        assert f"customers/{order.id}.toml" in shown.customer.problem


def test_keys_of_the_smiths_own_are_shown_too(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    lies_at(shop, order).write_text('name = "Anna"\nphone = "01234 5"\nbell = 3\n')
    one = customer_of(shop, order.id)
    assert one is not None
    assert one.more == ("phone: 01234 5", "bell: 3")
    assert "            phone: 01234 5" in order_lines(order_shown(shop.again(), order))


def test_a_folder_in_its_place_and_a_folder_that_is_gone_stop_nothing(
    shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock)
    lies_at(shop, order).mkdir()
    shown = order_shown(shop.again(), order)
    assert shown.customer is None
    lies_at(shop, order).rmdir()
    (shop.book / "customers").rmdir()
    assert order_shown(shop.again(), order).customer is None
    note_customer(shop, order, "Anna Orchard")
    assert lies_at(shop, order).is_file()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
@given(st.binary(max_size=200))
def test_whatever_lies_there_is_read_without_a_fall(shop: Shop, data: bytes) -> None:
    (shop.book / "customers" / "dev-x.toml").write_bytes(data)
    customer_of(shop, "dev-x")


@pytest.mark.parametrize("order", ["../shop", "a/b", "", ".x", "a" * 101, "c:\\x"])
def test_an_id_that_leads_elsewhere_names_no_file(shop: Shop, order: str) -> None:
    assert customer_file(shop.book, order) is None
    assert customer_of(shop, order) is None


def test_the_command_takes_the_name_and_gives_it_again(
    shop: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    book = ["--book", str(shop.book), "order"]
    take = ["take", "test-pin", "--label", "gate", "--for", "Anna Orchard"]
    assert main([*book, *take]) == 0
    assert "for       Anna Orchard" in capsys.readouterr().out
    assert main([*book, "show", "gate", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["customer"] == {
        "name": "Anna Orchard",
        "address": [],
        "notes": "",
        "more": [],
        "problem": "",
    }
    assert main([*book, "take", "test-pin", "--label", "hooks"]) == 0
    assert main([*book, "for", "hooks", "Ben Mill"]) == 0
    assert "for Ben Mill" in capsys.readouterr().out
    assert main([*book, "for", "hooks", "Ben Miller"]) == 2
    assert "is there already and is yours" in capsys.readouterr().err


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root writes all")
def test_where_the_name_cannot_be_written_the_order_is_taken_all_the_same(
    shop: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    (shop.book / "customers").chmod(0o500)
    try:
        take = ["order", "take", "test-pin", "--label", "gate", "--for", "Anna"]
        assert main(["--book", str(shop.book), *take]) == 2
    finally:
        (shop.book / "customers").chmod(0o700)
    told = capsys.readouterr()
    assert "the order is taken; who it is for" in told.err
    assert [o.label for o in shop.again().state.orders.values()] == ["gate"]
