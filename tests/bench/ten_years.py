"""Makes a book of ten years of the demo's sessions: `python -m tests.bench.ten_years FOLDER`.

The demo's three months are laid end to end, each time with other orders, recipes of other names
and later days; each of its orders becomes several, of more pieces, so that a day at the fire has
many presses. No smith works so fast (a session of some hours holds the work of several), but every
press is one that the fold takes, and the program has as much to go through as after ten years.
Seeded: the same arguments give the same files. Nothing of it is real.
"""

from __future__ import annotations

import argparse
import json
import re
import zlib
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from typing import Any

DEMO = Path(__file__).parents[2] / "demo_data" / "book"
RECIPES = Path(__file__).parents[2] / "recipes"
DAY_S = 86_400.0
SESSIONS = 2_500
"""At the fire, in ten years."""
EVENTS = 3_000_000
YEARS = 10.0
SAME_ORDERS = 3
"""Orders that are made of one of the demo's."""
RECIPE_NAMES = 12
"""Each recipe comes back under so many names, so that the shop has more of them."""
LETTERS = "23456789abcdefghjkmnpqrstvwxyz"
BEGINS_S = 1_450_000_000.0
_PIECE = re.compile(r"^(demo2s-[0-9a-z]{4})/([^/]+)/(\d+)$")


def make_book(
    folder: Path, *, sessions: int = SESSIONS, events: int = EVENTS, seed: int = 1
) -> int:
    """Write the book; returns how many presses it has.

    Args:
        folder: Where; made, must not hold a book yet.
        sessions: So many at the fire, about.
        events: So many facts, about.
        seed: Of the ids.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for name in ("shop.toml", "stock.toml", "tools.toml"):
        (folder / name).write_bytes((DEMO / name).read_bytes())
    (folder / "journal").mkdir()
    (folder / "recipes").mkdir()
    for path in sorted(RECIPES.glob("*.toml")):
        for number in range(1, RECIPE_NAMES + 1):
            name = f"{path.stem}-{number}"
            text = path.read_text("utf-8").replace(f'id = "{path.stem}"', f'id = "{name}"', 1)
            (folder / "recipes" / f"{name}.toml").write_text(text, "utf-8")
    demo = _demo()
    floors = sum(_kind(presses) == "floor" for presses in demo)
    facts = sum(len(p["facts"]) for presses in demo for p in presses)
    repeats = max(1, round(sessions / floors))
    copies = max(1, round(events / repeats / facts))
    rng = Random(seed)
    apart_s = YEARS * 365.25 * DAY_S / (repeats * len(demo))
    written = 0
    for repeat in range(repeats):
        made = _Repeat(rng, repeat, min(SAME_ORDERS, copies), copies)
        for number, presses in enumerate(demo):
            begins_s = BEGINS_S + (repeat * len(demo) + number) * apart_s
            session, made_lines = made.session(presses, begins_s)
            lines = list(made_lines)
            path = folder / "journal" / session[:4] / f"{session}.jsonl"
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(b"".join(lines))
            written += len(lines)
        if repeat < repeats - 1:
            session, line = made.closing(BEGINS_S + (repeat + 1) * len(demo) * apart_s - 60.0)
            path = folder / "journal" / session[:4] / f"{session}.jsonl"
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(line)
            written += 1
    return written


def _demo() -> list[list[dict[str, Any]]]:
    """The demo's sessions; one that went on after a power cut as one."""
    found: list[list[dict[str, Any]]] = []
    for path in sorted((DEMO / "journal").glob("*/*.jsonl")):
        presses = [json.loads(line) for line in path.read_bytes().splitlines()]
        if presses[0]["facts"][0].get("continues"):
            before = found[-1]
            for press in presses[1:]:
                press["seq"] += len(before) - 1
            before.extend(presses[1:])
        else:
            found.append(presses)
    return found


def _kind(presses: list[dict[str, Any]]) -> str:
    return str(presses[0]["facts"][0].get("kind", "floor"))


def _stamp(at_s: float) -> str:
    return datetime.fromtimestamp(at_s, UTC).strftime("%Y%m%dT%H%M%SZ")


class _Repeat:
    """One time through the demo, with ids of its own."""

    def __init__(self, rng: Random, number: int, orders: int, copies: int) -> None:
        self.rng, self.number, self.orders, self.copies = rng, number, orders, copies
        self.ids: dict[tuple[str, int], str] = {}
        self.sessions: dict[str, str] = {}

    def session(
        self, presses: list[dict[str, Any]], begins_s: float
    ) -> tuple[str, Iterator[bytes]]:
        """Its id and its lines."""
        began = presses[0]["facts"][0]
        session = f"{_stamp(begins_s)}-demo2s-{self._tail()}"
        self.sessions[began["session"]] = session
        copies = self.copies if _kind(presses) == "floor" else self.orders
        return session, self._lines(presses, session, begins_s, copies)

    def closing(self, at_s: float) -> tuple[str, bytes]:
        """A session at the desk that closes what the demo leaves open: its id and its line."""
        session = f"{_stamp(at_s)}-demo2s-{self._tail()}"
        began: dict[str, Any] = {
            "fact": "session began",
            "version": "",
            "session": session,
            "device": "demo2s",
        }
        began |= {"kind": "desk", "orders": list(self.ids.values())}
        closed = [{"fact": "order closed", "order": order} for order in self.ids.values()]
        press = {"at": {"sleeps": True, "offset": 0}}
        return session, self._line(0, press, at_s, [began, *closed], 0.0, at_s)

    def _lines(
        self, presses: list[dict[str, Any]], session: str, begins_s: float, copies: int
    ) -> Iterator[bytes]:
        first, body = presses[0], presses[1:]
        facts = [self._began(first["facts"][0], session)]
        for fact in first["facts"][1:]:
            if fact["fact"] == "recipe pinned":
                facts += [self._pinned(fact, which, copies) for which in range(self.orders)]
            else:
                facts.append(self._all_orders(fact))
        yield self._line(0, first, begins_s, facts, 0.0, begins_s)
        length_s = presses[-1]["at"]["wall"] - first["at"]["wall"]
        for copy in range(copies):
            for press in body:
                facts = [
                    self._fact(fact, copy, copy * len(body))
                    for fact in press["facts"]
                    if copy == copies - 1 or fact["fact"] != "day ended"
                ]
                since_s = (press["at"]["wall"] - first["at"]["wall"] + copy * length_s) / copies
                yield self._line(
                    copy * len(body) + press["seq"], press, begins_s, facts, since_s, begins_s
                )

    def _line(
        self,
        seq: int,
        press: dict[str, Any],
        begins_s: float,
        facts: list[dict[str, Any]],
        since_s: float,
        boot: float,
    ) -> bytes:
        now_s = round(begins_s + since_s, 3)
        at = {**press["at"], "wall": now_s, "boot": f"{int(boot):x}"}
        at |= {"steady": round(100.0 + since_s, 3), "awake": round(100.0 + since_s, 3)}
        body = json.dumps(
            {"seq": seq, "at": at, "facts": facts}, separators=(",", ":"), ensure_ascii=False
        ).encode()[:-1]
        return b'%b,"crc":"%08x"}\n' % (body, zlib.crc32(body))

    def _began(self, fact: dict[str, Any], session: str) -> dict[str, Any]:
        seen = {self.sessions[s]: n for s, n in fact.get("seen", {}).items() if s in self.sessions}
        return {**self._all_orders(fact), "session": session, "practice": 0.0, "seen": seen}

    def _all_orders(self, fact: dict[str, Any]) -> dict[str, Any]:
        if "orders" not in fact:
            return fact
        orders = [self._id(o, which) for which in range(self.orders) for o in fact["orders"]]
        return {**fact, "orders": orders}

    def _pinned(self, fact: dict[str, Any], which: int, copies: int) -> dict[str, Any]:
        mine = [copy for copy in range(copies) if copy % self.orders == which]
        made = [self._mapped(piece, copy) for copy in mine for piece in fact["made"]]
        recipe = {**fact["recipe"], "id": self._recipe(fact["recipe"]["id"])}
        recipe["name"] = f"{recipe['name']} {self.number % RECIPE_NAMES + 1}"
        return {**fact, "order": self._id(fact["order"], which), "recipe": recipe, "made": made}

    def _fact(self, fact: dict[str, Any], copy: int, earlier: int) -> dict[str, Any]:
        mapped: dict[str, Any] = self._mapped(fact, copy)
        if fact["fact"] == "order taken":
            mapped["recipe"] = self._recipe(fact["recipe"])
            mapped["title"] = f"{fact['title']} {self.number + 1}-{copy + 1}"
        if "press" in fact:
            mapped["press"] = fact["press"] + earlier
        for name in ("needed_s", "low_s", "high_s"):
            if name in fact:
                mapped[name] = fact[name] / self.copies
        if "then_s" in fact:
            mapped["then_s"] = [s / self.copies for s in fact["then_s"]]
        return mapped

    def _mapped(self, value: Any, copy: int) -> Any:
        """The value with ids of orders and pieces of this copy."""
        if isinstance(value, dict):
            mapped = {self._mapped(k, copy): self._mapped(v, copy) for k, v in value.items()}
            if isinstance(value.get("serial"), int):
                mapped["serial"] += 1000 * copy
            return mapped
        if isinstance(value, list):
            return [self._mapped(v, copy) for v in value]
        if not isinstance(value, str) or not value.startswith("demo2s-"):
            return value
        piece = _PIECE.match(value)
        if piece:
            order, component, serial = piece.groups()
            return f"{self._id(order, copy)}/{component}/{int(serial) + 1000 * copy}"
        return self._id(value, copy)

    def _id(self, order: str, copy: int) -> str:
        return self.ids.setdefault((order, copy % self.orders), f"demo2s-{self._tail(6)}")

    def _recipe(self, recipe: str) -> str:
        return f"{recipe}-{self.number % RECIPE_NAMES + 1}"

    def _tail(self, length: int = 4) -> str:
        return "".join(self.rng.choices(LETTERS, k=length))


def main() -> None:
    """Make the book where it is told."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("folder", type=Path)
    asked.add_argument("--sessions", type=int, default=SESSIONS)
    asked.add_argument("--events", type=int, default=EVENTS)
    asked.add_argument("--seed", type=int, default=1)
    told = asked.parse_args()
    presses = make_book(told.folder, sessions=told.sessions, events=told.events, seed=told.seed)
    print(f"{presses} presses in {told.folder}")


if __name__ == "__main__":
    main()
