"""Imports run down the layers only, and the pure layers know no clock, disk or chance."""

from __future__ import annotations

import ast
import subprocess
import sys
from itertools import permutations
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "forgelog"
LAYERS = (
    "units",
    "trade",
    "recipe",
    "work",
    "floor",
    "learn",
    "money",
    "book",
    "desk",
    "sheets",
    "screens",
    "commands",
)
SIBLINGS = {
    *permutations(("floor", "learn", "money"), 2),
    ("screens", "commands"),
}
PURE = ("units", "trade", "recipe", "work", "floor", "learn", "money")
NOT_PURE = {"time", "random", "os", "pathlib", "tempfile", "shutil", "socket", "subprocess"}


def layer_of(module: str) -> str:
    """The layer that `forgelog.x.y` belongs to; "" for the top."""
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else ""


def imports_of(path: Path) -> set[str]:
    """Modules that a file imports, those inside functions too."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def files_of(layer: str) -> list[Path]:
    """Source files of a layer."""
    single = PACKAGE / f"{layer}.py"
    return [single] if single.exists() else sorted((PACKAGE / layer).rglob("*.py"))


@pytest.mark.parametrize("layer", LAYERS)
def test_a_layer_imports_nothing_above_or_beside_it(layer: str) -> None:
    allowed = set(LAYERS[: LAYERS.index(layer) + 1])
    for path in files_of(layer):
        for module in imports_of(path):
            if not module.startswith("forgelog."):
                continue
            other = layer_of(module)
            if other not in LAYERS:
                continue
            assert other in allowed, f"{path.name} imports {module}"
            assert (layer, other) not in SIBLINGS, f"{path.name} imports {module}"


@pytest.mark.parametrize("layer", ["sheets", "screens", "commands"])
def test_only_the_desk_opens_the_book(layer: str) -> None:
    for path in files_of(layer):
        text = path.read_text(encoding="utf-8")
        tree = ast.parse(text)
        typing_only = {
            node.module
            for block in ast.walk(tree)
            if isinstance(block, ast.If) and "TYPE_CHECKING" in ast.dump(block.test)
            for node in ast.walk(block)
            if isinstance(node, ast.ImportFrom) and node.module
        }
        for module in imports_of(path):
            if layer_of(module) == "book":
                base = ".".join(module.split(".")[:3])
                assert module in typing_only or base in typing_only, f"{path.name}: {module}"


@pytest.mark.parametrize("layer", PURE)
def test_the_pure_layers_know_no_clock_disk_or_chance(layer: str) -> None:
    for path in files_of(layer):
        tops = {module.split(".")[0] for module in imports_of(path)}
        assert not tops & NOT_PURE, f"{path} imports {tops & NOT_PURE}"
        calls = {
            node.func.id
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        }
        assert "open" not in calls, f"{path} opens a file"


def loaded_by(*arguments: str) -> set[str]:
    """Modules that are loaded once the command has run."""
    code = (
        "import sys\n"
        "from forgelog.__main__ import main\n"
        f"sys.argv = ['forgelog', *{list(arguments)!r}]\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "sys.stdout.flush()\n"
        "print('\\n'.join(['LOADED', *sys.modules]))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    return set(done.stdout.split("LOADED", 1)[1].split())


HEAVY = {"textual", "rich", "pint", "asyncio", "jsonschema", "dataclasses", "tomli_w", "sqlite3"}


def test_checking_a_recipe_loads_nothing_heavy() -> None:
    loaded = loaded_by("check", str(PACKAGE.parent / "recipes"))
    assert "forgelog.recipe.read" in loaded
    assert not loaded & HEAVY


def test_saying_the_version_loads_next_to_nothing() -> None:
    loaded = loaded_by("--version")
    assert not loaded & (HEAVY | {"msgspec", "forgelog.book", "forgelog.recipe.read"})
