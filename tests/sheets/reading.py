"""Reads a printed page back, as strictly as the page is meant to be written."""

from __future__ import annotations

from html.parser import HTMLParser

EMPTY = {"meta", "rect", "path", "circle", "polygon", "line", "br"}
"""Elements that hold nothing; of the drawings these close themselves."""


class PageRead(HTMLParser):
    """A page whose every element is closed in its turn; fails on one that is not."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.texts: list[tuple[str, str]] = []
        """Element and text, in order."""
        self.titles: list[str] = []
        self._title: list[str] | None = None
        self.feed(html)
        self.close()
        assert self.open == [], f"never closed: {self.open}"

    @property
    def text(self) -> str:
        """All that is read on the page, blanks drawn together."""
        shown = (words for tag, words in self.texts if tag not in ("style", "title"))
        return " ".join(" ".join(shown).split())

    @property
    def style(self) -> str:
        return "".join(words for tag, words in self.texts if tag == "style")

    def count(self, **wanted: str) -> int:
        """Elements whose attributes hold these words: count(class_="box")."""
        named = {key.rstrip("_"): value for key, value in wanted.items()}
        return sum(
            all(value in attrs.get(key, "").split() for key, value in named.items())
            for _, attrs in self.elements
        )

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {key: value or "" for key, value in attrs}))
        if tag not in EMPTY:
            self.open.append(tag)
        if tag == "h3":
            self._title = []

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag in EMPTY, tag
        self.elements.append((tag, {key: value or "" for key, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open, f"</{tag}> closes nothing"
        assert self.open[-1] == tag, f"</{tag}> closes <{self.open[-1]}>"
        self.open.pop()
        if tag == "h3" and self._title is not None:
            self.titles.append(" ".join(" ".join(self._title).split()))
            self._title = None

    def handle_data(self, data: str) -> None:
        self.texts.append((self.open[-1] if self.open else "", data))
        if self._title is not None:
            self._title.append(data)
