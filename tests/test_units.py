"""Quantities as smiths write and read them."""

from __future__ import annotations

import pytest

from forgelog.units import (
    UnitError,
    UnitSystem,
    parse_length,
    parse_mass,
    parse_quantity,
    parse_temperature,
    parse_time,
    scan_quantity,
    show_clock,
    show_length,
    show_mass,
    show_temperature,
    show_time,
    tidy,
    write_length,
)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12 mm", 12.0),
        ("12mm", 12.0),
        ("12.5 MM", 12.5),
        (".5 mm", 0.5),
        ("10 cm", 100.0),
        ("1.5 m", 1500.0),
        ("1 m 20 cm", 1200.0),
        ("1/2 in", 12.7),
        ("1 1/8 in", 28.575),
        ("1-1/8 in", 28.575),
        ("1  1/8 inches", 28.575),
        ("9/8 in", 28.575),
        ('3/8"', 9.525),
        ("3/8''", 9.525),
        ("3/8″", 9.525),
        ("½ in", 12.7),
        ("1¼ in", 31.75),
        ("2 ft", 609.6),
        ("2 ft 3 1/2 in", 698.5),
        ("2'3-1/2\"", 698.5),
        ("2\u00a0ft 3½ in", 698.5),
    ],
)
def test_lengths_as_smiths_write_them_are_read(text: str, mm: float) -> None:
    assert parse_length(text) == mm


@pytest.mark.parametrize(
    ("text", "degc"),
    [
        ("950 degC", 950.0),
        ("950°C", 950.0),
        ("950 deg C", 950.0),
        ("950 deg. c", 950.0),
        ("950 ℃", 950.0),
        ("1000.4 degF", 538.0),
        ("1500 °F", pytest.approx(815.5556, abs=1e-4)),
        ("-40 degF", -40.0),
        ("−5 degC", -5.0),
        ("0 degC", 0.0),
    ],
)
def test_temperatures_are_read(text: str, degc: float) -> None:
    assert parse_temperature(text) == degc


@pytest.mark.parametrize(
    ("text", "seconds"),
    [("35 s", 35), ("90 sec", 90), ("1 min 30 s", 90), ("10 minutes", 600), ("1 h 20 min", 4800)],
)
def test_times_are_read(text: str, seconds: float) -> None:
    assert parse_time(text) == seconds


@pytest.mark.parametrize(
    ("text", "kg"), [("1.2 kg", 1.2), ("350 g", 0.35), ("1 lb", 0.45359237), ("8 oz", 0.226796185)]
)
def test_masses_are_read(text: str, kg: float) -> None:
    assert parse_mass(text) == kg


@pytest.mark.parametrize(
    ("text", "problem", "hint"),
    [
        ("12", "has no unit", "12 mm"),
        ("1 1/8", "has no unit", "1 1/8 in"),
        ("", "is empty", ""),
        ("mm", "has no number", ""),
        ("nan mm", "has no number", ""),
        ("inf mm", "has no number", ""),
        ("12,5 mm", "has a comma", "12.5 mm"),
        ("12 mmm", 'has "mmm", which is no unit here', "12 mm"),
        ("12 imch", 'has "imch", which is no unit here', "12 in"),
        ("12 M", 'has "M", which is no unit here', "12 m"),
        ("10 min", "is a time", ""),
        ("1 - 1/8 in", "looks like a range", ""),
        ("10-12 mm", "looks like a range", ""),
        ("1 9/8 in", "has a whole or more in its fraction", ""),
        ("1/0 in", "divides by nothing", ""),
        ("12 mm square", 'goes on with "square"', ""),
        ("3 in 2 ft", "has units that do not go on from great to small", ""),
        ("2 ft 20 mm", "has units that do not go on from great to small", ""),
        ("-3 mm", "is below nothing", ""),
        ("1e3 mm", 'has "e", which is no unit here', ""),
        ("١٢ mm", "has figures that are not 0 to 9", ""),
        ("1٢ mm", "has figures that are not 0 to 9", ""),
        ("99999999999 mm", "is more than any shop can mean", ""),
    ],
)
def test_a_length_that_is_none_is_refused_in_plain_words(
    text: str, problem: str, hint: str
) -> None:
    with pytest.raises(UnitError) as caught:
        parse_length(text)
    assert caught.value.problem == problem
    assert caught.value.hint == hint
    assert caught.value.found == text
    assert caught.value.expected in str(caught.value)


@pytest.mark.parametrize(
    ("text", "hint"), [("950 C", "950 degC"), ("1750F", "1750 degF"), ("-5 C", "-5 degC")]
)
def test_a_bare_letter_is_no_temperature_unit(text: str, hint: str) -> None:
    with pytest.raises(UnitError, match="not clear") as caught:
        parse_temperature(text)
    assert caught.value.hint == hint


def test_a_metre_where_minutes_were_meant_is_pointed_out() -> None:
    with pytest.raises(UnitError, match="is a length") as caught:
        parse_time("10 m")
    assert caught.value.hint == "10 min"


def test_a_clock_time_is_asked_about() -> None:
    with pytest.raises(UnitError, match="minutes or hours") as caught:
        parse_time("2:50")
    assert caught.value.hint == "2 min 50 s"


def test_a_comma_that_can_mean_two_things_is_not_guessed_at() -> None:
    with pytest.raises(UnitError) as caught:
        parse_length("1,250 mm")
    assert '"1250 mm" or "1.250 mm"' in caught.value.expected


def test_nothing_is_colder_than_absolute_zero() -> None:
    with pytest.raises(UnitError, match="colder") as caught:
        parse_temperature("-300 degC")
    assert caught.value.found == "-300 degC"


def test_a_long_or_a_poisoned_text_is_cut_and_made_visible_in_the_error() -> None:
    with pytest.raises(UnitError, match="longer than 60") as caught:
        parse_length("12 " + "m" * 5000)
    assert len(str(caught.value)) < 200
    with pytest.raises(UnitError) as caught:
        parse_length("12 \x1b[31m")
    assert "\x1b" not in str(caught.value)


def test_any_quantity_says_its_kind() -> None:
    assert parse_quantity("1 1/8 in").kind == "length"
    assert parse_quantity("32 degF").value == 0.0
    assert parse_quantity("5 min").value == 300.0


def test_a_quantity_is_found_inside_a_sum() -> None:
    text = tidy("1-1/8 in + 3 mm")
    first = scan_quantity(text)
    assert first is not None
    assert (first[0].value, text[first[1] :]) == (28.575, " + 3 mm")
    second = scan_quantity(text, first[1] + 3)
    assert second is not None
    assert second[0].value == 3.0
    assert scan_quantity("post + 3 mm") is None
    assert scan_quantity("2 * post") is None


@pytest.mark.parametrize(
    ("mm", "metric", "inch"),
    [
        (12.0, "12 mm", "15/32 in"),
        (12.7, "12.5 mm", "1/2 in"),
        (28.575, "28.5 mm", "1 1/8 in"),
        (3.2, "3.2 mm", "1/8 in"),
        (300.0, "300 mm", "11 13/16 in"),
        (0.0, "0 mm", "0 in"),
        (0.01, "under 0.1 mm", "under 1/32 in"),
        (-3.0, "-3 mm", "-1/8 in"),
        (25.39, "25.5 mm", "1 in"),
    ],
)
def test_lengths_are_shown_as_a_rule_is_read(mm: float, metric: str, inch: str) -> None:
    assert show_length(mm) == metric
    assert show_length(mm, UnitSystem.INCH) == inch
    assert show_length(mm, "inch") == inch


def test_a_fine_length_is_shown_closer() -> None:
    assert show_length(11.85, fine=True) == "11.9 mm"
    assert show_length(28.0, "inch", fine=True) == "1 3/32 in"


def test_temperatures_times_and_masses_are_shown_in_round_figures() -> None:
    assert show_temperature(871.3) == "870 degC"
    assert show_temperature(871.3, "inch") == "1600 degF"
    assert [show_time(s) for s in (35, 60, 170, 840, 4800, 7200)] == [
        "35 s",
        "1 min",
        "2 min 50 s",
        "14 min",
        "1 h 20 min",
        "2 h",
    ]
    assert [show_clock(s) for s in (35, 170, 3725, -10)] == ["0:35", "2:50", "1:02:05", "-0:10"]
    assert [show_mass(kg) for kg in (0.35, 1.25, 14.2)] == ["350 g", "1.25 kg", "14.2 kg"]
    assert [show_mass(kg, "inch") for kg in (0.1559, 1.0, 0.9072)] == [
        "5 1/2 oz",
        "2 lb 3 oz",
        "2 lb",
    ]


def test_a_length_that_is_none_is_not_written() -> None:
    for mm in (-1.0, float("nan"), float("inf")):
        with pytest.raises(UnitError):
            write_length(mm)
