"""The name of a place in a recipe, as a smith would say it: 'strap, step 3 "draw down"'."""

from __future__ import annotations

from collections.abc import Mapping

from forgelog.recipe.plain import harmless, quoted, shortened
from forgelog.recipe.problems import Path


def place_in_words(path: Path, table: object) -> tuple[str, str]:
    """Name the part of the recipe that a path leads to.

    Args:
        path: Keys and numbers from 0: ("component", 0, "step", 2, "heats", "hand").
        table: The whole recipe as the TOML reader gives it; only read for names.

    Returns:
        The part ('strap, step 3 "draw down"', or "" for the head) and the key ("heats.hand").
    """
    parts: list[str] = []
    keys: list[str] = []
    here = table
    rest = list(path)
    while rest:
        key = rest.pop(0)
        here = _inside(here, key)
        if key == "sizes" and not parts and rest:
            name = rest.pop(0)
            here = _inside(here, name)
            parts.append(f"size {shortened(harmless(str(name)), 40)}")
        elif key == "evidence" and len(rest) > 1 and isinstance(rest[1], int):
            name, row = rest.pop(0), int(rest.pop(0))
            here = _inside(_inside(here, name), row)
            parts.append(f"evidence of {harmless(str(name))}, row {row + 1}")
        elif rest and isinstance(rest[0], int):
            number = rest.pop(0)
            here = _inside(here, number)
            if isinstance(here, Mapping) or key in ("component", "step", "form"):
                parts.append(_label(str(key), int(number), here))
            else:
                keys.append(f"item {int(number) + 1} of {shortened(harmless(str(key)), 40)}")
        else:
            keys.append(shortened(harmless(str(key)), 40))
    return ", ".join(parts), ".".join(keys)


def _label(key: str, number: int, here: object) -> str:
    count = f"{key} {number + 1}"
    if key == "bought":
        name = shortened(harmless(_word(here, "id") or _word(here, "name")), 40)
        return f"bought {name}" if name else count
    if key == "component":
        name = _word(here, "id") or _word(here, "name")
        return shortened(harmless(name), 40) if name else count
    if key == "step":
        name = _word(here, "do")
        return f"{count} {quoted(name)}" if name else count
    return count


def _word(here: object, key: str) -> str:
    value = here.get(key) if isinstance(here, Mapping) else None
    return value.strip() if isinstance(value, str) else ""


def _inside(here: object, key: str | int) -> object:
    if isinstance(here, Mapping):
        return here.get(key)
    if isinstance(here, list) and isinstance(key, int) and 0 <= key < len(here):
        return here[key]
    return None
