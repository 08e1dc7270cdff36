"""Tables for a spreadsheet or a notebook."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.desk.clock import FakeClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.export import TABLES, as_csv, export, table_named
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from tests.desk.working import work


@pytest.fixture
def worked(shop: Shop, clock: FakeClock) -> Shop:
    order = take_order(shop, "test-pin", title="=HYPERLINK(1)", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 80)
    session.close()
    return shop.again()


def test_every_step_that_the_state_knows_is_a_row(worked: Shop) -> None:
    done = [(p.id, r) for p in worked.whole_state.pieces.values() for r in p.done]
    rows = export(worked, "steps")
    assert len(rows) == len(done) > 3
    assert {(row["workpiece"], row["step"]) for row in rows} == {(w, r.step) for w, r in done}
    assert sum(int(row["heats"] or 0) for row in rows) == sum(r.heats or 0 for _, r in done)
    by_step = {(row["workpiece"], row["step"]): row for row in rows}
    for workpiece, record in done:
        row = by_step[workpiece, record.step]
        assert row["work_min"] == pytest.approx(record.work_s / 60, abs=0.01)


def test_rests_have_their_verdict_and_the_sum_behind_it(worked: Shop) -> None:
    rows = export(worked, "rests")
    assert rows
    assert {row["verdict"] for row in rows} <= {"kept", "unsure", "short", "skipped", "broken"}
    assert all(row["to_degc"] == 480.0 for row in rows)


def test_the_file_reads_back_as_the_same_rows(worked: Shop) -> None:
    for name, table in TABLES.items():
        rows = export(worked, name)
        assert rows
        read = list(csv.DictReader(io.StringIO(as_csv(rows, table), newline="")))
        assert len(read) == len(rows)
        assert list(read[0]) == [column.name for column in table.columns]


def test_a_text_that_looks_like_a_formula_is_none_in_a_spreadsheet() -> None:
    table = TABLES["sessions"]
    row = {column.name: None for column in table.columns} | {"who": "=1+1", "heats": -3}
    text = as_csv([row], table)
    assert "'=1+1" in text
    assert ",-3," in text


def test_the_readme_lists_the_columns_of_every_table() -> None:
    text = " ".join((Path(__file__).parents[2] / "README.md").read_text().split())
    for table in TABLES.values():
        names = ", ".join(f"`{column.name}`" for column in table.columns)
        assert f"**{table.name}**, {table.says}: {names}" in text


def test_a_table_that_is_not_there_is_named_with_the_nearest() -> None:
    with pytest.raises(CannotDo, match='did you mean "steps"'):
        table_named("step")


def test_the_command_writes_a_file_once(
    worked: Shop, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["--book", str(worked.book), "export"]
    assert main(words) == 0
    told = capsys.readouterr().out
    assert all(f"  {c.name:<14} {c.says}" in told for t in TABLES.values() for c in t.columns)
    out = tmp_path / "steps.csv"
    assert main([*words, "steps", "-o", str(out)]) == 0
    assert out.read_bytes().count(b"\r\n") == len(export(worked, "steps")) + 1
    capsys.readouterr()
    assert main([*words, "steps", "-o", str(out)]) == 2
    assert "there already" in capsys.readouterr().err
    assert main([*words, "rests", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == export(worked, "rests")
