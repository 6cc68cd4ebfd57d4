"""The cut list to hang in the shop: the rows of the table for spreadsheets, a box for every piece, in both formats."""

import csv
import io
import json
import re
from html import unescape
from itertools import pairwise

import pdfplumber
import pypdf
import pytest

from underbag.app.examine import examine
from underbag.app.exports import EXPORTS, Job
from underbag.app.read.layup_file import read_file, read_text
from underbag.model.wording import in_inches

HOSTILE = "<img src=x onerror=alert(1)> =cmd|' /C calc'!A0"
UNDERCUT = """
title = {title}
[panel]
width = 100
[bend]
radius = 300
angle = "230°"
"""


def files(job: Job, name: str) -> dict[str, bytes]:
    (row,) = (export for export in EXPORTS if export.name == name)
    return dict(row.files(job))


def job_of(text: str) -> Job:
    examined = examine(read_text(text))
    assert examined.planned is not None
    return Job(examined, examined.planned)


@pytest.fixture(scope="module", params=["chessboard", "drawer-front", "table-top"])
def job(request: pytest.FixtureRequest) -> Job:
    examined = examine(read_file(f"demos/{request.param}.toml").layup)
    assert examined.planned is not None
    return Job(examined, examined.planned)


def table_rows(job: Job) -> list[dict[str, str]]:
    text = files(job, "cut-list")["cut-list.csv"].decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_every_row_of_the_table_stands_on_the_page(job: Job) -> None:
    page = files(job, "cut-page")["cut-list.html"].decode()
    rows = re.findall(r"<tr>(.*?)</tr>", page.split("<tbody>")[1].split("</tbody>")[0], re.DOTALL)
    wanted = table_rows(job)
    assert len(rows) == len(wanted)
    for row, want in zip(rows, wanted, strict=True):
        text = squeezed(unescape(re.sub(r"<[^>]*>", " ", row)))
        for key in ("number", "part", "material", "length in", "width in"):
            assert squeezed(want[key]) in text
        for key in ("length mm", "width mm"):
            assert f"{want[key]}mm" in text
        assert row.count("<i></i>") == int(want["pieces"])
        assert want["grain"].removeprefix("along ") in text


def test_the_pdf_has_the_sizes_as_text_and_a_box_for_every_piece(job: Job) -> None:
    made = files(job, "cut-page")["cut-list.pdf"]
    text = squeezed(" ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(made)).pages))
    wanted = table_rows(job)
    for want in wanted:
        assert f"{want['length mm']}mm" in text
        assert squeezed(want["width in"]) in text
    with pdfplumber.open(io.BytesIO(made)) as pdf:
        boxes = [
            rect for page in pdf.pages for rect in page.rects if abs(rect["width"] - rect["height"]) < 0.01
        ]
    got = sum(1 if one.need.kind == "roll" else len(one.sheets) for one in job.nestings)
    assert len(boxes) == sum(int(want["pieces"]) for want in wanted) + got
    # a box that a pencil can hit; the page is held at arm's length
    assert all(rect["width"] > 3.5 / 25.4 * 72 for rect in boxes)


def test_what_to_take_of_each_stock_is_told_with_its_yield(job: Job) -> None:
    made = files(job, "cut-page")
    page = squeezed(unescape(re.sub(r"<[^>]*>", " ", made["cut-list.html"].decode())))
    text = squeezed(
        " ".join(one.extract_text() for one in pypdf.PdfReader(io.BytesIO(made["cut-list.pdf"])).pages)
    )
    for one in job.nestings:
        # the yield by hand: what the pieces measure over what the sheets measure
        pieces = sum(piece.length * piece.width for piece in one.need.pieces)
        stock = sum(sheet.length * sheet.width for sheet in one.sheets)
        share = f"{100 * pieces / stock:.1f}".removesuffix(".0")
        for said in (one.need.material, f"{len(one.need.pieces)}{share}%"):
            assert squeezed(said) in page
            assert squeezed(said) in text


def test_the_shops_own_ruler_comes_first(job: Job) -> None:
    # no size is torn apart at the end of a line: its spaces do not break
    page = files(job, "cut-page")["cut-list.html"].decode().replace("\u00a0", " ")
    length = job.plan.stack.layers[0].blank.length
    first = in_inches(length) if job.plan.layup.unit == "in" else f"{length:.1f}".removesuffix(".0") + " mm"
    assert f"<b>{first}</b>".replace('"', "&quot;") in page


def test_the_same_layup_gives_the_same_bytes(job: Job) -> None:
    assert files(job, "cut-page") == files(Job(job.examined, job.planned), "cut-page")


def test_an_undercut_form_and_its_bag_are_not_listed_and_a_title_is_only_text() -> None:
    job = job_of(UNDERCUT.format(title=json.dumps(HOSTILE)))
    assert job.plan.is_undercut
    made = files(job, "cut-page")
    page = made["cut-list.html"].decode()
    assert "<img" not in page
    assert HOSTILE in unescape(page)
    assert "neither form nor bag is designed" in page
    assert {"form", "bag film"}.isdisjoint(row["part"] for row in table_rows(job))
    first = pypdf.PdfReader(io.BytesIO(made["cut-list.pdf"])).pages[0].extract_text()
    assert squeezed(HOSTILE) in squeezed(first)


def test_no_size_is_torn_apart_at_the_end_of_a_line_in_the_pdf() -> None:
    """6 15/16 in two halves is another size; large sizes in their narrow columns too."""
    job = job_of("[panel]\nlength = 3720.7\nwidth = 1793.3\n")
    made = {**files(job, "cut-page"), **files(job, "report")}
    for name in ("cut-list.pdf", "report.pdf"):
        lines = [
            line.strip()
            for page in pypdf.PdfReader(io.BytesIO(made[name])).pages
            for line in page.extract_text().splitlines()
        ]
        for before, line in pairwise(lines):
            if re.search(r"[0-9]$", before):
                # a fraction, or a unit, but not a formula
                assert not re.match(r"[0-9]+/[0-9]+|(mm?|in)\b(?! =)", line), (name, before, line)
            assert not before.endswith("×"), (name, before, line)
