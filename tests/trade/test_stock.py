"""How long a bar must be cut."""

from __future__ import annotations

import pytest

from forgelog.trade.errors import SumError
from forgelog.trade.sections import parse_section
from forgelog.trade.stock import (
    becomes_mm,
    blank_length_mm,
    cut_of_other_bar_mm,
    scale_loss,
)

BAR = parse_section("20 mm square")


def test_form_and_trim_grow_with_the_scale_but_the_grip_does_not() -> None:
    plain = blank_length_mm(40_000.0, BAR, loss=0.0)
    assert plain == 100.0
    assert blank_length_mm(40_000.0, BAR, loss=0.04) == pytest.approx(100 / 0.96)
    cut = blank_length_mm(40_000.0, BAR, trim_mm=20.0, loss=0.04, grip_mm=40.0)
    assert cut == pytest.approx(120 / 0.96 + 40)
    assert blank_length_mm(40_000.0, BAR, trim_mm3=8000.0, grip_mm=40.0) == pytest.approx(cut)


@pytest.mark.parametrize(
    ("form", "loss", "words"),
    [(0.0, 0.04, "volume of the form"), (100.0, 0.5, "the loss is 0.5"), (100.0, -0.1, "loss")],
)
def test_a_blank_that_cannot_be_is_refused(form: float, loss: float, words: str) -> None:
    with pytest.raises(SumError, match=words):
        blank_length_mm(form, BAR, loss=loss)


def test_a_grip_below_nothing_is_refused() -> None:
    with pytest.raises(SumError, match="the grip is -1"):
        blank_length_mm(100.0, BAR, grip_mm=-1.0)


def test_drawing_down_and_upsetting_back_gives_the_length_back() -> None:
    thin = parse_section("10 mm round")
    assert becomes_mm(becomes_mm(100.0, BAR, thin), thin, BAR) == pytest.approx(100.0)
    with pytest.raises(SumError):
        becomes_mm(0.0, BAR, thin)


def test_scale_takes_more_of_a_thin_bar() -> None:
    thin, stout = (
        scale_loss(parse_section("10 mm square")),
        scale_loss(parse_section("40 mm round")),
    )
    assert thin == pytest.approx(0.04)
    assert stout == pytest.approx(0.01)


def test_another_bar_than_the_recipes_is_cut_by_its_volume() -> None:
    planned, actual = parse_section("12 mm square"), parse_section("12.7 mm square")
    cut = cut_of_other_bar_mm(300.0, planned, actual, grip_mm=35.0)
    assert cut == pytest.approx(265 * 144 / 161.29 + 35)
    assert cut_of_other_bar_mm(300.0, planned, planned, grip_mm=35.0) == pytest.approx(300.0)
    with pytest.raises(SumError, match="leaves nothing"):
        cut_of_other_bar_mm(30.0, planned, actual, grip_mm=35.0)
