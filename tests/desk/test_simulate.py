"""The simulated shop: the same from the same seed, whole, with the faults it was planned with."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from forgelog.book.press_line import read_line
from forgelog.desk.simulate.book import SEED, Simulated, simulate
from forgelog.desk.simulate.plan import DAYS, ORDERS
from forgelog.desk.simulate.watch import SUMMER_TIME_ENDS, Watch
from forgelog.work.facts import (
    EndCutOff,
    Gauged,
    MethodChanged,
    Noted,
    Paused,
    Press,
    RestEnded,
    Scrapped,
    SessionBegan,
    StepFinished,
    StepReopened,
    Undone,
)
from forgelog.work.fold import fold
from forgelog.work.progress import progress_of
from forgelog.work.state import State

SHORT: dict[str, Any] = {"orders": ORDERS[:1], "days": DAYS[:2]}
"""The first order alone."""


@pytest.fixture(scope="module")
def shipped() -> Simulated:
    return simulate()


@pytest.fixture(scope="module")
def presses(shipped: Simulated) -> dict[str, list[Press]]:
    return {
        path: [read_line(line) for line in data.splitlines()]
        for path, data in shipped.files.items()
        if path.endswith(".jsonl")
    }


class Read:
    """A session as the fold takes it."""

    def __init__(self, presses: list[Press]) -> None:
        assert isinstance(presses[0].facts[0], SessionBegan)
        self.header: SessionBegan | None = presses[0].facts[0]
        self.presses = presses


@pytest.fixture(scope="module")
def state(presses: dict[str, list[Press]]) -> State:
    return fold(Read(session) for session in presses.values())


def facts_of(presses: dict[str, list[Press]], kind: type) -> list[object]:
    """Every fact of a kind."""
    return [f for row in presses.values() for p in row for f in p.facts if isinstance(f, kind)]


def test_the_same_seed_gives_the_same_bytes() -> None:
    once, again = simulate(7, **SHORT), simulate(7, **SHORT)
    assert once.files == again.files
    assert any(b"step finished" in data for data in once.files.values())


def test_another_seed_gives_another_journal() -> None:
    journals = [
        {path for path in simulate(seed, **SHORT).files if "journal" in path} for seed in (7, 8)
    ]
    assert not journals[0] & journals[1]


def test_neither_the_hash_seed_nor_the_time_zone_changes_a_byte() -> None:
    code = (
        "import zlib\n"
        "from forgelog.desk.simulate.book import simulate\n"
        "from forgelog.desk.simulate.plan import DAYS, ORDERS\n"
        "files = simulate(7, orders=ORDERS[:1], days=DAYS[:2]).files\n"
        "print(zlib.crc32(repr(list(files.items())).encode()))\n"
    )
    printed = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": hashed, "TZ": zone},
            capture_output=True,
            check=True,
            text=True,
            timeout=60,
        ).stdout
        for hashed, zone in (("1", "UTC"), ("2", "Asia/Tokyo"))
    }
    assert len(printed) == 1


def test_the_demo_data_is_what_its_seed_makes(shipped: Simulated) -> None:
    folder = Path(__file__).parents[2] / "demo_data"
    there = {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }
    differing = sorted(
        name for name in shipped.files.keys() | there if shipped.files.get(name) != there.get(name)
    )
    assert not differing, "make it again: forgelog make-demo"


def test_the_demo_data_is_small(shipped: Simulated) -> None:
    assert sum(map(len, shipped.files.values())) < 3_000_000


def test_every_planned_slip_came_about(shipped: Simulated) -> None:
    assert shipped.missed == ()


def test_the_journal_holds_together(state: State) -> None:
    assert state.troubles == ()
    assert len([s for s in state.sessions if s.kind == "floor"]) in range(20, 31)


def test_closed_orders_are_finished_and_open_ones_are_as_far_as_planned(state: State) -> None:
    by_label = {order.label: order for order in state.orders.values()}
    assert set(by_label) == {planned.label for planned in ORDERS}
    shares = []
    for planned in ORDERS:
        order = by_label[planned.label]
        assert (order.closed is not None) == (planned.delivered is not None)
        if not order.pins:
            shares.append(0.0)
            continue
        progress = progress_of(state, order)
        assert progress.finished == (order.closed is not None), planned.label
        if order.closed is None:
            assert order.promised.startswith("2026-12")
            shares.append(progress.done / progress.steps)
    assert len(shares) == 3
    assert min(shares) == 0
    assert all(share < 0.7 for share in shares)


def test_what_goes_wrong_in_a_shop_has_gone_wrong_in_it(presses: dict[str, list[Press]]) -> None:
    spoilt = facts_of(presses, Scrapped)
    assert any(f.why == "cracked" and f.remake for f in spoilt if isinstance(f, Scrapped))
    verdicts = {f.verdict for f in facts_of(presses, RestEnded) if isinstance(f, RestEnded)}
    assert verdicts == {"ok", "unsure", "short", "skipped"}
    assert any(f.counts is False for f in facts_of(presses, RestEnded) if isinstance(f, RestEnded))
    assert any(
        f.heats_unknown for f in facts_of(presses, StepFinished) if isinstance(f, StepFinished)
    )
    gauged = [f for f in facts_of(presses, Gauged) if isinstance(f, Gauged)]
    assert any(f.mm is not None for f in gauged)
    assert any(not f.fits and f.mm is None for f in gauged)
    for kind in (EndCutOff, Undone, Noted, Paused, StepReopened):
        assert facts_of(presses, kind), kind.__name__
    methods = {f.method for f in facts_of(presses, StepFinished) if isinstance(f, StepFinished)}
    assert {"hand", "power"} <= methods
    assert not facts_of(presses, MethodChanged)


def test_the_cracked_hammer_had_lost_normalising_cycles(state: State) -> None:
    cracked = [
        piece
        for piece in state.pieces.values()
        if piece.component == "head" and piece.place == "scrapped"
    ]
    assert len(cracked) == 1
    lost = [rest for rest in cracked[0].rests if rest.cycle and rest.counts is False]
    assert lost
    remade = next(p for p in state.pieces.values() if p.remade_from == cracked[0].id)
    assert not [rest for rest in remade.rests if rest.cycle and rest.counts is False]


def test_after_the_power_cut_the_session_goes_on_in_a_new_file(
    presses: dict[str, list[Press]], state: State
) -> None:
    went_on = [s for s in state.sessions if s.continues]
    assert len(went_on) == 1
    cut = next(row for path, row in presses.items() if went_on[0].continues in path)
    last = {type(f).__name__ for f in cut[-1].facts}
    assert "DayEnded" not in last
    on = next(row for path, row in presses.items() if went_on[0].id in path)
    assert on[0].at.boot != cut[-1].at.boot


def test_time_never_runs_backwards(presses: dict[str, list[Press]]) -> None:
    walls = [press.at.wall for _, row in sorted(presses.items()) for press in row]
    assert walls == sorted(walls)


def test_the_work_counts_as_practice_and_says_that_it_was_simulated(state: State) -> None:
    floors = [s for s in state.sessions if s.kind == "floor"]
    assert all(s.practice > 0 for s in floors)
    assert {s.who for s in state.sessions} == {"simulated smith"}


def test_the_smith_takes_more_heats_than_the_plan_by_his_own_ratio(state: State) -> None:
    records = [
        record
        for piece in state.pieces.values()
        for record in piece.done
        if record.kind == "forge" and record.heats and record.planned and record.planned > 1
    ]
    assert len(records) > 60
    ratio = sum(r.heats or 0 for r in records) / sum(r.planned or 0 for r in records)
    assert 1.05 < ratio < 1.6


def test_the_page_beside_it_names_the_seed_and_the_command(shipped: Simulated) -> None:
    page = shipped.files["README.md"].decode()
    assert f"forgelog make-demo --seed {SEED}" in page
    assert page.startswith("# Demo data (simulated)")


def test_the_watch_goes_back_an_hour_when_summer_ends() -> None:
    watch = Watch()
    watch.switch_on(date(2026, 10, 24), 8 * 60)
    assert (watch.offset_min, watch.wall_s % 86400) == (60, 7 * 3600)
    watch.switch_on(date(2026, 10, 26), 8 * 60)
    assert (watch.offset_min, watch.wall_s % 86400) == (0, 8 * 3600)
    assert watch.wall_s > SUMMER_TIME_ENDS
