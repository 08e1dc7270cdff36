"""The demo's folder: made, made anew, gone on with, and never laid over anything else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import forgelog.desk.demo as demo_desk
from forgelog.__main__ import main
from forgelog.book.folders import is_practice_copy
from forgelog.book.settings import read_settings
from forgelog.desk.clock import FakeClock
from forgelog.desk.demo import demo_clock, demo_differs, demo_folder, lay_out_demo, make_demo
from forgelog.desk.errors import CannotDo
from forgelog.desk.home import home
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.review import review_view
from forgelog.desk.session import start
from forgelog.desk.shop import Shop, open_shop
from tests.desk import readme_review

LATE = 1_900_000_000.0
"""Long after the demo's past."""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FORGELOG_DEMO", str(tmp_path / "demo"))
    return tmp_path / "demo"


@pytest.fixture
def demo(folder: Path) -> Shop:
    lay_out_demo()
    return open_shop(folder)


def test_the_demo_lies_where_it_is_told_to(folder: Path, tmp_path: Path) -> None:
    assert demo_folder() == folder
    assert demo_folder(tmp_path / "other") == tmp_path / "other"


def test_without_a_word_it_lies_in_the_users_own_data(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("FORGELOG_DEMO", raising=False)
    assert demo_folder().parts[-2:] == ("forgelog", "demo")


def test_a_fresh_demo_is_a_practice_copy_with_recipes_and_no_fault(demo: Shop) -> None:
    assert demo.is_practice_copy
    assert len(demo.recipes) == 5
    assert all(file.recipe is not None for file in demo.recipes)
    assert demo.set_aside == ()
    assert read_settings(demo.book).problems == ()
    assert demo.state.troubles == ()


def test_home_shows_its_orders_needs_and_past_sessions(demo: Shop) -> None:
    shown = home(demo, FakeClock(LATE).stamp())
    assert shown.shop == "Demo shop (simulated)"
    assert shown.practice_copy
    assert len(shown.orders) == 3
    assert shown.resume is None
    assert {"tools", "rests", "heats"} <= {need.kind for need in shown.needs}
    assert "order" not in {need.kind for need in shown.needs}, "a recipe has moved: make-demo"
    assert len(shown.sessions) >= 20


def test_its_review_tells_one_thing_worth_knowing(demo: Shop) -> None:
    view = review_view(demo, clock=FakeClock(LATE))
    assert view.first.startswith("A normalising cycle was skipped: ")
    assert "hammer head" in view.first
    assert view.practice
    assert view.to_put_right


def test_the_readme_shows_what_the_review_of_the_demo_says(folder: Path) -> None:
    told = readme_review.fenced(readme_review.page(folder))
    assert readme_review.shown() == told, "python -m tests.desk.readme_review"


def test_what_the_simulated_smith_did_teaches_in_the_demo(demo: Shop) -> None:
    learnt = learnt_so_far(demo)
    assert learnt["leaf-coat-hooks", "hook", "draw-the-stem", "hand"].records >= 5


def test_every_open_order_can_be_taken_to_the_fire(demo: Shop) -> None:
    orders = [o.id for o in demo.state.orders.values() if o.closed is None]
    clock = demo_clock(demo, 20, FakeClock(LATE))
    session = start(demo, orders, clock=clock)
    try:
        assert session.view().practice == "PRACTICE x20"
        assert session.view().piece
        assert not re.search(r"\d{3} (min|h)\b", " ".join(session.view().next))
        session.press("tab")
    finally:
        assert session.close()
    assert len(open_shop(demo.book).files) > len(demo.files)


def test_what_the_tools_and_bars_say_fits_the_recipes(demo: Shop) -> None:
    asked = {
        tool.id
        for file in demo.recipes
        if file.recipe is not None
        for component in demo.resolved(file.recipe.id, {}).components
        for step in component.steps
        for tool in step.tools
    }
    owned = {name for tool in demo.settings.tools for name in tool.ids}
    assert asked == owned
    states = [tool.state for tool in demo.settings.tools]
    assert states.count("to be made") == 1
    assert states.count("to be repaired") == 1
    assert any(bar.offcut for bar in demo.settings.bars)


def test_a_demo_is_made_anew(folder: Path, demo: Shop) -> None:
    (folder / "recipes" / "mine.toml").write_text("x")
    assert "anew" in lay_out_demo().did
    assert not (folder / "recipes" / "mine.toml").exists()
    assert is_practice_copy(folder)
    assert open_shop(folder).state.orders.keys() == demo.state.orders.keys()


def test_with_keep_it_is_gone_on_with(folder: Path, demo: Shop) -> None:
    (folder / "recipes" / "mine.toml").write_text("x")
    assert "goes on" in lay_out_demo(keep=True).did
    assert (folder / "recipes" / "mine.toml").exists()


def test_a_demo_at_whose_fire_somebody_works_is_left_alone(folder: Path, demo: Shop) -> None:
    order = next(o.id for o in demo.state.orders.values() if o.closed is None)
    session = start(demo, [order], clock=demo_clock(demo, 20, FakeClock(LATE)))
    try:
        with pytest.raises(CannotDo, match="another window"):
            lay_out_demo()
        session.press("tab")
        assert lay_out_demo(keep=True).folder == folder
    finally:
        session.close()
    assert "anew" in lay_out_demo().did


def test_keep_where_nothing_lies_makes_one(folder: Path) -> None:
    lay_out_demo(keep=True)
    assert is_practice_copy(folder)


@pytest.mark.parametrize("keep", [False, True])
def test_any_other_folder_is_refused_and_left_alone(folder: Path, keep: bool) -> None:
    folder.mkdir()
    (folder / "shop.toml").write_text('name = "mine"\n')
    with pytest.raises(CannotDo, match="no practice copy"):
        lay_out_demo(keep=keep)
    assert [path.name for path in folder.iterdir()] == ["shop.toml"]


def test_a_file_in_its_place_is_refused(folder: Path) -> None:
    folder.write_text("a file")
    with pytest.raises(CannotDo, match="no practice copy"):
        lay_out_demo()
    assert folder.read_text() == "a file"


def test_an_empty_folder_is_taken(folder: Path) -> None:
    folder.mkdir()
    lay_out_demo()
    assert is_practice_copy(folder)


def test_a_copy_that_was_cut_short_is_made_anew(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, written = demo_desk.write_new, []

    def fails(path: Path, data: bytes) -> None:
        written.append(path)
        if len(written) > 10:
            raise OSError(28, "No space left on device")
        real(path, data)

    monkeypatch.setattr(demo_desk, "write_new", fails)
    with pytest.raises(CannotDo, match="the disk is full"):
        lay_out_demo()
    monkeypatch.undo()
    lay_out_demo(folder)
    assert open_shop(folder).state.troubles == ()


def test_a_forgelog_without_its_demo_says_so(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def gone(name: str) -> Path:
        raise FileNotFoundError(f"this copy of forgelog came without its {name}")

    monkeypatch.setattr(demo_desk, "shipped_folder", gone)
    with pytest.raises(CannotDo, match=r"there is no demo: .*came without"):
        lay_out_demo()


def test_the_clock_goes_by_the_machine_after_the_demos_past(demo: Shop) -> None:
    clock = demo_clock(demo, 20, FakeClock(LATE))
    assert clock.speed == 20
    assert clock.stamp().wall == LATE


def test_the_clock_never_stands_before_the_last_press(demo: Shop) -> None:
    last = max(press.at.wall for file in demo.files for press in file.presses)
    machine = FakeClock(last - 1_000_000)
    clock = demo_clock(demo, 5, machine)
    began = clock.stamp().wall
    assert began > last
    machine.go_on(60)
    assert clock.stamp().wall - began == pytest.approx(300, abs=0.01)


def test_a_practice_that_ran_ahead_goes_on_where_it_was_left(demo: Shop) -> None:
    order = next(o.id for o in demo.state.orders.values() if o.closed is None)
    machine = FakeClock(LATE)
    clock = demo_clock(demo, 20, machine)
    session = start(demo, [order], clock=clock)
    machine.go_on(600)
    session.press("n")
    session.press("text:a note")
    assert session.close()
    left = clock.stamp().wall
    assert demo_clock(open_shop(demo.book), 20, machine).stamp().wall - left == pytest.approx(10)


def test_without_a_speed_it_is_practice_at_the_machines_own_pace(demo: Shop) -> None:
    assert demo_clock(demo, 0, FakeClock(LATE)).speed == 1


@pytest.mark.parametrize("speed", [-1.0, float("inf"), float("nan")])
def test_a_speed_that_cannot_be_is_refused_before_anything_is_made_anew(
    folder: Path, demo: Shop, speed: float, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "recipes" / "mine.toml").write_text("x")
    assert main(["demo", f"--speed={speed}"]) == 2
    assert "times as fast" in capsys.readouterr().err
    assert (folder / "recipes" / "mine.toml").exists()


def test_the_demo_data_is_written_where_it_is_told_and_checked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = {
        "README.md": b"# Demo data (simulated)\n",
        "book/shop.toml": b"",
        "book/journal/x": b"1",
    }
    monkeypatch.setattr(demo_desk, "_simulated", lambda seed: made)
    out = tmp_path / "data"
    assert len(make_demo(out)) == 3
    assert demo_differs(out) == []
    (out / "book" / "journal" / "x").write_bytes(b"2")
    (out / "book" / "journal" / "y").write_bytes(b"too many")
    assert demo_differs(out) == ["book/journal/x", "book/journal/y"]
    assert len(make_demo(out)) == 2
    assert demo_differs(out) == []


def test_the_demo_data_is_never_written_over_anything_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(demo_desk, "_simulated", lambda seed: {"README.md": b"x"})
    (tmp_path / "README.md").write_text("# Mine\n")
    with pytest.raises(CannotDo, match="something else"):
        make_demo(tmp_path)
    assert (tmp_path / "README.md").read_text() == "# Mine\n"


def test_the_command_makes_the_demo_and_wants_a_terminal_for_it(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("forgelog.screens.app._is_terminal", lambda: False)
    assert main(["demo"]) == 2
    said = capsys.readouterr()
    assert (
        said.out == f"A demo book was made in {folder}: a simulated shop, nothing in it is real.\n"
    )
    assert "terminal" in said.err


def test_the_command_refuses_a_folder_that_holds_something_else(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "x").write_text("x")
    assert main(["demo", "--folder", str(tmp_path / "mine")]) == 2
    assert "no practice copy" in capsys.readouterr().err
    assert not folder.exists()


def test_checking_the_demo_data_tells_what_differs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(demo_desk, "_simulated", lambda seed: {"README.md": b"%d" % (seed or 0)})
    out = str(tmp_path / "data")
    assert main(["make-demo", "--out", out, "--check"]) == 1
    assert capsys.readouterr().out == "not as the seed makes it: README.md\n"
    assert main(["make-demo", "--out", out]) == 0
    assert main(["make-demo", "--out", out, "--check"]) == 0
