"""The look: two feet, two colours, two directions. A palette for a dark room, one for a light one, and 16 colours.

A colour carries nothing alone: each comes with a word, a glyph or a place. Built on the eight colours of Okabe and
Ito (2008); a test holds the contrast of each on its ground and the distances under colour-vision deficiency.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

from rich.style import Style
from textual.color import Color
from textual.theme import Theme

from store.knowledge.words import Side, Verdict

if TYPE_CHECKING:
    from textual.app import App


class Role(StrEnum):
    """What a colour is for. Each is a CSS variable of the same name: `$left`, `$quiet` ..."""

    INK = "ink"
    QUIET = "quiet"
    FAINT = "faint"  # rules and bands only, never text
    LEFT = "left"
    RIGHT = "right"
    GAIN = "gain"
    LOSS = "loss"
    NOW = "now"
    GROUND = "ground"
    SHEET = "sheet"  # a raised panel


class Palette(NamedTuple):
    """One colour a role, as hexadecimal or as the terminal's own name (`ansi_blue`)."""

    ground: str
    sheet: str
    ink: str
    quiet: str
    faint: str
    left: str
    right: str
    gain: str
    loss: str
    now: str

    def of(self, role: Role) -> str:
        """The colour of a role."""
        return str(getattr(self, role.value))


DARK = Palette(
    ground="#13161a",
    sheet="#1b2026",
    ink="#e9e6df",
    quiet="#868d95",
    faint="#3a4149",
    left="#56b4e9",
    right="#e69f00",
    gain="#6fd08c",
    loss="#f0734a",
    now="#f0e442",
)
LIGHT = Palette(
    ground="#faf8f3",
    sheet="#efebe2",
    ink="#22262b",
    quiet="#5c636b",
    faint="#d2cec4",
    left="#0067a3",
    right="#9a5b00",
    gain="#00694c",
    loss="#b34a00",
    now="#7a6a00",
)
SIXTEEN_DARK = Palette(
    ground="ansi_default",
    sheet="ansi_default",
    ink="ansi_default",
    quiet="ansi_white",
    faint="ansi_bright_black",
    left="ansi_bright_cyan",
    right="ansi_yellow",
    gain="ansi_bright_green",
    loss="ansi_bright_red",
    now="ansi_bright_yellow",
)
SIXTEEN_LIGHT = Palette(
    ground="ansi_default",
    sheet="ansi_default",
    ink="ansi_default",
    quiet="ansi_bright_black",
    faint="ansi_white",
    left="ansi_blue",
    right="ansi_magenta",
    gain="ansi_green",
    loss="ansi_red",
    now="ansi_black",
)

PALETTES: Mapping[str, Palette] = {
    "dark": DARK,
    "light": LIGHT,
    "sixteen-dark": SIXTEEN_DARK,
    "sixteen-light": SIXTEEN_LIGHT,
}


def _theme(name: str, colours: Palette) -> Theme:
    """The Textual theme of a palette."""
    ansi = name.startswith("sixteen")
    on_block = "ansi_black" if ansi else colours.ground
    return Theme(
        name=name,
        ansi=ansi,
        dark=name.endswith("dark"),
        primary=colours.left,
        secondary=colours.quiet,
        accent=colours.now,
        success=colours.gain,
        warning=colours.now,
        error=colours.loss,
        foreground=colours.ink,
        background=colours.ground,
        surface=colours.ground,
        panel=colours.sheet,
        variables={
            **{role.value: colours.of(role) for role in Role},
            "ansi-background": "ansi_black" if name.endswith("dark") else "ansi_white",
            "ansi-foreground": "ansi_white" if name.endswith("dark") else "ansi_black",
            "screen-selection-foreground": on_block if ansi else colours.ink,
            "screen-selection-background": "ansi_cyan" if ansi else colours.faint,
            "border": colours.quiet,
            "border-blurred": colours.faint,
            "block-cursor-foreground": on_block,
            "block-cursor-background": colours.quiet if ansi else colours.ink,
            "block-cursor-text-style": "bold",
            "block-cursor-blurred-foreground": colours.ink,
            "block-cursor-blurred-background": colours.sheet,
            "input-cursor-foreground": on_block,
            "input-cursor-background": colours.now,
            "input-cursor-text-style": "none",
            "input-selection-foreground": colours.ink,
            "input-selection-background": colours.faint,
            "scrollbar": colours.quiet if ansi else colours.faint,
            "scrollbar-hover": colours.quiet,
            "scrollbar-active": colours.quiet,
            "scrollbar-background": colours.ground,
            "scrollbar-background-hover": colours.ground,
            "scrollbar-background-active": colours.ground,
            "scrollbar-corner-color": colours.ground,
        },
    )


def themes() -> list[Theme]:
    """The themes of the program, the default first."""
    return [_theme(name, colours) for name, colours in PALETTES.items()]


def variable_defaults() -> dict[str, str]:
    """The CSS variables of ours, for a theme that does not define them."""
    return {role.value: DARK.of(role) for role in Role}


def theme_for(color_system: str | None, *, dark: bool = True) -> str:
    """The theme that the terminal can show. `color_system` is Rich's word for it: "standard" is 16 colours."""
    shade = "dark" if dark else "light"
    return f"sixteen-{shade}" if color_system in ("standard", "windows") else shade


# Glyphs: each is one cell wide in every terminal font that was looked at, and none is an emoji.
LEFT_HEAD, RIGHT_HEAD = "◀", "▶"
UP, DOWN, WITHIN, UNKNOWN = "▲", "▼", "≈", "○"
NOTHING = "·"  # nothing was measured
CURSOR = "▸"
DONE = "✓"
FLAG = "!"
RULE = "─"

_VERDICTS: Mapping[Verdict, tuple[str, Role]] = {
    Verdict.GAIN: (UP, Role.GAIN),
    Verdict.LOSS: (DOWN, Role.LOSS),
    Verdict.WITHIN: (WITHIN, Role.QUIET),
    Verdict.UNKNOWN: (UNKNOWN, Role.QUIET),
}


def side_role(side: Side) -> Role:
    """The colour of a side."""
    return Role.LEFT if side is Side.LEFT else Role.RIGHT


def side_head(side: Side) -> str:
    """The arrow of a side: it points to where that side stands."""
    return LEFT_HEAD if side is Side.LEFT else RIGHT_HEAD


def verdict_mark(verdict: Verdict) -> tuple[str, Role]:
    """The glyph and colour of a change's verdict."""
    return _VERDICTS[verdict]


def mark(role: Role, *, bold: bool = False) -> str:
    """The style of a role as Textual's Content takes it: it follows the theme by itself."""
    return f"${role.value} bold" if bold else f"${role.value}"


def paint(app: App[Any], role: Role, *, bold: bool = False, on: Role = Role.GROUND) -> Style:
    """The style of a role as Rich segments take it, in the theme that is on."""
    colours = app.theme_variables
    return _paint(colours[role.value], colours[on.value], bold)


@lru_cache(256)
def _paint(colour: str, ground: str, bold: bool) -> Style:
    return Style(color=Color.parse(colour).rich_color, bgcolor=Color.parse(ground).rich_color, bold=bold)
