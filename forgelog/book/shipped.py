"""The recipes and the demo data that come with forgelog, from a checkout or an installed copy."""

from __future__ import annotations

from pathlib import Path


def shipped_folder(name: str) -> Path:
    """The folder of what is shipped.

    Args:
        name: recipes or demo_data.

    Raises:
        FileNotFoundError: this copy of forgelog came without it.
    """
    package = Path(__file__).parents[1]
    for folder in (package / "shipped" / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"this copy of forgelog came without its {name.replace('_', ' ')}")


def shipped_recipes() -> list[Path]:
    """The recipe files that come with forgelog, by name; none where it came without."""
    try:
        return sorted(shipped_folder("recipes").glob("*.toml"))
    except FileNotFoundError:
        return []
