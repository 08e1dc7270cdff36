"""The door from the shell: `forgelog COMMAND ...`; without a command, Home."""

from __future__ import annotations

import os
import sys

from forgelog import __version__
from forgelog.commands import CLEAN, COMMANDS, FAULT, HOME, NOT_DONE, SHORT, Refused

TYPE_CHECKING = False
if TYPE_CHECKING:
    from argparse import Namespace
    from types import ModuleType


def main(argv: list[str] | None = None) -> int:
    """Run one command and give its exit code. Nothing that goes wrong ends in a traceback.

    Args:
        argv: The words after the program's name; those of the shell where None.
    """
    words = sys.argv[1:] if argv is None else argv
    if words in (["--version"], ["-V"]):
        print(f"forgelog {__version__}")
        return CLEAN
    _make_streams_forgiving()
    try:
        code = _run(words, from_shell=argv is None)
        _flush()
    except BrokenPipeError:
        return _quiet_pipe()
    except KeyboardInterrupt:
        return 130
    except Refused as refused:
        return _say(str(refused), refused.code)
    except OSError as error:
        return _say(_in_words(error), NOT_DONE)
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else NOT_DONE
    except Exception as error:
        if os.environ.get("FORGELOG_TRACE"):
            raise
        return _say(_fault(error), FAULT)
    return code


def _run(words: list[str], *, from_shell: bool) -> int:
    from importlib import import_module

    book, words = _book_of(words)
    name = words[0] if words else HOME
    if name in ("-h", "--help", "help") or (not words and HOME not in COMMANDS):
        print(_help())
        return CLEAN
    if name in ("-V", "--version"):
        print(f"forgelog {__version__}")
        return CLEAN
    if name not in COMMANDS:
        raise Refused(_no_such(name))
    if from_shell and name in SHORT:
        from forgelog.short_run import begin_short_run

        begin_short_run()
    module = import_module(f"forgelog.commands.{name.replace('-', '_')}")
    if hasattr(module, "run_words"):
        return int(module.run_words(words[1:], book))
    quick = getattr(module, "plain_arguments", None)
    args = quick(words[1:], book) if quick else None
    return int(module.run(args or _parsed(name, module, words[1:], book)))


def _parsed(name: str, module: ModuleType, words: list[str], book: str | None) -> Namespace:
    from argparse import ArgumentParser

    parser = ArgumentParser(
        prog=f"forgelog {name}", description=_sentence(COMMANDS[name]), allow_abbrev=False
    )
    parser.add_argument("--book", metavar="PATH", default=book, help="the shop's folder")
    module.arguments(parser)
    return parser.parse_args(words)


def _book_of(words: list[str]) -> tuple[str | None, list[str]]:
    """Take --book off the front, where it stands before the command."""
    if words and words[0].startswith("--book="):
        return words[0].removeprefix("--book="), words[1:]
    if words and words[0] == "--book":
        if len(words) < 2:
            raise Refused("--book wants a folder after it: forgelog --book ~/shop")
        return words[1], words[2:]
    return None, words


def _help() -> str:
    wide = max(map(len, COMMANDS))
    rows = [f"  {name:<{wide}}  {says}" for name, says in COMMANDS.items()]
    return "\n".join(
        [
            "forgelog walks a smith through forged work heat by heat, and keeps the record.",
            "",
            "  forgelog [--book PATH] COMMAND ...",
            "",
            *rows,
            "",
            "forgelog COMMAND --help says more of each. --book names the shop's folder.",
            "Ends with 0 when all is well, 1 when problems were found, 2 when it was not done.",
        ]
    )


def _no_such(name: str) -> str:
    from forgelog.recipe.plain import did_you_mean, quoted

    hint = did_you_mean(name, COMMANDS)
    words = f"there is no command {quoted(name)}; the commands are {', '.join(COMMANDS)}"
    return f"{words}\n    {hint}" if hint else words


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


def _in_words(error: OSError) -> str:
    """What the disk said, without the program's own words for it."""
    reason = (error.strerror or str(error)).lower()
    return f"{_harmless(str(error.filename))}: {reason}" if error.filename else reason


def _fault(error: Exception) -> str:
    from traceback import extract_tb

    frames = extract_tb(error.__traceback__)
    place = f"{os.path.basename(frames[-1].filename)}:{frames[-1].lineno}" if frames else "?"
    return (
        f"a fault in forgelog itself, not in your work: {type(error).__name__} at {place}\n"
        "    With FORGELOG_TRACE=1 set, the same command prints all that a report needs."
    )


def _say(words: str, code: int) -> int:
    try:
        print(f"forgelog: {words}", file=sys.stderr)
    except OSError:
        return code
    return code


def _harmless(text: str) -> str:
    from forgelog.recipe.plain import harmless

    return harmless(text)


def _make_streams_forgiving() -> None:
    """A terminal that lacks a letter shows its number, and never ends the program."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")


def _flush() -> None:
    if sys.stdout is not None:
        sys.stdout.flush()


def _quiet_pipe() -> int:
    """Whoever read the output has gone: say nothing, and let nothing be said on the way out."""
    if sys.stdout is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return NOT_DONE


if __name__ == "__main__":
    sys.exit(main())
