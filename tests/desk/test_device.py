"""Settings of this device: kept, read again, never in the way."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.book.device import Device
from forgelog.desk.device import (
    keep_device,
    learn_keys,
    learnt_keys,
    this_device,
    with_alarms,
    with_far,
)


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    return tmp_path / "device"


def test_settings_are_read_as_they_were_kept() -> None:
    device = with_alarms(
        with_far(learn_keys(this_device(), {"pagedown": "space"}), True), bell=False, flash=True
    )
    assert keep_device(device) == ""
    assert this_device() == device
    assert learnt_keys(this_device()) == {"pagedown": "space"}
    assert this_device().far
    assert not this_device().bell


def test_several_keys_may_stand_for_one() -> None:
    learnt = {"pagedown": "space", "b": "space", "f5": "enter"}
    assert learnt_keys(learn_keys(Device(id="a1"), learnt)) == learnt


def test_a_key_that_stands_for_itself_is_not_kept() -> None:
    assert learn_keys(Device(id="a1"), {"space": "space"}).keys == {}


def test_only_the_four_keys_can_be_learnt() -> None:
    with pytest.raises(ValueError, match="none of the four"):
        learn_keys(Device(id="a1"), {"f1": "q"})


def test_a_file_that_names_other_keys_does_no_harm() -> None:
    assert learnt_keys(Device(id="a1", keys={"quit": ("space",), "tab": ("b",)})) == {"b": "tab"}


def test_a_folder_that_takes_nothing_is_said_in_a_line(folder: Path) -> None:
    folder.parent.joinpath("device").write_text("a file where a folder should be")
    assert keep_device(Device(id="a1")).startswith("not kept for the next time: ")
