"""Our own large letters, for words that are read from three metres.

Two faces. LOW is 5 rows high and thin, as wide as each letter needs, so that a whole sentence of a
verb fits a screen. TALL is 7 rows high and 7 columns wide with strokes two columns thick, for the
far view. In both every digit is equally wide, so that a running clock does not jump. Letters are
drawn with one character, which the Linux console has too.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

INK = "█"

LOW_ROWS = 5
TALL_ROWS = 7

Face = dict[str, tuple[str, ...]]


def _face(rows: int, drawn: str) -> Face:
    """Read a face: a line of letters, then their rows side by side, parted by "|"."""
    face: Face = {}
    lines = drawn.strip("\n").split("\n")
    for top in range(0, len(lines), rows + 1):
        letters = lines[top].split(" ")
        parts = [line.split("|") for line in lines[top + 1 : top + 1 + rows]]
        for i, letter in enumerate(letters):
            face[letter] = tuple(part[i].replace("#", INK).replace(".", " ") for part in parts)
    return face


LOW = _face(
    LOW_ROWS,
    """
A B C D E F G H I
.##.|###.|.###|###.|####|####|.###|#..#|###
#..#|#..#|#...|#..#|#...|#...|#...|#..#|.#.
####|###.|#...|#..#|###.|###.|#.##|####|.#.
#..#|#..#|#...|#..#|#...|#...|#..#|#..#|.#.
#..#|###.|.###|###.|####|#...|.###|#..#|###
J K L M N O P Q R
..##|#..#|#...|#...#|#..#|.##.|###.|.##.|###.
...#|#.#.|#...|##.##|##.#|#..#|#..#|#..#|#..#
...#|##..|#...|#.#.#|#.##|#..#|###.|#..#|###.
#..#|#.#.|#...|#...#|#..#|#..#|#...|#.#.|#.#.
.##.|#..#|####|#...#|#..#|.##.|#...|.#.#|#..#
S T U V W X Y Z
.###|#####|#..#|#...#|#...#|#...#|#...#|####
#...|..#..|#..#|#...#|#...#|.#.#.|.#.#.|...#
.##.|..#..|#..#|.#.#.|#.#.#|..#..|..#..|.##.
...#|..#..|#..#|.#.#.|##.##|.#.#.|..#..|#...
###.|..#..|.##.|..#..|#...#|#...#|..#..|####
0 1 2 3 4 5 6 7 8 9
####|.#..|###.|###.|#..#|####|.##.|####|.##.|.##.
#..#|##..|...#|...#|#..#|#...|#...|...#|#..#|#..#
#..#|.#..|.##.|.##.|####|###.|###.|..#.|.##.|.###
#..#|.#..|#...|...#|...#|...#|#..#|.#..|#..#|...#
####|###.|####|###.|...#|###.|.##.|.#..|.##.|.##.
: . , - / ' + ? ( )
.|.|..|...|....#|#|...|###.|.#|#.
#|.|..|...|...#.|#|.#.|...#|#.|.#
.|.|..|###|..#..|.|###|.##.|#.|.#
#|.|.#|...|.#...|.|.#.|....|#.|.#
.|#|#.|...|#....|.|...|.#..|.#|#.
""",
) | {" ": ("  ",) * LOW_ROWS}

TALL = _face(
    TALL_ROWS,
    """
A B C D E F G
..###..|######.|.#####.|#####..|#######|#######|.#####.
.##.##.|##...##|##...##|##..##.|##.....|##.....|##...##
##...##|##...##|##.....|##...##|##.....|##.....|##.....
##...##|######.|##.....|##...##|#####..|#####..|##..###
#######|##...##|##.....|##...##|##.....|##.....|##...##
##...##|##...##|##...##|##..##.|##.....|##.....|##...##
##...##|######.|.#####.|#####..|#######|##.....|.#####.
H I J K L M N
##...##|.#####.|....###|##...##|##.....|##...##|##...##
##...##|..###..|.....##|##..##.|##.....|###.###|###..##
##...##|..###..|.....##|##.##..|##.....|#######|####.##
#######|..###..|.....##|####...|##.....|##.#.##|##.####
##...##|..###..|.....##|##.##..|##.....|##...##|##..###
##...##|..###..|##...##|##..##.|##.....|##...##|##...##
##...##|.#####.|.#####.|##...##|#######|##...##|##...##
O P Q R S T U
.#####.|######.|.#####.|######.|.######|#######|##...##
##...##|##...##|##...##|##...##|##.....|..###..|##...##
##...##|##...##|##...##|##...##|##.....|..###..|##...##
##...##|######.|##...##|######.|.#####.|..###..|##...##
##...##|##.....|##.#.##|##.##..|.....##|..###..|##...##
##...##|##.....|##..##.|##..##.|.....##|..###..|##...##
.#####.|##.....|.###.##|##...##|######.|..###..|.#####.
V W X Y Z
##...##|##...##|##...##|##...##|#######
##...##|##...##|##...##|##...##|....##.
##...##|##...##|.##.##.|.##.##.|...##..
##...##|##.#.##|..###..|..###..|..##...
.##.##.|#######|.##.##.|..###..|.##....
..###..|###.###|##...##|..###..|##.....
...#...|##...##|##...##|..###..|#######
0 1 2 3 4 5 6
.#####.|..###..|.#####.|.#####.|##...##|#######|.#####.
##...##|.####..|##...##|##...##|##...##|##.....|##.....
##..###|..###..|.....##|.....##|##...##|##.....|##.....
##.#.##|..###..|...###.|..####.|#######|######.|######.
###..##|..###..|.###...|.....##|.....##|.....##|##...##
##...##|..###..|##.....|##...##|.....##|##...##|##...##
.#####.|#######|#######|.#####.|.....##|.#####.|.#####.
7 8 9 - / ' +
#######|.#####.|.#####.|.......|.....##|..###..|.......
.....##|##...##|##...##|.......|....##.|..###..|..###..
....##.|##...##|##...##|.......|....##.|..##...|..###..
...##..|.#####.|.######|.#####.|...##..|.......|#######
..##...|##...##|.....##|.......|..##...|.......|..###..
..##...|##...##|.....##|.......|.##....|.......|..###..
..##...|.#####.|.#####.|.......|##.....|.......|.......
: . , ? ( )
...|...|....|.#####.|...##|##...
...|...|....|##...##|..##.|.##..
##.|...|....|.....##|.##..|..##.
...|...|....|...###.|.##..|..##.
...|...|....|..##...|.##..|..##.
##.|...|.###|.......|..##.|.##..
...|##.|.##.|..##...|...##|##...
""",
) | {" ": (" " * 5,) * TALL_ROWS}


def plain_letters(text: str) -> str:
    """The text in the letters that are drawn: capitals without accents, "?" for what is not."""
    kept: list[str] = []
    for sign in unicodedata.normalize("NFKD", text.upper()):
        if sign in LOW:
            kept.append(sign)
        elif sign.isspace():
            kept.append(" ")
        elif not unicodedata.combining(sign):
            kept.append("-" if unicodedata.category(sign) == "Pd" else "?")
    return "".join(kept)


@lru_cache(maxsize=64)
def drawn(text: str, face: str = "low", scale: tuple[int, int] = (1, 1)) -> tuple[str, ...]:
    """Draw words in large letters.

    Args:
        text: What to draw; lower case is drawn as capitals.
        face: "low" (5 rows) or "tall" (7 rows).
        scale: How many times as wide and as high, whole numbers from 1.

    Returns:
        Rows of one width, top first.
    """
    letters = TALL if face == "tall" else LOW
    rows = TALL_ROWS if face == "tall" else LOW_ROWS
    wide, high = scale
    glyphs = [letters[sign] for sign in plain_letters(text)]
    lines: list[str] = []
    for row in range(rows):
        line = " ".join(glyph[row] for glyph in glyphs)
        widened = "".join(sign * wide for sign in line) if wide > 1 else line
        lines.extend([widened] * high)
    return tuple(lines)


def width_of(text: str, face: str = "low", wide: int = 1) -> int:
    """Columns that `drawn` takes for these words."""
    letters = TALL if face == "tall" else LOW
    words = plain_letters(text)
    return wide * (sum(len(letters[sign][0]) for sign in words) + max(0, len(words) - 1))
