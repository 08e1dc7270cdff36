"""A line of text that is asked for: a note, or a size read off a gauge."""

from __future__ import annotations

import msgspec

from forgelog.floor.view import KeyLine, View

MOST = 400
"""Letters that a line takes."""
CURSOR = "█"


class Entry(msgspec.Struct, frozen=True, kw_only=True):
    """What has been typed so far."""

    asked: str
    """What for: "note", "size, with its unit"."""
    typed: str = ""

    def with_letters(self, letters: str) -> Entry:
        """More letters at the end; what does not print is passed over."""
        kept = "".join(sign for sign in letters if sign.isprintable())
        return msgspec.structs.replace(self, typed=(self.typed + kept)[:MOST])

    def without_last(self) -> Entry:
        """The last letter taken back."""
        return msgspec.structs.replace(self, typed=self.typed[:-1])


def sent_by(entry: Entry, key: str) -> str | None:
    """The line that a key sends: the text, "" to leave it, or None where the entry goes on."""
    if key == "enter":
        return " ".join(entry.typed.split())
    if key in ("tab", "escape") or (key == "backspace" and not entry.typed):
        return ""
    return None


def entry_keys(entry: Entry) -> tuple[KeyLine, ...]:
    """What the four keys mean while a line is typed."""
    some = bool(entry.typed.strip())
    what = entry.asked.split(",")[0].removeprefix("the ")
    return (
        KeyLine(key="SPACE", words="a space"),
        KeyLine(key="ENTER", words=f"keep the {what}" if some else "leave it"),
        KeyLine(key="TAB", words="leave it, nothing is kept"),
        KeyLine(key="BACKSPACE", words="take the last letter back" if entry.typed else "leave it"),
    )


def entry_view(view: View, entry: Entry) -> View:
    """The floor's view with the open line in the place of a question."""
    return msgspec.structs.replace(
        view,
        question=f"{entry.asked.upper()}: {entry.typed}{CURSOR}",
        question_left_s=None,
        list=None,
        done_words="",
        keys=entry_keys(entry),
    )
