"""Keys by name, as a terminal sends them, and the count of those that are no figures."""

from __future__ import annotations

from dataclasses import dataclass

_FUNCTION = ("OP", "OQ", "OR", "OS", "[15~", "[17~", "[18~", "[19~", "[20~", "[21~", "[23~", "[24~")

NAMED: dict[str, bytes] = {
    "enter": b"\r",
    "esc": b"\x1b",
    "tab": b"\t",
    "shift+tab": b"\x1b[Z",
    "space": b" ",
    "backspace": b"\x7f",
    "delete": b"\x1b[3~",
    "insert": b"\x1b[2~",
    "up": b"\x1b[A",
    "down": b"\x1b[B",
    "right": b"\x1b[C",
    "left": b"\x1b[D",
    "home": b"\x1b[H",
    "end": b"\x1b[F",
    "pageup": b"\x1b[5~",
    "pagedown": b"\x1b[6~",
    **{f"f{n}": b"\x1b" + tail.encode() for n, tail in enumerate(_FUNCTION, start=1)},
    **{f"ctrl+{chr(code + 96)}": bytes([code]) for code in range(1, 27)},
}

_FIGURES = frozenset("0123456789.,-")


def bytes_of(key: str) -> bytes:
    """What the terminal sends for a key: a name of NAMED, or one character. Raises ValueError on anything else."""
    if key in NAMED:
        return NAMED[key]
    if len(key) == 1:
        return key.encode()
    raise ValueError(f"no key is called {key!r}")


@dataclass(slots=True)
class KeyCount:
    """Keys sent so far: figures (digits, point, comma, minus, the space between values) apart from the rest.

    `pedal` are those of the rest that a foot can press: a space by itself.
    """

    figures: int = 0
    other: int = 0
    pedal: int = 0

    def add_key(self, key: str) -> None:
        """Count one key pressed by itself: a space alone is the pedal, never a figure."""
        if key in _FIGURES:
            self.figures += 1
        else:
            self.other += 1
            self.pedal += key in ("space", " ")

    def add_text(self, text: str) -> None:
        """Count typed text, where a space between two values is a figure."""
        for at, char in enumerate(text):
            before, after = text[max(at - 1, 0) : at], text[at + 1 : at + 2]
            if char in _FIGURES or (char == " " and before in _FIGURES and after in _FIGURES):
                self.figures += 1
            else:
                self.other += 1
