"""The floor screen over a session that is made up: keys in, views out."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from textual.pilot import Pilot

from forgelog.book.device import Device
from forgelog.floor.view import View
from forgelog.screens.floor import FLASH_S, FloorScreen
from tests.screens.canned import IN_HAND
from tests.screens.pilots import TestApp, shown, until, until_shown


class FakeSession:
    """Notes what it is told; shows what the test puts there."""

    def __init__(self) -> None:
        self.shown = IN_HAND
        self.keys: list[str] = []
        self.not_on_disk = 0
        self.why_not_on_disk = ""
        self.is_closed_well = True
        self.closed = 0
        self.views = 0

    def press(self, key: str) -> None:
        self.keys.append(key)
        self.change(message=f"heard {key}", rings=())
        if key == "v":
            self.change(far=not self.shown.far)
        if key == "n":
            self.change(entry="note")
        if key.startswith("text:"):
            self.change(entry="")
        if key == "q":
            self.change(leave=True)

    def change(self, **parts: Any) -> None:
        self.shown = msgspec.structs.replace(self.shown, **parts)

    def view(self) -> View:
        self.views += 1
        return self.shown

    def close(self) -> bool:
        self.closed += 1
        return self.is_closed_well


class Floor:
    """A floor screen with its session and a clock that stands until it is told to go on."""

    def __init__(self, device: Device | None = None) -> None:
        self.session = FakeSession()
        self.time_s = 100.0

        def first(app: Any) -> FloorScreen:
            return FloorScreen(self.session, now=lambda: self.time_s)

        self.app = TestApp(first, device or Device(id="test1"))

    @property
    def screen(self) -> FloorScreen:
        screen = self.app.screen_stack[-1]
        assert isinstance(screen, FloorScreen)
        return screen

    async def ticked(self, pilot: Pilot[Any]) -> None:
        self.app.tick()
        await pilot.pause()


@pytest.mark.parametrize(
    ("pressed", "heard"),
    [
        ("space", "space"),
        ("enter", "enter"),
        ("tab", "tab"),
        ("backspace", "backspace"),
        ("ctrl+h", "backspace"),
        ("ctrl+j", "enter"),
        ("7", "7"),
        ("r", "r"),
        ("P", "p"),
        ("question_mark", "?"),
        ("up", "up"),
    ],
)
async def test_a_key_reaches_the_session_under_its_own_name(pressed: str, heard: str) -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await pilot.press(pressed)
        await until_shown(pilot, f"heard {heard}")
        assert floor.session.keys == [heard]


@pytest.mark.parametrize("pressed", ["shift+tab", "f1", "ctrl+z", "x", "0", "ctrl+p", "home"])
async def test_other_keys_do_nothing(pressed: str) -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await pilot.press(pressed)
        await pilot.press("space")
        await until_shown(pilot, "heard space")
        assert floor.session.keys == ["space"]


async def test_nothing_on_the_floor_takes_the_focus() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await pilot.press("tab", "tab", "enter")
        await until_shown(pilot, "heard enter")
        assert pilot.app.focused is None
        assert floor.session.keys == ["tab", "tab", "enter"]


async def test_learnt_keys_stand_for_the_four() -> None:
    floor = Floor(Device(id="test1", keys={"space": ("pagedown", "b"), "enter": ("f5",)}))
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await pilot.press("pagedown", "b", "f5")
        await until_shown(pilot, "heard enter")
        assert floor.session.keys == ["space", "space", "enter"]


async def test_the_view_is_kept_for_this_device() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "FIRE 2 of 3")
        await pilot.press("v")
        await until(pilot, lambda: "FIRE 2 of 3" not in shown(pilot))
        await pilot.press("q")
        await until(pilot, lambda: bool(floor.app.kept))
    assert floor.app.kept[-1].far


async def test_a_device_that_likes_the_far_view_begins_with_it() -> None:
    floor = Floor(Device(id="test1", far=True))
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await until(pilot, lambda: floor.session.keys == ["v"])
        await until(pilot, lambda: "FIRE 2 of 3" not in shown(pilot))


async def test_the_end_of_the_session_closes_it_once_and_leaves() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await pilot.press("q")
        await until(pilot, lambda: not pilot.app.is_running)
    floor.app.close_all()
    assert floor.session.closed == 1
    assert floor.app.return_code == 0


async def test_ctrl_c_leaves_and_the_session_can_be_closed() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "SPACE")
        await pilot.press("ctrl+c")
        await until(pilot, lambda: not pilot.app.is_running)
    floor.app.close_all()
    assert floor.session.closed == 1
    assert floor.session.keys == []


async def test_what_is_new_rings_once_and_flashes_for_a_second() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "SPACE")
        floor.session.change(alarms=("LOOK: A strap",), rings=("look 1",))
        await floor.ticked(pilot)
        await until_shown(pilot, "LOOK: A strap")
        assert floor.app.bells == 1
        assert floor.screen.canvas.flashing
        floor.time_s += FLASH_S / 2
        await floor.ticked(pilot)
        assert floor.screen.canvas.flashing
        floor.time_s += FLASH_S
        await floor.ticked(pilot)
        assert not floor.screen.canvas.flashing
        assert floor.app.bells == 1
        assert "LOOK: A strap" in shown(pilot)
        floor.session.change(rings=("look 1", "look 2"))
        await floor.ticked(pilot)
        assert floor.app.bells == 2


async def test_any_key_ends_the_flash_and_the_words_stay() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "SPACE")
        floor.session.change(alarms=("LOOK: A strap",), rings=("look 1",))
        await floor.ticked(pilot)
        assert floor.screen.canvas.flashing
        await pilot.press("tab")
        await until(pilot, lambda: not floor.screen.canvas.flashing)
        assert "LOOK: A strap" in shown(pilot)


async def test_bell_and_flash_can_be_off_and_the_words_still_come() -> None:
    floor = Floor(Device(id="test1", bell=False, flash=False))
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "SPACE")
        floor.session.change(alarms=("LOOK: A strap",), rings=("look 1",))
        await floor.ticked(pilot)
        await until_shown(pilot, "LOOK: A strap")
        assert floor.app.bells == 0
        assert not floor.screen.canvas.flashing


async def test_what_is_not_on_the_disk_is_said_with_the_reason() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "SPACE")
        floor.session.not_on_disk = 1
        await pilot.press("space")
        await until_shown(pilot, "NOT YET ON DISK")
        floor.session.why_not_on_disk = "the disk is full"
        await floor.ticked(pilot)
        await until_shown(pilot, "NOT YET ON DISK: the disk is full")
        floor.session.not_on_disk = 0
        await floor.ticked(pilot)
        await until(pilot, lambda: "NOT YET ON DISK" not in shown(pilot))


async def test_presses_that_never_reached_the_disk_are_not_passed_over() -> None:
    floor = Floor()
    floor.session.is_closed_well = False
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await pilot.press("q")
        await until(pilot, lambda: not pilot.app.is_running)
    assert not floor.app.all_on_disk


async def test_nobody_leaves_unasked_while_presses_wait_for_the_disk() -> None:
    floor = Floor()
    floor.session.is_closed_well = False
    async with floor.app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "SPACE")
        floor.session.not_on_disk, floor.session.why_not_on_disk = 2, "the disk is full"
        await pilot.press("q")
        await until_shown(pilot, "2 presses are not on the disk")
        await pilot.press("space", "tab", "backspace", "q")
        await floor.ticked(pilot)
        assert floor.session.closed == 0
        assert floor.session.keys[-1] == "q"
        await pilot.press("enter")
        await until(pilot, lambda: not pilot.app.is_running)
    assert floor.session.closed == 1
    assert not floor.app.all_on_disk


async def test_the_floor_is_left_as_soon_as_all_is_on_the_disk() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(80, 24)) as pilot:
        floor.session.not_on_disk, floor.session.why_not_on_disk = 1, "the disk is full"
        await pilot.press("q")
        await until_shown(pilot, "1 press is not on the disk")
        floor.session.not_on_disk = 0
        await floor.ticked(pilot)
        await until(pilot, lambda: not pilot.app.is_running)
    assert floor.app.all_on_disk


async def test_a_tick_repaints_only_the_rows_that_changed() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "SPACE")
        canvas = floor.screen.canvas
        await floor.ticked(pilot)
        assert not canvas.redraw()
        before = canvas.shown
        floor.session.change(clock="0:24")
        await floor.ticked(pilot)
        differ = [y for y, line in enumerate(canvas.shown) if line != before[y]]
        assert 0 < len(differ) <= 5


async def test_a_note_is_typed_letter_by_letter() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await pilot.press("n")
        await until_shown(pilot, "NOTE: ")
        await pilot.press(*"a q 7", "x", "backspace", "space", "?", "enter")
        await until_shown(pilot, "heard text:a q 7 ?")
        assert floor.session.keys == ["n", "text:a q 7 ?"]
        assert "NOTE: " not in shown(pilot)


async def test_a_pedal_leaves_a_line_that_nobody_types() -> None:
    floor = Floor(Device(id="test1", keys={"tab": ("b",)}))
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await pilot.press("n")
        await until_shown(pilot, "NOTE: ")
        await pilot.press("b")
        await until_shown(pilot, "heard text:")
        assert floor.session.keys == ["n", "text:"]


@pytest.mark.parametrize("key", ["enter", "tab", "backspace", "escape"])
async def test_an_empty_line_is_left_with_one_key(key: str) -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await pilot.press("n")
        await until_shown(pilot, "NOTE: ")
        await pilot.press(key)
        await until_shown(pilot, "heard text:")


async def test_words_of_a_person_are_never_markup() -> None:
    floor = Floor()
    floor.session.change(piece="[/] [@click=app.quit]x[/] [red]", message="[bold")
    async with floor.app.run_test(size=(100, 30)) as pilot:
        text = await until_shown(pilot, "[bold")
        assert "[/] [@click=app.quit]x[/] [red]" in text


async def test_a_window_may_shrink_and_grow() -> None:
    floor = Floor()
    async with floor.app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "FIRE 2 of 3")
        await pilot.resize_terminal(60, 15)
        await until_shown(pilot, "60 x 15 found")
        await pilot.press("space")
        await pilot.resize_terminal(200, 60)
        await until_shown(pilot, "heard space")
        assert len(shown(pilot).split("\n")) == 60
