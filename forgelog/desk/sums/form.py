"""A sum that is being filled in on a screen: its fields, what they hold, and the answer so far."""

from __future__ import annotations

import shlex

import msgspec

from forgelog.desk.sums import SUMS, find_sum
from forgelog.desk.sums.answer import Answer
from forgelog.desk.sums.asking import CannotSum, Field, Sum, ask, read_words, reads
from forgelog.desk.sums.kinds import LIKE

FAMILIES = {
    "bars": "BARS",
    "stock": "STOCK",
    "bends": "BENDS AND RINGS",
    "threads": "THREADS",
    "joints": "BOLTS AND NUTS",
    "heat": "HOT AND COLD",
    "work": "WORK AND FIRE",
    "steels": "STEELS",
    "colours": "COLOURS",
    "measures": "MEASURES",
}
"""Titles over the list of sums, by the module that holds them."""

MOST_OF_ONE = 8
"""So many forms of one piece a screen takes."""


class Choice(msgspec.Struct, frozen=True, kw_only=True):
    """A row of the list of sums."""

    name: str
    says: str
    title: str = ""
    """Over the first of a family."""


class Slot(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to fill in."""

    field: Field
    number: int
    """Which of several of its kind, from 0."""
    text: str
    """What it holds; "" where nothing is said."""

    @property
    def words(self) -> str:
        """What it is called on the screen."""
        return self.field.says


class Form(msgspec.Struct, frozen=True, kw_only=True):
    """A sum and what has been said for it."""

    one: Sum
    texts: dict[str, tuple[str, ...]]

    @property
    def slots(self) -> tuple[Slot, ...]:
        """Every slot in order; of what may stand several times one more than is said."""
        found = []
        for field in self.one.fields:
            texts = self.texts.get(field.name, ())
            room = min(len(texts) + 1, MOST_OF_ONE) if field.many else 1
            for number in range(room):
                text = texts[number] if number < len(texts) else ""
                found.append(Slot(field=field, number=number, text=text))
        return tuple(found)


def choices() -> tuple[Choice, ...]:
    """Every sum, family by family."""
    found: list[Choice] = []
    before = ""
    for name, (module, says) in SUMS.items():
        title = FAMILIES[module] if module != before else ""
        found.append(Choice(name=name, says=says, title=title))
        before = module
    return tuple(found)


def begin(name: str) -> Form:
    """A form that holds the sum's own example, so that an answer stands there at once.

    Raises:
        CannotSum: there is no such sum.
    """
    one = find_sum(name)
    given = read_words(one, shlex.split(one.examples[0]))
    texts = {field.name: tuple(given.get(field.name, ())) for field in one.fields}
    for field in one.fields:
        if not texts[field.name] and field.default:
            texts[field.name] = (field.default,)
    return Form(one=one, texts=texts)


def usual_of(slot: Slot) -> tuple[str, ...]:
    """What a key steps through in a slot; "" is to say nothing."""
    if slot.field.kind == "flag":
        return ("", "yes")
    usual = slot.field.usual
    must = (slot.field.needed or bool(slot.field.default)) and not slot.field.many
    return usual if must or not usual else ("", *usual)


def stepped(form: Form, slot: Slot) -> Form:
    """The next usual choice in a slot; the same form where it has none."""
    usual = usual_of(slot)
    if not usual:
        return form
    at = usual.index(slot.text) + 1 if slot.text in usual else 0
    return _with(form, slot, usual[at % len(usual)])


def written(form: Form, slot: Slot, text: str) -> Form:
    """The slot with what was typed; nothing clears it, where it may be left out.

    Raises:
        CannotSum: it cannot be read; says what to write.
    """
    text = " ".join(text.split())
    if slot.field.kind == "flag":
        text = "yes" if text.lower() in ("y", "yes") else ""
    elif text and not reads(slot.field, text):
        # the reader's own words say best what is the matter
        given = {slot.field.name: [text]}
        alone = form.one._replace(fields=(slot.field._replace(needed=True),))
        try:
            ask(alone, given)
        except CannotSum as problem:
            raise CannotSum(str(problem).partition(": ")[2] or str(problem)) from None
    elif not text and slot.field.needed:
        raise CannotSum(f"it must be said: {LIKE[slot.field.kind](slot.field.choices)}")
    return _with(form, slot, text)


def _with(form: Form, slot: Slot, text: str) -> Form:
    name = slot.field.name
    old = list(form.texts.get(name, ()))
    if slot.number < len(old):
        old[slot.number] = text
    else:
        old.append(text)
    texts = dict(form.texts)
    texts[name] = tuple(one for one in old if one)
    if text and name in form.one.one_of:
        texts.update({other: () for other in form.one.one_of if other != name})
    return msgspec.structs.replace(form, texts=texts)


def answer_of(form: Form, book: str | None = None) -> Answer | str:
    """The answer, or in the smith's words why there is none yet."""
    given = {name: list(texts) for name, texts in form.texts.items() if texts}
    try:
        return ask(form.one, given, book=book)
    except CannotSum as problem:
        return str(problem).split("\n    like:")[0]
