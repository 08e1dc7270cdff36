"""The fingerprint of a process, by which a changed recipe is known."""

from __future__ import annotations

from typing import Any

import msgspec

from forgelog.recipe.written import WrittenRecipe


def process_hash(written: WrittenRecipe) -> str:
    """The fingerprint of the process: 16 hexadecimal digits, the same for the same work.

    The recipe's id, what it is called and says of itself, who made it, its label, its licence and
    the records shared with it do not count, nor do comments, spaces and the order of keys.
    """
    import hashlib  # a recipe that is only looked over needs none

    process: dict[str, Any] = msgspec.to_builtins(written)
    for label in ("id", "name", "says", "maker", "revision", "licence", "shared", "evidence"):
        process.pop(label, None)
    return hashlib.sha256(msgspec.json.encode(process, order="deterministic")).hexdigest()[:16]
