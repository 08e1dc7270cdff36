"""What must hold of every form, blank, drawing and thread."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from forgelog.trade import thread_tables
from forgelog.trade.bends import bent_bar_mm, ring_length_mm
from forgelog.trade.engage import engagement_mm, joint
from forgelog.trade.heats import draw_heats
from forgelog.trade.sections import Section, area_mm2
from forgelog.trade.solids import SOLIDS, Dim, solid_volume_mm3
from forgelog.trade.stock import becomes_mm, blank_length_mm
from forgelog.trade.threads import thread
from tests.properties.strategies_trade import solid_bars

mm = st.floats(1.0, 500.0)
kinds = st.sampled_from([kind for kind in SOLIDS if kind != "rod for thread"])
threads = st.sampled_from(
    [f"M{size:g}" for size, row in thread_tables.METRIC.items() if row.pitch_mm]
    + [f"{size} {series}" for series, rows in thread_tables.INCH.items() for size in rows]
)


@st.composite
def forms(draw: st.DrawFn) -> tuple[str, dict[str, Dim]]:
    """A form and its keys."""
    kind = draw(kinds)
    solid = SOLIDS[kind]
    keys = list(solid.needs)
    if solid.one_of:
        keys.append(draw(st.sampled_from(list(solid.one_of))))
    dims: dict[str, Dim] = {}
    for key in keys:
        dims[key] = draw(solid_bars) if key in ("section", "start", "end") else draw(mm)
    section = dims.get("section")
    if kind in ("ring", "eye") and isinstance(section, Section):
        dims[keys[-1]] = section.a_mm * 2.5 + draw(mm)
    return kind, dims


def _doubled(value: Dim) -> Dim:
    if isinstance(value, Section):
        return Section(kind=value.kind, a_mm=value.a_mm * 2)
    assert isinstance(value, float)
    return value * 2


@given(forms())
def test_a_form_twice_as_large_has_eight_times_the_volume(form: tuple[str, dict[str, Dim]]) -> None:
    kind, dims = form
    small = solid_volume_mm3(kind, dims)
    large = solid_volume_mm3(kind, {key: _doubled(value) for key, value in dims.items()})
    assert large == pytest.approx(8 * small, rel=1e-9)
    assert (small < 0) is SOLIDS[kind].takes_away


@given(solid_bars, solid_bars, mm)
def test_a_taper_holds_no_more_than_its_thick_end_all_along(
    one: Section, other: Section, long: float
) -> None:
    volume = solid_volume_mm3("taper", {"start": one, "end": other, "long": long})
    back = solid_volume_mm3("taper", {"start": other, "end": one, "long": long})
    assert volume == pytest.approx(back)
    side = max(one.a_mm, other.a_mm)
    assert 0 < volume <= side * side * long * (1 + 1e-9)


@given(solid_bars, st.floats(1e2, 1e7), st.floats(0, 0.3), st.floats(0, 50), st.floats(0, 80))
def test_a_blank_holds_the_form_its_scale_its_trim_and_its_grip(
    bar: Section, form: float, loss: float, trim: float, grip: float
) -> None:
    cut = blank_length_mm(form, bar, trim_mm=trim, loss=loss, grip_mm=grip)
    area = area_mm2(bar)
    assert (cut - grip) * area * (1 - loss) - trim * area == pytest.approx(form, rel=1e-6, abs=1e-3)


@given(solid_bars, solid_bars, mm)
def test_drawing_there_and_back_changes_nothing(one: Section, other: Section, long: float) -> None:
    assert becomes_mm(becomes_mm(long, one, other), other, one) == pytest.approx(long)


@given(st.floats(5, 40), st.floats(0.3, 0.95), st.floats(10, 400))
@settings(max_examples=50)
def test_more_length_is_never_fewer_heats(side: float, share: float, long: float) -> None:
    before, after = Section(kind="square", a_mm=side), Section(kind="square", a_mm=side * share)
    less, more = (draw_heats(before, after, length) for length in (long, long * 1.5))
    assert 1 <= less.heats <= more.heats
    assert less.expected < more.expected
    assert less.heats - 1 <= less.expected + 0.5 <= less.heats + 1


@given(threads, st.floats(300, 1200), st.floats(300, 1200))
def test_at_the_least_engagement_nothing_strips_before_the_bolt_breaks(
    name: str, bolt: float, nut: float
) -> None:
    one = thread(name)
    least = engagement_mm(one, bolt, nut)
    whole, short = joint(one, least * 1.001, bolt, nut), joint(one, least * 0.99, bolt, nut)
    assert whole.first == "the bolt breaks"
    assert short.first != "the bolt breaks"


@given(solid_bars, mm)
def test_a_ring_by_its_inside_and_by_its_outside_is_one_ring(bar: Section, inside: float) -> None:
    by_inside = ring_length_mm(bar, inside_mm=inside)
    assert by_inside == pytest.approx(ring_length_mm(bar, outside_mm=inside + 2 * bar.a_mm))


@given(st.floats(1, 20), st.floats(0, 30), st.floats(100, 400), st.floats(20, 120))
def test_a_bent_bar_is_shorter_than_its_outside(
    thick: float, radius: float, leg: float, degrees: float
) -> None:
    assert bent_bar_mm((leg, leg), radius, thick, degrees) < 2 * leg
