"""Report and cut list in a real browser: nothing is asked for, nothing runs over the edge, axe finds no hindrance."""

import os
from pathlib import Path
from typing import Any

import pytest

from underbag.app.examine import examine
from underbag.app.exports import EXPORTS, Job
from underbag.app.read.layup_file import read_file

AXE = os.environ.get("UNDERBAG_AXE", "")
FILES = ("report.html", "cut-list.html")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder with both documents of a bent demo."""
    examined = examine(read_file("demos/drawer-front.toml").layup)
    assert examined.planned is not None
    job, made = Job(examined, examined.planned), tmp_path_factory.mktemp("documents")
    for export in EXPORTS:
        if export.name in ("report", "cut-page"):
            for name, content in export.files(job):
                (made / name).write_bytes(content)
    return made


def opened(chromium: Any, path: Path, **settings: Any) -> tuple[Any, list[str]]:
    context = chromium.new_context(offline=True, **settings)
    page, asked = context.new_page(), []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    return page, asked


@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("width", [390, 1200])
def test_a_document_stays_within_the_window_and_asks_for_nothing(
    chromium: Any, folder: Path, name: str, width: int
) -> None:
    path = folder / name
    # without scripts: what is seen is all there is
    page, asked = opened(chromium, path, viewport={"width": width, "height": 900}, java_script_enabled=False)
    assert asked == [path.as_uri()]
    assert page.locator("h1").inner_text() == "Bow-front drawer, hall table"
    wide = page.locator("main").bounding_box()
    assert wide["x"] >= 0
    assert wide["x"] + wide["width"] <= width
    # a table too wide for the window is moved within its own frame; its words are not broken to letters
    assert page.locator("tbody th").first.bounding_box()["width"] > 90
    page.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_document_is_dark_where_that_is_wished_for(chromium: Any, folder: Path, scheme: str) -> None:
    page, _ = opened(chromium, folder / "report.html", color_scheme=scheme)
    paper, ink = (
        page.evaluate(f"getComputedStyle(document.body).{key}") for key in ("backgroundColor", "color")
    )
    light = [sum(map(int, colour[4:-1].split(","))) for colour in (paper, ink)]
    assert (light[0] < light[1]) == (scheme == "dark")
    page.context.close()


@pytest.mark.skipif(not AXE, reason="UNDERBAG_AXE names no axe.min.js")
@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_serious_hindrance(chromium: Any, folder: Path, name: str, scheme: str) -> None:
    page, _ = opened(chromium, folder / name, color_scheme=scheme)
    page.evaluate(Path(AXE).read_text(encoding="utf-8"))
    found = page.evaluate("axe.run().then(({ violations }) => violations)")
    serious = [
        (one["id"], len(one["nodes"]), one["nodes"][0]["html"][:200])
        for one in found
        if one["impact"] in ("serious", "critical")
    ]
    assert serious == []
    page.context.close()
