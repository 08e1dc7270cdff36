"""The pack list: what is left when assemblies have their parts, its weight, and when oil is dry."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest

from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import deliver_order
from forgelog.desk.orders import find_order, take_order
from forgelog.desk.pack import pack_of
from forgelog.desk.pack_told import PackTold
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.sheets.html import set_page
from forgelog.sheets.pack import pack_sheet
from tests.desk.working import work
from tests.sheets.reading import PageRead

LATCH = """
format = 1
id = "latch"
name = "Latch"
[[component]]
id = "bar"
name = "bar"
each = 2
stock = { section = "10 mm square", loss = 0 }
form = [{ solid = "square", across = "10 mm", long = "200 mm" }]
[[component.step]]
do = "draw the bar"
heats = { hand = 1 }
[[component]]
id = "knob"
name = "knob"
each = 5
stock = { section = "20 mm round", cut = "25 mm" }
[[component.step]]
do = "round the knob"
heats = { hand = 1 }
[[component]]
id = "latch"
name = "latch"
each = 2
needs = ["bar"]
[[component.step]]
do = "oil the latch"
dries = "24 h"
says = "Thin boiled linseed oil."
cautions = ["oily-rags"]
[[bought]]
id = "screw"
name = "screws"
each = 8
mass = "5 g"
"""


@pytest.fixture
def latch(shop: Shop, clock: FakeClock) -> Shop:
    (shop.book / "recipes" / "latch.toml").write_text(LATCH)
    shop = shop.again()
    take_order(shop, "latch", label="latch", count=3, clock=clock)
    return shop.again()


def told(shop: Shop, clock: FakeClock) -> PackTold:
    return pack_of(shop, find_order(shop.whole_state, "latch"), clock=clock)


def test_what_an_assembly_took_up_is_not_packed_again(latch: Shop, clock: FakeClock) -> None:
    parts = told(latch, clock).parts
    assert [(part.count, part.name, part.made_of) for part in parts] == [
        (15, "knob", ""),
        (6, "latch", "1 bar"),
    ]


def test_weight_is_volume_times_the_density_of_steel(latch: Shop, clock: FakeClock) -> None:
    # 10 x 10 x 200 mm = 20 000 mm3 of 7850 kg/m3 (EN 1993-1-2) is 0.157 kg.
    pack = told(latch, clock)
    knob, both = pack.parts
    assert both.each_kg == pytest.approx(0.157)
    assert both.mass == "942 g"
    assert knob.each_kg is None, "the recipe gives it no form"
    assert pack.bought_mass == ("120 g",)
    assert pack.mass == "1.06 kg"
    assert pack.not_weighed == ("knob",)
    text = PageRead(set_page(pack_sheet(pack))).text
    assert "15 knob to be weighed" in text
    assert "24 screws 120 g together, as far as known 1.06 kg" in text


def test_oil_is_told_with_its_time_to_dry(latch: Shop, clock: FakeClock) -> None:
    (finish,) = told(latch, clock).finishes
    assert (finish.dries, finish.done, finish.of, finish.dry_from) == ("24 h", 0, 6, "")
    text = PageRead(set_page(pack_sheet(told(latch, clock)))).text
    assert "latch: oil the latch; dries 24 h, done on ________ at ________" in text
    assert "0 of 6 done; Thin boiled linseed oil." in text
    assert "Not to go out yet: 27 steps are still to be done." in text


def test_when_the_last_one_is_oiled_the_hour_is_told_from_which_it_is_dry(
    latch: Shop, clock: FakeClock
) -> None:
    order = find_order(latch.state, "latch")
    session = start(latch, [order.id], clock=clock)
    work(session, clock, 900)
    session.close()
    latch = latch.again()
    pack = told(latch, clock)
    assert pack.open_steps == 0
    (finish,) = pack.finishes
    last = max(
        record.ended_s
        for piece in latch.state.pieces.values()
        for record in piece.done
        if record.step == "oil-the-latch"
    )
    offset_s = latch.state.sessions[-1].offset * 60
    dry = datetime.fromtimestamp(last + 24 * 3600 + offset_s, UTC)
    assert finish.done == 6
    assert finish.dry_from.endswith(f"{dry:%Y, %H:%M}")
    text = PageRead(set_page(pack_sheet(pack))).text
    assert f"dry from {finish.dry_from}" in text
    assert "Not to go out yet" not in text
    assert "Delivered" not in text
    clock.go_on(3600)
    deliver_order(latch, find_order(latch.state, "latch"), "fetched", clock=clock)
    text = PageRead(set_page(pack_sheet(told(latch.again(), clock)))).text
    assert re.search(r"Delivered fetched, 2026-\d\d-\d\d", text)
