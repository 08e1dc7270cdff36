"""A long reading of the journal says how far it is; a short one says nothing."""

from __future__ import annotations

import pytest

from forgelog.commands import progress
from forgelog.commands.progress import Progress


def test_a_short_reading_says_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    told = Progress()
    for session in range(1, 4):
        told(session, 3)
    assert capsys.readouterr() == ("", "")


def test_a_long_reading_says_how_far_it_is_on_stderr(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(progress, "QUIET_S", 0.0)
    told = Progress()
    for session in range(1, 4):
        told(session, 3)
    out, err = capsys.readouterr()
    assert out == ""
    assert err.splitlines()[0] == "reading the journal: session 1 of 3"
    assert err.splitlines()[-1] == "reading the journal: session 3 of 3"
