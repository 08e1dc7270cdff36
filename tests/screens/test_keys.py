"""Learn keys, and the other settings of a device."""

from __future__ import annotations

from forgelog.book.device import Device
from forgelog.screens.device import DeviceScreen
from forgelog.screens.keys import AGAIN_S, KeysScreen
from tests.screens.pilots import TestApp, shown, until, until_shown


def told(screen: KeysScreen, *names: str) -> None:
    """Press keys at leisure."""
    began_s = screen.arrived_at
    for i, name in enumerate(names):
        screen.hear(name, began_s + 10.0 * (i + 1))


def test_a_key_is_learnt_when_it_comes_twice() -> None:
    screen = KeysScreen()
    told(screen, "pagedown", "pagedown")
    assert screen.learnt == {"pagedown": "space"}
    assert screen.asked == "enter"


def test_another_key_between_starts_that_one_over() -> None:
    screen = KeysScreen()
    told(screen, "pagedown", "b", "b")
    assert screen.learnt == {"b": "space"}


def test_one_tread_that_arrives_twice_is_not_an_answer() -> None:
    screen = KeysScreen()
    screen.hear("b", 10.0)
    screen.hear("b", 10.0 + AGAIN_S / 2)
    assert screen.learnt == {}
    assert screen.asked == "space"
    screen.hear("b", 11.0)
    assert screen.learnt == {"b": "space"}


def test_a_key_cannot_stand_for_two() -> None:
    screen = KeysScreen()
    told(screen, "b", "b", "b")
    assert screen.asked == "enter"
    assert "B IS SPACE ALREADY" in screen.message.upper()
    assert screen.learnt == {"b": "space"}


def test_a_key_that_stands_for_itself_cannot_be_given_away_afterwards() -> None:
    screen = KeysScreen()
    told(screen, "space", "space", "space", "space")
    assert screen.asked == "enter"
    assert screen.learnt == {}


async def test_four_keys_are_learnt_and_kept() -> None:
    app = TestApp(lambda app: KeysScreen())
    async with app.run_test(size=(100, 30)) as pilot:
        screen = app.screen_stack[-1]
        assert isinstance(screen, KeysScreen)
        await until_shown(pilot, "key that shall be SPACE")
        await pilot.press("pagedown")
        await until_shown(pilot, "page down came. Press it again to keep it.")
        told(screen, "pagedown", "f5", "f5", "tab", "tab", "b", "b")
        screen.canvas.redraw()
        text = await until_shown(pilot, "keep these keys")
        assert "SPACE      page down" in text
        assert "TAB        itself" in text
        await pilot.press("f5")
        assert app.kept == []
        await pilot.press("enter")
        await until(pilot, lambda: bool(app.kept))
    assert app.learnt == {"pagedown": "space", "f5": "enter", "b": "backspace"}
    assert app.return_code == 0


async def test_nothing_is_kept_when_it_is_left() -> None:
    app = TestApp(lambda app: KeysScreen())
    async with app.run_test(size=(80, 24)) as pilot:
        screen = app.screen_stack[-1]
        assert isinstance(screen, KeysScreen)
        await until_shown(pilot, "SPACE")
        told(screen, *(name for name in "abcd" for _ in range(2)))
        await pilot.press("tab")
        await until(pilot, lambda: not app.is_running)
    assert app.kept == []


async def test_each_setting_turns_on_and_off() -> None:
    app = TestApp(lambda app: DeviceScreen(), Device(id="test1", keys={"space": ("b",)}))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "1 learnt")
        await pilot.press("tab", "enter")
        await until_shown(pilot, "0 learnt")
        await pilot.press("tab", "enter", "tab", "enter", "tab", "enter")
        await until(pilot, lambda: app.device.far)
        assert app.device == Device(id="test1", bell=False, flash=False, far=True)
        await pilot.press("enter")
        await until(pilot, lambda: not app.device.far)


async def test_learning_is_reached_from_the_settings_and_leads_back() -> None:
    app = TestApp(lambda app: DeviceScreen())
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "> learn keys")
        await pilot.press("enter")
        await until_shown(pilot, "LEARN KEYS")
        screen = app.screen_stack[-1]
        assert isinstance(screen, KeysScreen)
        told(screen, *(name for name in "abcd" for _ in range(2)))
        await pilot.press("enter")
        await until_shown(pilot, "4 learnt")
        assert "KEYS, BELL, VIEW" in shown(pilot)
