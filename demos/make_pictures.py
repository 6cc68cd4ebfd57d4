"""Make the pictures of the README from the demos: ``python demos/make_pictures.py``.

Needs chromium, playwright and pdftoppm, which the tests use too.
"""

import shutil
import subprocess
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from underbag.app.command import main

DEMOS = Path(__file__).parent
PICTURES = DEMOS / "pictures"
FLAGS = [
    "--no-sandbox",
    "--disable-quic",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--hide-scrollbars",
]


def make(demo: str, only: str, folder: Path) -> None:
    """Write some files of a demo."""
    status = main(["make", str(DEMOS / f"{demo}.toml"), "-o", str(folder), "--only", only])
    if status not in (0, 1):
        raise SystemExit(status)


def page_picture(page_file: Path, picture: Path) -> None:
    """Take a picture of the offline preview, its layers spread a little."""
    with sync_playwright() as tools:
        browser = tools.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        page = browser.new_page(viewport={"width": 1280, "height": 860}, reduced_motion="reduce")
        page.goto(page_file.as_uri())
        page.wait_for_selector("html[data-ready]", state="attached")
        page.wait_for_timeout(1500)
        page.screenshot(path=picture)
        browser.close()


def sheet_picture(pdf: Path, picture: Path) -> None:
    """Turn the first page of a drawing into a picture."""
    stem = picture.with_suffix("")
    subprocess.run(["pdftoppm", "-r", "75", "-png", "-singlefile", str(pdf), str(stem)], check=True)


if __name__ == "__main__":
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        made = Path(folder)
        make("drawer-front", "preview,pdf", made)
        page_picture(made / "preview.html", PICTURES / "drawer-front.png")
        sheet_picture(made / "drawings" / "section.pdf", PICTURES / "drawer-front-section.png")
