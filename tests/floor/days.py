"""A floor in memory over several days, which watches that its promises hold at every press."""

from __future__ import annotations

import msgspec

from forgelog.floor.keys import keys
from forgelog.floor.meaning import WORDS_MOST
from forgelog.floor.press import begin, press
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import BIG_KEYS, Stand
from forgelog.floor.sums import degc_now
from forgelog.floor.view import View
from forgelog.recipe.resolved import Recipe
from forgelog.trade.cooling import HAND_WARM_DEGC
from forgelog.work.apply import settle
from forgelog.work.changes import replace
from forgelog.work.facts import AnyFact, FireLit, Press, SessionBegan
from forgelog.work.fold import fold
from forgelog.work.state import FIRE, HAND, State
from tests.floor.shop import Shop

WATER_LEFT_DEGC = 60.0
"""What comes out of the tub may be hotter than it looks: colder than this no key makes a piece."""


A_GLANCE_S = 3.0
"""So long what was read off the screen is taken to stand there still."""


class SessionInMemory(msgspec.Struct, frozen=True, kw_only=True):
    """What one file of the journal would hold."""

    header: SessionBegan
    presses: tuple[Press, ...]


class Seen(msgspec.Struct, frozen=True, kw_only=True):
    """One key, with what stood on the screen before it and after it."""

    key: str
    words: str
    """What the line said of it."""
    before: View
    after: View
    counted: bool
    """True where it made facts."""
    work_s: float
    """The work clock then."""


class Days(Shop):
    """Sessions at the fire, one after another, on the same orders."""

    def __init__(
        self,
        *recipes: Recipe,
        settings: FloorSettings | None = None,
        places: int = 3,
        method: str = "hand",
    ) -> None:
        self.files: list[list[Press]] = []
        self.looked: tuple[float, View] | None = None
        self.glanced: View | None = None
        """What stood there a moment ago: good enough for the next key."""
        super().__init__(*recipes, settings=settings, places=places, method=method)
        self.places = places
        self.history: list[str] = []

    def tell(self, *facts: AnyFact) -> None:
        """Facts, and the file of the journal that they would be written to."""
        if isinstance(facts[0], SessionBegan):
            self.seq = 0
            self.files.append([])
        super().tell(*facts)
        self.files[-1].append(self.presses[-1])
        self.looked = self.glanced = None

    def look(self) -> View:
        """What stands on the screen now; looked at once."""
        if self.looked is None or self.looked[0] != self.at.wall:
            view = self.view()
            check_view(view)
            self.looked = self.at.wall, view
        self.glanced = self.looked[1]
        return self.glanced

    def wait(self, seconds: float) -> None:
        """Time passes."""
        super().wait(seconds)
        self.looked = None
        if seconds > A_GLANCE_S:
            self.glanced = None

    def nod_off(self, seconds: float) -> None:
        """The laptop sleeps: one clock stands, the others go on."""
        self.at = replace(self.at, wall=self.at.wall + seconds, steady=self.at.steady + seconds)
        self.looked = self.glanced = None

    def key(self, key: str) -> Seen:
        """Press a key now, and see that nothing was promised that does not hold."""
        before = self.look() if self.glanced is None else self.glanced
        line = next((k for k in before.keys if k.key == key.upper()), None)
        state, stand, now = self.state, self.stand, self.now
        self.history.append(
            f"{now.rest_s - 1.79e9:8.0f} s  {before.piece or '-':32} {before.verb:26}"
            f" {key.upper()}: {line.words if line else ''}"
        )
        pressed = press(state, stand, key, now, self.settings)
        if pressed.facts:
            self.tell(*pressed.facts)  # type: ignore[arg-type]
        self.stand = pressed.stand
        self.looked = None
        after = self._moved_in_list(before, key) or self.look()
        seen = Seen(
            key=key,
            words=line.words if line else "",
            before=before,
            after=after,
            counted=bool(pressed.facts),
            work_s=now.work_s,
        )
        live = line is None or line.live
        if seen.counted and not live:
            live = keys(settle(state, now), stand, now, self.settings)[key].live
        check_effect(seen, stand, pressed.stand, live=live)
        check_places(self.state)
        check_heat(state, self.state, after, self)
        return seen

    def _moved_in_list(self, before: View, key: str) -> View | None:
        """What stands there after TAB in a list: nothing but the choice is another one."""
        listing = self.stand.listing
        if key != "tab" or before.list is None or listing is None or before.message:
            return None
        at = min(listing.at, len(before.list.choices) - 1)
        after = replace(before, list=replace(before.list, at=at), message=self.stand.message)
        self.looked, self.glanced = (self.at.wall, after), after
        return after  # type: ignore[no-any-return]

    # From one session to the next

    def power_cut(self, away_s: float) -> None:
        """The power goes; later the same session goes on in a new file of the journal."""
        check_folded(self)
        self.at = replace(
            self.at,
            wall=self.at.wall + away_s,
            steady=5.0,
            awake=5.0,
            boot=f"boot {len(self.files)}",
        )
        self._begin(continues=self.state.session)
        self.stand = begin(self.state, self.now, self.settings)

    def next_day(self, away_s: float) -> None:
        """The day was ended; another session begins on the same orders."""
        assert self.state.ended
        check_folded(self)
        self.wait(away_s)
        method = self.state.method
        self._begin()
        self.tell(FireLit(places=self.places, method=method, orders=tuple(self.state.orders)))
        self.stand = begin(self.state, self.now, self.settings)

    def _begin(self, continues: str = "") -> None:
        orders = tuple(self.state.orders)
        name = f"s{len(self.files) + 1}"
        self.history.append(f"--- {name} {'continues ' + continues if continues else 'begins'}")
        self.tell(
            SessionBegan(
                version="0",
                session=name,
                device="bench",
                orders=orders,
                continues=continues,
                seen={continues: self.state.press} if continues else {},
            )
        )


def check_view(view: View) -> None:
    """The view is whole: every key has its words, every card says what to do."""
    assert [k.key for k in view.keys] == ["SPACE", "ENTER", "TAB", "BACKSPACE"]
    for line in view.keys:
        assert 0 < len(line.words) <= WORDS_MOST, line.words
        assert line.words == line.words.strip()
    assert view.verb, "a card without a title"
    assert 0 < len(view.verb_short) <= 10, view.verb_short
    assert view.status
    assert view.fire_title
    assert all(view.lines), "an empty line on the card"
    assert view.lines or view.piece, f"nothing stands on the card {view.verb}"
    assert view.lines or not view.verb.startswith("REST"), "a rest, and not to where"
    if view.piece:
        assert view.order
        assert view.progress.startswith("step ")
    if view.clock_words == "in hand":
        assert view.clock
    if view.list is not None:
        assert 0 <= view.list.at < len(view.list.choices)
        assert all(view.list.choices)
        assert view.list.title
        twice = {c for c in view.list.choices if view.list.choices.count(c) > 1}
        assert not twice, f"choices that cannot be told apart: {twice}"
    assert bool(view.question) == (view.question_left_s is not None)
    assert all(line.name and line.words for line in (*view.resting, *view.hot))


def check_effect(seen: Seen, stand: Stand, then: Stand, *, live: bool) -> None:
    """No press without an effect or a reason."""
    plain = {"arrived": {}, "quiet": frozenset()}
    changed = replace(stand, **plain) != replace(then, **plain)
    assert seen.counted or changed or then.message, "a key did nothing and did not say why"
    if seen.counted:
        assert live, f"the line says that {seen.key} does nothing, and it made facts"
    elif not live and seen.key in BIG_KEYS:
        assert then.message or then.asking, "a key does nothing, and no reason is shown"


def check_places(state: State) -> None:
    """One piece in hand at most, and no more in the fire than it has places."""
    held = [p.id for p in state.pieces.values() if p.place == HAND]
    heated = [p.id for p in state.pieces.values() if p.place == FIRE]
    assert len(held) <= 1, held
    assert len(heated) <= state.fire.places, heated
    assert state.fire.lit or not heated, "pieces lie in a fire that is out"
    for piece in state.pieces.values():
        assert (piece.open is not None) == (piece.place == HAND), piece
        assert (piece.rest is not None) == (piece.place == "resting"), piece


def check_heat(before: State, after: State, view: View, days: Days) -> None:
    """What is hot by the sum is on the HOT list, in hand or in the fire, whatever key came."""
    now = days.now
    hot = 0
    for piece in after.pieces.values():
        degc = degc_now(after, piece.id, now)
        was = before.pieces.get(piece.id)
        if piece.place == FIRE:
            continue
        if was is not None:
            was_degc = degc_now(before, piece.id, now)
            least = min(was_degc, WATER_LEFT_DEGC) - 0.2
            assert was_degc <= HAND_WARM_DEGC or degc >= least, f"{piece.id} is hot no more"
            taken_back = view.message.startswith("undone") or "put back" in view.message
            left = was.place == FIRE and piece.place != HAND
            if left and now.rest_s - was.since_s > 60 and not taken_back:
                assert degc > HAND_WARM_DEGC, f"{piece.id} came out of the fire, and is not hot"
        if degc > HAND_WARM_DEGC + 0.5 and piece.place != HAND:
            hot += 1
    shown = sum(
        int(h.name.split()[1]) if h.number == 0 and h.name.startswith("and ") else 1
        for h in view.hot
    )
    assert shown >= hot, f"{hot} pieces are hot, {shown} are shown"


def check_folded(days: Days) -> None:
    """The state folded again from the presses is the state that stands."""
    files = [
        SessionInMemory(header=presses[0].facts[0], presses=tuple(presses))  # type: ignore[arg-type]
        for presses in days.files
    ]
    folded = fold(files)
    bare = {"before": None, "undone": ()}
    assert replace(folded, **bare) == replace(days.state, **bare)
    one, other = folded.before, days.state.before
    while one is not None and other is not None:
        assert one.made_by == other.made_by
        one, other = one.before, other.before
    assert one is other, "undo reaches further in one than in the other"
    assert not folded.troubles
