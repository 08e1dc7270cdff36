"""Sets a sheet as one page of HTML: nothing to fetch, nothing that runs, ready for the printer."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

import msgspec
from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup

from forgelog.recipe.plain import harmless
from forgelog.sheets.blocks import Sheet
from forgelog.sheets.drawings import line_of_mm

HEAD_EM, FOOT_EM = 40.0, 52.0
"""Width of a running line in heights of its letters: it is one line, and what is longer is cut."""
PAGE, STYLE = "sheet.html.jinja", "sheet.css"


class Paper(msgspec.Struct, frozen=True, kw_only=True):
    """A size of paper."""

    css: str
    """As CSS names it."""
    rule_mm: float
    """Length of the line that shows whether the page was printed at full size."""
    rule_words: str


PAPERS = {
    "a4": Paper(css="A4 portrait", rule_mm=50.0, rule_words="50 mm"),
    "letter": Paper(css="letter portrait", rule_mm=50.8, rule_words="2 in"),
}


def set_page(sheet: Sheet, paper: str = "a4") -> str:
    """The sheet as a whole HTML file.

    Args:
        sheet: What is told; its texts may be a stranger's.
        paper: a4 or letter.

    Raises:
        KeyError: there is no such paper: a fault of the program, not of a smith.
    """
    size = PAPERS[paper]
    return (
        _surroundings()
        .get_template(PAGE)
        .render(
            sheet=sheet,
            paper=size,
            css=Markup(_data(STYLE)),
            head=Markup(css_text(one_line(sheet.head, HEAD_EM))),
            foot=Markup(css_text(one_line(sheet.foot, FOOT_EM))),
            rule=line_of_mm(size.rule_mm),
            rule_words=size.rule_words,
        )
        + "\n"
    )


def one_line(text: str, most_em: float) -> str:
    """The text, or as much of it as is no wider than so many heights of a letter, and "..."."""
    text = harmless(text)
    wide_em = 0.0
    for place, sign in enumerate(text):
        wide_em += 0.56 if sign.isascii() and not (sign.isupper() or sign in "@%") else 1.0
        if wide_em > most_em:
            return f"{text[: max(0, place - 2)]}..."
    return text


def css_text(text: str) -> str:
    """A text as a quoted string of CSS in which nothing but letters, digits and blanks stands raw.

    The running head stands inside the page's own style, where no escaping of HTML holds.
    """
    shown = (
        sign if sign.isascii() and (sign.isalnum() or sign == " ") else f"\\{ord(sign):x} "
        for sign in harmless(text)
    )
    return f'"{"".join(shown)}"'


@lru_cache(maxsize=1)
def _surroundings() -> Environment:
    made = Environment(
        loader=DictLoader({PAGE: _data(PAGE)}),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_made_harmless,
    )
    made.filters["drawn"] = _drawn
    return made


def _drawn(svg: str) -> Markup:
    """Our own drawing. Inside HTML an SVG needs no name of its format, which is an address."""
    return Markup(svg.replace(' xmlns="http://www.w3.org/2000/svg"', "", 1))


def _made_harmless(value: object) -> object:
    """Whatever is put into the page: our own markup as it is, all else without hidden signs."""
    return value if isinstance(value, Markup) else harmless(str(value))


def _data(name: str) -> str:
    return (files("forgelog.sheets") / "templates" / name).read_text(encoding="utf-8")
