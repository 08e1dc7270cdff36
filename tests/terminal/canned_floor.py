"""A floor of canned views, run as a program of its own by the terminal tests."""

from __future__ import annotations

import sys

import msgspec

from forgelog.floor.view import View
from forgelog.screens.app import run
from forgelog.screens.floor import FloorScreen
from tests.screens.canned import ALL


class CannedSession:
    """Shows one view; says which key came; keeps no record."""

    not_on_disk = 0
    why_not_on_disk = ""

    def __init__(self, view: View) -> None:
        self.shown = view
        self.count = 0

    def press(self, key: str) -> None:
        """Say the key; some letters do something."""
        self.count += 1
        self.shown = msgspec.structs.replace(
            self.shown, message=f"key {self.count}: {key}", leave=key == "q"
        )
        if key == "n":
            self.shown = msgspec.structs.replace(
                self.shown, alarms=(f"LOOK {self.count}",), rings=("look",)
            )
        elif self.shown.rings:
            self.shown = msgspec.structs.replace(self.shown, rings=())
        if key == "v":
            self.shown = msgspec.structs.replace(self.shown, far=not self.shown.far)
        if key == "m":
            self.shown = msgspec.structs.replace(self.shown, entry="note")
        if key.startswith("text:"):
            self.shown = msgspec.structs.replace(self.shown, entry="")
        if key == "h":
            raise RuntimeError("a made-up fault")

    def view(self) -> View:
        """What stands."""
        return self.shown

    def close(self) -> bool:
        """Nothing is open."""
        return True


def main() -> int:
    """Run it behind the program's own door, which says faults in a line."""
    import forgelog.__main__ as door

    door._run = lambda words, **_: run(lambda app: FloorScreen(CannedSession(ALL[words[0]])))
    return door.main()


if __name__ == "__main__":
    sys.exit(main())
