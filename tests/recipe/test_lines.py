"""Lines of keys: against the standard reader, and on any text at all."""

from __future__ import annotations

import tomllib
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from forgelog.recipe.lines import scan_lines
from forgelog.recipe.problems import DEEPEST
from tests.properties.strategies import TomlText, toml_texts


def paths_of(value: Any, path: tuple[str | int, ...] = ()) -> set[tuple[str | int, ...]]:
    """Every path to a key, table or element of what the standard reader gives."""
    found = {path} if path else set()
    if isinstance(value, dict):
        for key, inner in value.items():
            found |= paths_of(inner, (*path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            found |= paths_of(inner, (*path, number))
    return found


@given(toml_texts())
def test_every_key_has_the_line_on_which_it_was_written(toml: TomlText) -> None:
    table = tomllib.loads(toml.text)
    layout = scan_lines(toml.text)
    assert layout.lines == toml.lines
    assert set(layout.lines) == paths_of(table)


@given(toml_texts(), st.data())
def test_broken_text_is_scanned_without_a_fault(toml: TomlText, data: st.DataObject) -> None:
    text = toml.text
    for _ in range(data.draw(st.integers(1, 4))):
        place = data.draw(st.integers(0, len(text)))
        text = (
            text[:place] + data.draw(st.text("[]{}\"'\n\\=.,# k1", max_size=4)) + text[place + 1 :]
        )
    check_any(text)


@given(st.text())
def test_any_text_is_scanned_without_a_fault(text: str) -> None:
    check_any(text)


@given(st.text("[]{}\"'\n=.,# k1\\", max_size=60))
def test_any_heap_of_toml_signs_is_scanned_without_a_fault(text: str) -> None:
    check_any(text)


def check_any(text: str) -> None:
    layout = scan_lines(text)
    last = text.count("\n") + 1
    assert all(1 <= line <= last for line in layout.lines.values())
    assert all(1 <= first <= end <= last for first, end in layout.statements)


def test_nesting_beyond_the_limit_ends_the_scan_with_its_line() -> None:
    keys = ".".join("a" * 50)
    for deep in ("x = " + "[" * 50, "x = " + "{a=" * 50, f"{keys} = 1", f"[{keys}]", f"[[{keys}"):
        layout = scan_lines(f"first = 1\n{deep}")
        assert layout.lines[("first",)] == 1
        assert layout.too_deep == 2
    inside = f"x = {'[' * (DEEPEST - 2)}1{']' * (DEEPEST - 2)}"
    assert scan_lines(inside).too_deep is None


def test_a_path_without_a_line_has_that_of_what_holds_it() -> None:
    layout = scan_lines('\n[[component]]\nid = "a"\n\n  [[component.step]]\n  do = "x"\n')
    assert layout.line_of(("component", 0, "step", 0, "heats", "hand")) == 5
    assert layout.line_of(("component", 0, "id")) == 3
    assert layout.line_of(("nothing",)) is None


def test_a_recipe_is_scanned_to_its_last_gauge() -> None:
    text = (
        'id = "a"\n[[component]]\nform = [\n  { solid = "round" }, # one\n'
        '  { solid = "ball", across = "3 mm" },\n]\n[component.stock]\nsection = "x"\n'
        "[[component.step]]\ngauge = [{ what = '''a\nb''', size = \"1 mm\" }]\nheats.hand = 2\n"
    )
    lines = scan_lines(text).lines
    assert lines[("component", 0, "form", 1, "across")] == 5
    assert lines[("component", 0, "stock", "section")] == 8
    assert lines[("component", 0, "step", 0, "gauge", 0, "size")] == 11
    assert lines[("component", 0, "step", 0, "heats", "hand")] == 12
