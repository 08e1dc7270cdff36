"""Invented planning problems and worlds of chance, the same for the same seed.

    python -m tests.bench.made_instances small 3 > small-made-3.json

Every order, name and figure is made up. Soak, hold and hand times by section are guesses (common
practice), and so is the chance: nothing here was measured at a fire.
"""

from __future__ import annotations

import json
import math
import random
import sys
from typing import Any

TOOLING = {
    "bottom-tool": 60,
    "bending-fork": 90,
    "collar-block": 75,
    "drift": 45,
    "flatter": 40,
    "guide-dies": 150,
    "upset-block": 80,
}
SECTIONS_MM = (8, 10, 12, 16, 20, 25)
FIRES = {
    "gas": {"kind": "gas", "light_s": 600, "close_s": 600},
    "solid": {"kind": "solid", "light_s": 1200, "close_s": 900},
}
SIZES = {"small": (2, 2, 6), "middle": (3, 9, 13), "large": (7, 40, 60)}
"""By size: orders, and least and most components."""
DAY_S = 28_800

Json = dict[str, Any]


def make_instance(size: str, seed: int) -> Json:
    """An instance of format 1.

    Args:
        size: small, middle or large.
        seed: The same seed makes the same instance.
    """
    rng = random.Random(f"{size}/{seed}")
    kind = rng.choice(sorted(FIRES))
    fire = {**FIRES[kind], "places": rng.choice((3, 4) if kind == "gas" else (2, 3, 3))}
    orders_wanted, least, most = SIZES[size]
    tools = sorted(rng.sample(sorted(TOOLING), rng.randint(1, 3) if size == "small" else 5))
    while True:
        orders = [_order(rng, n + 1, size, kind, tools) for n in range(orders_wanted)]
        count = sum(len(p["components"]) for o in orders for p in o["pieces"])
        if least <= count <= most:
            break
    work_s = sum(_hands_s(c) for o in orders for p in o["pieces"] for c in p["components"])
    for order in orders:
        share = rng.uniform(0.35, 1.0 if size == "large" else 0.8)
        order["due_s"] = 60 * round((fire["light_s"] + share * work_s * 1.25) / 60)
    used = sorted(
        {
            s["tooling"]
            for o in orders
            for p in o["pieces"]
            for c in p["components"]
            for s in c["steps"]
            if s.get("tooling")
        }
    )
    return {
        "format": 1,
        "name": f"{size}-made-{seed}",
        "size": size,
        "seed": seed,
        "day_s": DAY_S,
        "fire": fire,
        "tooling": {t: {"setup_s": TOOLING[t]} for t in used},
        "orders": orders,
    }


def _hands_s(component: Json) -> int:
    total = 0
    for s in component["steps"]:
        if s["kind"] == "forge":
            total += s["heats"] * s["hand_s"]
        elif s["kind"] == "bench":
            total += s["bouts"] * s["bout_s"]
        elif s["kind"] == "treat":
            total += sum(p["soak_s"] + p["hand_s"] for p in s["parts"])
    return total


def _order(rng: random.Random, number: int, size: str, kind: str, tools: list[str]) -> Json:
    name = f"k{number}"
    assembled = rng.random() < 0.5
    parts = rng.randint(2, 3) if assembled and size != "small" else 2 if assembled else 1
    alike = rng.randint(1, {"small": 2, "middle": 3, "large": 6}[size])
    if assembled:
        alike = min(alike, {"small": 1, "middle": 1, "large": 3}[size])
    treated = not assembled and rng.random() < 0.3
    shapes = [_steps(rng, size, kind, tools, treated=treated) for _ in range(parts)]
    fitting = _fitting(rng, kind) if assembled else None
    pieces = []
    for n in range(alike):
        piece = f"{name}.{n + 1}"
        components = [
            {"id": f"{piece}{'abc'[k]}", "set": f"{name}{'abc'[k]}", "needs": [], "steps": shape}
            for k, shape in enumerate(shapes)
        ]
        if fitting is not None:
            needs = [c["id"] for c in components]
            components.append(
                {"id": f"{piece}fit", "set": f"{name}fit", "needs": needs, "steps": fitting}
            )
        pieces.append({"id": piece, "components": components})
    return {"id": name, "weight": rng.choice((1, 1, 1, 2, 3, 5)), "due_s": 0, "pieces": pieces}


def _forge(rng: random.Random, mm: int, kind: str, tooling: str | None, most: int) -> Json:
    quick = 1.0 if kind == "gas" else 0.85
    cold = round(quick * 7.0 * mm**1.15)
    return {
        "kind": "forge",
        "name": "forge",
        "heats": rng.choice([n for n in (2, 3, 3, 4, 5, 6, 8, 9) if n <= most]),
        "cold_s": cold,
        "reheat_s": round(cold * 0.4),
        "fade": rng.choice((2, 3, 3, 4)),
        "hand_s": round(rng.uniform(0.8, 1.25) * (10 + 3.0 * mm)),
        "hold_s": max(60, round((7.5 if kind == "gas" else 5.2) * mm)),
        "tooling": tooling,
    }


def _steps(
    rng: random.Random, size: str, kind: str, tools: list[str], *, treated: bool
) -> list[Json]:
    mm = rng.choice(SECTIONS_MM)
    steps: list[Json] = []
    count = rng.randint(2, 3 if size == "small" else 5)
    for n in range(count):
        tooling = rng.choice(tools) if rng.random() < 0.55 else None
        steps.append(_forge(rng, mm, kind, tooling, 9))
        if n + 1 < count and rng.random() < (0.6 if size == "small" else 0.3):
            steps.append({"kind": "rest", "rest_s": 10 * rng.randint(25, 85)})
    steps.append({"kind": "rest", "rest_s": 10 * round(rng.uniform(4, 7) * mm + 25)})
    steps.append(_bench(rng))
    if treated:
        steps += [_treat(rng, mm, kind), {"kind": "rest", "rest_s": 10 * rng.randint(30, 70)}]
        steps.append(_bench(rng))
    return steps


def _bench(rng: random.Random) -> Json:
    bout = rng.choice((60, 75, 90, 120))
    return {"kind": "bench", "name": "file", "bouts": rng.randint(1, 4), "bout_s": bout}


def _treat(rng: random.Random, mm: int, kind: str) -> Json:
    soak = round(120 + 6 * mm)
    parts = [
        {
            "name": "normalise",
            "soak_s": soak,
            "hand_s": 15,
            "air_s": round(rng.uniform(0.9, 1.2) * 24 * mm),
            "slack_s": 240,
        }
        for _ in range(rng.randint(1, 3))
    ]
    parts.append({"name": "harden", "soak_s": soak, "hand_s": 30, "air_s": 90, "slack_s": 240})
    parts.append({"name": "temper", "soak_s": 220, "hand_s": 20, "air_s": 0, "slack_s": 0})
    return {"kind": "treat", "name": "heat treatment", "parts": parts}


def _fitting(rng: random.Random, kind: str) -> list[Json]:
    steps = [_bench(rng)]
    if rng.random() < 0.5:
        steps.append(_forge(rng, 10, kind, None, 6))
        steps.append({"kind": "rest", "rest_s": 10 * rng.randint(35, 70)})
        steps.append(_bench(rng))
    return steps


def make_world(instance: Json, seed: int) -> Json:
    """True counts and durations for an instance: about the planned ones, now and then far off.

    A stretch of hand work is log-normal about the plan (spread 0.22), from 0.6 to 1.8 times it;
    one heat more in five steps, one fewer in seven; soaks from 85 to 125 % of the plan.
    """
    rng = random.Random(f"world/{instance['name']}/{seed}")

    def about(seconds: int) -> int:
        factor = math.exp(rng.gauss(0.0, 0.22))
        return max(1, round(seconds * min(1.8, max(0.6, factor))))

    components: Json = {}
    for order in instance["orders"]:
        for piece in order["pieces"]:
            for c in piece["components"]:
                components[c["id"]] = [_truth(rng, s, about) for s in c["steps"]]
    return {"components": components}


def _truth(rng: random.Random, step: Json, about: Any) -> Json:
    if step["kind"] == "forge":
        chance = rng.random()
        heats = step["heats"] + (1 if chance < 0.2 else -1 if chance > 0.86 else 0)
        if chance < 0.04:
            heats += 1
        heats = max(1, heats)
        return {
            "hand_s": [about(step["hand_s"]) for _ in range(heats)],
            "soak_pct": [rng.randint(85, 125) for _ in range(heats)],
        }
    if step["kind"] == "bench":
        return {"bout_s": [about(step["bout_s"]) for _ in range(step["bouts"])]}
    if step["kind"] == "treat":
        return {
            "soak_s": [round(p["soak_s"] * rng.uniform(0.9, 1.15)) for p in step["parts"]],
            "hand_s": [about(p["hand_s"]) for p in step["parts"]],
        }
    return {}


if __name__ == "__main__":
    json.dump(make_instance(sys.argv[1], int(sys.argv[2])), sys.stdout, indent=1)
    print()
