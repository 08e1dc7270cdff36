"""Suggestions: made on honest evidence, silent without, and never again once declined."""

from __future__ import annotations

import math
from typing import Any

import msgspec
import pytest

from forgelog.learn.rows import Rows, SpoiltRow, StepRow
from forgelog.learn.suggest import Grounds, Suggestion, suggest
from forgelog.learn.suggest_other import chance_of_more
from forgelog.recipe.resolved import Recipe, Stock
from forgelog.trade.sections import parse_section
from forgelog.work.facts import HeatsCorrected, RestEnded
from forgelog.work.state import CutRecord, SuggestionAnswer
from tests.learn.shop import LEFT, RECIPE, Shop

BAR = parse_section("20 x 6 mm flat")


@pytest.fixture(scope="module")
def rows() -> Rows:
    """One strap, drawn in three heats, its rest cut short."""
    from forgelog.learn.row_making import make_rows

    shop = Shop()
    shop.open_order()
    shop.forge(LEFT, "draw", 3)
    shop.rest(LEFT, "black")
    shop.press(20.0, RestEnded(workpiece=LEFT, step="black", rested_s=20.0, verdict="short"))
    shop.press(1.0, HeatsCorrected(workpiece=LEFT, step="draw", heats=3))
    return make_rows(shop.state)


def _pieces(rows: Rows, heats: list[int], **changes: Any) -> list[StepRow]:
    """Straps of one order, each drawn in so many heats."""
    row = msgspec.structs.replace(rows.steps[0], corrected=False)
    return [
        msgspec.structs.replace(
            row, workpiece=f"o1/strap/{n}", heats=taken, run=n, ended_s=1e6 + n, **changes
        )
        for n, taken in enumerate(heats, 1)
    ]


def _grounds(**fields: Any) -> Grounds:
    return Grounds(recipes={RECIPE.id: RECIPE}, **fields)


def _of(what: str, grounds: Grounds) -> list[Suggestion]:
    return [one for one in suggest(grounds) if one.what == what]


# Planned heats


def test_another_plan_is_suggested_with_its_pieces_its_range_and_its_line(rows: Rows) -> None:
    grounds = _grounds(steps=_pieces(rows, [6, 5, 5, 5, 5, 5, 5]))
    (one,) = _of("heats", grounds)
    assert one.id == "heats/test-piece/strap/draw/hand"
    assert one.words == "plan 5 heats, not 3, for strap: draw the tail by hand"
    assert one.evidence.startswith("7 pieces of yours; the next takes ")
    assert one.toml == "heats = { hand = 5, power = 1 }"
    assert (one.heats, one.planned) == (5, 3)


@pytest.mark.parametrize("heats", [[5, 5], [3, 3, 3, 3], [3, 4, 3, 3], [2, 6, 2, 6]])
def test_few_pieces_or_pieces_near_the_plan_or_all_over_suggest_nothing(
    rows: Rows, heats: list[int]
) -> None:
    assert _of("heats", _grounds(steps=_pieces(rows, heats))) == []


def test_what_was_declined_is_never_made_again(rows: Rows) -> None:
    steps = _pieces(rows, [6, 5, 5, 5, 5])
    no = SuggestionAnswer(suggestion="heats/test-piece/strap/draw/hand", accepted=False)
    assert _of("heats", _grounds(steps=steps, answers={no.suggestion: no})) == []
    many = _pieces(rows, [8] * 12)
    assert _of("heats", _grounds(steps=many, answers={no.suggestion: no})) == []


def test_what_was_taken_up_is_made_again_only_when_its_figure_no_longer_holds(rows: Rows) -> None:
    yes = SuggestionAnswer(
        suggestion="heats/test-piece/strap/draw/hand",
        accepted=True,
        what="heats",
        recipe="test-piece",
        component="strap",
        step="draw",
        method="hand",
        heats=5,
    )
    answers = {yes.suggestion: yes}
    assert _of("heats", _grounds(steps=_pieces(rows, [6, 5, 5, 5, 5]), answers=answers)) == []
    (again,) = _of("heats", _grounds(steps=_pieces(rows, [8] * 12), answers=answers))
    assert again.words.startswith("plan 8 heats, not 5,")


# Rests


def _rests(
    rows: Rows, short: int, kept: int, cracked: tuple[int, ...]
) -> tuple[list[Any], list[SpoiltRow]]:
    (rest,) = rows.rests
    rests = [
        msgspec.structs.replace(
            rest,
            workpiece=f"o1/strap/{n}",
            verdict="short" if n <= short else "kept",
            started_s=1e6 + n,
        )
        for n in range(1, short + kept + 1)
    ]
    shared = {f: getattr(rest, f) for f in SpoiltRow.__struct_fields__ if hasattr(rest, f)}
    own: dict[str, Any] = {
        "kind": "cracked",
        "why": "",
        "heat": 0,
        "method": "hand",
        "lost_mm": None,
        "spoilt": 1,
        "remade": 0,
        "remade_as": "",
        "at_s": 2e6,
    }
    spoilt = [SpoiltRow(**{**shared, **own, "workpiece": f"o1/strap/{n}"}) for n in cracked]
    return rests, spoilt


def test_a_rest_often_short_is_told_with_what_came_of_it_and_that_it_is_too_few(
    rows: Rows,
) -> None:
    rests, spoilt = _rests(rows, 3, 5, (2,))
    (one,) = _of("rest", _grounds(rests=rests, spoilt=spoilt))
    assert one.words == "strap: rest: this rest was short on 3 of 8, after draw the tail"
    assert one.evidence == (
        "of those 1 of 3 cracked or were scrapped afterwards; of the others 0 of 5 - too few to say"
    )
    assert one.heats is None


def test_many_cracks_after_short_rests_alone_do_say_something(rows: Rows) -> None:
    rests, spoilt = _rests(rows, 5, 9, (1, 2, 3, 4))
    (one,) = _of("rest", _grounds(rests=rests, spoilt=spoilt))
    assert one.evidence.endswith("that speaks for the rest")


@pytest.mark.parametrize(("short", "kept"), [(1, 9), (2, 1), (0, 12)])
def test_a_rest_that_is_seldom_short_is_left_in_peace(rows: Rows, short: int, kept: int) -> None:
    rests, spoilt = _rests(rows, short, kept, ())
    assert _of("rest", _grounds(rests=rests, spoilt=spoilt)) == []


def test_the_exact_chance_is_that_of_counting_all_ways() -> None:
    assert chance_of_more(1, 3, 0, 5) == pytest.approx(3 / 8)
    assert chance_of_more(3, 3, 0, 3) == pytest.approx(1 / math.comb(6, 3))
    assert chance_of_more(0, 3, 2, 5) == pytest.approx(1.0)


# Cut lengths


def _stocked(cut_mm: float | None = None) -> Recipe:
    stock = Stock(section=BAR, volume_mm3=1e4, sum_mm=115.0, cut_mm=cut_mm)
    strap = msgspec.structs.replace(RECIPE.components[0], stock=stock)
    return msgspec.structs.replace(RECIPE, components=(strap, RECIPE.components[1]))


def _cut(cut_mm: float, over_mm: float) -> CutRecord:
    return CutRecord(
        recipe="test-piece", component="strap", cut_mm=cut_mm, over_mm=over_mm, section=BAR
    )


def test_a_piece_that_came_out_short_suggests_the_longer_cut(rows: Rows) -> None:
    grounds = Grounds(recipes={"test-piece": _stocked()}, cuts=[_cut(115.0, -6.0)])
    (one,) = _of("cut", grounds)
    assert one.words == "strap came out 6 mm short: try 121 mm"
    assert one.toml == 'cut = "121 mm"'


@pytest.mark.parametrize(
    ("recipe", "cut"),
    [
        (_stocked(), _cut(115.0, 0.4)),
        (_stocked(121.0), _cut(115.0, -6.0)),
        (
            _stocked(),
            msgspec.structs.replace(_cut(115.0, -6.0), section=parse_section("12 mm square")),
        ),
    ],
)
def test_a_length_that_is_right_or_written_already_or_of_another_bar_suggests_nothing(
    recipe: Recipe, cut: CutRecord
) -> None:
    assert _of("cut", Grounds(recipes={"test-piece": recipe}, cuts=[cut])) == []


# What is told afterwards, and first pieces


def test_a_step_whose_heats_are_always_told_afterwards_is_named(rows: Rows) -> None:
    steps = _pieces(rows, [3] * 5)
    told = [msgspec.structs.replace(row, corrected=n != 2) for n, row in enumerate(steps)]
    (one,) = _of("corrected", _grounds(steps=told))
    assert one.evidence == "on 4 of 5 of the last pieces"
    assert _of("corrected", _grounds(steps=steps)) == []


def test_the_extra_of_first_pieces_is_told_once_it_is_sure(rows: Rows) -> None:
    sets = [
        msgspec.structs.replace(row, ended_s=1e6 + 10 * n + row.run)
        for n in range(6)
        for row in _pieces(rows, [6, 4, 3, 3])
    ]
    (one,) = _of("first", _grounds(steps=sets))
    assert "times the heats of the fifth" in one.words
    assert one.evidence == "6 first pieces at a step and 18 later ones"
    even = [msgspec.structs.replace(row, heats=3) for row in sets]
    assert _of("first", _grounds(steps=even)) == []
