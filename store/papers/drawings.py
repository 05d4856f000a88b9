"""Simple drawings of the set-up of each exercise: lines, a head, an arrow for the way a band pulls. Our own."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

WIDTH, HEIGHT = 120, 100
_FLOOR = 94


def drawing(picture: str) -> str:
    """The drawing as SVG, in the colour of the text around it; empty where there is none of this name."""
    draw = _DRAWINGS.get(picture)
    if draw is None:
        return ""
    says, parts = draw()
    return (
        f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" role="img" fill="none" stroke="currentColor" stroke-width="3" '
        f'stroke-linecap="round" stroke-linejoin="round"><title>{says}</title>{"".join(parts)}</svg>'
    )


Drawn = tuple[str, list[str]]


def _path(*points: tuple[float, float], style: str = "") -> str:
    return f'<polyline points="{" ".join(f"{x:g},{y:g}" for x, y in points)}"{style}/>'


def _head(x: float, y: float) -> str:
    return f'<circle cx="{x:g}" cy="{y:g}" r="7"/>'


def _floor() -> str:
    return _path((4, _FLOOR + 3), (116, _FLOOR + 3), style=' stroke-width="1.5"')


def _band(*points: tuple[float, float]) -> str:
    """A band or strap: thick and dashed, so that it is no limb."""
    return _path(*points, style=' stroke-width="4" stroke-dasharray="1 6"')


def _arrow(from_: tuple[float, float], to: tuple[float, float], word: str = "") -> str:
    """An arrow, with a word at its tail."""
    (x1, y1), (x2, y2) = from_, to
    length = max(((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5, 1)
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    left = (x2 - 8 * ux - 4 * uy, y2 - 8 * uy + 4 * ux)
    right = (x2 - 8 * ux + 4 * uy, y2 - 8 * uy - 4 * ux)
    head = _path(left, to, right, style=' stroke-width="2"')
    text = _word((x1 + x2) / 2, min(y1, y2) - 4, word) if word else ""
    return _path(from_, to, style=' stroke-width="2"') + head + text


def _word(x: float, y: float, word: str) -> str:
    return (
        f'<text x="{x:g}" y="{y:g}" text-anchor="middle" font-size="11" font-family="sans-serif" '
        f'fill="currentColor" stroke="none">{word}</text>'
    )


def _post(x: float, y: float = 66) -> str:
    return f'<rect x="{x:g}" y="{y:g}" width="7" height="{_FLOOR + 3 - y:g}" fill="currentColor"/>'


def _wall(x: float = 108) -> str:
    return _path((x, 4), (x, _FLOOR + 3), style=' stroke-width="5"')


def _lunging(step: float = 0) -> list[str]:
    """Somebody in a lunge to the right: the front foot flat, `step` higher than the floor."""
    foot = _FLOOR - step
    return [
        _head(54, 12),
        _path((54, 19), (54, 48), (74, 62 - step / 2), (63, foot - 8), (62, foot), (82, foot)),
        _path((54, 48), (42, 70), (26, 88), (34, _FLOOR)),
        _path((54, 27), (70, 40), (74, 60 - step / 2)),
    ]


def _band_behind() -> Drawn:
    parts = [_floor(), _post(4, 76), *_lunging(), _band((66, 87), (11, 90))]
    return "Band fixed low behind pulls the ankle back; the knee goes to the front", [
        *parts, _arrow((46, 80), (18, 82)), _word(15, 71, "band"), _arrow((82, 58), (110, 58), "knee"),
    ]  # fmt: skip


def _strap_front() -> Drawn:
    step = '<rect x="54" y="88" width="34" height="9"/>'
    parts = [_floor(), _post(110, 60), step, *_lunging(9), _band((62, 74), (110, 70))]
    return "Strap fixed in front pulls the shin to the front; the foot stays on a low step", [
        *parts, _arrow((84, 62), (104, 62), "strap"),
    ]  # fmt: skip


def _sitting() -> list[str]:
    return [
        _head(30, 14),
        _path((30, 21), (30, 56), (62, 58), (66, 86), (64, _FLOOR), (82, _FLOOR)),
        _path((30, 31), (46, 48), (60, 56)),
        _path((16, 60), (44, 60), (44, _FLOOR)),
        _path((16, 60), (16, _FLOOR)),
    ]


def _band_side() -> Drawn:
    foot = '<ellipse cx="60" cy="46" rx="13" ry="30"/><circle cx="60" cy="84" r="11"/>'
    parts = [foot, _band((60, 28), (12, 28)), '<rect x="4" y="16" width="8" height="24" fill="currentColor"/>']
    return "A foot from above; the band pulls one way, the foot turns the other", [
        *parts, _arrow((40, 20), (18, 20), "band"), _arrow((80, 36), (108, 36), "foot"),
    ]  # fmt: skip


def _long_leg(*, toes: float = 52) -> list[str]:
    return [
        _head(16, 20),
        _path((16, 27), (22, 76), (76, 76), (80, toes)),
        _path((17, 38), (30, 58), (26, 76)),
        _path((4, 80), (116, 80), style=' stroke-width="1.5"'),
    ]


def _band_front() -> Drawn:
    parts = [*_long_leg(), _post(108, 60), _band((80, 58), (108, 72))]
    return "Band fixed in front pulls the toes down; the toes are pulled up", [
        *parts, _arrow((90, 56), (106, 64)), _word(100, 50, "band"), _arrow((74, 50), (54, 50), "toes"),
    ]  # fmt: skip


def _band_hands() -> Drawn:
    parts = [*_long_leg(), _band((30, 58), (80, 54))]
    return "Band under the ball of the foot, held in the hands; the foot is pushed down", [
        *parts, _arrow((72, 46), (48, 48), "band"), _arrow((86, 54), (108, 66), "foot"),
    ]  # fmt: skip


def _pump() -> Drawn:
    return "Leg out, foot up and down", [*_long_leg(), _arrow((90, 62), (90, 40)), _arrow((100, 46), (100, 68))]


def _stretching(*, bent: bool) -> list[str]:
    knee = (46, 72) if bent else (38, 72)
    return [
        _floor(),
        _wall(),
        _head(80, 18),
        _path((77, 25), (60, 54), knee, (22, _FLOOR - 3), (22, _FLOOR), (36, _FLOOR)),
        _path((60, 54), (80, 66), (76, _FLOOR), (90, _FLOOR)),
        _path((75, 32), (106, 34)),
    ]


def _one_leg() -> Drawn:
    parts = [
        _floor(), _wall(), _head(56, 12), _path((56, 19), (56, 52), (56, _FLOOR), (68, _FLOOR)),
        _path((56, 52), (68, 66), (54, 78)), _path((56, 28), (44, 40), (54, 48)),
        _path((56, 28), (80, 38), (102, 34)),
    ]  # fmt: skip
    return "Standing on one leg, a wall within reach", parts


def _two_legs() -> Drawn:
    parts = [
        _floor(), _wall(), _head(56, 12), _path((56, 19), (56, 52)), _path((56, 52), (48, _FLOOR), (40, _FLOOR)),
        _path((56, 52), (64, _FLOOR), (72, _FLOOR)), _path((56, 28), (44, 46)),
        _path((56, 28), (80, 38), (102, 34)),
    ]  # fmt: skip
    return "Standing on both legs, a wall within reach", parts


def _heel_raise() -> Drawn:
    parts = [
        _floor(), _wall(), _head(60, 12), _path((60, 19), (60, 50), (58, 78), (56, 84), (68, _FLOOR)),
        _path((60, 28), (84, 36), (104, 32)),
    ]  # fmt: skip
    return "On the toes, hands on the wall; up, and down slowly", [*parts, _arrow((36, 92), (36, 66), "up")]


def _step() -> Drawn:
    box = '<rect x="20" y="74" width="40" height="23"/>'
    parts = [
        _floor(), box, _head(54, 8), _path((54, 15), (54, 40), (60, 56), (50, 73), (60, 73)),
        _path((54, 40), (72, 60), (78, 88), (88, 88)), _path((54, 22), (40, 34)), _path((54, 22), (68, 34)),
    ]  # fmt: skip
    return "On a low step on one leg, the other heel goes down to the floor", [*parts, _arrow((98, 62), (98, 86))]


def _seat() -> Drawn:
    return "Sitting, the foot next to a wall", [_floor(), _wall(94), *_sitting()]


def _leg_up() -> Drawn:
    pillows = (
        '<rect x="62" y="64" width="40" height="14" rx="6"/><rect x="66" y="50" width="36" height="14" rx="6"/>'
    )
    parts = [
        _path((4, 80), (116, 80)),
        pillows,
        _head(14, 68),
        _path((22, 72), (54, 74), (74, 48), (104, 46), (108, 32)),
    ]
    return "Lying, the lower leg on cushions, the foot higher than the heart", parts


def _brace() -> Drawn:
    parts = [
        _path((50, 8), (50, 64), (42, 80), (44, 90), (96, 90), (94, 78), (70, 66), (70, 8)),
        _path((44, 36), (76, 36)), _path((44, 48), (76, 48)), _path((42, 74), (80, 58)), _path((46, 60), (84, 76)),
    ]  # fmt: skip
    return "A brace round the ankle", parts


_DRAWINGS: Mapping[str, Callable[[], Drawn]] = MappingProxyType(
    {
        "band_behind": _band_behind,
        "strap_front": _strap_front,
        "band_side": _band_side,
        "band_front": _band_front,
        "band_hands": _band_hands,
        "wall_straight": lambda: ("Hands on the wall, the back knee straight", _stretching(bent=False)),
        "wall_bent": lambda: ("Hands on the wall, the back knee bent", _stretching(bent=True)),
        "one_leg": _one_leg,
        "two_legs": _two_legs,
        "heel_raise": _heel_raise,
        "step": _step,
        "seat": _seat,
        "pump": _pump,
        "leg_up": _leg_up,
        "brace": _brace,
    }
)
