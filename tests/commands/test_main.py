"""The door from the shell: exit codes, no traceback ever, and a quick start."""

from __future__ import annotations

import gc
import os
import subprocess
import sys
from pathlib import Path

import pytest

import forgelog.commands.check
from forgelog import __version__
from forgelog.__main__ import main
from forgelog.commands import COMMANDS

ROOT = Path(__file__).parent.parent.parent
HINGES = str(ROOT / "recipes" / "gate-hinge-set.toml")

HEAVY = ("textual", "rich", "pint", "hypothesis", "jsonschema", "dataclasses", "asyncio", "tomli_w")
"""Nothing of this is needed to look over a recipe, and each costs time at the start."""


def run(*words: str, **env: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "forgelog", *words],
        cwd=ROOT,
        env={**os.environ, **env},
        capture_output=True,
        check=False,
        timeout=60,
    )


def loaded_by(code: str) -> set[str]:
    """The modules that are loaded after some lines of Python, in a process of its own."""
    script = f"import sys\n{code}\nprint('\\n'.join(sys.modules), file=sys.stderr)"
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, timeout=60
    )
    assert done.returncode == 0, done.stderr
    return set(done.stderr.split())


def test_the_version_loads_next_to_nothing() -> None:
    before = loaded_by("")
    added = loaded_by("from forgelog.__main__ import main\nmain(['--version'])") - before
    assert {name for name in added if not name.startswith("forgelog")} <= {"__future__"}
    assert not any(name.startswith("forgelog.recipe") for name in added)


@pytest.mark.parametrize("words", [["check", HINGES], ["show", HINGES]], ids=["check", "show"])
def test_looking_over_a_recipe_loads_nothing_heavy(words: list[str]) -> None:
    loaded = loaded_by(f"from forgelog.__main__ import main\nassert main({words!r}) == 0")
    assert not loaded & set(HEAVY)


def test_the_version_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["--version"], ["-V"]):
        assert main(words) == 0
        assert capsys.readouterr().out == f"forgelog {__version__}\n"


@pytest.mark.parametrize("words", [["--help"], ["-h"], ["help"]])
def test_the_help_names_every_command(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) == 0
    out = capsys.readouterr().out
    assert all(f"  {name} " in out for name in COMMANDS)
    assert max(map(len, out.splitlines())) <= 90


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_command_has_its_own_help(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([name, "--help"]) == 0
    assert f"forgelog {name}" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["chek"], 'did you mean "check"?'),
        (["show"], "the following arguments are required: recipe"),
        (["check", "--strictly", "x"], "--strictly"),
        (["--book"], "--book wants a folder after it"),
        (["show", "no-such-recipe"], "there is no recipe"),
        (["\x1b[31m"], "<U+001B>[31m"),
    ],
)
def test_a_word_that_is_not_understood_ends_with_2(
    words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == 2
    assert said in capsys.readouterr().err


def test_a_fault_of_our_own_is_told_without_a_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(args: object) -> int:
        raise ZeroDivisionError("secret")

    monkeypatch.setattr(forgelog.commands.check, "run", broken)
    assert main(["check", HINGES]) == 3
    err = capsys.readouterr().err
    assert "a fault in forgelog itself, not in your work: ZeroDivisionError at test_main.py:" in err
    assert "Traceback" not in err
    monkeypatch.setenv("FORGELOG_TRACE", "1")
    with pytest.raises(ZeroDivisionError):
        main(["check", HINGES])


@pytest.mark.parametrize(
    ("error", "code", "words"),
    [
        (OSError(28, "No space left on device", "x.toml"), 2, "x.toml: no space left on device"),
        (KeyboardInterrupt(), 130, ""),
    ],
)
def test_what_the_machine_does_not_allow_is_told_in_words(
    error: BaseException,
    code: int,
    words: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def failing(args: object) -> int:
        raise error

    monkeypatch.setattr(forgelog.commands.check, "run", failing)
    assert main(["check", HINGES]) == code
    assert words in capsys.readouterr().err


def test_a_reader_who_has_gone_is_met_in_silence() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb") as gone:
        done = subprocess.run(
            [sys.executable, "-m", "forgelog", "show", HINGES],
            cwd=ROOT,
            stdout=gone,
            stderr=subprocess.PIPE,
            check=False,
            timeout=60,
        )
    assert done.stderr == b""
    assert done.returncode == 2


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "utf-8"])
def test_a_terminal_that_lacks_a_letter_does_not_end_the_program(
    encoding: str, tmp_path: Path
) -> None:
    path = tmp_path / "hook.toml"
    text = (ROOT / "recipes" / "gate-hinge-set.toml").read_text(encoding="utf-8")
    path.write_text(text.replace('"Gate hinge set,', '"Türband — 鉤,'), encoding="utf-8")
    done = run("show", str(path), PYTHONIOENCODING=encoding)
    assert done.returncode == 0
    assert done.stderr == b""
    assert b"BAND" in done.stdout


def test_a_disk_that_is_full_is_told_and_ends_with_2() -> None:
    if not os.path.exists("/dev/full"):
        pytest.skip("this machine has no full disk to try on")
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "forgelog", "show", HINGES],
            cwd=ROOT,
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
            timeout=60,
        )
    assert done.returncode == 2
    assert b"no space left on device" in done.stderr
    assert b"Traceback" not in done.stderr


def test_a_short_command_is_run_without_typing_extensions_and_says_the_same(tmp_path: Path) -> None:
    script = (
        "import sys, gc\n"
        "from forgelog.__main__ import main\n"
        "sys.argv[1:] = {words!r}\n"
        "code = main()\n"
        "sys.stdout.flush()\n"
        "assert 'typing_extensions' not in sys.modules\n"
        "assert not gc.isenabled()\n"
        "sys.exit(code)"
    )
    bad = tmp_path / "bad.toml"
    bad.write_text('format = 2\nid = "x"\n')
    for words in (["schema"], ["schema", "--page"], ["show", HINGES], ["check", HINGES, str(bad)]):
        short = subprocess.run(
            [sys.executable, "-c", script.format(words=words)],
            cwd=ROOT,
            capture_output=True,
            text=True,
            timeout=60,
        )
        whole = f"import typing_extensions, sys; from forgelog.__main__ import main; main({words})"
        full = subprocess.run(
            [sys.executable, "-c", whole], cwd=ROOT, capture_output=True, text=True, timeout=60
        )
        assert (short.stdout, short.stderr) == (full.stdout, full.stderr)
        assert len(short.stdout) > 100


def test_a_command_that_is_called_from_python_leaves_the_collector_alone() -> None:
    assert gc.isenabled()
    assert main(["check", HINGES]) == 0
    assert gc.isenabled()


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("order", "take", "wall-hook", "--count", "two"), '"two" is no whole number'),
        (("quote", "D-1", "--width", "1.5"), '"1.5" is no whole number'),
        (("demo", "--speed", "fast"), '"fast" is no number'),
    ],
)
def test_a_number_that_is_none_is_refused_in_words(
    words: tuple[str, ...], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(list(words)) == 2
    error = capsys.readouterr().err
    assert says in error
    assert "int value" not in error
