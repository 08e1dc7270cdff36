"""The blind apprentice: knows nothing of the recipe, does what the card and the bottom line say.

He reads the `View` alone, as a person reads the screen. While he is sloppy he also does what people
do: misses keys, presses twice, presses the wrong one, walks away, goes home, loses the power. Once
he is polite again every order must come to its end.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from random import Random

from forgelog.floor.view import KeyLine, View
from forgelog.units import parse_time
from forgelog.work.state import FINISHED, FITTED, SCRAPPED
from tests.floor.days import Days, Seen, check_folded
from tests.floor.ledger import Key, Ledger, card_key, number_of

BIG = ("space", "enter", "tab", "backspace")
FURTHER = (*"123456789", *"rcgnmpv?qx")
TEXTS = ("text:", "text:thin at the neck", "text:12.4 mm", "text:1/2 in", "text:twelve")
ERRANDS = (
    ("trouble with a cold piece", " x ", "some are spoilt", "1: made again"),
    ("it ended a minute ago",),
    ("that last heat was two",),
    ("a step is not done after all", ""),
    ("a step is done, heats not pressed", ""),
    ("let a piece rest", ""),
    ("a tool is ready, or is not", ""),
)
TREATED = ("NORMALISE", "ANNEAL", "HARDEN", "TEMPER")
SETTLED = ("put it in the fire", "let it rest")


class Apprentice:
    """Works through the orders of a floor."""

    def __init__(self, days: Days, rng: Random, *, sloppy: float = 0.0) -> None:
        """Put him to work.

        Args:
            days: The floor.
            rng: His luck.
            sloppy: Share of keys, while he is sloppy, before which something else happens.
        """
        self.days = days
        self.rng = rng
        self.sloppy = sloppy
        self.slips = 0
        """Things that went wrong, so far."""
        self.home = False
        """True once the work is done and he has gone home."""
        sheets = {}
        lettered = len(days.state.orders) > 1
        for number, order in enumerate(days.state.orders.values()):
            letter = "ABC"[number] if lettered else ""
            for component in order.pins[0].components:
                sheets[letter, component.name.upper()] = component.steps
        self.ledger = Ledger(sheets, lettered=lettered)
        self.cards: set[tuple[str, str, str]] = set()
        self.stuck = 0
        self.impatient = False
        self.truth: dict[tuple[Key, int], int] = {}

    def work(self, *, slips: int = 0, most: int = 4000) -> None:
        """Work until the orders are finished.

        Args:
            slips: How many things go wrong before he is polite for good.
            most: Keys and looks that he may need in all.
        """
        for _ in range(most):
            view = self.days.look()
            if view.leave:
                self._leave()
                if self.home:
                    return
                continue
            if self.slips < slips and self.rng.random() < self.sloppy:
                self.slips += 1
                self._slip(view)
            else:
                self._polite(view)
        raise AssertionError(f"no end to it after {most} keys")

    def key(self, key: str, after_s: float | None = None) -> Seen:
        """Some seconds later, press a key."""
        self.days.wait(self.rng.uniform(0.9, 3.0) if after_s is None else after_s)
        seen = self.days.key(key)
        self.ledger.follow(seen)
        if seen.counted:
            self.cards.clear()
        return seen

    # Polite

    def _polite(self, view: View) -> None:
        if view.entry:
            self.key("text:")
        elif view.list is not None and view.list.title.startswith("the power was off"):
            self.key(self.rng.choice(("enter", "enter", "tab")))
        elif view.list is not None:
            self.key("space")
        elif view.question:
            self._answer(view)
        elif view.paused:
            self.key(self.rng.choice(BIG))
        elif view.finished:
            self.key("enter")
        elif view.clock_words == "in hand":
            self._in_hand(view)
        else:
            self._card(view)

    def _answer(self, view: View) -> None:
        """He leaves it as it is, unless nothing else can be done."""
        yes = [k.key.lower() for k in view.keys if k.words != "leave it as it is"]
        no = [k.key.lower() for k in view.keys if k.words == "leave it as it is"]
        assert yes
        assert no
        self.key(yes[0] if self.impatient else no[0])

    def _in_hand(self, view: View) -> None:
        if view.verb.startswith("QUENCH"):
            self.key("enter", 12)
            return
        held = card_key(view)
        step = held, number_of(view)
        truth = self.truth.setdefault(step, self.rng.choice((1, 1, 1, 2, 2, 3)))
        had = self.ledger.lump(held).heats.get(step[1], 0)
        after_s = self.rng.uniform(12, 50)
        if had + 1 >= truth:
            self.key("enter", after_s)
        elif line(view, "SPACE").live:
            self.key("space", after_s)
        else:
            self.key("tab", after_s)
            self._find("lay it aside")

    def _card(self, view: View) -> None:
        space, enter = line(view, "SPACE"), line(view, "ENTER")
        if view.clock_words.startswith("in the fire"):
            if "LOOK" in view.clock_words:
                self.key("space", 3)
                return
        elif view.clock_words == "at the bench":
            self.key("enter", self.rng.uniform(30, 400))
            return
        elif view.clock_words == "at the bench, stopped":
            self.key("space")
            return
        elif enter.words == "it fits":
            self.key("space" if self.rng.random() < 0.08 else "enter", 20)
            return
        elif space.live and space.words in SETTLED:
            self.key("space")
            return
        elif enter.live and (enter.words in SETTLED or enter.words.startswith("begin")):
            self.key("enter")
            return
        waits = view.verb == "SOMETHING ELSE" or view.clock_words == "of rest left, about"
        if self.impatient and not space.live and not waits and card_of(view) not in self.cards:
            self.key("space")
            if self.days.look().question:
                return
        self._next(view)

    def _next(self, view: View) -> None:
        """To the first thing of the advice; else wait for what is hot or rests; else look about."""
        waits = [s for text in (*view.next, *(r.words for r in view.resting)) for s in due(text)]
        at_once = len(view.next) - len([text for text in view.next if due(text)])
        if card_of(view) not in self.cards and (self.impatient or at_once or not waits):
            self.cards.add(card_of(view))
            self.key("tab", 0.4)
            return
        self.cards.clear()
        if waits or view.fire or any(not rest.due for rest in view.resting):
            self.impatient = False
            self.days.wait(min(waits, default=60) + 2)
            return
        self.stuck += 1
        assert self.stuck < 60, "nothing can be done, and nothing is waited for"
        if view.fire_title == "FIRE out":
            self.take("the fire is lit again")
        elif not self.impatient:
            self.impatient = True
        else:
            self.impatient = False
            self._find_a_way()

    def _find_a_way(self) -> None:
        """A steel that nobody knows is tried; what can never have its parts is scrapped."""
        for _ in range(40):
            view = self.days.look()
            words = line(view, "SPACE").words
            if words.startswith("unknown steel"):
                self.take("a test piece was hardened")
                return
            if words.startswith("it wants "):
                name = card_key(view)[1].lower()
                self.take("trouble with a cold piece", name, "make no other", "lost")
                return
            self.key("tab", 0.4)

    # Lists

    def take(self, *choices: str) -> bool:
        """Open "something else" and take one choice after another, as far as they are there."""
        for _ in range(60):
            if self.days.look().verb == "SOMETHING ELSE":
                break
            self.key("tab", 0.4)
        else:
            return False
        self.key("enter")
        return all(self._find(choice) for choice in choices)

    def _find(self, wanted: str) -> bool:
        listed = self.days.look().list
        if listed is None:
            return False
        for _ in listed.choices:
            listed = self.days.look().list
            assert listed is not None
            if wanted.lower() in listed.choices[listed.at].lower():
                self.key("enter")
                return True
            self.key("tab", 0.4)
        self.key("space")
        return False

    # Sloppy

    def _slip(self, view: View) -> None:
        slips: list[tuple[int, Callable[[View], None]]] = [
            (10, self._twice),
            (4, self._held_down),
            (10, self._wrong_key),
            (6, self._further_key),
            (8, self._undo),
            (5, self._away),
            (2, self._overnight),
            (12, self._any_list),
            (4, self._typed),
            (2, self._day_ends),
            (3, self._power_cut),
            (3 if view.resting else 0, self._in_water),
            (8, self._errand),
            (40 if view.verb.startswith(TREATED) else 0, self._judged),
            (40 if enter_says(view, "let it rest") else 0, self._no_rest),
            (8 if view.clock_words == "in hand" else 0, self._trouble),
            (6 if view.clock_words == "in hand" else 0, self._not_pressed),
            (5 if view.clock_words == "in hand" else 0, self._another_piece),
        ]
        chosen = self.rng.choices([s for _, s in slips], [w for w, _ in slips])[0]
        self.days.history.append(f"    slip: {chosen.__name__.strip('_')}")
        chosen(view)

    def _twice(self, view: View) -> None:
        key = self.rng.choice(BIG)
        self.key(key)
        self._bounces(key, 1)

    def _held_down(self, view: View) -> None:
        key = self.rng.choice(BIG)
        self.key(key)
        self._bounces(key, self.rng.randint(3, 9))

    def _bounces(self, key: str, times: int) -> None:
        """The same key again, too soon to be meant: nothing may come of it."""
        for _ in range(times):
            was = self.days.state
            after_s = self.rng.uniform(0.02, 0.23) if key == "tab" else self.rng.uniform(0.03, 0.7)
            seen = self.key(key, after_s)
            assert self.days.state is was, "a bounce was counted"
            assert "twice" in seen.after.message

    def _wrong_key(self, view: View) -> None:
        self.key(self.rng.choice(BIG))

    def _further_key(self, view: View) -> None:
        self.key(self.rng.choice(FURTHER))

    def _undo(self, view: View) -> None:
        times = self.rng.choice((1, 1, 2, 3, 6))
        for _ in range(times):
            self.key("backspace")
        if self.rng.random() < 0.5:
            for _ in range(self.rng.randint(1, times)):
                self.take("put back what was undone")

    def _away(self, view: View) -> None:
        if self.rng.random() < 0.3:
            self.days.nod_off(self.rng.uniform(60, 3000))
        else:
            self.days.wait(self.rng.choice((40, 100, 300, 1500)))

    def _overnight(self, view: View) -> None:
        self.days.wait(self.rng.uniform(8, 16) * 3600)

    def _any_list(self, view: View) -> None:
        """Somewhere into the lists, and whatever stands there."""
        if view.clock_words == "in hand" or view.list is not None:
            self.key("tab")
        else:
            self.take()
        self._anything(4)

    def _anything(self, depth: int) -> None:
        for _ in range(depth):
            listed = self.days.look().list
            if listed is None or self.days.look().question:
                return
            for _ in range(self.rng.randrange(len(listed.choices))):
                self.key("tab", 0.4)
            self.key("enter")

    def _trouble(self, view: View) -> None:
        self.key("tab")
        self._find(
            self.rng.choice(
                (
                    *("lay it aside", "burnt end", "cracked", "make another", "make no other"),
                    *("another piece", "water", "method"),
                )
            )
        )
        self._anything(2)

    def _another_piece(self, view: View) -> None:
        """It was another one that he held."""
        self.key("tab")
        if self._find("another piece") and self.days.look().list is not None:
            self.key("enter")

    def _not_pressed(self, view: View) -> None:
        """Heats go by without a key."""
        self.days.wait(self.rng.uniform(90, 500))

    def _typed(self, view: View) -> None:
        if self.rng.random() < 0.5:
            self.key("n")
        else:
            self.take("a size was gauged", "", "another size")
        if self.days.look().entry:
            self.key(self.rng.choice(TEXTS))

    def _day_ends(self, view: View) -> None:
        if self.rng.random() < 0.5:
            self.key("q")
            self._find(self.rng.choice(("box 1", "on the rack", "beside")))
        else:
            self.take("end of the day", "box")

    def _power_cut(self, view: View) -> None:
        self.ledger.check(self.days.state)
        self.days.power_cut(self.rng.choice((30, 600, 5000, 40000)))
        if self.rng.random() < 0.5:
            self.take("the fire is out")

    def _in_water(self, view: View) -> None:
        """What rests goes into the tub."""
        name = self.rng.choice(view.resting).name
        self.take("cool a piece in water", name, "all of it")

    def _errand(self, view: View) -> None:
        """Something that is put right or told from the lists, as far as there is anything."""
        self.take(*self.rng.choice(ERRANDS))

    def _judged(self, view: View) -> None:
        """What the heat of a treatment was judged by."""
        self.take("what a heat was judged by", self.rng.choice((": magnet", ": eye", ": oven")))

    def _no_rest(self, view: View) -> None:
        """A piece that was to rest is taken up at once."""
        self.key("space")
        if self.days.look().question:
            self.key("enter")

    # Home

    def _leave(self) -> None:
        """The session is over: what stands is what he remembers."""
        self.ledger.check(self.days.state)
        done = all(p.place in (FINISHED, FITTED, SCRAPPED) for p in self.days.state.pieces.values())
        if done:
            check_folded(self.days)
            self.home = True
            return
        self.days.next_day(self.rng.uniform(600, 60000))
        self.ledger.new_day()


def enter_says(view: View, words: str) -> bool:
    """Whether ENTER does this now, with nothing open."""
    plain = view.list is None and not view.question and not view.entry and not view.paused
    return plain and line(view, "ENTER").words == words


def due(text: str) -> list[float]:
    """Seconds until a line of the screen wants something; empty where it does not say."""
    if match := re.search(r"about ([\d:]+) more$", text):
        parts = [int(part) for part in match[1].split(":")]
        return [float(sum(part * 60**i for i, part in enumerate(reversed(parts))))]
    if match := re.search(r"look in about (.+)$", text):
        return [parse_time(match[1])]
    return []


def card_of(view: View) -> tuple[str, str, str]:
    """What tells one card from another."""
    return view.order, view.piece, view.verb


def line(view: View, key: str) -> KeyLine:
    """What a key says."""
    return next(k for k in view.keys if k.key == key)
