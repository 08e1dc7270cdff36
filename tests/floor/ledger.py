"""The apprentice's own record of what was done, kept from the words on the screen alone.

It is set against the records of the state at the end of every session. A piece is known by what its
card says; the process sheet is known as it would hang on the wall.
"""

from __future__ import annotations

import re

import msgspec

from forgelog.floor import names
from forgelog.floor.view import View
from forgelog.recipe.resolved import Step
from forgelog.work.changes import replace
from forgelog.work.queries import component_of, steps_of
from forgelog.work.state import State, Workpiece
from tests.floor.days import Seen

SHORTEST_S = 3.0
"""A stretch that ends sooner, with nothing done, is no heat."""
NOBODY_KNOWS_S = 180.0
"""In hand for longer: there may have been heats that nobody pressed."""

Key = tuple[str, str, str, int]
"""Letter of the order, component, mark and number: "A", "STRAP", "left", 1."""


class Lump(msgspec.Struct, frozen=True, kw_only=True):
    """What the apprentice remembers of one piece of steel."""

    heats: dict[int, int] = {}
    """Of steps under way, by the step's number."""
    done: dict[int, int] = {}
    """Of forging steps that are done."""
    unknown: frozenset[int] = frozenset()
    """Steps whose heats nobody counted."""
    total: int = 0
    scrapped: str = ""
    early: int = 0
    """Rests that were cut short."""
    skipped: int = 0
    rests_unclear: bool = False


class InHand(msgspec.Struct, frozen=True, kw_only=True):
    """The heat that is under way."""

    key: Key
    since_s: float
    """When the present step was begun in it."""
    taken_s: float
    shared: bool = False
    """A step was finished in it already."""


class Record(msgspec.Struct, frozen=True, kw_only=True):
    """All that the apprentice remembers."""

    lumps: dict[Key, tuple[Lump, ...]] = {}
    """The last is the one that is worked on; those before it were scrapped."""
    hand: InHand | None = None
    last: Key | None = None
    """Whose heat ended last."""


class Ledger:
    """Follows the keys and keeps the record; an undo leads back to the record of before."""

    def __init__(self, sheets: dict[tuple[str, str], tuple[Step, ...]], *, lettered: bool) -> None:
        self.sheets = sheets
        self.lettered = lettered
        self.now = Record()
        self.past: list[Record] = []
        self.undone: list[Record] = []
        self.target: Key | None = None
        self.remake = False

    def lump(self, key: Key) -> Lump:
        """The piece of steel that goes by this name now."""
        return self.now.lumps.get(key, (Lump(),))[-1]

    def follow(self, seen: Seen) -> None:
        """Write down what a press did."""
        before = self.now
        if seen.before.list is not None and seen.key == "enter":
            self._listed(seen)
        elif seen.before.question:
            self._answered(seen)
        elif not seen.before.paused:
            self._pressed(seen)
        if not seen.counted:
            self.now = before
        elif seen.key == "backspace" and seen.words.startswith("undo"):
            self.undone.append(before)
            self.now = self.past.pop()
        elif _choice(seen.before) == "put back what was undone" and seen.key == "enter":
            self.past.append(before)
            self.now = self.undone.pop()
        else:
            self.past.append(before)
            self.undone.clear()

    def new_day(self) -> None:
        """Undo reaches no further back."""
        self.past.clear()
        self.undone.clear()

    # What the keys did

    def _pressed(self, seen: Seen) -> None:
        view, words = seen.before, seen.words
        if view.clock_words == "in hand":
            if seen.key == "space" and words == "heat over, back in the fire":
                self._close(seen)
            elif seen.key == "enter" and not words.startswith("one more done"):
                self._done_in_hand(seen)
            return
        if seen.key == "space" and words.startswith(("out of the fire", "out and into")):
            held = InHand(key=card_key(seen.after), since_s=seen.work_s, taken_s=seen.work_s)
            self.now = replace(self.now, hand=held)
        elif seen.key == "space" and words == "does not fit: the step again":
            key = card_key(view)
            self._reopen(key, self._shaped_before(key, number_of(view)))

    def _done_in_hand(self, seen: Seen) -> None:
        held = self.now.hand
        assert held is not None
        number = number_of(seen.before)
        lump = self.lump(held.key)
        goes_on = seen.after.clock_words == "in hand"
        unknown = lump.unknown
        if seen.work_s - held.taken_s > NOBODY_KNOWS_S:
            unknown = unknown | {number}
        heats = dict(lump.heats)
        taken = heats.pop(number, 0) + 1
        lump = replace(
            lump,
            heats=heats,
            done={**lump.done, number: taken},
            unknown=unknown,
            total=lump.total + (0 if goes_on else 1),
        )
        self._put(held.key, lump)
        if goes_on:
            again = replace(held, since_s=seen.work_s, shared=True)
            self.now = replace(self.now, hand=again)
        else:
            self.now = replace(self.now, hand=None, last=held.key)

    def _close(self, seen: Seen, *, always: bool = False) -> None:
        """The heat is over, its step is not done. The card is that of the piece in hand."""
        held = self.now.hand
        assert held is not None
        counted = always or seen.work_s - held.since_s >= SHORTEST_S
        lump = self.lump(held.key)
        number = number_of(seen.before)
        if counted:
            heats = {**lump.heats, number: lump.heats.get(number, 0) + 1}
            lump = replace(lump, heats=heats)
        lump = replace(lump, total=lump.total + (1 if counted or held.shared else 0))
        self._put(held.key, lump)
        last = held.key if counted or held.shared else self.now.last
        self.now = replace(self.now, hand=None, last=last)

    def _answered(self, seen: Seen) -> None:
        key = card_key(seen.before)
        if seen.words == "end the rest now" and seen.counted:
            lump = self.lump(key)
            self._put(key, replace(lump, early=lump.early + 1))
        elif seen.words == "make another after all":
            self._again(self.named(seen.before.question.split(" was scrapped")[0]))
        elif seen.words == "skip the rest" and seen.counted:
            lump = self.lump(key)
            self._put(key, replace(lump, skipped=lump.skipped + 1))
        elif seen.words == "end the day all the same" and self.now.hand is not None:
            self._close(seen)

    # What the lists did

    def _listed(self, seen: Seen) -> None:
        listed = seen.before.list
        assert listed is not None
        choice, title = listed.choices[listed.at], listed.title
        if choice.startswith("nothing to choose"):
            return
        if title.startswith("trouble: "):
            self.target = self.named(title.removeprefix("trouble: "))
            self.remake = choice == "scrap it, make another"
            if choice == "make another after all":
                self._again(self.target)
            if choice == "lay it aside":
                self._close(seen)
        elif title == "scrapped: why?":
            self._scrap(seen)
        elif title == "which piece do you hold?":
            self._swap(self.named(choice.rsplit(" (", 1)[0]))
        elif title == "which step is not done after all?":
            key = self.named(choice.split(": ", 1)[0])
            self._reopen(key, self._step_named(key, choice.split(": ", 1)[1]))
        elif title == "which step is done?":
            key = self.named(choice.split(": ", 1)[0])
            number = self._step_named(key, choice.split(": ", 1)[1])
            lump = self.lump(key)
            heats = {n: h for n, h in lump.heats.items() if n != number}
            done = {**lump.done, number: lump.heats.get(number, 0)}
            unknown = lump.unknown | {number}
            self._put(key, replace(lump, heats=heats, done=done, unknown=unknown))
        elif title.startswith("pause: where"):
            if choice in ("back in the fire", "aside"):
                self._close(seen)
        elif choice.startswith("that last heat was two"):
            self._one_more()
        elif title.startswith("end of the day") and self.now.hand and seen.counted:
            self._close(seen)

    def _scrap(self, seen: Seen) -> None:
        key = self.target
        assert key is not None
        assert seen.before.list is not None
        if self.now.hand is not None and self.now.hand.key == key:
            self._close(seen, always=True)
        reason = seen.before.list.choices[seen.before.list.at]
        lumps = self.now.lumps.get(key, (Lump(),))
        spoilt = replace(lumps[-1], scrapped=reason, rests_unclear=True)
        more = (Lump(),) if self.remake else ()
        lumps = {**self.now.lumps, key: (*lumps[:-1], spoilt, *more)}
        last = None if self.now.last == key else self.now.last
        self.now = replace(self.now, lumps=lumps, last=last)

    def _again(self, key: Key) -> None:
        lumps = (*self.now.lumps[key], Lump())
        self.now = replace(self.now, lumps={**self.now.lumps, key: lumps})

    def _swap(self, other: Key) -> None:
        held = self.now.hand
        assert held is not None
        self.now = replace(self.now, hand=replace(held, key=other))

    def _one_more(self) -> None:
        key = self.now.last
        assert key is not None, "it speaks of a heat that there was not"
        lump = self.lump(key)
        under_way = [n for n, heats in lump.heats.items() if heats]
        lump = replace(lump, total=lump.total + 1)
        if under_way:
            number = max(under_way)
            lump = replace(lump, heats={**lump.heats, number: lump.heats[number] + 1})
        else:
            number = max(lump.done)
            lump = replace(lump, done={**lump.done, number: lump.done[number] + 1})
        self._put(key, lump)

    def _reopen(self, key: Key, number: int) -> None:
        lump = self.lump(key)
        heats = {n: h for n, h in lump.heats.items() if n <= number}
        if number in lump.done:
            heats[number] = 0 if number in lump.unknown else lump.done[number]
        done = {n: h for n, h in lump.done.items() if n < number}
        unknown = frozenset(n for n in lump.unknown if n < number)
        self._put(key, replace(lump, heats=heats, done=done, unknown=unknown, rests_unclear=True))

    def _put(self, key: Key, lump: Lump) -> None:
        lumps = self.now.lumps.get(key, (Lump(),))
        self.now = replace(self.now, lumps={**self.now.lumps, key: (*lumps[:-1], lump)})

    # Names

    def named(self, text: str) -> Key:
        """The piece that a list means: "A strap, left 2 x 4, remade"."""
        letter = ""
        if self.lettered:
            letter, text = text.split(" ", 1)
        text = text.removesuffix(", remade")
        text = re.sub(r" x \d+$", "", text)
        number = 1
        if match := re.search(r" (\d+)$", text):
            number, text = int(match[1]), text[: match.start()]
        name, _, mark = text.partition(", ")
        return letter, name.upper(), mark, number

    def _step_named(self, key: Key, do: str) -> int:
        steps = self.sheets[key[:2]]
        found = [n for n, step in enumerate(steps, 1) if names.step_title(step) == do]
        assert len(found) == 1, f"{do!r} could be steps {found}"
        return found[0]

    def _shaped_before(self, key: Key, number: int) -> int:
        steps = self.sheets[key[:2]][: number - 1]
        shaped = [n for n, step in enumerate(steps, 1) if step.kind not in ("rest", "gauge")]
        return shaped[-1] if shaped else number

    # Against the state

    def check(self, state: State) -> None:
        """The records of the state say what the apprentice remembers."""
        found: dict[Key, list[Workpiece]] = {}
        letters = names.letters(state)
        for piece in sorted(state.pieces.values(), key=lambda p: p.serial):
            number, _ = names.number_of(state, piece)
            name = component_of(state, piece).name.upper()
            key = (letters.get(piece.order, ""), name, piece.mark, number)
            found.setdefault(key, []).append(piece)
        for key, pieces in found.items():
            lumps = self.now.lumps.get(key, (Lump(),))
            assert len(lumps) == len(pieces), (key, [p.id for p in pieces])
            for lump, piece in zip(lumps, pieces, strict=True):
                check_piece(lump, piece, steps_of(state, piece))


def check_piece(lump: Lump, piece: Workpiece, steps: tuple[Step, ...]) -> None:
    """One piece's records against what is remembered of it."""
    assert piece.scrapped_why == lump.scrapped, piece.id
    assert piece.heats_all == lump.total, (piece.id, piece.heats_all, lump.total)
    numbers = {step.id: n for n, step in enumerate(steps, 1)}
    kinds = {n: step.kind for n, step in enumerate(steps, 1)}
    taken: dict[int, int | None] = {}
    for record in piece.done:
        if record.kind == "forge" and not record.scrapped:
            taken[numbers[record.step]] = record.heats
    expected = {n: heats for n, heats in lump.done.items() if kinds[n] == "forge"}
    assert set(taken) == set(expected), (piece.id, taken, expected)
    for number, heats in taken.items():
        if heats is None:
            assert number in lump.unknown, (piece.id, number)
        else:
            assert heats == expected[number], (piece.id, number, heats, expected[number])
    at = piece.step + 1
    if at <= len(steps) and kinds[at] == "forge" and not piece.scrapped_why:
        assert piece.heats == lump.heats.get(at, 0), (piece.id, at, piece.heats, lump.heats)
    if not lump.rests_unclear:
        ended = [r for r in piece.rests if r.rested_s is not None and r.verdict != "broken"]
        skipped = [r for r in ended if r.needed_s == 0 and r.verdict == "skipped"]
        early = [r for r in ended if r.rested_s is not None and r.rested_s + 0.2 < r.needed_s]
        assert len(skipped) == lump.skipped, (piece.id, skipped)
        assert len(early) == lump.early, (piece.id, early)


def card_key(view: View) -> Key:
    """The piece whose card is shown."""
    letter = ""
    if re.match(r"[A-Z] ", view.order):
        letter = view.order[0]
    name, _, more = view.piece.partition(" · ")
    mark, number = "", 1
    for word in more.split(", ") if more else ():
        if match := re.fullmatch(r"(\d+) of (\d+)", word):
            number = int(match[1])
        elif word != "remade" and not re.fullmatch(r"\d+ in hand", word):
            mark = word
    return letter, name, mark, number


def number_of(view: View) -> int:
    """The step's number: 5 of "step 5 of 9"."""
    return int(view.progress.split()[1])


def _choice(view: View) -> str:
    return view.list.choices[view.list.at] if view.list is not None else ""
