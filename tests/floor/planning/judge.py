"""Judges a log of actions by the rules of the planning problem; shares no code with the planner.

The log is taken apart by component first (each must tell a possible story of its own), then the
stories are laid over one another: hands, fire, locks, tooling, assembly.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any, NamedTuple

Json = dict[str, Any]
DOES = {"put", "heat", "aside", "scrap", "bench", "treat", "setup"}


class Stay(NamedTuple):
    """A stay in the fire."""

    put: int
    out: int
    who: str


class Verdict(NamedTuple):
    """What a log came to; it counts only where nothing is wrong."""

    wrong: list[str]
    makespan_s: int
    tardiness: int
    hands_s: int
    setups: int
    laid_aside: int
    burnt: int


class _Story:
    """What one component went through."""

    def __init__(self, component: Json, day_s: int, truth: list[Json] | None) -> None:
        self.name = component["id"]
        self.steps = component["steps"]
        self.day_s = day_s
        self.truth = truth
        self.wrong: list[str] = []
        self.stays: list[Stay] = []
        self.stretches: list[tuple[int, int]] = []
        self.locks: list[tuple[int, int]] = []
        self.touches: list[int] = []
        self.heats: list[tuple[int, str | None]] = []
        self.began: list[int] = []
        self.burnt = self.asides = 0
        self.finish: int | None = None
        self._from_the_start(0)

    def _from_the_start(self, t: int) -> None:
        self.at, self.count = 0, 0
        self.free = t
        self.last_heat: int | None = None
        self.put_at: int | None = None
        self.lock_from = 0
        self._rests()

    def say(self, t: int, words: str) -> None:
        self.wrong.append(f"{t} {self.name}: {words}")

    def _rests(self) -> None:
        while self.at < len(self.steps) and self.steps[self.at]["kind"] == "rest":
            midnight = self.free - self.free % self.day_s + self.day_s
            self.free = min(midnight, self.free + self.steps[self.at]["rest_s"])
            self.last_heat = None
            self.at += 1
        if self.at == len(self.steps):
            self.finish = self.free

    def _step(self, t: int, kind: str) -> Json | None:
        if self.at < len(self.steps) and self.steps[self.at]["kind"] == kind:
            return self.steps[self.at]  # type: ignore[no-any-return]
        self.say(t, f"its next step is not {kind}")
        return None

    def _true(self, key: str, planned: list[int]) -> list[int]:
        return self.truth[self.at][key] if self.truth is not None else planned

    def _count(self, end: int, whole: int) -> None:
        self.free = end
        self.count += 1
        if self.count >= whole:
            self.at, self.count = self.at + 1, 0
            self._rests()

    def _begin(self, t: int) -> None:
        self.began.append(t)
        if t < self.free:
            self.say(t, f"begun {self.free - t} s before its rest or last work was over")

    def put(self, a: Json) -> None:
        t = a["t"]
        if self.put_at is not None:
            self.say(t, "put in twice")
        if self._step(t, "forge") is not None:
            self._begin(t)
        self.put_at = t
        self.touches.append(t)

    def _leaves(self, t: int) -> tuple[int, int]:
        """When it is hot and when it burns."""
        if self.put_at is None:
            self.say(t, "was not in the fire")
            return t, t
        put, self.put_at = self.put_at, None
        self.stays.append(Stay(put, t, self.name))
        step = self.steps[self.at]
        soak = step["cold_s"]
        if self.last_heat is not None and self.last_heat // self.day_s == put // self.day_s:
            soak = min(soak, step["reheat_s"] + (put - self.last_heat) // step["fade"])
        percent = self._true("soak_pct", [100] * step["heats"])[self.count]
        hot = put + (soak * percent + 99) // 100
        return hot, hot + step["hold_s"]

    def heat(self, a: Json) -> None:
        t, end = a["t"], a["end"]
        step = self._step(t, "forge")
        if step is None:
            return
        hot, burns = self._leaves(t)
        if not hot <= t <= burns:
            self.say(t, f"drawn at {t}, hot from {hot} to {burns}")
        hands = self._true("hand_s", [step["hand_s"]] * step["heats"])
        if end - t != hands[self.count]:
            self.say(t, "a heat of the wrong length")
        self.stretches.append((t, end))
        self.heats.append((t, step["tooling"]))
        self.last_heat = end
        self._count(end, len(hands))

    def aside(self, a: Json) -> None:
        _, burns = self._leaves(a["t"])
        self.touches.append(a["t"])
        self.asides += 1
        if a["t"] > burns:
            self.say(a["t"], "burnt, and laid aside")

    def scrap(self, a: Json) -> None:
        _, burns = self._leaves(a["t"])
        self.touches.append(a["t"])
        self.burnt += 1
        if a["t"] <= burns:
            self.say(a["t"], "scrapped, but not burnt")
        self._from_the_start(a["t"])

    def bench(self, a: Json) -> None:
        t, end = a["t"], a["end"]
        step = self._step(t, "bench")
        if step is None:
            return
        self._begin(t)
        bouts = self._true("bout_s", [step["bout_s"]] * step["bouts"])
        if end - t != bouts[self.count]:
            self.say(t, "a bout of the wrong length")
        self.stretches.append((t, end))
        self.last_heat = None
        self._count(end, len(bouts))

    def treat(self, a: Json) -> None:
        t, drawn, end = a["t"], a["drawn"], a["end"]
        step = self._step(t, "treat")
        if step is None:
            return
        parts, n = step["parts"], self.count
        if n == 0:
            self._begin(t)
            self.lock_from = t
        else:
            earliest = self.free + parts[n - 1]["air_s"]
            if not earliest <= t <= earliest + parts[n - 1]["slack_s"]:
                self.say(t, "a part of the treatment outside its time")
        soaks = self._true("soak_s", [p["soak_s"] for p in parts])
        hands = self._true("hand_s", [p["hand_s"] for p in parts])
        if drawn - t != soaks[n] or end - drawn != hands[n]:
            self.say(t, "a part of the wrong length")
        self.stretches.append((t, end))
        self.last_heat = None
        if n + 1 == len(parts):
            self.locks.append((self.lock_from, drawn))
        self._count(end, len(parts))


def judge(instance: Json, actions: list[Json], world: Json | None = None) -> Verdict:
    """The verdict on a log.

    Args:
        instance: An instance of format 1.
        actions: The log's actions, in order.
        world: True durations; None for the planned ones.
    """
    day_s, fire = instance["day_s"], instance["fire"]
    stories: dict[str, _Story] = {}
    needs: dict[str, list[str]] = {}
    for order in instance["orders"]:
        for piece in order["pieces"]:
            for c in piece["components"]:
                truth = world["components"][c["id"]] if world else None
                stories[c["id"]] = _Story(c, day_s, truth)
                needs[c["id"]] = c["needs"]
    wrong: list[str] = []
    setups: list[tuple[int, int, str]] = []
    last = 0
    inside = 0
    for a in actions:
        if a["t"] < last:
            wrong.append(f"{a['t']}: not in order of time")
        last = a["t"]
        if a["do"] not in DOES:
            wrong.append(f"{a['t']}: {a['do']} is unknown")
        elif a["do"] == "setup":
            setups.append((a["t"], a["end"], a["tooling"]))
            if a["end"] - a["t"] != instance["tooling"][a["tooling"]]["setup_s"]:
                wrong.append(f"{a['t']}: a set-up of the wrong length")
        else:
            story = stories[a["component"]]
            getattr(story, a["do"])(a)
            inside += {"put": 1, "heat": -1, "aside": -1, "scrap": -1}.get(a["do"], 0)
            if inside > fire["places"]:
                wrong.append(f"{a['t']}: {inside} in a fire of {fire['places']}")
    for story in stories.values():
        wrong += story.wrong
        if story.finish is None:
            wrong.append(f"{story.name}: not finished")
        if story.put_at is not None:
            wrong.append(f"{story.name}: left in the fire")
    wrong += _hands(stories, setups)
    wrong += _fire(stories, fire, day_s)
    wrong += _tools(stories, setups)
    wrong += _assembly(stories, needs)
    ends = [s.finish or 0 for s in stories.values()]
    busy = [x for s in stories.values() for x in s.stretches] + [(a, b) for a, b, _ in setups]
    tardiness = 0
    for order in instance["orders"]:
        done = max(stories[c["id"]].finish or 0 for p in order["pieces"] for c in p["components"])
        tardiness += order["weight"] * max(0, done - order["due_s"])
    return Verdict(
        wrong=wrong,
        makespan_s=max([0, *ends, *(b for _, b in busy)]),
        tardiness=tardiness,
        hands_s=sum(b - a for a, b in busy),
        setups=len(setups),
        laid_aside=sum(s.asides for s in stories.values()),
        burnt=sum(s.burnt for s in stories.values()),
    )


def _hands(stories: dict[str, _Story], setups: list[tuple[int, int, str]]) -> list[str]:
    busy = sorted(
        [x for s in stories.values() for x in s.stretches] + [(a, b) for a, b, _ in setups]
    )
    wrong = [f"{c}: two things in hand" for (_, b), (c, _) in pairwise(busy) if c < b]
    at = 0
    for t in sorted(t for s in stories.values() for t in s.touches):
        while at < len(busy) and busy[at][1] <= t:
            at += 1
        if at < len(busy) and busy[at][0] < t:
            wrong.append(f"{t}: the fire was seen to with work in hand")
    return wrong


def _fire(stories: dict[str, _Story], fire: Json, day_s: int) -> list[str]:
    stays = [x for s in stories.values() for x in s.stays]
    locks = [(a, b, s.name) for s in stories.values() for a, b in s.locks]
    wrong = []
    for put, out, who in [*stays, *locks]:
        opens = put - put % day_s + fire["light_s"]
        closes = put - put % day_s + day_s - fire["close_s"]
        if put < opens or out > closes:
            wrong.append(f"{put} {who}: in the fire until {out}, while it did not burn")
    for a, b, who in locks:
        for put, out, other in [*stays, *(x for x in locks if x[2] != who)]:
            if put < b and out > a:
                wrong.append(f"{put} {other}: in the fire during the treatment of {who}")
    return wrong


def _tools(stories: dict[str, _Story], setups: list[tuple[int, int, str]]) -> list[str]:
    wrong = []
    for story in stories.values():
        for t, tooling in story.heats:
            if tooling is None:
                continue
            before = [name for _, end, name in sorted(setups) if end <= t]
            if not before or before[-1] != tooling:
                wrong.append(f"{t} {story.name}: {tooling} is not set up")
    return wrong


def _assembly(stories: dict[str, _Story], needs: dict[str, list[str]]) -> list[str]:
    wrong = []
    for name, story in stories.items():
        for other in needs[name]:
            finish = stories[other].finish
            if story.began and (finish is None or min(story.began) < finish):
                wrong.append(f"{name}: begun before {other} was finished")
    return wrong
