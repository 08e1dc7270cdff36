"""What a sum asks for, and how the words of a smith are read for it.

One declaration serves the shell and the screen: a field has a name, a line of help, the kind of
thing that it is, and the usual choices that a screen steps through.
"""

# Annotations are evaluated here: as texts they would make each record take ten times as long.

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, NamedTuple, cast

from forgelog.desk.sums.kinds import LIKE, READERS, Unread, quoted
from forgelog.trade.errors import SumError
from forgelog.units.errors import ReadError

if TYPE_CHECKING:
    from forgelog.desk.sums.answer import Answer
    from forgelog.trade.sections import Section

MOST_WORDS = 60
"""No sum takes more words than this."""


class CannotSum(Exception):
    """The sum has no answer, or was not asked rightly; the words go to the smith as they are."""


class Field(NamedTuple):
    """One thing that a sum asks for."""

    name: str
    """As in --name; a bare field stands without it."""
    says: str
    kind: str
    """A name out of `kinds.READERS`, or "flag"."""
    needed: bool = False
    bare: bool = False
    many: bool = False
    choices: tuple[str, ...] = ()
    """Of a word: which there are."""
    usual: tuple[str, ...] = ()
    """What a screen steps through."""
    default: str = ""
    """Taken where nothing is said."""
    example: str = ""


class Sum(NamedTuple):
    """A sum by its name."""

    name: str
    says: str
    fields: tuple[Field, ...]
    examples: tuple[str, ...]
    """What to write after `forgelog sums`; our own inventions."""
    work: Callable[["Asked"], "Answer"]
    one_of: tuple[str, ...] = ()
    """Fields of which one is said: on a screen another one takes its place."""

    @property
    def bare(self) -> tuple[Field, ...]:
        """Fields that stand without a name, in order."""
        return tuple(field for field in self.fields if field.bare)

    def field(self, name: str) -> Field | None:
        """The field of this name."""
        return next((field for field in self.fields if field.name == name), None)


class Asked:
    """What was asked, read."""

    def __init__(self, values: dict[str, object], *, book: str | None = None) -> None:
        self._values = values
        self.book = book
        """The book's folder as told, for what lies in it."""

    def has(self, name: str) -> bool:
        """Whether anything was said of it."""
        return name in self._values

    def number(self, name: str) -> float:
        """A length in mm, temperature in degC, time in s, mass in kg, or a bare number."""
        return cast(float, self._values[name])

    def maybe(self, name: str) -> float | None:
        """The same, or None where nothing was said."""
        return cast("float | None", self._values.get(name))

    def section(self, name: str) -> "Section":
        """A bar."""
        return cast("Section", self._values[name])

    def word(self, name: str) -> str:
        """A word, or "" where nothing was said."""
        return str(self._values.get(name, ""))

    def all(self, name: str) -> list[object]:
        """Everything that was said of a field that may stand more than once."""
        return cast("list[object]", self._values.get(name, []))

    def lengths(self, name: str) -> tuple[float, ...]:
        """Several lengths, mm."""
        return cast("tuple[float, ...]", self._values[name])

    def flag(self, name: str) -> bool:
        """Whether it was said."""
        return bool(self._values.get(name))


def ask(one: Sum, given: dict[str, list[str]], *, book: str | None = None) -> "Answer":
    """Work a sum.

    Args:
        one: The sum.
        given: Words by the name of the field; a flag has any word.
        book: The book's folder as told, or None.

    Raises:
        CannotSum: something is missing, cannot be read, or has no answer.
    """
    values: dict[str, object] = {}
    for field in one.fields:
        texts = given.get(field.name) or ([field.default] if field.default else [])
        if not texts:
            if field.needed:
                raise CannotSum(_missing(one, field))
            continue
        values[field.name] = _value(field, texts)
    try:
        return one.work(Asked(values, book=book))
    except (SumError, ReadError, Unread) as problem:
        raise CannotSum(str(problem)) from None
    except (ArithmeticError, ValueError):
        raise CannotSum("these sizes are outside of what the sum can do") from None


def read_words(one: Sum, words: Iterable[str]) -> dict[str, list[str]]:
    """Sort the words of a command line by field.

    Bare words that belong together need no quotes: 12 mm square is one bar.

    Raises:
        CannotSum: there is no such field, or too much was said.
    """
    row = list(words)
    if len(row) > MOST_WORDS:
        raise CannotSum(f"{one.name} does not take so many words")
    given: dict[str, list[str]] = {}
    bare: list[str] = []
    while row:
        word = row.pop(0)
        if not (word.startswith("--") and len(word) > 2):
            bare.append(word)
            continue
        name, sign, text = word[2:].partition("=")
        field = one.field(name)
        if field is None or field.bare:
            raise CannotSum(_no_field(one, name))
        if field.kind == "flag":
            if sign:
                raise CannotSum(f"--{name} takes no value; leave {quoted('=' + text)} out")
            given[name] = ["yes"]
            continue
        value = text if sign else _taken(field, row)
        if not value.strip():
            raise CannotSum(f"--{name} wants {LIKE[field.kind](field.choices)} after it")
        if name in given and not field.many:
            raise CannotSum(f"--{name} stands there twice")
        given.setdefault(name, []).append(value)
    _share(one, bare, given)
    return given


def reads(field: Field, text: str) -> bool:
    """Whether a text can be read for a field."""
    try:
        _value(field, [text])
    except CannotSum:
        return False
    return True


def _value(field: Field, texts: list[str]) -> object:
    if field.kind == "flag":
        return True
    found = []
    for text in texts:
        try:
            found.append(READERS[field.kind](text, field.choices))
        except (ReadError, SumError, Unread) as problem:
            name = field.name if field.bare else f"--{field.name}"
            raise CannotSum(f"{name}: {problem}") from None
        except (ArithmeticError, ValueError):
            name = field.name if field.bare else f"--{field.name}"
            like = LIKE[field.kind](field.choices)
            raise CannotSum(f"{name}: {quoted(text)} cannot be read; write {like}") from None
    return found if field.many else found[0]


def _taken(field: Field, row: list[str]) -> str:
    """The words after a name that belong to it: the most that can be read, at least one."""
    most = 0
    while most < len(row) and most < 12 and not _is_name(row[most]):
        most += 1
    for count in range(most, 0, -1):
        text = " ".join(row[:count])
        if reads(field, text):
            del row[:count]
            return text
    text = " ".join(row[:most])
    del row[:most]
    return text


def _is_name(word: str) -> bool:
    return word.startswith("--") and len(word) > 2


def _share(one: Sum, words: list[str], given: dict[str, list[str]]) -> None:
    """Give the bare words to the bare fields in order."""
    fields = one.bare
    if not words:
        return
    if not fields:
        raise CannotSum(f"{one.name} has no place for {quoted(' '.join(words))}")
    if len(fields) == 1 and fields[0].many and all(reads(fields[0], word) for word in words):
        given[fields[0].name] = words
        return
    if len(words) <= len(fields) and all(map(reads, fields, words)):
        given.update({field.name: [word] for field, word in zip(fields, words, strict=False)})
        return
    rest = list(words)
    for place, field in enumerate(fields):
        if not rest:
            return
        last = place == len(fields) - 1
        if last:
            given[field.name] = [" ".join(rest)]
            return
        for count in range(len(rest), 0, -1):
            if reads(field, " ".join(rest[:count])):
                break
        else:
            # what cannot be read is refused in its own words, when it is read
            count = len(rest) if len(words) > len(fields) else 1
        given[field.name] = [" ".join(rest[:count])]
        del rest[:count]


def _missing(one: Sum, field: Field) -> str:
    name = field.name if field.bare else f"--{field.name}"
    like = LIKE[field.kind](field.choices)
    example = f"\n    like: forgelog sums {one.name} {one.examples[0]}"
    return f"{one.name} wants {name}, {field.says}: {like}{example}"


def _no_field(one: Sum, name: str) -> str:
    from forgelog.recipe.plain import did_you_mean

    names = [field.name for field in one.fields if not field.bare]
    known = ", ".join(f"--{other}" for other in (*names, "json", "units"))
    hint = did_you_mean(name, names)
    words = f"{one.name} has no {quoted('--' + name)}; it takes {known}"
    return f"{words}\n    {hint}" if hint else words
