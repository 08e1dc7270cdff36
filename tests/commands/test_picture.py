"""forgelog picture: what the real screen shows, as a picture that needs no network."""

from __future__ import annotations

import argparse
import re
from html import unescape
from pathlib import Path

import pytest

from forgelog.commands import Refused
from forgelog.commands.picture import arguments, run, size_of


def made(out: Path, *words: str) -> str:
    parser = argparse.ArgumentParser()
    arguments(parser)
    assert run(parser.parse_args([str(out), *words])) == 0
    svg = out.read_text(encoding="utf-8")
    return unescape(" ".join(re.findall(r"<text[^>]*>([^<]*)</text>", svg))).replace("\xa0", " ")


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))


def test_the_picture_shows_the_floor_after_the_keys(tmp_path: Path) -> None:
    text = made(tmp_path / "a.svg", "--recipe", "leaf-coat-hooks", "--keys", "enter 300 enter")
    assert "SPACE" in text
    assert "put it in the fire" in text or "begin" in text
    assert "FIRE 0 of 3" in text
    svg = (tmp_path / "a.svg").read_text(encoding="utf-8")
    assert "font-face" not in svg
    assert "url(http" not in svg


def test_two_pictures_of_the_same_keys_show_the_same(tmp_path: Path) -> None:
    keys = ("--keys", "enter 90 enter", "--size", "80x24")
    assert made(tmp_path / "a.svg", *keys) == made(tmp_path / "b.svg", *keys)


@pytest.mark.parametrize("text", ["", "100", "100x", "0x0", "9999x30", "100 by 30", "-1x30"])
def test_what_is_no_size_is_refused(text: str) -> None:
    with pytest.raises(Refused, match="is no size of a window"):
        size_of(text)


def test_a_recipe_that_is_not_shipped_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="no recipe"):
        made(tmp_path / "a.svg", "--recipe", "no-such-thing")
