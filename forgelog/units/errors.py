"""How a text that cannot be read is refused, in the smith's words."""

from __future__ import annotations


def plain(text: str, longest: int = 40) -> str:
    """Text for a message: on one line, control characters shown, not sent, and not endless."""
    shown = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in text[: longest + 1])
    return shown if len(text) <= longest else shown[:longest] + "..."


class ReadError(ValueError):
    """A text that is not what was wanted, in the smith's words."""

    def __init__(self, found: str, problem: str, expected: str, hint: str = "") -> None:
        self.found = plain(found)
        """What was written, with control characters made visible and cut at 40 letters."""
        self.problem = problem
        """What is the matter with it: "has no unit"."""
        self.expected = expected
        """What to write: 'a length with its unit, like "12 mm"'."""
        self.hint = hint
        """The nearest right spelling, or ""."""
        super().__init__(self.found, problem, expected, hint)

    def __str__(self) -> str:
        words = f'"{self.found}" {self.problem}; write {self.expected}'
        return f'{words} (did you mean "{self.hint}"?)' if self.hint else words


class UnitError(ReadError):
    """A text that is no quantity, or not of the kind that was wanted."""
