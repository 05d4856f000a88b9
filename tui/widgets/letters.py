"""Our own block letters, drawn at any size from a few strokes each, to be read from three metres.

A dot is one column wide and half a row high, which is about square. Each letter is a list of strokes in a box of
`width` x `height` dots with one thickness: bars at left, centre, right, top, middle and bottom, and slanting ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

Dots = frozenset[tuple[int, int]]  # (x, y), y downward

# Bars: L R C upright, T M B level; `u` `d` only the upper or lower half, `l` `r` only the left or right half, `e`
# short of the edge, `s` a stub. `/x0,y0,x1,y1` a slant between points of the unit square. `~` takes outer corners
# off: 1 2 3 4 from top left clockwise, 5 and 6 the notch at the middle right and left, x under an upper bowl.
STROKES = MappingProxyType(
    {
        "A": "L R T M ~12",
        "B": "L R T M B ~235",
        "C": "L T B Rus Rds ~1234",
        "D": "L R T B ~23",
        "E": "L T Me B",
        "F": "L T Me",
        "G": "L T B Rus Rd Mr ~1234",
        "H": "L R M",
        "I": "C T B",
        "J": "R B Lds ~34",
        "K": "L /0,0.5,1,0 /0,0.5,1,1",
        "L": "L B",
        "M": "L R /0,0,0.5,0.6 /1,0,0.5,0.6",
        "N": "L R /0,0,1,1",
        "O": "L R T B ~1234",
        "P": "L Ru T M ~2x",
        "Q": "L R T B /0.5,0.6,1,1 ~124",
        "R": "L Ru T M /0.4,0.5,1,1 ~2x",
        "S": "Lu Rd T M B Rus Lds ~123456",
        "T": "T C",
        "U": "L R B ~34",
        "V": "/0,0,0.5,1 /1,0,0.5,1",
        "W": "L R /0,1,0.5,0.4 /1,1,0.5,0.4",
        "X": "/0,0,1,1 /1,0,0,1",
        "Y": "/0,0,0.5,0.55 /1,0,0.5,0.55 Cd",
        "Z": "T B /1,0,0,1",
        "0": "L R T B ~1234",
        "1": "C Tl B",
        "2": "Lus Ru T M Ld B ~125",
        "3": "R T M B Lus Lds ~12345",
        "4": "Lu R M",
        "5": "Lu Rd T M B Lds ~345",
        "6": "L Rd T M B Rus ~12345",
        "7": "T /1,0,0.35,1",
        "8": "L R T M B ~123456",
        "9": "Lu R T M B Lds ~12346",
        ".": ".",
        ":": ":",
        "-": "M",
        "+": "M /0.5,0.15,0.5,0.85",
    }
)
ALPHABET = frozenset(STROKES) | {" "}
_NARROW = {"I": 0.6, "1": 0.6, "-": 0.6, "J": 0.9, " ": 0.5, "M": 1.2, "W": 1.2}  # of the usual width
_DOT_WIDE = ".:"


@dataclass(frozen=True, slots=True)
class Scale:
    """How large the letters are: the box of a usual letter and the thickness of its strokes, in dots."""

    width: int
    height: int
    stroke: int

    @property
    def gap(self) -> int:
        """Dots between two letters."""
        return max(2, self.stroke // 2 + 1) if self.width > 5 else 2

    @property
    def rows(self) -> int:
        """Terminal rows the letters take."""
        return (self.height + 1) // 2

    def width_of(self, letter: str) -> int:
        """Dots a letter is wide; an odd or even width that lets a centre bar stand in the middle."""
        if letter in _DOT_WIDE:
            return self.stroke
        wide = max(round(self.width * _NARROW.get(letter, 1.0)), 3 * self.stroke if letter != " " else 1)
        return wide + (wide - self.stroke) % 2 if letter in "I1TY" else wide

    def width_of_word(self, word: str) -> int:
        """Dots a word is wide."""
        return sum(self.width_of(letter) for letter in word) + self.gap * max(len(word) - 1, 0)


SMALLEST = Scale(5, 5, 1)


@lru_cache(256)
def scale_for(word: str, columns: int, rows: int) -> Scale | None:
    """The largest scale at which the word fits into this room, or None when it must be written as plain text."""
    if any(letter not in ALPHABET for letter in word):
        return None
    for height in range(2 * rows, 4, -1):
        for width in range(round(height * 0.95), max(4, round(height * 0.58)) - 1, -1):
            share = 3.6 if height < 24 else 4.4  # a stroke of a very large letter may be thinner
            scale = Scale(width, height, max(1, round(min(width, height * 0.8) / share)))
            even = (height - scale.stroke) % 2 == 0  # else the middle bar would not stand in the middle
            if even and scale.width_of_word(word) <= columns:
                return scale
    return None


@lru_cache(512)
def letter_dots(letter: str, width: int, height: int, stroke: int) -> Dots:
    """The dots of one letter in a box. Raises KeyError for a letter that there is none of."""
    pen = _Pen(width, height, stroke)
    for part in STROKES[letter].split() if letter != " " else ():
        pen.draw(part)
    return frozenset(pen.dots)


@lru_cache(64)
def word_dots(word: str, scale: Scale) -> Dots:
    """The dots of a word."""
    dots: set[tuple[int, int]] = set()
    at = 0
    for letter in word:
        wide = scale.width_of(letter)
        dots |= {(at + x, y) for x, y in letter_dots(letter, wide, scale.height, scale.stroke)}
        at += wide + scale.gap
    return frozenset(dots)


@lru_cache(64)
def word_rows(word: str, scale: Scale) -> tuple[str, ...]:
    """The word as rows of the characters `█ ▀ ▄` and blanks, all of one length."""
    dots, wide = word_dots(word, scale), scale.width_of_word(word)
    drawn = {(True, True): "█", (True, False): "▀", (False, True): "▄", (False, False): " "}
    return tuple(
        "".join(drawn[(x, 2 * row) in dots, (x, 2 * row + 1) in dots] for x in range(wide))
        for row in range(scale.rows)
    )


class _Pen:
    """Draws strokes into a box of dots."""

    def __init__(self, width: int, height: int, stroke: int) -> None:
        self.width, self.height, self.stroke = width, height, stroke
        self.middle = (height - stroke) // 2  # first dot row of the middle bar
        self.dots: set[tuple[int, int]] = set()

    def draw(self, part: str) -> None:
        """Draw one stroke of the table."""
        if part[0] == "/":
            self._slant(*(float(number) for number in part[1:].split(",")))
        elif part[0] == "~":
            self._corners(part[1:])
        elif part[0] in "LRC":
            self._upright(part[0], part[1:])
        elif part[0] in "TMB":
            self._level(part[0], part[1:])
        else:
            self._points(part)

    def _fill(self, x0: int, x1: int, y0: int, y1: int) -> None:
        self.dots |= {(x, y) for x in range(x0, x1) for y in range(y0, y1)}

    def _upright(self, which: str, extent: str) -> None:
        left = {"L": 0, "R": self.width - self.stroke, "C": (self.width - self.stroke) // 2}[which]
        top, bottom = 0, self.height
        # A stub must leave the letter open: without room for that there is none, or an S would close to an 8.
        stub = self.stroke + max(0, min(round(self.height * 0.12), self.middle - self.stroke - 2))
        if "u" in extent:
            bottom = stub if "s" in extent else self.middle + self.stroke
        if "d" in extent:
            top = self.height - stub if "s" in extent else self.middle
        self._fill(left, left + self.stroke, top, bottom)

    def _level(self, which: str, extent: str) -> None:
        top = {"T": 0, "M": self.middle, "B": self.height - self.stroke}[which]
        left, right = 0, self.width
        if "l" in extent:
            right = (self.width + self.stroke) // 2
        if "r" in extent:
            left = (self.width - self.stroke + 1) // 2
        if "e" in extent:  # a little short of the right edge
            right = self.width - max(1, round(self.width * 0.15))
        self._fill(left, right, top, top + self.stroke)

    def _slant(self, x0: float, y0: float, x1: float, y1: float) -> None:
        across = self.width - self.stroke
        thick = self.stroke if self.stroke == 1 else round(self.stroke * 1.15)
        top, bottom = sorted((y0 * self.height, y1 * self.height))
        for y in range(round(top), round(bottom)):
            along = ((y + 0.5) / self.height - y0) / (y1 - y0)
            left = round((x0 + (x1 - x0) * along) * across - (thick - self.stroke) / 2)
            self._fill(max(left, 0), min(left + thick, self.width), y, y + 1)

    def _points(self, part: str) -> None:
        if part == ":":
            self._fill(0, self.stroke, self.height // 4, self.height // 4 + self.stroke)
            top = self.height - self.height // 4 - self.stroke
            self._fill(0, self.stroke, top, top + self.stroke)
        else:
            self._fill(0, self.stroke, self.height - self.stroke, self.height)

    def _corners(self, which: str) -> None:
        cut = max(1, round(self.stroke * 0.6))
        right, bottom = self.width - 1, self.height - 1
        centre = self.middle + (self.stroke - 1) / 2
        spots: dict[str, tuple[int, float]] = {
            "1": (0, 0),
            "2": (right, 0),
            "3": (right, bottom),
            "4": (0, bottom),
            "5": (right, centre),
            "6": (0, centre),
            "x": (right, self.middle + self.stroke - 1),  # the lower corner of an upper bowl
        }
        for name in which:
            x0, y0 = spots[name]
            self.dots -= {(x, y) for x, y in self.dots if abs(x - x0) + abs(y - y0) < cut}
