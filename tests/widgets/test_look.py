"""The palette: contrast on its ground, and distance between pairs under simulated colour-vision deficiency.

Contrast is the ratio of WCAG 2.x. Deficiency is simulated with the matrices of Machado, Oliveira and Fernandes
(2009) at severity 1.0, applied to linear RGB; the matrices are recalled, not read for this test. Distance is
CIE 1976 in L*a*b*, D65.
"""

from __future__ import annotations

import pytest

from store.knowledge.words import Side, Verdict
from tui.widgets import look
from tui.widgets.look import DARK, LIGHT, Palette, Role

Rgb = tuple[float, float, float]
Matrix = tuple[Rgb, Rgb, Rgb]

SEEN_AS: dict[str, Matrix] = {
    "full colour": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
PAIRS = [(Role.LEFT, Role.RIGHT), (Role.GAIN, Role.LOSS), (Role.NOW, Role.QUIET)]
# What the palette reached when it was chosen, rounded down, in the order of PAIRS: a changed colour must not
# silently bring two nearer. Right, loss and now on the light ground are as good as one colour to red-green eyes
# (2 to 6): there the word, the glyph and the place tell them apart, as everywhere.
LEAST = {
    ("dark", "full colour"): (113, 91, 87),
    ("dark", "protanopia"): (101, 22, 92),
    ("dark", "deuteranopia"): (111, 28, 84),
    ("dark", "tritanopia"): (86, 104, 37),
    ("light", "full colour"): (95, 87, 56),
    ("light", "protanopia"): (84, 32, 55),
    ("light", "deuteranopia"): (95, 49, 55),
    ("light", "tritanopia"): (69, 92, 21),
}
TEXT_ROLES = [role for role in Role if role not in (Role.FAINT, Role.GROUND, Role.SHEET)]


def linear(colour: str) -> Rgb:
    def channel(at: int) -> float:
        part = int(colour[at : at + 2], 16) / 255
        return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4

    return channel(1), channel(3), channel(5)


def luminance(rgb: Rgb) -> float:
    return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(linear(one)), luminance(linear(other))))
    return (high + 0.05) / (low + 0.05)


def lab(rgb: Rgb) -> Rgb:
    r, g, b = (min(1.0, max(0.0, part)) for part in rgb)
    x = (0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047
    y = 0.2126729 * r + 0.7151522 * g + 0.0721750 * b
    z = (0.0193339 * r + 0.1191920 * g + 0.9503041 * b) / 1.08883

    def bend(t: float) -> float:
        return float(t ** (1 / 3)) if t > 216 / 24389 else (24389 / 27 * t + 16) / 116

    return 116 * bend(y) - 16, 500 * (bend(x) - bend(y)), 200 * (bend(y) - bend(z))


def seen(colour: str, matrix: Matrix) -> Rgb:
    rgb = linear(colour)
    red, green, blue = (sum(weight * part for weight, part in zip(row, rgb, strict=True)) for row in matrix)
    return lab((red, green, blue))


def distance(one: str, other: str, matrix: Matrix) -> float:
    pairs = zip(seen(one, matrix), seen(other, matrix), strict=True)
    return float(sum((a - b) ** 2 for a, b in pairs) ** 0.5)


def test_contrast_of_black_on_white_is_twenty_one() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("name", ["dark", "light"])
@pytest.mark.parametrize("role", TEXT_ROLES)
def test_each_colour_of_text_reads_on_ground_and_panel(name: str, role: Role) -> None:
    palette = look.PALETTES[name]
    assert contrast(palette.of(role), palette.ground) >= 4.5
    assert contrast(palette.of(role), palette.sheet) >= 4.5


@pytest.mark.parametrize(("name", "eyes"), LEAST)
def test_pairs_stay_apart_for_other_eyes(name: str, eyes: str) -> None:
    palette = look.PALETTES[name]
    for (one, other), least in zip(PAIRS, LEAST[name, eyes], strict=True):
        assert distance(palette.of(one), palette.of(other), SEEN_AS[eyes]) >= least, (one, other)


def test_every_theme_gives_every_role_a_colour() -> None:
    for theme in look.themes():
        assert {role.value for role in Role} <= set(theme.variables)
    assert next(theme.name for theme in look.themes()) == "dark"


def test_left_and_right_differ_by_shape_and_not_only_by_colour() -> None:
    assert look.side_head(Side.LEFT) != look.side_head(Side.RIGHT)
    glyphs = [look.verdict_mark(verdict)[0] for verdict in Verdict]
    assert len(set(glyphs)) == len(glyphs)


def test_sixteen_colour_terminals_get_the_sixteen_colour_theme() -> None:
    assert look.theme_for("standard") == "sixteen-dark"
    assert look.theme_for("standard", dark=False) == "sixteen-light"
    assert look.theme_for("truecolor") == "dark"
    assert look.theme_for(None, dark=False) == "light"


@pytest.mark.parametrize("palette", [DARK, LIGHT])
def test_faint_is_seen_but_quieter_than_quiet(palette: Palette) -> None:
    assert 1.2 < contrast(palette.faint, palette.ground) < contrast(palette.quiet, palette.ground)
