"""Where sheets lie, and that their names are plain whatever the orders are called."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.desk.errors import CannotDo
from forgelog.desk.new_file import put_new
from forgelog.desk.sheet_file import keep_sheet, sheet_name
from forgelog.desk.shop import Shop


def test_a_sheet_is_named_after_its_order() -> None:
    assert sheet_name("job", "gate-14", "shop1-k3f9") == "job-gate-14-shop1-k3f9.html"
    assert sheet_name("pack", "gate-14", ending="txt") == "pack-gate-14.txt"
    assert sheet_name("job", "k3f9", "k3f9") == "job-k3f9.html"


@given(st.lists(st.text(), max_size=3))
def test_no_label_leads_out_of_the_folder(parts: list[str]) -> None:
    name = sheet_name("job", *parts)
    assert re.fullmatch(r"job(-[a-z0-9]+)*\.html", name)
    assert len(name) < 200


@pytest.mark.parametrize("label", ["../../shop", "/etc/passwd", "C:\\x", "CON", "a\x00b", "."])
def test_hostile_labels_make_plain_names_that_differ(label: str) -> None:
    assert sheet_name("job", label) != sheet_name("job", f"{label}/")


def test_a_sheet_in_the_book_takes_the_place_of_the_one_before(shop: Shop) -> None:
    path = keep_sheet(shop, "job-gate.html", "one")
    assert path == shop.book / "sheets" / "job-gate.html"
    assert keep_sheet(shop, "job-gate.html", "two").read_text() == "two"
    assert [p.name for p in path.parent.iterdir()] == ["job-gate.html"]


def test_a_file_that_lies_there_is_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "mine.html"
    path.write_text("mine")
    with pytest.raises(CannotDo, match="is there already; name another file"):
        put_new(path, "theirs")
    assert path.read_text() == "mine"
    put_new(tmp_path / "new.html", "theirs")
    assert (tmp_path / "new.html").read_text() == "theirs"


def test_a_disk_that_does_not_take_it_is_told_in_a_sentence(shop: Shop) -> None:
    (shop.book / "sheets").write_text("a file where the folder should be")
    with pytest.raises(CannotDo, match="the sheet was not written"):
        keep_sheet(shop, "job-gate.html", "one")
