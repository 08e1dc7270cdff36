"""How the words of a command line are read, and refused in the smith's words."""

from __future__ import annotations

import pytest

from forgelog.desk.sums import find_sum
from forgelog.desk.sums.asking import CannotSum, ask, read_words
from tests.desk.sums.asked import figures


@pytest.mark.parametrize(
    "line",
    [
        'bar "12 mm square" --length "2 m"',
        "bar 12 mm square --length 2 m",
        'bar --length "2 m" "12 mm square"',
        "bar --length=2m 12mm square",
    ],
)
def test_words_that_belong_together_need_no_quotes(line: str) -> None:
    assert figures(line)["mass_kg"] == pytest.approx(2.2608)


def test_two_bare_things_are_told_apart_without_quotes() -> None:
    assert figures("becomes 20 mm square 100 mm --to 10 mm square")["length_mm"] == 400.0


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("bar 12 mm", 'did you mean "12 mm square"?'),
        ("bar", "bar wants section, the bar"),
        ("bar", "like: forgelog sums bar"),
        ("bar 12 mm square --lenght 2 m", 'did you mean "length"?'),
        ("bar 12 mm square --length 2", '"2" has no unit'),
        ("bar 12 mm square --length", "--length wants a length"),
        ("bar 12 mm square --length 2 m --length 3 m", "stands there twice"),
        ("hot 300 mm --at 900 degC --cold=yes", "takes no value"),
        ("cool 12 mm square --from 480 degC --to 850 degC", "the hotter is --from"),
        ("cool 12 mm square --from 850 degC --to 20 degC", "never comes to 20 degC"),
        ("cool 12 mm square --from 5000 degC --to 20 degC", "steel is worked"),
        ("cool 12 mm square --from 850 degC --to 480 degC --medium water", "still-air, draught"),
        ("heat 12 mm square --to 1300 degC --fire gas", "does not bring a bar to 1300"),
        ("thread M13", "or any size by its --pitch"),
        ("thread M4 --pitch 3 mm", "too coarse"),
        ("nut M6 --flats 13 mm --height 8 mm --galvanised", "below M8"),
        ("nut M12 --flats 25 mm --height 11 mm --punched --drilled", "not both"),
        ("ring 10 mm round", "give one of --inside"),
        ("ring 40 mm square --outside 30 mm", "too thick"),
        ("through M12 --thickest 90 mm --thinnest 100 mm", "thinnest place is thicker"),
        ("through M15x1 --thickest 90 mm", "give its height"),
        ("stock --from 12 mm square", "stock wants forms"),
        ("stock --solid brick --from 12 mm square", "is no form"),
        ("stock --recipe nowhere --component x", "there is no recipe"),
        ("stock --recipe gate-hinge-set --component pinle", 'did you mean "pintle"?'),
        ("stock --recipe gate-hinge-set --component pintle --size post", "is no size"),
        ("heats forge a dragon", "write it like"),
        ("heats draw 8 mm square to 12 mm square x 100 mm", "makes the section smaller"),
        ("steel unobtainium", "is no steel of the table"),
        ("steel Mn 0.5", "how much carbon"),
        ("steel C 0.4 C 0.5", "C stands there twice"),
        ("steel C 9", "the formulas end"),
        ("colour beige", "is no heat and no colour"),
        ("temper-colour 900 degC", "temper colours are told"),
        ("convert 5 mm --to kg", "does not turn into"),
        ("convert 5 smoots", "say what to turn"),
        ("convert 5 mm --to smoots", "is no unit"),
        ("convert 1/0 in --to mm", "divides by nothing"),
        ("gauge 14", "has no unit"),
        ("gauge #99", "number drills go from 1 to 80"),
        ("gauge 99 SWG", "SWG goes from 7/0 to 30"),
        ("fuel --for 3 h --burners 0.5", "1 to 20 burners"),
        ("upset 12 mm round --by hole 9 mm x 8 mm", "must be above 0"),
        ("weight 12 mm square", "--length or --mass"),
    ],
)
def test_what_cannot_be_is_refused_in_words_that_help(line: str, words: str) -> None:
    with pytest.raises(CannotSum) as caught:
        figures(line)
    assert words in str(caught.value)


def test_an_unknown_sum_says_which_is_near() -> None:
    with pytest.raises(CannotSum, match='did you mean "thread"'):
        find_sum("thred")


def test_american_spelling_finds_the_colours() -> None:
    assert find_sum("color").name == "colour"
    assert find_sum("temper_color").name == "temper-colour"


def test_more_words_than_any_sum_takes_are_refused_unread() -> None:
    one = find_sum("bar")
    with pytest.raises(CannotSum, match="so many words"):
        read_words(one, ["x"] * 100)


def test_a_flag_that_is_not_said_is_no() -> None:
    one = find_sum("hot")
    assert ask(one, {"size": ["300 mm"], "at": ["900 degC"]}).table["cold_mm"] < 300.0
