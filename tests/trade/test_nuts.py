"""Nuts from a forged blank, bolts through a post, and other sums that can refuse."""

from __future__ import annotations

import pytest

from forgelog.trade.bends import bend_length_mm, bent_bar_mm, even_scroll_mm, thick_mm
from forgelog.trade.engage import thread_percent
from forgelog.trade.errors import SumError
from forgelog.trade.fuel import fuel_kg
from forgelog.trade.gauges import gauge_mm, near_gauge, parse_gauge
from forgelog.trade.limits import limits
from forgelog.trade.nuts import blank_cut_mm, check_blank, forged_head_mm, nut_blank
from forgelog.trade.sections import parse_section as bar
from forgelog.trade.threads import thread
from forgelog.trade.through import through_bolt, timber_shrink_mm

M12 = thread("M12")
FLAT = bar("25 x 12 mm flat")


def test_a_punched_m12_nut_is_24_across_and_a_drilled_one_22() -> None:
    punched, drilled = nut_blank(M12), nut_blank(M12, made="drilled")
    assert (punched.across_mm, drilled.across_mm) == (24, 22)
    assert punched.wall_mm >= M12.major_mm / 2
    # 8.9 mm must engage, and one thread goes in the chamfers
    assert punched.high_mm == pytest.approx(8.881 + 1.75, abs=0.01)
    assert punched.hole_mm == 10.2
    assert blank_cut_mm(punched, FLAT) == 25
    assert blank_cut_mm(punched, bar("25 x 8 mm flat")) > 28
    assert punched.mass_kg == pytest.approx(punched.volume_mm3 * 7.85e-6)


def test_a_piece_of_flat_is_enough_for_a_nut_or_says_why_not() -> None:
    good = check_blank(M12, FLAT, 25)
    assert good.enough
    assert (good.wall_mm, good.high_mm) == (6.5, 11)
    short = check_blank(M12, FLAT, 20)
    assert not short.enough
    assert short.why == "the wall is 4.0 mm; punched, it should be 6.0: 24 mm across"
    assert not check_blank(M12, bar("20 x 12 mm flat"), 25).enough
    assert check_blank(M12, FLAT, 22, made="drilled").enough
    low = check_blank(M12, bar("25 x 8 mm flat"), 25)
    assert not low.enough
    assert "must engage" in low.why
    assert not check_blank(M12, FLAT, 25, bolt_uts_mpa=800).enough


def test_a_bolt_through_a_post_is_as_long_as_everything_on_it() -> None:
    bolt = through_bolt(M12, thickest_mm=100, washers_mm=3, nut_high_mm=11)
    assert bolt.long_mm == pytest.approx(100 + 3 + 11 + 3.5 + 3)
    assert bolt.thread_from_mm == 97
    assert bolt.thread_mm == pytest.approx(20.5)
    assert bolt.rod_mm == pytest.approx(11.825)
    assert bolt.hole_mm == 13.5


def test_the_thread_begins_far_enough_inside_for_the_thin_place_and_for_shrinkage() -> None:
    bolt = through_bolt(M12, thickest_mm=150, thinnest_mm=146, shrink_mm=6, nut_high_mm=11)
    assert bolt.thread_from_mm == 150 - (3 + 4 + 6)


def test_a_bought_nut_gives_its_height() -> None:
    assert through_bolt(M12, thickest_mm=100).long_mm == pytest.approx(100 + 10.8 + 3.5 + 3)
    with pytest.raises(SumError, match="no nut is in the tables for M7"):
        through_bolt(thread("M7"), thickest_mm=100)


def test_nuts_and_bolts_that_cannot_be_are_refused() -> None:
    with pytest.raises(SumError, match='not "wished"'):
        nut_blank(M12, made="wished")
    with pytest.raises(SumError, match="cut from flat"):
        check_blank(M12, bar("25 mm round"), 25)
    with pytest.raises(SumError, match="20 mm wide; the nut is 24"):
        blank_cut_mm(nut_blank(M12), bar("20 x 12 mm flat"))
    with pytest.raises(SumError, match="cut from flat"):
        blank_cut_mm(nut_blank(M12), bar("25 mm square"))
    with pytest.raises(SumError, match="thicker than the thickest"):
        through_bolt(M12, thickest_mm=100, thinnest_mm=120)
    with pytest.raises(SumError, match="the washers is -1"):
        through_bolt(M12, thickest_mm=100, washers_mm=-1)
    with pytest.raises(SumError, match="strength of the nut is 0"):
        nut_blank(M12, nut_uts_mpa=0)


def test_heads_washers_and_shrinkage() -> None:
    # Sellers: 3/4 in bolt, 1 1/4 in across and 5/8 in deep (Shop Practice vol. 1)
    across, high = forged_head_mm(thread("3/4 UNC"))
    assert (across / 25.4, high / 25.4) == pytest.approx((1.25, 0.625))
    # ISO 7089
    assert M12.washer_mm == (24, 2.5, 13.0)
    assert thread("M10").washer_mm == (20, 2.0, 10.5)
    assert thread("1/2 UNC").washer_mm is None
    assert timber_shrink_mm(150) == pytest.approx((5.1, 9.45))


def test_whitworth_limits_are_its_basic_sizes() -> None:
    edge = limits(thread("1/2 BSW"))
    assert edge.bolt_class == "basic"
    assert edge.bolt_pitch_max_mm == edge.nut_pitch_min_mm


def test_a_gauge_without_its_table_is_refused() -> None:
    for text in ("14", "14 gauge", "fourteen SWG", ""):
        with pytest.raises(SumError, match="is no gauge"):
            parse_gauge(text)
    assert parse_gauge("SWG 14") == parse_gauge("14 gauge swg") == gauge_mm(14, "SWG")
    with pytest.raises(SumError, match="US goes from 3 to 30"):
        gauge_mm(1, "US")
    with pytest.raises(SumError, match='not "XWG"'):
        gauge_mm(1, "XWG")
    with pytest.raises(SumError, match='not "XWG"'):
        near_gauge(1.0, "XWG")


def test_bends_and_scrolls_that_cannot_be_are_refused() -> None:
    with pytest.raises(SumError, match="inside radius is -1"):
        bend_length_mm(-1, 90, 8)
    with pytest.raises(SumError, match="too short for its bend"):
        bent_bar_mm((10, 100), 10, 8)
    with pytest.raises(SumError, match="two legs"):
        bent_bar_mm((10,), 10, 8)
    with pytest.raises(SumError, match="larger than its inner"):
        even_scroll_mm(40, 10, 2)
    with pytest.raises(SumError, match="bend a test piece"):
        thick_mm(bar("40 x 40 x 4 mm angle"))


def test_a_definition_or_a_fire_that_is_none_is_refused() -> None:
    with pytest.raises(SumError, match='not by "new"'):
        thread_percent(M12, 10.2, "new")
    with pytest.raises(SumError, match="weigh what it takes"):
        fuel_kg("wood", 3600)
    with pytest.raises(SumError, match="one burner at least"):
        fuel_kg("gas", 3600, burners=0)
