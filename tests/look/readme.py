"""`python -m tests.look.readme`: draw the README's pictures from the program, and write its table of keys."""

from __future__ import annotations

import asyncio
import re
import shutil
import tempfile
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

from store.care.care import Care, open_care
from store.demo import build
from store.knowledge.time import SetClock
from tests.helpers.stage import NOON
from tests.look.picture import png_of, svg_of
from tui.app import BothFeetApp
from tui.widgets.commands import keys_table

ROOT = Path(__file__).resolve().parents[2]
PICTURES = ROOT / ".pictures"
SIZE = (80, 24)

SAID = ("space", *"2", "space", *"4", "space", *"1", "space", "space", *"0", "space", *"5", "space", *"7", "space")
SAFETY = ("space", "space")  # asked as a group, and no change
LUNGE = (
    "space",
    *"10.2",
    "enter",
    *"10.0",
    "enter",
    *"10.3",
    "enter",
    *"4.7",
    "enter",
    *"4.9",
    "enter",
    *"4.8",
    "enter",
)
WALKS: dict[str, Sequence[str]] = {
    "episode": (*"R.K", "enter"),
    "visit": (*"R.K", "enter", "v", *SAID, *"6", "space", "y", *SAFETY, *LUNGE),
}


async def walked(care: Care, keys: Sequence[str]) -> str:
    """The picture of the program after these keys, pressed at a person's pace."""
    app = BothFeetApp(care, care.clock, theme="dark")
    async with app.run_test(size=SIZE) as pilot:
        for key in keys:
            await pilot.press(key)
            await pilot.pause()
        await pilot.pause()
        return svg_of(app)


def draw(name: str, svg: str) -> None:
    """Put one picture in its place."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"{name}.svg"
        path.write_text(svg, encoding="utf-8")
        shutil.copyfile(png_of(path, SIZE), PICTURES / f"{name}.png")


def write_keys() -> None:
    """Put the registry's table of keys into the README."""
    readme = ROOT / "README.md"
    text = readme.read_text(encoding="utf-8")
    block = f"<!-- keys -->\n{keys_table()}<!-- /keys -->"
    readme.write_text(
        re.sub(r"<!-- keys -->.*<!-- /keys -->", lambda _: block, text, flags=re.DOTALL), encoding="utf-8"
    )


def main() -> None:
    """Draw and write."""
    from tests.look.__main__ import svg as scene_svg

    PICTURES.mkdir(exist_ok=True)
    for name, keys in WALKS.items():
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "demo.sqlite"
            clock = SetClock(NOON)
            build(path, clock.now())
            with closing(open_care(path, clock)) as care:
                draw(name, asyncio.run(walked(care, keys)))
    draw("bout", asyncio.run(scene_svg("bout", SIZE, "dark", [])))
    write_keys()


if __name__ == "__main__":
    main()
