"""What must hold of the sums whatever the sizes are."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from forgelog.trade import thread_tables
from forgelog.trade.cooling import MEDIA, band, cooling_curve
from forgelog.trade.drills import near_drill
from forgelog.trade.engage import engagement_mm, shear_mm2_per_mm
from forgelog.trade.errors import SumError
from forgelog.trade.gauges import GAUGES, gauge_mm, gauge_name, near_gauge, read_gauge
from forgelog.trade.heating import heating_curve
from forgelog.trade.hot import cold_mm, hot_mm
from forgelog.trade.limits import limits
from forgelog.trade.nuts import check_nut
from forgelog.trade.sections import Section, area_mm2
from forgelog.trade.solid_words import parse_solid
from forgelog.trade.solids import solid_volume_mm3
from forgelog.trade.stock import becomes_mm, blank_length_mm, scale_mm3, stock_for_mm
from forgelog.trade.threads import Thread, special_thread, thread
from forgelog.trade.through import through_bolt
from forgelog.trade.upset import upset_of
from forgelog.units import write_length
from tests.desk.sums.asked import figures
from tests.properties.strategies_trade import solid_bars

_NAMES = [
    *(
        f"M{size:g} x {pitch:g}"
        for size, row in thread_tables.METRIC.items()
        for pitch in ((row.pitch_mm,) if row.pitch_mm else ()) + row.fine_mm
    ),
    *(f"{size} {series}" for series, rows in thread_tables.INCH.items() for size in rows),
]
threads = st.sampled_from(_NAMES).map(thread)
mm = st.floats(min_value=0.5, max_value=2000.0)
shares = st.floats(min_value=0.0, max_value=0.3)
heats = st.floats(min_value=100.0, max_value=1250.0)


@given(bar=solid_bars, volume=st.floats(1.0, 1e7), trim=st.floats(0, 50), loss=shares)
def test_a_blank_is_form_trim_and_scale_and_nothing_else(
    bar: Section, volume: float, trim: float, loss: float
) -> None:
    long = blank_length_mm(volume, bar, trim_mm=trim, loss=loss)
    scale = scale_mm3(volume, bar, trim_mm=trim, loss=loss)
    held = volume + trim * area_mm2(bar) + scale
    assert long * area_mm2(bar) == pytest.approx(held, rel=1e-9)


@given(one=solid_bars, other=solid_bars, long=mm, loss=st.floats(0.0, 0.5))
def test_what_becomes_of_the_stock_for_a_length_is_that_length(
    one: Section, other: Section, long: float, loss: float
) -> None:
    need = stock_for_mm(long, one, other, loss)
    assert becomes_mm(need, one, other, loss) == pytest.approx(long, rel=1e-9)


@given(bar=solid_bars, volume=st.floats(1.0, 1e6))
def test_an_upset_keeps_its_volume(bar: Section, volume: float) -> None:
    assert upset_of(volume, bar).bar_mm * area_mm2(bar) == pytest.approx(volume)


@given(
    one=threads,
    thickest=mm,
    more=st.floats(0, 500),
    thin=st.floats(0.1, 1.0),
    washers=st.floats(0, 20),
    shrink=st.floats(0, 10),
)
def test_more_thickness_never_gives_a_shorter_bolt(
    one: Thread, thickest: float, more: float, thin: float, washers: float, shrink: float
) -> None:
    sizes = {"washers_mm": washers, "shrink_mm": shrink, "nut_high_mm": one.major_mm}
    low = through_bolt(one, thickest_mm=thickest, thinnest_mm=thickest * thin, **sizes)
    high = through_bolt(one, thickest_mm=thickest + more, thinnest_mm=thickest * thin, **sizes)
    assert high.long_mm >= low.long_mm
    # the thread reaches inside the face of the thinnest place, by 3 mm where there is room
    assert low.thread_from_mm <= max(0.0, thickest * thin - 3)
    assert low.thread_mm >= one.major_mm


@settings(max_examples=60, deadline=None)
@given(
    kind=st.sampled_from(["square", "round", "octagon", "hexagon"]),
    side=st.floats(4.0, 80.0),
    more=st.floats(1.0, 3.0),
    medium=st.sampled_from(MEDIA),
    start=heats,
    end=heats,
)
def test_a_heavier_section_never_cools_faster(
    kind: str, side: float, more: float, medium: str, start: float, end: float
) -> None:
    assume(start > end)
    light = cooling_curve(Section(kind=kind, a_mm=side), medium).seconds(start, end)
    heavy = cooling_curve(Section(kind=kind, a_mm=side * more), medium).seconds(start, end)
    assert heavy >= light * (1 - 1e-6)


@settings(max_examples=60, deadline=None)
@given(
    bar=solid_bars, medium=st.sampled_from(MEDIA), start=heats, end=heats, air=st.floats(-20, 40)
)
def test_colder_air_never_makes_a_bar_cool_more_slowly(
    bar: Section, medium: str, start: float, end: float, air: float
) -> None:
    assume(start > end + 0.1)  # nearer, both are nothing but the last digits of a table
    assume(2 < bar.a_mm < 200)
    warm = cooling_curve(bar, medium, air).seconds(start, end)
    cold = cooling_curve(bar, medium, air - 10).seconds(start, end)
    assert cold <= warm * (1 + 1e-3)


@settings(max_examples=60, deadline=None)
@given(
    side=st.floats(4.0, 80.0),
    more=st.floats(1.0, 3.0),
    fire=st.sampled_from(["gas", "coke"]),
    end=st.floats(500.0, 1200.0),
)
def test_a_heavier_section_never_heats_faster(
    side: float, more: float, fire: str, end: float
) -> None:
    light = heating_curve(Section(kind="square", a_mm=side), fire).seconds(20, end)
    heavy = heating_curve(Section(kind="square", a_mm=side * more), fire).seconds(20, end)
    assert heavy >= light * (1 - 1e-6)


@given(seconds=st.floats(0.0, 1e5), end=st.floats(20.0, 1100.0), cooler=st.floats(0.0, 200.0))
def test_a_band_holds_its_middle_and_grows_towards_the_cold(
    seconds: float, end: float, cooler: float
) -> None:
    hot, cold = band(seconds, end), band(seconds, end - cooler)
    assert hot.low_s <= hot.seconds <= hot.high_s
    assert cold.low_s <= hot.low_s + 1e-9
    assert cold.high_s >= hot.high_s - 1e-9


@given(size=mm, degc=st.floats(20.0, 1300.0))
def test_hot_and_cold_size_turn_round(size: float, degc: float) -> None:
    assert cold_mm(hot_mm(size, degc), degc) == pytest.approx(size, rel=1e-12)
    assert hot_mm(size, degc) >= size * (1 - 1e-6)


@given(one=threads)
def test_limits_of_a_thread_lie_in_order(one: Thread) -> None:
    edge = limits(one)
    assert edge.bolt_major_min_mm <= edge.bolt_major_max_mm <= one.major_mm
    assert edge.bolt_pitch_min_mm <= edge.bolt_pitch_max_mm <= edge.nut_pitch_min_mm + 0.0006
    assert edge.nut_pitch_min_mm <= edge.nut_pitch_max_mm
    assert edge.nut_minor_min_mm <= edge.nut_minor_max_mm < edge.bolt_major_min_mm


@given(size=st.floats(2.0, 100.0), share=st.floats(0.04, 0.2), inch=st.booleans())
def test_a_thread_of_any_size_and_pitch_hangs_together(
    size: float, share: float, inch: bool
) -> None:
    one = special_thread(size, size * share, inch=inch)
    assert one.root_mm < one.minor_mm < one.pitch_diameter_mm < one.rod_before_die_mm < size
    edge = limits(one)
    assert edge.bolt_major_min_mm < edge.bolt_major_max_mm


@given(one=threads, bolt=st.floats(200, 900), nut=st.floats(200, 900), weaker=st.floats(0.3, 1.0))
def test_a_weaker_nut_never_needs_less_thread(
    one: Thread, bolt: float, nut: float, weaker: float
) -> None:
    assert engagement_mm(one, bolt, nut * weaker) >= engagement_mm(one, bolt, nut) * (1 - 1e-12)


@given(one=threads, loose=st.floats(0.0, 0.1))
def test_a_looser_nut_never_holds_more(one: Thread, loose: float) -> None:
    tight = shear_mm2_per_mm(one)
    try:
        found = shear_mm2_per_mm(one, loose)
    except SumError:
        return
    assert found[0] <= tight[0]
    assert found[1] <= tight[1]


@given(one=threads, flats=mm, high=mm, wider=st.floats(1.0, 2.0), higher=st.floats(1.0, 2.0))
def test_a_larger_blank_is_never_less_enough(
    one: Thread, flats: float, high: float, wider: float, higher: float
) -> None:
    small = check_nut(one, flats, high)
    large = check_nut(one, flats * wider, high * higher)
    assert large.enough or not small.enough


@given(a=st.floats(1, 100), b=st.floats(1, 100), long=mm)
def test_a_form_that_is_said_has_the_volume_of_one_that_is_written(
    a: float, b: float, long: float
) -> None:
    said = parse_solid(f"flat {write_length(a)} x {write_length(b)} x {write_length(long)}")
    assert solid_volume_mm3(said.kind, said.dims) == pytest.approx(a * b * long)


@pytest.mark.parametrize("table", GAUGES)
def test_every_gauge_is_read_back_and_thinner_than_the_one_before(table: str) -> None:
    last = 1000.0
    for number in sorted(GAUGES[table]):
        size = gauge_mm(number, table)
        assert size < last
        last = size
        assert near_gauge(size, table) == number
        assert read_gauge(gauge_name(number, table)) == (table, number)


@given(size=st.floats(0.4, 60.0))
def test_the_nearest_drill_is_within_half_a_64th(size: float) -> None:
    assert abs(near_drill(size)[1] - size) <= 25.4 / 128 + 1e-9


@settings(max_examples=40, deadline=None)
@given(
    value=st.floats(0.01, 5000.0).map(lambda x: round(x, 4)),
    pair=st.sampled_from(
        [("mm", "in"), ("kg", "lb"), ("MPa", "ksi"), ("degC", "degF"), ("J", "ft*lbf")]
    ),
)
def test_units_turn_round(value: float, pair: tuple[str, str]) -> None:
    there = figures(f'convert "{value} {pair[0]}" --to "{pair[1]}"')["value"]
    back = figures(f'convert "{there:.9f} {pair[1]}" --to {pair[0]}')["value"]
    assert back == pytest.approx(value, rel=1e-6, abs=1e-6)


@given(side=st.floats(2, 100), long=mm, longer=st.floats(1.0, 2.0))
def test_more_bar_is_never_lighter(side: float, long: float, longer: float) -> None:
    line = f'bar "{side:.4f} mm square" --length "{long:.4f} mm"'
    more = f'bar "{side:.4f} mm square" --length "{long * longer:.4f} mm"'
    assert figures(more)["mass_kg"] >= figures(line)["mass_kg"] * (1 - 1e-9)
