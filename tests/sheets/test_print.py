"""The pages as a browser prints them, read back from the PDF. Skipped without the two programs."""

from __future__ import annotations

import re
import subprocess
from collections import Counter
from pathlib import Path
from shutil import which
from unicodedata import normalize

import pytest

from forgelog.desk.clock import FakeClock
from forgelog.desk.job import job_of
from forgelog.desk.orders import find_order, take_order
from forgelog.desk.shop import Shop
from forgelog.sheets.blocks import Sheet
from forgelog.sheets.html import set_page
from forgelog.sheets.job import job_sheet
from tests.sheets.reading import PageRead

pytestmark = pytest.mark.skipif(
    not (which("chromium") and which("pdftotext") and which("pdfinfo")),
    reason="chromium and poppler-utils are not on this machine",
)

QUIET = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-pdf-header-footer",
)
POINTS = {"a4": (595, 842), "letter": (612, 792)}
LONG = "Blattrosettenschmiedehandwerksmeister" * 6
"""A word that is longer than the page is wide."""


class Printed:
    """One sheet as it comes out of the printer."""

    def __init__(self, sheet: Sheet, paper: str, folder: Path) -> None:
        html = set_page(sheet, paper)
        self.read = PageRead(html)
        page, self.pdf = folder / f"{paper}.html", folder / f"{paper}.pdf"
        page.write_text(html, encoding="utf-8")
        for attempt in range(2):
            # On a machine that is busy a browser may fail to start: that is no fault of the page.
            done = subprocess.run(
                [
                    "chromium",
                    *QUIET,
                    f"--user-data-dir={folder / f'profile-{attempt}'}",
                    f"--print-to-pdf={self.pdf}",
                    page.as_uri(),
                ],
                capture_output=True,
                timeout=240,
            )
            if self.pdf.is_file():
                return
        raise AssertionError(f"the browser made no PDF: {done.stderr[-500:]!r}")

    def pages(self) -> list[str]:
        out = self._told("pdftotext", "-raw", str(self.pdf), "-")
        return [normalize("NFKC", page) for page in out.split("\f")[:-1]]

    def size(self) -> tuple[float, float]:
        found = re.search(r"Page size: +([\d.]+) x ([\d.]+)", self._told("pdfinfo", str(self.pdf)))
        assert found is not None
        return float(found[1]), float(found[2])

    def words(self) -> list[tuple[float, float, float, float]]:
        """Where every word lies: left, top, right, bottom, points."""
        out = self._told("pdftotext", "-bbox", str(self.pdf), "-")
        found = re.findall(r'<word xMin="(\S+)" yMin="(\S+)" xMax="(\S+)" yMax="(\S+)">', out)
        return [(float(a), float(b), float(c), float(d)) for a, b, c, d in found]

    @staticmethod
    def _told(*command: str) -> str:
        done = subprocess.run(command, check=True, capture_output=True, timeout=60)
        return done.stdout.decode("utf-8")


@pytest.mark.parametrize("paper", POINTS)
def test_all_of_a_job_sheet_is_on_paper_and_no_step_is_broken(
    paper: str, shop: Shop, clock: FakeClock, tmp_path: Path
) -> None:
    recipe = {"a4": "gate-hinge-set", "letter": "leaf-coat-hooks"}[paper]
    label, title = "7/14 \"<b>'", f"Ш {LONG}"[:79]
    take_order(shop, recipe, label=label, title=title, clock=clock)
    shop = shop.again()
    sheet = job_sheet(job_of(shop, find_order(shop.state, label), clock=clock))
    printed = Printed(sheet, paper, tmp_path)
    wide, high = printed.size()
    assert (round(wide), round(high)) == POINTS[paper]

    pages = printed.pages()
    steps = len(printed.read.titles)
    assert steps / 6 < len(pages) < steps
    on_paper = Counter(" ".join(pages).split())
    told = Counter(word for word in printed.read.text.split() if len(word) < 40)
    assert told - on_paper == Counter(), "words that are not on paper"

    margin = 28.0  # 10 mm
    for left, top, right, bottom in printed.words():
        assert margin < left < right < wide - margin
        assert 14.0 < top < bottom < high - 14.0

    flat = ["".join(page.split()) for page in pages]
    starts: list[tuple[int, int]] = []
    page, after = 0, 0
    for title in ("".join(title.split()) for title in printed.read.titles):
        while (at := flat[page].find(title, after)) < 0:
            page, after = page + 1, 0
        starts.append((page, at))
        after = at + len(title)
    assert len({page for page, _ in starts}) > 3
    for (page, at), following in zip(starts, [*starts[1:], (-1, 0)], strict=True):
        end = following[1] if following[0] == page else len(flat[page])
        assert re.search("Done|Rested:", flat[page][at:end]), f"broken on page {page + 1}"
    for number, text in enumerate(pages, 1):
        assert label in text, "the running head"
        assert f"{number} / {len(pages)}" in text
