"""What goes out with a shared recipe: counts, and nothing that names anybody."""

from __future__ import annotations

import msgspec
import pytest

from forgelog.learn.evidence import evidence_of
from forgelog.learn.row_making import make_rows, session_rows
from forgelog.learn.rows import Rows
from forgelog.recipe.written_evidence import WrittenEvidence
from forgelog.work.causes import OTHER_CAUSE
from forgelog.work.facts import Scrapped
from tests.learn.shop import LEFT, RECIPE, RIGHT, Shop


@pytest.fixture
def shop() -> Shop:
    made = Shop()
    made.open_order()
    return made


def evidence(shop: Shop, **more: object) -> WrittenEvidence | None:
    return evidence_of(
        RECIPE,
        make_rows(shop.state),
        session_rows(shop.state.sessions),
        {"gas": "gas"},
        **more,  # type: ignore[arg-type]
    )


def test_nothing_made_is_no_evidence(shop: Shop) -> None:
    assert evidence(shop) is None


def test_heats_of_a_step_are_told_as_least_middle_and_most(shop: Shop) -> None:
    shop.forge(LEFT, "draw", heats=3)
    shop.forge(RIGHT, "draw", heats=5)
    found = evidence(shop)
    assert found is not None
    (row,) = found.steps
    assert (row.component, row.step, row.by, row.pieces) == ("strap", "draw", "hand", 2)
    assert row.heats is not None
    assert (row.heats.least, row.heats.middle, row.heats.most) == (3, 3, 5)
    assert row.fires == ["gas"]


def test_a_cause_in_the_smiths_own_words_stays_at_home(shop: Shop) -> None:
    shop.press(1.0, Scrapped(workpiece=LEFT, why="burnt"))
    shop.press(1.0, Scrapped(workpiece=RIGHT, why="Mrs Miller fetched it too early"))
    found = evidence(shop)
    assert found is not None
    assert [row.why for row in found.spoilt] == [OTHER_CAUSE, "burnt"]
    assert "Miller" not in str(found)


def test_practice_and_real_work_are_never_mixed(shop: Shop) -> None:
    shop.forge(LEFT, "draw", heats=3)
    assert evidence(shop, practice=True) is None


def test_rows_of_steps_that_the_recipe_has_no_more_are_left_out(shop: Shop) -> None:
    shop.forge(LEFT, "draw", heats=3)
    rows = make_rows(shop.state)
    steps = tuple(msgspec.structs.replace(row, step="gone") for row in rows.steps)
    assert evidence_of(RECIPE, Rows(steps=steps)) is None
