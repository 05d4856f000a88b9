"""Pictures of a screen: SVG without any window frame, and PNG by headless Chromium.

Block elements and lines are drawn as rectangles that fill their cells, as terminals do that draw them themselves;
fonts leave seams between them.
"""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from collections.abc import Iterable
from io import StringIO
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from rich.cells import cell_len
from rich.color import Color
from rich.console import Console
from rich.segment import Segment
from rich.style import Style
from rich.terminal_theme import TerminalTheme
from textual.app import App

CELL_W, CELL_H, FONT = 12, 24, 19.5  # Fira Code advances 1200 of 1950 units: 12 at 19.5
BASELINE = 18

Box = tuple[float, float, float, float]  # x, y, width, height as parts of a cell
_LINE = 0.045
BOXES: dict[str, tuple[Box, ...]] = {
    "█": ((0, 0, 1, 1),),
    "▀": ((0, 0, 1, 0.5),),
    "▄": ((0, 0.5, 1, 0.5),),
    "▌": ((0, 0, 0.5, 1),),
    "▐": ((0.5, 0, 0.5, 1),),
    "▖": ((0, 0.5, 0.5, 0.5),),
    "▗": ((0.5, 0.5, 0.5, 0.5),),
    "▘": ((0, 0, 0.5, 0.5),),
    "▝": ((0.5, 0, 0.5, 0.5),),
    "─": ((0, 0.5 - _LINE, 1, _LINE * 2),),
    "│": ((0.5 - _LINE, 0, _LINE * 2, 1),),
    "╷": ((0.5 - _LINE, 0.5, _LINE * 2, 0.5),),
    "╵": ((0.5 - _LINE, 0, _LINE * 2, 0.5),),
    "┤": ((0.5 - _LINE, 0, _LINE * 2, 1), (0, 0.5 - _LINE, 0.5, _LINE * 2)),
    "┬": ((0, 0.5 - _LINE, 1, _LINE * 2), (0.5 - _LINE, 0.5, _LINE * 2, 0.5)),
    "┼": ((0, 0.5 - _LINE, 1, _LINE * 2), (0.5 - _LINE, 0, _LINE * 2, 1)),
    "└": ((0.5 - _LINE, 0, _LINE * 2, 0.5), (0.5, 0.5 - _LINE, 0.5, _LINE * 2)),
}
BOXES |= {chr(0x2580 + eighths): ((0, 1 - eighths / 8, 1, eighths / 8),) for eighths in (1, 2, 3, 5, 6, 7)}

GROUNDS = {  # what "the terminal's own colour" is taken to be, dark or not: ground, ink
    True: ((19, 22, 26), (233, 230, 223)),
    False: ((250, 248, 243), (34, 38, 43)),
}


def svg_of(app: App[Any]) -> str:
    """The screen on show as SVG, drawn to the edge of its cells."""
    width, height = app.size
    console = Console(
        width=width, height=height, file=StringIO(), force_terminal=True, color_system="truecolor", record=True
    )
    console.print(app.screen._compositor.render_update(full=True, screen_stack=app._background_screens))
    lines = list(Segment.split_lines(Segment.filter_control(console._record_buffer)))[:height]
    theme = _terminal_theme(dark=app.current_theme.dark)
    ground = _hex(theme.background_color)
    body = "\n".join(part for y, line in enumerate(lines) for part in _line(line, y, theme))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width * CELL_W}" height="{height * CELL_H}" '
        f'viewBox="0 0 {width * CELL_W} {height * CELL_H}">\n'
        f"<style>text {{ font: {FONT}px 'Fira Code', monospace; font-variant-ligatures: none; white-space: pre }} "
        ".b { font-weight: 700 } rect { shape-rendering: crispEdges }</style>\n"
        f'<rect width="100%" height="100%" fill="{ground}"/>\n{body}\n</svg>\n'
    )


def _terminal_theme(*, dark: bool) -> TerminalTheme:
    """The sixteen colours as xterm has them, on our grounds."""
    normal = [
        (0, 0, 0), (205, 0, 0), (0, 205, 0), (205, 205, 0), (0, 0, 238), (205, 0, 205), (0, 205, 205),
        (229, 229, 229),
    ]  # fmt: skip
    bright = [
        (127, 127, 127), (255, 0, 0), (0, 255, 0), (255, 255, 0), (92, 92, 255), (255, 0, 255), (0, 255, 255),
        (255, 255, 255),
    ]  # fmt: skip
    ground, ink = GROUNDS[dark]
    return TerminalTheme(ground, ink, normal, bright)


def _hex(triplet: Iterable[int]) -> str:
    return "#" + "".join(f"{part:02x}" for part in triplet)


def _colours(style: Style, theme: TerminalTheme) -> tuple[str, str]:
    """Ink and ground of a style."""
    ink = _hex((style.color or Color.default()).get_truecolor(theme, foreground=True))
    ground = _hex((style.bgcolor or Color.default()).get_truecolor(theme, foreground=False))
    return (ground, ink) if style.reverse else (ink, ground)


def _line(segments: list[Segment], y: int, theme: TerminalTheme) -> Iterable[str]:
    at = 0
    plain_ground = _hex(theme.background_color)
    for text, style, _ in segments:
        style = style or Style.null()
        ink, ground = _colours(style, theme)
        cells = cell_len(text)
        if ground != plain_ground:
            yield _rect(at, y, (0, 0, cells, 1), ground)
        yield from _glyphs(text, at, y, ink, style)
        if style.underline:
            yield _rect(at, y, (0, 0.9, cells, 0.05), ink)
        at += cells


def _glyphs(text: str, at: int, y: int, ink: str, style: Style) -> Iterable[str]:
    weight = ' class="b"' if style.bold else ""
    run, run_at = "", at
    for letter in text:
        if letter.isascii():
            run_at = at if not run else run_at
            run += letter
        else:
            yield from _text(run, run_at, y, ink, weight)
            run = ""
            boxes = BOXES.get(letter)
            if boxes:
                yield from (_rect(at, y, box, ink) for box in boxes)
            elif letter == "░":
                yield f'<g opacity="0.35">{_rect(at, y, (0, 0, 1, 1), ink)}</g>'
            else:
                yield from _text(letter, at, y, ink, weight)
        at += cell_len(letter)
    yield from _text(run, run_at, y, ink, weight)


def _text(run: str, at: int, y: int, ink: str, weight: str) -> Iterable[str]:
    lead = len(run) - len(run.lstrip(" "))
    run = run.strip(" ")
    if run:
        x, base = (at + lead) * CELL_W, y * CELL_H + BASELINE
        yield f'<text x="{x}" y="{base}" fill="{ink}"{weight} xml:space="preserve">{escape(run)}</text>'


def _rect(at: int, y: int, box: Box, fill: str) -> str:
    x0, y0, wide, high = box
    return (
        f'<rect x="{(at + x0) * CELL_W:g}" y="{(y + y0) * CELL_H:g}" '
        f'width="{wide * CELL_W:g}" height="{high * CELL_H:g}" fill="{fill}"/>'
    )


def png_of(svg: Path, size: tuple[int, int]) -> Path:
    """Draw an SVG of this many cells to a PNG beside it. Raises RuntimeError where there is no Chromium."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if chromium is None:
        raise RuntimeError("no chromium found: install it (Debian: chromium and fonts-firacode) to draw PNG files")
    png = svg.with_suffix(".png")
    with tempfile.TemporaryDirectory() as profile:
        subprocess.run(
            [
                chromium, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
                "--disable-background-networking", "--disable-component-update", "--disable-sync",
                "--hide-scrollbars",
                f"--user-data-dir={profile}", f"--window-size={size[0] * CELL_W},{size[1] * CELL_H}",
                f"--screenshot={png}", svg.resolve().as_uri(),
            ],
            check=True, capture_output=True, timeout=120,
        )  # fmt: skip
    return png
