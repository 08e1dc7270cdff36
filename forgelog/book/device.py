"""What belongs to this device and not to the shop: its id, its keys, bell and light."""

from __future__ import annotations

import secrets
from pathlib import Path

import msgspec

from forgelog.book.disk import write_over

_WORDS = (
    *("anvil", "horn", "hardy", "swage", "vice", "tongs", "hammer", "sledge", "bellows"),
    *("tuyere", "slack", "coke", "ember", "scale", "fuller", "flatter", "punch", "drift"),
    *("chisel", "mandrel", "rivet", "scroll", "bick", "quench", "ingot", "billet", "bloom"),
    *("collar", "tenon", "pintle", "latch", "hasp"),
)
_LETTERS = "23456789abcdefghjkmnpqrstvwxyz"
"""None that is taken for another one when it is read aloud or from a screen."""


class Device(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """This device's own settings. The file is forgelog's; it may be edited all the same."""

    id: str
    """Random, made once: "anvil7k". Part of the names of orders and sessions."""
    keys: dict[str, tuple[str, ...]] = {}
    """Which keys of this device mean SPACE, ENTER, TAB and BACKSPACE, where they were learnt."""
    bell: bool = True
    flash: bool = True
    """The page stands in reverse for a second when something is to be looked at."""
    dialect: str = ""
    """uk or us for this screen; "" goes by the shop."""
    light: str = ""
    """day or dim, as last chosen here."""
    far: bool = False
    """The far view was the last one used."""


def tail(length: int = 4) -> str:
    """Random letters for the end of an id."""
    return "".join(secrets.choice(_LETTERS) for _ in range(length))


def read_device(folder: Path) -> Device:
    """This device's settings; made now, where there are none that can be read.

    Never raises: on a disk that takes nothing the id holds for this run alone.
    """
    path = folder / "device.json"
    try:
        device = msgspec.json.decode(path.read_bytes(), type=Device)
        if device.id.isascii() and device.id.isalnum() and len(device.id) <= 20:
            return device
    except (OSError, ValueError, RecursionError):
        pass
    device = Device(id=secrets.choice(_WORDS) + secrets.choice("23456789") + tail(1))
    try:
        if path.exists():
            path.replace(path.with_suffix(".unreadable"))
        write_device(folder, device)
    except OSError:
        pass
    return device


def write_device(folder: Path, device: Device) -> None:
    """Keep this device's settings.

    Raises:
        OSError: the disk does not take them.
    """
    data = msgspec.json.format(msgspec.json.encode(device), indent=2)
    write_over(folder / "device.json", data + b"\n")
