"""Bad recipes and the exact report of each: tests/bad/NAME.toml beside NAME.expected.

After a change of words, look at what `cd tests/bad && forgelog check NAME.toml` prints; where it
is right, keep it as NAME.expected.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.__main__ import main

BAD = Path(__file__).parent.parent / "bad"
NAMES = sorted(path.stem for path in BAD.glob("*.toml"))
DOUBTFUL = {
    "byte-order-mark",
    "sizes-found-out-too-late",
    *(name for name in NAMES if name.startswith("doubts")),
}
"""Those that have warnings only."""


def test_at_least_thirty_kinds_of_fault_are_kept() -> None:
    assert len(NAMES) >= 30
    assert sorted(path.stem for path in BAD.glob("*.expected")) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_the_report_of_a_bad_recipe_is_word_for_word_as_expected(
    name: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(BAD)
    code = main(["check", f"{name}.toml"])
    out = capsys.readouterr().out
    assert out == (BAD / f"{name}.expected").read_text(encoding="utf-8")
    assert code == (0 if name in DOUBTFUL else 1)
    assert out.isascii()
    assert all(line.isprintable() for line in out.splitlines())


@pytest.mark.parametrize("name", sorted(DOUBTFUL))
def test_doubts_fail_only_where_they_are_told_to(
    name: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(BAD)
    assert main(["check", "--strict", f"{name}.toml"]) == 1
    assert "no errors" in capsys.readouterr().out
