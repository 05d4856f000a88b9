"""The pictures: no frame, exactly as large as the screen, and a sentence where nothing can draw them."""

from __future__ import annotations

import asyncio
import shutil
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from tests.look.__main__ import svg
from tests.look.picture import CELL_H, CELL_W, png_of
from tests.look.scenes import SCENES
from tests.look.test_snapshots import SHOWN


def test_a_picture_is_the_screen_to_the_edge_of_its_cells_and_nothing_more() -> None:
    drawn = asyncio.run(svg("hold", (80, 24), "light", []))
    root = ET.fromstring(drawn)
    assert (root.get("width"), root.get("height")) == (str(80 * CELL_W), str(24 * CELL_H))
    assert "circle" not in drawn
    assert "clip-path" not in drawn
    texts = "".join(part.text or "" for part in root.iter("{http://www.w3.org/2000/svg}text"))
    assert "stance test, eyes open" in texts
    assert "█" not in texts  # blocks are drawn as rectangles


@pytest.mark.parametrize("scene", [name for name in SCENES if name not in SHOWN.values()])
def test_every_scene_can_be_drawn(scene: str) -> None:
    """Those that are not opened to be compared with what they were."""
    assert asyncio.run(svg(scene, (120, 40), "dark", [])).endswith("</svg>\n")


def test_without_chromium_it_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda _name: None)
    with pytest.raises(RuntimeError, match="install it"):
        png_of(tmp_path / "x.svg", (80, 24))
