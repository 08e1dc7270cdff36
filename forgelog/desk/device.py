"""This device's own settings, as the screens use them: learnt keys, bell, flash, view."""

from __future__ import annotations

import msgspec

from forgelog.book.device import Device as Device
from forgelog.book.device import read_device, write_device
from forgelog.book.folders import device_folder

FOUR = ("space", "enter", "tab", "backspace")
"""The four keys, in the order of the bottom line."""


def this_device() -> Device:
    """The settings of this device."""
    return read_device(device_folder())


def keep_device(device: Device) -> str:
    """Keep the settings; return in one line why they could not be kept, "" where they are."""
    try:
        write_device(device_folder(), device)
    except OSError as fault:
        return f"not kept for the next time: {fault.strerror or fault}"
    return ""


def learnt_keys(device: Device) -> dict[str, str]:
    """Names of keys that stand for one of the four here: {"pagedown": "space"}."""
    return {sent: key for key, names in device.keys.items() if key in FOUR for sent in names}


def learn_keys(device: Device, learnt: dict[str, str]) -> Device:
    """The settings with these keys learnt, and no others.

    Args:
        device: The settings so far.
        learnt: Name of a key as it arrives, to the one of the four that it stands for.

    Raises:
        ValueError: a key is to stand for none of the four.
    """
    keys: dict[str, tuple[str, ...]] = {}
    for sent, key in learnt.items():
        if key not in FOUR:
            raise ValueError(f'"{key}" is none of the four keys')
        if sent != key:
            keys[key] = (*keys.get(key, ()), sent)
    return msgspec.structs.replace(device, keys=keys)


def with_far(device: Device, far: bool) -> Device:
    """The settings with the view that was used last."""
    return msgspec.structs.replace(device, far=far)


def with_alarms(device: Device, *, bell: bool, flash: bool) -> Device:
    """The settings with bell and flash on or off."""
    return msgspec.structs.replace(device, bell=bell, flash=flash)


def with_light(device: Device, light: str) -> Device:
    """The settings with the light that was last chosen: day or dim."""
    return msgspec.structs.replace(device, light=light)
