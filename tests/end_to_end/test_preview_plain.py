"""The preview as a file: what it says without a script, and whether it can be trusted."""

import base64
import gzip
import hashlib
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from underbag.app.read.layup_file import read_file
from underbag.export.page import CheckRow, preview_html
from underbag.export.preview import preview
from underbag.model.plan import plan
from underbag.model.report import report
from underbag.model.scene import scene as make_scene

SHELF = Path(__file__).parents[2] / "demos" / "shelf.toml"
HOSTILE = "</title><script>alert('x')</script><img src=x onerror=\"alert(1)\"> & Søn's “lid”"


class Reader(HTMLParser):
    """Tags, attributes and the text that a person without scripts reads."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []
        self.scripts: list[str] = []
        self.styles: list[str] = []
        self.silent = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.silent = tag if tag in ("script", "style") else ""

    def handle_endtag(self, tag: str) -> None:
        self.silent = ""

    def handle_data(self, data: str) -> None:
        {"script": self.scripts, "style": self.styles}.get(self.silent, self.text).append(data)


def read(page: bytes) -> Reader:
    reader = Reader()
    reader.feed(page.decode())
    reader.close()
    return reader


def test_the_same_input_gives_the_same_bytes(flat: Any, bent: Any, words: Any) -> None:
    assert preview_html(flat, words(flat)) == preview_html(flat, words(flat))
    scene, stands = bent
    assert preview_html(scene, words(scene), stands) == preview_html(scene, words(scene), stands)


def test_a_small_preview_stays_below_60_kb(flat: Any, bent: Any, words: Any) -> None:
    assert len(preview_html(flat, words(flat))) <= 60_000
    scene, stands = bent
    assert len(preview_html(scene, words(scene), stands)) <= 60_000
    shelf = plan(read_file(str(SHELF)).layup)
    assert len(preview(shelf, report(shelf), make_scene(shelf))) <= 60_000


def test_everything_is_said_in_words(flat: Any, words: Any) -> None:
    content = words(flat)
    said = " ".join(" ".join(read(preview_html(flat, content)).text).split())
    wanted = [content.title, content.date, content.summary, *content.cautions, *content.notes]
    wanted += [
        text for check in content.checks for text in (check.status, check.title, check.message, check.change)
    ]
    wanted += [
        text for row in content.sizes for text in (row.number, row.name, row.material, row.mm, row.inches)
    ]
    wanted += [text for line in (*content.bag, *content.valve) for text in (line.label, line.text)]
    wanted += [text for row in content.layers for text in (row.name, row.material, row.note)]
    assert [text for text in wanted if text not in said] == []


def test_sections_come_in_reading_order(flat: Any, words: Any) -> None:
    headings = [attrs["id"] for tag, attrs in read(preview_html(flat, words(flat))).tags if tag == "section"]
    assert headings == ["checks", "picture", "sizes", "bag", "layers", "cautions", "notes"]


def test_nothing_to_say_leaves_no_empty_section(flat: Any, words: Any) -> None:
    bare = replace(words(flat), checks=(), sizes=(), bag=(), valve=(), cautions=(), notes=(), date="")
    reader = read(preview_html(flat, bare))
    assert [attrs["id"] for tag, attrs in reader.tags if tag == "section"] == ["picture", "layers"]


@pytest.mark.parametrize("loud", [0, 1, 2])
def test_checks_that_ask_for_a_change_are_in_full_view(flat: Any, words: Any, loud: int) -> None:
    one = CheckRow(status="stop", title="Sheet too short", message="6 mm short", change="panel.length")
    calm = CheckRow(status="ok", title="Breather", message="reaches", change="")
    page = preview_html(flat, replace(words(flat), checks=(*[one] * loud, calm))).decode()
    checks = re.search('<section id="checks".*?</section>', page, re.DOTALL)
    assert checks is not None
    shown, folded = checks[0].split("<details>")
    assert (shown.count("Sheet too short"), shown.count("Breather")) == (loud, 0)
    assert (folded.count("Sheet too short"), folded.count("Breather")) == (0, 1)


def test_layers_are_listed_as_they_lie(flat: Any, words: Any) -> None:
    page = preview_html(flat, words(flat)).decode()
    listed = re.findall('<input type="checkbox" checked data-key="([^"]*)"', page)
    assert listed == [part.key for part in reversed(flat.parts)]


def test_text_never_becomes_markup(flat: Any, words: Any) -> None:
    plain = read(preview_html(flat, words(flat)))
    parts = tuple(replace(part, name=HOSTILE, material=HOSTILE, note=HOSTILE) for part in flat.parts)
    scene = replace(flat, title=HOSTILE, parts=parts)
    content = words(scene, HOSTILE)
    content = replace(
        content,
        summary=HOSTILE,
        checks=tuple(
            replace(check, title=HOSTILE, message=HOSTILE, change=HOSTILE) for check in content.checks
        ),
        bag=tuple(replace(line, label=HOSTILE, text=HOSTILE) for line in content.bag),
        cautions=(HOSTILE,),
        notes=(HOSTILE,),
    )
    hostile = read(preview_html(scene, content))
    assert [tag for tag, _ in hostile.tags if tag in ("script", "img")] == ["script"] * 3
    assert not any(name.startswith("on") for _, attrs in hostile.tags for name in attrs)
    assert "".join(hostile.text).count(HOSTILE) > 40
    assert hostile.scripts[1:] == plain.scripts[1:]


def test_the_policy_allows_only_the_pages_own_script_and_style(flat: Any, words: Any) -> None:
    reader = read(preview_html(flat, words(flat)))
    policy = next(
        attrs["content"] or ""
        for tag, attrs in reader.tags
        if attrs.get("http-equiv") == "Content-Security-Policy"
    )
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    digest = base64.b64encode(hashlib.sha256(reader.scripts[2].encode()).digest()).decode()
    looks = base64.b64encode(hashlib.sha256(reader.styles[0].encode()).digest()).decode()
    assert rules == {
        "default-src": "'none'",
        "script-src": f"'sha256-{digest}' blob:",
        "style-src": f"'sha256-{looks}'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }


def test_nothing_points_out_of_the_file(flat: Any, words: Any) -> None:
    page = preview_html(flat, words(flat))
    reader = read(page)
    links = [
        value
        for _, attrs in reader.tags
        for name, value in attrs.items()
        if name in ("src", "href", "action")
    ]
    assert {link for link in links if not (link or "").startswith("#")} == set()
    code = gzip.decompress(base64.b64decode(reader.scripts[1])).decode()
    outward = re.findall(r"https?://[^\"'\s]+", page.decode() + code)
    assert set(outward) == {"http://www.w3.org/2000/svg"}


def test_ready_views_are_sound_svg_that_says_what_it_shows(flat: Any, words: Any) -> None:
    page = preview_html(flat, words(flat)).decode()
    drawings = [ET.fromstring(text) for text in re.findall("<svg role.*?</svg>", page, re.DOTALL)]
    titles = [drawing.findtext("title") or "" for drawing in drawings]
    assert [title.split(": ")[1].split(",")[0] for title in titles] == [
        "the stack seen from the front right corner",
        "the layers spread apart",
        "section along the panel at mid-width",
    ]
    # the bag has no number of its own
    expected = {f"{place} {part.name}" for place, part in enumerate(flat.parts[:11], start=1)} | {
        "valve",
        "bag film",
    }
    for drawing in drawings[1:]:
        assert {text.text for text in drawing.iter("text")} == expected


def test_colours_of_text_can_be_told_from_the_paper(flat: Any, words: Any) -> None:
    """Contrast of 4.5 to 1 at least, as WCAG 2.2 asks of text (success criterion 1.4.3)."""
    style = read(preview_html(flat, words(flat))).styles[0]
    light, dark = (
        dict(re.findall(r"--([\w-]+): ?(#[0-9a-f]{6})", block))
        for block in re.findall(r":root ?\{(.*?)\}", style, re.DOTALL)[:2]
    )

    def brightness(text: str) -> float:
        parts = [int(text[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    def contrast(one: str, other: str) -> float:
        low, high = sorted((brightness(one), brightness(other)))
        return (high + 0.05) / (low + 0.05)

    weak = [
        (ink, paper, round(contrast(scheme[ink], scheme[paper]), 2))
        for scheme in (light, dark)
        for ink in ("ink", "soft", "chalk", "stop", "caution", "ok")
        for paper in ("sheet", "card", "field")
        if contrast(scheme[ink], scheme[paper]) < 4.5
    ]
    assert weak == []
    assert min(contrast(scheme["on-chalk"], scheme["chalk"]) for scheme in (light, dark)) >= 4.5
