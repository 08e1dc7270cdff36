"""Every sum answers its own examples, with the figures by the names that it promises."""

from __future__ import annotations

import json
import math
import shlex
from typing import Any

import pytest

from forgelog.desk.sums import SUMS, find_sum
from forgelog.desk.sums.answer import SHOWN
from forgelog.desk.sums.kinds import LIKE, READERS
from tests.desk.sums.asked import answer, figures

PROMISED = {
    'bar "25 x 12 mm flat" --length "2 m"': (
        *("area_mm2", "perimeter_mm", "mass_kg_per_m", "mass_kg", "surface_m2"),
    ),
    'stock --solid "square 12 mm x 300 mm" --from "12 mm square" --trim "10 mm"': (
        *("volume_mm3", "scale_mm3", "length_mm", "grip_mm", "kerf_mm", "trim_mm"),
    ),
    'becomes "20 mm square" "100 mm" --to "10 mm square"': ("length_mm", "reduction"),
    "thread M12": (
        *("pitch_mm", "threads_per_inch", "major_mm", "pitch_diameter_mm", "minor_internal_mm"),
        *("minor_external_mm", "stress_area_mm2", "tap_drill_mm", "engagement_percent"),
        *("rod_before_die_mm", "nut_across_flats_mm", "nut_height_mm", "clearance_hole_mm"),
        *("limits", "stripping_area_bolt_mm2_per_mm", "stripping_area_nut_mm2_per_mm"),
    ),
    'engage M12 --height "6 mm"': ("engagement_mm", "fails_first"),
    'nut M12 --flats "25 mm" --height "11 mm" --from "25 x 12 mm flat"': (
        *("wall_mm", "wall_needed_mm", "threads_caught", "enough", "blank_length_mm"),
    ),
    'through M12 --thickest "100 mm" --thinnest "97 mm"': (
        *("bolt_length_mm", "thread_length_mm", "thread_starts_inside_mm"),
    ),
    'ring "10 mm round" --inside "60 mm"': ("developed_length_mm", "neutral_line"),
    'eye "10 mm round" --outside "60 mm"': ("developed_length_mm", "neutral_line"),
    'bend "12 mm square" --legs "120, 80 mm"': ("developed_length_mm", "neutral_line"),
    'scroll "12 x 6 mm flat" --inner "8 mm" --outer "40 mm" --turns 2': (
        *("developed_length_mm", "neutral_line"),
    ),
    'twist "12 mm square" --length "150 mm" --turns 2': ("developed_length_mm", "neutral_line"),
    'hot "300 mm" --at "900 degC"': ("cold_mm", "hot_mm"),
    'upset "12 mm round" --by "round 20 mm x 10 mm"': (
        *("length_mm", "unsupported_limit_mm", "heats_at_least"),
    ),
    'cool "12 mm square" --from "850 degC" --to "480 degC"': ("seconds", "low_s", "high_s"),
    'window "12 mm square"': ("seconds",),
    'rest "12 mm square" --from "850 degC" --to "480 degC" --rested "2 min"': (
        *("verdict", "degc_at_end", "minutes_needed", "why"),
    ),
    'heat "12 mm square" --fire gas --to "1150 degC"': ("seconds", "low_s", "high_s", "look_s"),
    'heats "draw 12 mm square to 8 mm square x 150 mm"': ("heats", "low", "high"),
    "steel 1045": (
        *("forging_range_degc", "Ac1_degc", "Ac3_degc", "Ms_degc", "normalise_degc"),
        *("harden_degc", "quench", "temper_table"),
    ),
    'colour "1000 degC"': ("name", "tables"),
    'colour "cherry red"': ("low_degc", "high_degc", "tables"),
    'temper-colour "250 degC"': ("name", "tables"),
    'weight "12 mm square" --length "1 m"': ("value", "unit", "mass_kg"),
    'convert "1 in" --to mm': ("value", "unit"),
    'gauge "14 SWG"': ("value", "unit"),
    'fuel --for "3 h"': ("low_kg", "high_kg"),
    'blow "1.2 kg"': ("energy_j",),
}


@pytest.mark.parametrize(("line", "keys"), PROMISED.items(), ids=list(PROMISED))
def test_a_sum_has_every_figure_that_it_promises(line: str, keys: tuple[str, ...]) -> None:
    table = figures(line)
    assert [key for key in keys if table.get(key) in (None, "", [], {})] == []
    assert table["source"]
    json.dumps(table, allow_nan=False)


def _lines() -> list[str]:
    return [f"{name} {example}" for name in SUMS for example in find_sum(name).examples]


@pytest.mark.parametrize("line", _lines())
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_every_example_has_an_answer_in_both_units(line: str, units: str) -> None:
    told = answer(line).lines(units)
    assert told
    for words, value in told:
        assert words
        assert value.strip()
        assert value.isascii()


def _numbers(value: Any) -> list[float]:
    if isinstance(value, dict):
        return [one for part in value.values() for one in _numbers(part)]
    if isinstance(value, list):
        return [one for part in value for one in _numbers(part)]
    return [value] if isinstance(value, float) else []


@pytest.mark.parametrize("line", _lines())
def test_every_number_of_a_machine_is_finite(line: str) -> None:
    assert all(math.isfinite(one) for one in _numbers(figures(line)))


@pytest.mark.parametrize("name", SUMS)
def test_what_a_screen_steps_through_can_be_read(name: str) -> None:
    one = find_sum(name)
    for field in one.fields:
        if field.kind == "flag":
            continue
        for text in (*field.usual, *((field.default,) if field.default else ())):
            READERS[field.kind](text, field.choices)
        assert LIKE[field.kind](field.choices)


def test_every_sum_says_what_it_does_and_shows_an_example() -> None:
    for name, (_, says) in SUMS.items():
        one = find_sum(name)
        assert one.name == name
        assert says
        assert one.says.endswith(".")
        assert shlex.split(one.examples[0])
        assert len({field.name for field in one.fields}) == len(one.fields)


def test_every_way_of_showing_is_a_figure_with_its_unit() -> None:
    for name, show in SHOWN.items():
        for units in ("mm", "inch"):
            assert any(sign.isdigit() for sign in show(123.4, units)), name
