"""Text that a person wrote, made fit to be shown: harmless, not endless, rightly spelt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

_MARKS_IN_A_ROW = 4
"""So many accents may stand on one letter; more is a tower that spills over other lines."""

_JOINERS = "\u200c\u200d"
"""Signs without width that some scripts and pictures need inside words."""


def harmless(text: str, width: int | None = None, *, lines: bool = False) -> str:
    """Text of a recipe, fit to be shown: what cannot be seen is named, as in "<U+202E>".

    Args:
        text: Anything at all.
        width: Words longer than so many letters are broken; None leaves them whole.
        lines: True keeps line feeds; else they become spaces, as tabs always do.
    """
    if not (text.isascii() and text.isprintable()):
        text = "".join(_shown(text, lines=lines))
    if width is None or len(text) <= width:
        return text
    return "".join(_broken(text, max(1, width)))


def hidden_signs(text: str) -> tuple[str, ...]:
    """The signs of a text that show nothing or turn it round, each once, in order.

    Line feeds and tabs are not among them, nor the joiners that some scripts need.
    """
    if text.isprintable() or text.replace("\n", " ").replace("\t", " ").isprintable():
        return ()
    return tuple(sign for sign in dict.fromkeys(text) if _is_hidden(sign))


def code_point(sign: str) -> str:
    """The name of a sign that must not be sent raw: "U+202E"."""
    return f"U+{ord(sign):04X}"


def shortened(text: str, most: int) -> str:
    """The text, or its beginning with three points where it is longer."""
    return text if len(text) <= most else text[: most - 3] + "..."


def quoted(text: str, most: int = 40) -> str:
    """A text of the recipe inside a message: in quotes, harmless and not endless."""
    return f'"{shortened(harmless(text), most)}"'


def did_you_mean(word: str, words: Iterable[str]) -> str:
    """The hint with the nearest of the right words, or "" where none is near."""
    best = nearest(word, words)
    return f'did you mean "{best}"?' if best else ""


def nearest(word: str, words: Iterable[str], likeness: float = 0.6) -> str:
    """The one of the words that is most like this one, or ""."""
    from difflib import get_close_matches

    by_plain = {_plain(w): w for w in words}
    found = get_close_matches(_plain(word[:80]), list(by_plain), n=1, cutoff=likeness)
    return by_plain[found[0]] if found else ""


def listed(words: Iterable[str], joint: str = "or") -> str:
    """Words in a row: "oil, water or brine"."""
    row = list(words)
    return row[0] if len(row) == 1 else f"{', '.join(row[:-1])} {joint} {row[-1]}" if row else ""


def _plain(word: str) -> str:
    return word.lower().replace("_", "-").replace(" ", "-")


def _is_hidden(sign: str) -> bool:
    from unicodedata import category

    return category(sign) in ("Cc", "Cf", "Cs", "Zl", "Zp") and sign not in "\n\t" + _JOINERS


def _shown(text: str, *, lines: bool) -> Iterator[str]:
    from unicodedata import category

    marks = 0
    for sign in text:
        marks = marks + 1 if category(sign) in ("Mn", "Me") else 0
        if sign == "\n" and lines:
            yield sign
        elif sign in "\n\t":
            yield " "
        elif marks > _MARKS_IN_A_ROW:
            yield f"<{code_point(sign)}>"
        elif sign.isprintable() or category(sign) == "Zs":
            yield sign
        else:
            yield f"<{code_point(sign)}>"


def _broken(text: str, width: int) -> Iterator[str]:
    run = 0
    for sign in text:
        run = 0 if sign in " \n" else run + 1
        if run > width:
            yield " "
            run = 1
        yield sign
