"""Reading recipes: all problems at once, and nothing that any bytes can break."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from forgelog.recipe.read import MOST_PROBLEMS, read_recipe
from forgelog.recipe.resolve import ResolveError, resolve
from forgelog.recipe.syntax import LARGEST_BYTES
from tests.recipe.test_prose import is_harmless

RECIPES = Path(__file__).parent.parent.parent / "recipes"
GOOD = [path.read_bytes() for path in sorted(RECIPES.glob("*.toml"))]

HOOK = """\
format = 1
id = "hook"
name = "Hook"

[[component]]
id = "hook"
name = "hook"
stock = { section = "12 mm square", cut = "300 mm" }

  [[component.step]]
  do = "draw the point"
  heats = { hand = 2 }
"""


@given(st.binary())
def test_any_bytes_give_a_report_and_no_fault(data: bytes) -> None:
    check(data)


@given(st.text())
def test_any_text_gives_a_report_and_no_fault(text: str) -> None:
    check(text.encode("utf-8", "surrogatepass"))


@settings(max_examples=60)
@given(st.integers(0, len(GOOD) - 1), st.data())
def test_a_recipe_that_was_damaged_gives_a_report_and_no_fault(
    which: int, data: st.DataObject
) -> None:
    text = bytearray(GOOD[which])
    for _ in range(data.draw(st.integers(1, 5))):
        place = data.draw(st.integers(0, len(text) - 1))
        cut = data.draw(st.integers(0, 20))
        text[place : place + cut] = data.draw(st.sampled_from(DAMAGE) | st.binary(max_size=4))
    check(bytes(text))


DAMAGE = [
    *(b"[", b"]", b"{", b"}", b'"', b"'", b"=", b"\n", b"#", b'"""', b"\\", b",", b".", b"\r"),
    *(b"nan", b"-1", b"9" * 25, b"1979-05-27", b"true", b"[[component]]\n", b"a.b.c = 1\n"),
    *(b"\\u202e", b"\x1b", b"\xff", b"\0", b"{post", b"{", b" - ", b"/ 0", b"mm", b"[/]"),
    *(b"\ncycles = 3\n", b"\nkind = 'rest'\n", b"[component.stock]\n", b"times = 200, "),
]


def check(data: bytes) -> None:
    """A report that is sound in itself; and what is read without an error can be resolved."""
    recipe, problems = read_recipe(data, "x.toml")
    last = data.count(b"\n") + 1
    lines = [problem.line or 0 for problem in problems]
    assert lines == sorted(lines)
    assert all(line <= last for line in lines)
    for problem in problems:
        assert problem.found
        assert all(is_harmless(row) for row in problem.text.split("\n"))
    assert (recipe is None) == any(problem.severity == "error" for problem in problems)
    if recipe is not None:
        resolve(recipe)


def test_a_size_that_cannot_be_read_is_reported_once_and_not_where_it_is_used() -> None:
    text = HOOK.replace("[[component]]", '[sizes.post]\ndefault = "wide"\n\n[[component]]')
    text = text.replace('"300 mm"', '"post + 10 mm"') + '  says = "Mark {post / 2}."\n'
    _, (problem,) = read_recipe(text.encode(), "x")
    assert problem.line == 6


@pytest.mark.parametrize("good", GOOD, ids=range(len(GOOD)))
def test_the_recipes_that_come_along_have_neither_errors_nor_doubts(good: bytes) -> None:
    recipe, problems = read_recipe(good, "x.toml")
    assert problems == ()
    assert recipe is not None


def test_one_error_never_hides_another() -> None:
    text = HOOK.replace('"Hook"', "7").replace("hand = 2", 'hand = "two", hnd = 1')
    text = text.replace('"12 mm square"', '"12 mm sqare"').replace('"300 mm"', '"300"')
    text += '  watch = "At {pots}"\n  cautions = ["eys"]\n'
    recipe, problems = read_recipe(text.encode(), "x.toml")
    assert recipe is None
    assert [problem.line for problem in problems] == [3, 8, 8, 12, 12, 13, 14]


def test_a_problem_is_told_with_file_line_place_source_and_hint() -> None:
    text = HOOK.replace("hand = 2", "hnad = 2, hand = 2")
    _, (problem,) = read_recipe(text.encode(), "recipes/hook.toml")
    assert problem.text == (
        'recipes/hook.toml:12: hook, step 1 "draw the point": heats.hnad is no key that is '
        "known here\n    heats = { hnad = 2, hand = 2 }\n"
        '    did you mean "hand"?'
    )


def test_every_kind_of_line_end_gives_the_same_lines() -> None:
    text = HOOK.replace("hand = 2", "hand = 99")
    _, (problem,) = read_recipe(text.encode(), "x")
    _, (other,) = read_recipe(text.replace("\n", "\r\n").encode(), "x")
    assert problem == other
    assert problem.line == 12


def test_broken_lines_are_passed_over_to_find_the_next_fault() -> None:
    text = HOOK.replace('"Hook"', "Hook").replace("hand = 2", "hand = 99")
    _, problems = read_recipe(text.encode(), "x")
    assert [problem.line for problem in problems] == [3, 12]


def test_a_file_that_is_too_large_is_not_read() -> None:
    _, (problem,) = read_recipe(b"#" * (LARGEST_BYTES + 1), "x")
    assert "at most 256 KiB" in problem.text
    assert len(read_recipe(HOOK.encode().ljust(LARGEST_BYTES, b"\n"), "x")[1]) == 0


def test_a_report_is_never_endless() -> None:
    _, problems = read_recipe(HOOK.encode() + b"# \xe2\x80\xae\n" * 20_000, "x")
    assert len(problems) == MOST_PROBLEMS + 1
    assert problems[-1].found == f"there are {20_000 - MOST_PROBLEMS} more problems"
    assert problems[-1].severity == "error"


@pytest.mark.parametrize("deep", ["x = " + "[" * 100_000, "x = " + "{a = " * 40_000, "a." * 90_000])
def test_endless_nesting_is_refused_with_its_line(deep: str) -> None:
    _, (problem,) = read_recipe(f"{HOOK}{deep}".encode(), "x")
    assert problem.line == 13
    assert "deep" in problem.found


def test_markup_of_the_screen_is_plain_text_in_a_recipe() -> None:
    text = HOOK.replace('"Hook"', '"[/] [@click=app.quit]hook[/]"')
    recipe, problems = read_recipe(text.encode(), "x")
    assert problems == ()
    assert recipe is not None
    assert resolve(recipe).name == "[/] [@click=app.quit]hook[/]"


def test_a_recipe_with_an_error_cannot_be_resolved_by_way_of_the_model() -> None:
    recipe, _ = read_recipe(HOOK.encode(), "x")
    assert recipe is not None
    broken = msgspec.structs.replace(recipe, component=[])
    with pytest.raises(ResolveError, match="component is missing"):
        resolve(broken)
