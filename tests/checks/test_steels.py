"""Critical temperatures, tempering, hot size and colours against their sources."""

from __future__ import annotations

import pytest

from forgelog.trade import critical
from forgelog.trade.colours import HEAT_COLOURS, SPREADS, heat_look, heat_words, temper_words
from forgelog.trade.hot import cold_mm, elongation, hot_mm
from forgelog.trade.steel_heat import conductivity, enthalpy, specific_heat
from forgelog.trade.steels import grade, temper_hrc

ANALYSES = {
    "1018": {"C": 0.18, "Mn": 0.75, "Si": 0.2, "P": 0.02},
    "1045": {"C": 0.46, "Mn": 0.75, "Si": 0.25, "P": 0.02},
    "C45": {"C": 0.45, "Mn": 0.65, "Si": 0.25, "P": 0.02},
    "4140": {"C": 0.40, "Mn": 0.88, "Si": 0.25, "Cr": 0.95, "Mo": 0.2, "P": 0.02},
    "5160": {"C": 0.60, "Mn": 0.88, "Si": 0.22, "Cr": 0.8, "P": 0.02},
    "51CrV4": {"C": 0.51, "Mn": 0.9, "Si": 0.25, "Cr": 1.05, "V": 0.15, "P": 0.02},
    "mild": {"C": 0.12, "Mn": 0.55, "Si": 0.2, "P": 0.02},
}

# K. W. Andrews, J. Iron Steel Inst. 203 (1965) 721: Ac1, Ac3 short, Ac3 long, Ms linear
ANDREWS = {
    "1018": (720.8, 832.8, 824.3, 440.1),
    "1045": (722.2, 783.5, 775.0, 321.6),
    "C45": (723.3, 785.0, 779.5, 328.9),
    "4140": (736.9, 799.1, 776.2, 330.1),
    "5160": (733.5, 762.6, 741.4, 248.8),
    "51CrV4": (738.4, 791.8, 767.3, 283.2),
}

# R. A. Grange, Metal Progress, April 1961, 73, turned into degC
GRANGE = {
    "mild": (719.6, 834.2),
    "1018": (716.8, 820.6),
    "1045": (717.9, 772.6),
    "C45": (719.3, 775.8),
    "4140": (738.3, 780.0),
    "5160": (734.1, 743.0),
    "51CrV4": (740.3, 759.8),
}

# IIW; EN 1011-2
EQUIVALENTS = {"mild": 0.212, "1018": 0.305, "1045": 0.585, "C45": 0.558, "5160": 0.907}


@pytest.mark.parametrize(("name", "row"), ANDREWS.items())
def test_critical_temperatures_by_andrews(name: str, row: tuple[float, ...]) -> None:
    analysis = ANALYSES[name]
    found = (
        critical.andrews_ac1(analysis),
        critical.andrews_ac3(analysis),
        critical.andrews_ac3_long(analysis),
        critical.martensite_start(analysis),
    )
    assert found == pytest.approx(row, abs=0.1)


@pytest.mark.parametrize(("name", "row"), GRANGE.items())
def test_critical_temperatures_by_grange(name: str, row: tuple[float, float]) -> None:
    analysis = ANALYSES[name]
    found = (critical.grange_ac1(analysis), critical.grange_ac3(analysis))
    assert found == pytest.approx(row, abs=0.1)


@pytest.mark.parametrize(("name", "percent"), EQUIVALENTS.items())
def test_the_carbon_equivalent(name: str, percent: float) -> None:
    assert critical.carbon_equivalent(ANALYSES[name]) == pytest.approx(percent, abs=0.001)


def test_the_middling_analyses_of_the_table_are_those_of_the_checks() -> None:
    for name, analysis in ANALYSES.items():
        assert grade(name).nominal == analysis


# Hollomon and Jaffe, constant 20: degC, hours, parameter in thousands
@pytest.mark.parametrize(
    ("degc", "hours", "parameter"),
    [
        (200, 2, 9.6054),
        (250, 2, 10.6205),
        (300, 1, 11.463),
        (550, 1, 16.463),
        (600, 2, 17.7258),
    ],
)
def test_the_parameter_of_a_temper(degc: float, hours: float, parameter: float) -> None:
    assert critical.temper_parameter(degc, hours * 3600) == pytest.approx(parameter, abs=0.001)


def test_tempers_that_go_as_far() -> None:
    # 2 h at 200 are as 1 h at 207.12; two of 1 h at 205 are as one of 1 h at 212.2
    assert critical.same_temper_degc(200, 7200, 3600) == pytest.approx(207.12, abs=0.05)
    assert critical.same_temper_degc(205, 7200, 3600) == pytest.approx(212.2, abs=0.05)


# stockist data sheets and ASM rows, HRC; a sheet is a guide, so 1 HRC
@pytest.mark.parametrize(
    ("name", "degc", "low", "high"),
    [
        ("O1", 205, 62, 62),
        ("O1", 260, 59, 60),
        ("O1", 480, 44, 47),
        ("1095", 260, 57, 60),
        ("1095", 315, 52, 56),
        ("1080", 205, 57, 57),
        ("5160", 425, 45, 45),
    ],
)
def test_hardness_after_a_temper(name: str, degc: float, low: float, high: float) -> None:
    found = temper_hrc(grade(name), degc)
    assert found is not None
    assert (found.low, found.high) == pytest.approx((low, high), abs=1.0)


# EN 1993-1-2:2005 3.4.1.1
@pytest.mark.parametrize(
    ("degc", "share"),
    [
        (20, 0.0),
        (100, 0.0009984),
        (300, 0.0037184),
        (500, 0.0067584),
        (749, 0.0109904),
        (860, 0.011),
        (900, 0.0118),
        (1200, 0.0178),
    ],
)
def test_how_much_longer_hot_steel_is(degc: float, share: float) -> None:
    assert elongation(degc) == pytest.approx(share, abs=1e-7)


def test_a_size_gauged_hot_is_smaller_cold() -> None:
    # EN 1993-1-2 3.4.1.1 gives 13.8 per mille at 1000 degC: 300 x 0.0138 / 1.0138 = 4.084 mm
    assert 300 - cold_mm(300, 1000) == pytest.approx(4.084, abs=0.01)
    assert cold_mm(300, 900) == pytest.approx(296.5, abs=0.05)
    assert cold_mm(300, 1150) == pytest.approx(295, abs=0.1)
    assert hot_mm(cold_mm(212.5, 1100), 1100) == pytest.approx(212.5)


# EN 1993-1-2:2005 3.4.1.2 and 3.4.1.3
@pytest.mark.parametrize(
    ("degc", "joules"),
    [
        (100, 487.62),
        (200, 529.76),
        (300, 564.74),
        (550, 708.277),
        (650, 813.75),
        (720, 1388.333),
        (734, 3916.5),
        (740, 2525.0),
        (760, 1159.483),
        (850, 694.748),
        (1200, 650.0),
    ],
)
def test_specific_heat(degc: float, joules: float) -> None:
    assert specific_heat(degc) == pytest.approx(joules, abs=0.002)


@pytest.mark.parametrize(
    ("degc", "watts"), [(20, 53.334), (300, 44.01), (700, 30.69), (799.9, 27.363)]
)
def test_conductivity(degc: float, watts: float) -> None:
    assert conductivity(degc) == pytest.approx(watts, abs=0.001)


# the integral of the above, kJ/kg
@pytest.mark.parametrize(
    ("low", "high", "kilojoules"),
    [(20, 900, 632.064), (20, 1000, 697.064), (20, 1200, 827.064), (700, 760, 105.248)],
)
def test_heat_in_steel(low: float, high: float, kilojoules: float) -> None:
    assert (enthalpy(high) - enthalpy(low)) / 1000 == pytest.approx(kilojoules, abs=0.01)


# Chapman, Workshop Technology 1 (1972), degC; our word in place of cherry red and the like
@pytest.mark.parametrize(
    ("word", "low", "high"),
    [
        ("black red", 426, 593),
        ("very dark red", 594, 704),
        ("dark red", 705, 814),
        ("red", 815, 870),
        ("bright red", 871, 981),
        ("orange", 982, 1092),
        ("yellow", 1093, 1258),
        ("light yellow", 1259, 1314),
        ("white", 1315, 1400),
    ],
)
def test_heat_colours_of_one_table(word: str, low: float, high: float) -> None:
    assert heat_look(low + 1).word == word
    assert heat_look(high - 1).word == word


def test_a_heat_is_shown_as_a_span_of_words() -> None:
    assert heat_words(1100) == "orange to yellow"
    assert heat_words(1150) == "yellow"
    assert heat_words(400) == "no colour"
    assert heat_words(500) == "black red"
    assert heat_words(500, "day") == "no colour"
    assert heat_words(1450) == "white"


def test_every_table_lies_inside_the_spread_of_its_word() -> None:
    # Pouillet: dull red 699, cherry 900, deep orange 1100; Taylor and White: yellow 996, white 1204
    for word, degc in (("dark red", 699), ("red", 900), ("orange", 1100), ("yellow", 996)):
        low, high = SPREADS[word]
        assert low <= degc <= high
    for look in HEAT_COLOURS:
        if look.word in SPREADS and look.word != "white":
            low, high = SPREADS[look.word]
            assert low <= look.low_degc + 1
            assert look.high_degc - 1 <= high


# Colvin and Juthe, The Working of Steel (1922), printed averages; the British workshop sequence
@pytest.mark.parametrize(
    ("degc", "word"),
    [
        (221.1, "faint yellow"),
        (236.7, "light straw"),
        (247.8, "dark straw"),
        (260, "brown purple"),
        (272.8, "purple"),
        (288.3, "dark purple"),
        (300, "blue"),
        (150, "none"),
        (420, "grey"),
    ],
)
def test_temper_colours(degc: float, word: str) -> None:
    assert word in temper_words(degc)
