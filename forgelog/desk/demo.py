"""The demo: a copy of the simulated book in a folder of its own, and the files it is made from."""

from __future__ import annotations

import os
from pathlib import Path
from shutil import rmtree

import msgspec

from forgelog.book.disk import make_folder, why_not, write_new, write_over
from forgelog.book.folders import (
    PRACTICE_MARK,
    cache_folder,
    is_practice_copy,
    mark_as_practice,
)
from forgelog.book.lock import FloorLock
from forgelog.book.sessions import journal_files, read_sessions
from forgelog.book.shipped import shipped_folder, shipped_recipes
from forgelog.desk.clock import Clock, PracticeClock, RealClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.work.moments import Stamp

HEADING = "# Demo data (simulated)"
"""First line of the page beside the demo book."""
LATER_S, GOES_ON_S = 12 * 3600.0, 10.0
"""Where the machine's clock stands before the end of the demo's past, or of what was practised
there, practice begins so long after it."""


class Demo(msgspec.Struct, frozen=True, kw_only=True):
    """A demo book that is ready to be opened."""

    folder: Path
    did: str
    """One line of what was done for it."""


def demo_folder(told: str | Path | None = None) -> Path:
    """Where the demo lies: as told, else FORGELOG_DEMO, else in the user's own data folder."""
    named = str(told or "") or os.environ.get("FORGELOG_DEMO", "")
    if named:
        return Path(named).expanduser().absolute()
    from platformdirs import user_data_path

    return user_data_path("forgelog", appauthor=False) / "demo"


def lay_out_demo(told: str | Path | None = None, *, keep: bool = False) -> Demo:
    """Copy the demo book to its folder.

    A demo that lies there already is made anew, or with `keep` gone on with. Nothing else is ever
    touched.

    Args:
        told: The folder; None or "" for the usual one.
        keep: True to go on with what was practised there.

    Raises:
        CannotDo: something that is no practice copy lies there, this copy of forgelog came without
            its demo, or the disk does not take it.
    """
    folder = demo_folder(told)
    where = harmless(str(folder))
    practised = is_practice_copy(folder)
    if practised and keep:
        return Demo(folder=folder, did=f"The demo in {where} goes on where it was left.")
    try:
        if folder.exists() and not practised and (not folder.is_dir() or any(folder.iterdir())):
            raise CannotDo(
                f"{where} is there already and is no practice copy; nothing in it was touched"
            )
        files = _shipped()
        if practised:
            _clear_unless_in_use(folder)
        make_folder(folder)
        mark_as_practice(folder)
        for name in ("recipes", "journal", "customers"):
            make_folder(folder / name)
        for path, data in files.items():
            make_folder((folder / path).parent)
            write_new(folder / path, data)
    except FileNotFoundError as problem:
        raise CannotDo(f"there is no demo: {problem}") from None
    except OSError as problem:
        raise CannotDo(f"the demo could not be copied: {why_not(problem)}") from None
    again = "made anew" if practised else "made"
    return Demo(
        folder=folder,
        did=f"A demo book was {again} in {where}: a simulated shop, nothing in it is real.",
    )


def demo_clock(shop: Shop, speed: float = 0.0, clock: Clock | None = None) -> PracticeClock:
    """The clock of a demo: always one of practice, and never before the end of its journal.

    Args:
        shop: The demo's book.
        speed: Practice seconds in one real second; 0 for the pace of the machine's own clock.
        clock: The clock under it; the machine's own where None.

    Raises:
        CannotDo: the speed cannot be.
    """
    at = (clock or RealClock()).stamp()
    newest = read_sessions(journal_files(shop.book)[-3:])
    last_s = max((p.at.wall for file in newest for p in file.presses), default=0.0)
    start: Stamp | None = None
    if at.wall <= last_s:
        own = any(h is not None and h.device == shop.device.id for h in shop.headers.values())
        start = msgspec.structs.replace(at, wall=round(last_s + (GOES_ON_S if own else LATER_S), 3))
    return _practice_clock(speed, clock, start)


def check_speed(speed: float) -> None:
    """See that a practice clock can run so fast, before anything is made anew for it.

    Raises:
        CannotDo: it cannot.
    """
    _practice_clock(speed, None, None)


def _practice_clock(speed: float, clock: Clock | None, start: Stamp | None) -> PracticeClock:
    try:
        return PracticeClock(speed or 1.0, clock, start=start)
    except ValueError as problem:
        raise CannotDo(str(problem)) from None


def make_demo(out: str | Path | None = None, *, seed: int | None = None) -> list[Path]:
    """Simulate the demo data and write it.

    Args:
        out: The folder; None or "" for the demo data of this checkout.
        seed: Of all chance in it; None for the one that is shipped.

    Returns:
        The files that were written anew or changed.

    Raises:
        CannotDo: the disk does not take it, or what was simulated does not hold together.
    """
    folder = _data_folder(out)
    made = _simulated(seed)
    changed: list[Path] = []
    try:
        if not _ours(folder):
            where = harmless(str(folder))
            raise CannotDo(f"{where} holds something else than demo data; nothing was written")
        for path in _differing(folder, made):
            make_folder((folder / path).parent)
            if path in made:
                write_over(folder / path, made[path])
            else:
                (folder / path).unlink()
            changed.append(folder / path)
    except OSError as problem:
        raise CannotDo(f"the demo data was not written: {why_not(problem)}") from None
    return changed


def demo_differs(out: str | Path | None = None, *, seed: int | None = None) -> list[str]:
    """Which files of the demo data are not what the seed makes, by their path in it.

    Args:
        out: The folder; None or "" for the demo data of this checkout.
        seed: Of all chance in it; None for the one that is shipped.
    """
    return _differing(_data_folder(out), _simulated(seed))


def _simulated(seed: int | None) -> dict[str, bytes]:
    # The simulator is loaded for this alone; opening the demo does not want it.
    from forgelog.desk.simulate.book import SEED, simulate

    return simulate(SEED if seed is None else seed).files


def _data_folder(out: str | Path | None) -> Path:
    if out:
        return Path(out).expanduser().absolute()
    try:
        return shipped_folder("demo_data")
    except FileNotFoundError:
        return shipped_folder("recipes").parent / "demo_data"


def _ours(folder: Path) -> bool:
    """Whether the folder is free for demo data, or its page says that it holds some."""
    if not folder.exists() or all(path.name.startswith(".") for path in folder.iterdir()):
        return True
    page = folder / "README.md"
    return page.is_file() and page.read_bytes().startswith(HEADING.encode())


def _differing(folder: Path, made: dict[str, bytes]) -> list[str]:
    """Files that are missing, other, or too many: of journal and settings, and the page."""
    there = {
        path.relative_to(folder).as_posix(): path
        for path in [folder / "README.md", *(folder / "book").rglob("*")]
        if path.is_file()
    }
    names = sorted(made.keys() | there.keys())
    return [n for n in names if n not in there or there[n].read_bytes() != made.get(n)]


def _shipped() -> dict[str, bytes]:
    """Every file of a fresh demo book, by its path; settings last, as they make it a book."""
    book = shipped_folder("demo_data") / "book"
    recipes = shipped_recipes()
    paths = {f"recipes/{path.name}": path for path in recipes}
    if recipes:
        beside = (recipes[0].with_name(n) for n in ("README.md", "recipe.schema.json"))
        paths.update({f"recipes/{path.name}": path for path in beside if path.is_file()})
    found = sorted(p for p in book.rglob("*") if p.is_file())
    own = {path.relative_to(book).as_posix(): path for path in found}
    paths.update(dict(sorted(own.items(), key=lambda pair: ("/" not in pair[0], pair[0]))))
    return {name: path.read_bytes() for name, path in paths.items()}


def _clear_unless_in_use(folder: Path) -> None:
    lock = FloorLock(folder, cache_folder())
    if not lock.take():
        raise CannotDo(
            "somebody is at the fire of the demo in another window; end that session first, "
            "or open it with --keep to look on"
        )
    try:
        _clear(folder)
    finally:
        lock.drop()


def _clear(folder: Path) -> None:
    """Take a practice copy away, its mark last: cut short, it is still known for what it is."""
    for path in folder.iterdir():
        if path.name == PRACTICE_MARK:
            continue
        if path.is_dir() and not path.is_symlink():
            rmtree(path)
        else:
            path.unlink()
