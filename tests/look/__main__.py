"""Look at a screen: one command, one picture.

python -m tests.look bout                            a scene of tests/look/scenes.py
python -m tests.look bout --size 120x40 --theme light --out pictures
python -m tests.look package.module:make             an App, a Screen or a function that returns one
python -m tests.look --all                           every scene at 80x24 and 120x40, dark and light
"""

from __future__ import annotations

import argparse
import asyncio
import importlib
import tempfile
from pathlib import Path
from typing import Any

from textual.app import App
from textual.screen import Screen

from tests.helpers.stage import Stage
from tests.look.arriving import arrive
from tests.look.picture import png_of, svg_of
from tests.look.scenes import SCENES


def made(target: str) -> App[Any]:
    """The application that a target names."""
    if target in SCENES:
        return SCENES[target]()
    module, _, name = target.partition(":")
    thing = getattr(importlib.import_module(module), name)
    thing = thing() if callable(thing) else thing
    return Stage(screen=thing) if isinstance(thing, Screen) else thing


async def svg(target: str, size: tuple[int, int], theme: str, press: list[str]) -> str:
    """Run the target without a terminal, press the keys, and take its picture."""
    app = made(target)
    async with app.run_test(size=size) as pilot:
        await arrive(app, pilot, theme, press)
        return svg_of(app)


def look(target: str, size: tuple[int, int], theme: str, out: Path, *, press: list[str], png: bool) -> Path:
    """Write the picture and give its path."""
    name = target.replace(":", "-").replace(".", "-")
    path = out / f"{name}-{size[0]}x{size[1]}-{theme}.svg"
    path.write_text(asyncio.run(svg(target, size, theme, press)), encoding="utf-8")
    return png_of(path, size) if png else path


def main() -> None:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.look", description=__doc__.splitlines()[0])
    parser.add_argument("target", nargs="?", help=f"a scene ({', '.join(SCENES)}) or module:name")
    parser.add_argument("--all", action="store_true", help="every scene, two sizes, dark and light")
    parser.add_argument("--size", default="80x24")
    parser.add_argument("--theme", default="dark")
    parser.add_argument("--out", type=Path, default=Path(tempfile.gettempdir()) / "bothfeet-look")
    parser.add_argument("--press", nargs="*", default=[], help="keys to press first")
    parser.add_argument("--svg", action="store_true", help="only SVG, no PNG")
    asked = parser.parse_args()
    if not asked.target and not asked.all:
        parser.error("name a scene or module:name, or give --all")
    asked.out.mkdir(parents=True, exist_ok=True)
    sizes = ["80x24", "120x40"] if asked.all else [asked.size]
    themes = ["dark", "light"] if asked.all else [asked.theme]
    for target in SCENES if asked.all else [asked.target]:
        for size in sizes:
            width, height = (int(part) for part in size.split("x"))
            for theme in themes:
                print(look(target, (width, height), theme, asked.out, press=asked.press, png=not asked.svg))


if __name__ == "__main__":
    main()
