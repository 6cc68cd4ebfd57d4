"""The report: everything is said in both formats, as text, with pictures of lines; nothing a file says is obeyed."""

import json
import re
from base64 import b64encode
from hashlib import sha256
from html.parser import HTMLParser
from io import BytesIO
from typing import Any

import pdfplumber
import pypdf
import pytest

from underbag.app.examine import examine
from underbag.app.exports import EXPORTS, Job
from underbag.app.read.layup_file import read_file, read_text
from underbag.export.document.html import write_html
from underbag.export.document.pdf import write_pdf
from underbag.export.document.pdf_pieces import PICTURE_SHARE
from underbag.export.document.pieces import Chapter, Document, Picture, Sentences
from underbag.export.document.svg_read import Label, Shape, box_of, lines_of, read_svg
from underbag.export.drawing.lettering import shown
from underbag.export.drawing.pdf import POINT
from underbag.export.page.svg_views import views
from underbag.export.page.thickness import flat_uprights
from underbag.export.report.report import report_document
from underbag.model.errors import ExportError
from underbag.model.layup.settle import settle
from underbag.model.telling import tell

HOSTILE = "<script>alert(1)</script> =1+1 & <b>\"'"
FAILING = """
title = {title}
unit = "in"
[panel]
length = 24
width = 12
[caul]
easing = 0
[vacuum]
gauge = "100 kPa"
[values.pva]
open_time = 3
"""


class Plain(HTMLParser):
    """What a reader of a page gets: its text, and the tags it is made of."""

    def __init__(self, page: bytes) -> None:
        super().__init__()
        self.said: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.inside = ""
        self.feed(page.decode())
        self.text = squeezed(" ".join(self.said))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.inside = tag

    def handle_endtag(self, tag: str) -> None:
        self.inside = ""

    def handle_data(self, data: str) -> None:
        if self.inside != "style":
            self.said.append(data)


def squeezed(text: str) -> str:
    """Text without any blanks: lines break differently in every format."""
    return re.sub(r"\s+", "", text)


def job_of(text: str) -> Job:
    examined = examine(read_text(text))
    assert examined.planned is not None
    return Job(examined, examined.planned)


def files(job: Job) -> dict[str, bytes]:
    (row,) = (export for export in EXPORTS if export.name == "report")
    return dict(row.files(job))


@pytest.fixture(scope="module", params=["chessboard", "drawer-front"])
def job(request: pytest.FixtureRequest) -> Job:
    examined = examine(read_file(f"demos/{request.param}.toml").layup)
    assert examined.planned is not None
    return Job(examined, examined.planned)


@pytest.fixture(scope="module")
def made(job: Job) -> dict[str, bytes]:
    return files(job)


@pytest.fixture(scope="module")
def pdf_text(made: dict[str, bytes]) -> str:
    return squeezed(
        " ".join(page.extract_text() for page in pypdf.PdfReader(BytesIO(made["report.pdf"])).pages)
    )


def wanted(job: Job) -> list[str]:
    """What a report has to say."""
    plan, report = job.plan, job.report
    said = [plan.layup.title]
    said += [text for check in report.checks for text in (check.title, check.message)]
    said += [
        text for value in report.values for text in (value.key, value.name, tell(value), str(value.source))
    ]
    said += [layer.name for layer in plan.stack.layers]
    said += [layer.material_name for layer in plan.stack.layers]
    said += [piece.name for one in job.nestings for piece in one.need.pieces]
    said += [note for one in job.nestings for note in one.need.notes]
    said += [one.reason for one in plan.layup.settled if not one.given and one.value is not None]
    return said


def test_the_page_says_everything(job: Job, made: dict[str, bytes]) -> None:
    text = Plain(made["report.html"]).text
    assert [one for one in wanted(job) if squeezed(one) not in text] == []


def test_the_pdf_says_everything_as_text(job: Job, pdf_text: str) -> None:
    # the foot of a page may stand between two lines of one sentence, so single words are looked for there
    missing = [one for one in wanted(job) if squeezed(shown(one)) not in pdf_text]
    assert len(missing) <= 3, missing
    words = {squeezed(shown(word)) for one in missing for word in one.split()}
    assert [word for word in words if word not in pdf_text] == []


def test_the_page_stands_alone(made: dict[str, bytes]) -> None:
    page = made["report.html"].decode()
    plain = Plain(made["report.html"])
    assert not {"script", "img", "link", "iframe"} & {tag for tag, _ in plain.tags}
    assert not re.findall(r"(?:src|href)=\"(?!#)|url\((?!#)|style=", page)
    (look,) = re.findall(r"<style>(.*?)</style>", page, re.DOTALL)
    assert f"'sha256-{b64encode(sha256(look.encode()).digest()).decode()}'" in page
    assert (
        sum(tag == "svg" and "viewbox" in attrs and attrs.get("role") == "img" for tag, attrs in plain.tags)
        == 3
    )
    targets = {attrs["id"] for tag, attrs in plain.tags if tag == "section"}
    assert {(attrs["href"] or "")[1:] for tag, attrs in plain.tags if tag == "a"} == targets


def test_fonts_are_embedded_and_pictures_are_lines(job: Job, made: dict[str, bytes]) -> None:
    reader = pypdf.PdfReader(BytesIO(made["report.pdf"]))
    fonts: dict[str, Any] = {}
    for page in reader.pages:
        assert not page.images
        resources: Any = page["/Resources"]
        fonts |= resources.get("/Font", {})
    assert fonts
    assert all("/FontFile2" in font.get_object()["/FontDescriptor"] for font in fonts.values())
    outline = [entry.title for entry in reader.outline if not isinstance(entry, list)]
    assert outline[:3] == ["Take care", "Checks, worst first", "Pictures"]
    assert reader.metadata is not None
    assert shown(job.plan.layup.title) in (reader.metadata.title or "")


def test_the_outline_leads_to_its_chapters_and_every_page_tells_its_number(made: dict[str, bytes]) -> None:
    reader = pypdf.PdfReader(BytesIO(made["report.pdf"]))
    for entry in reader.outline:
        assert not isinstance(entry, list)
        number = reader.get_destination_page_number(entry)
        assert number is not None
        assert entry.title in reader.pages[number].extract_text()
    with pdfplumber.open(BytesIO(made["report.pdf"])) as pdf:
        for number, page in enumerate(pdf.pages, 1):
            foot = page.crop((0, page.height - 40, page.width, page.height)).extract_text()
            assert squeezed(foot).endswith(f"{number}/{len(pdf.pages)}")


def test_the_paper_is_that_of_the_drawings(job: Job, made: dict[str, bytes]) -> None:
    box = pypdf.PdfReader(BytesIO(made["report.pdf"])).pages[0].mediabox
    # ISO 216 A4 is 210 × 297 mm; North American letter is 8 1/2 × 11 inches
    size = (
        (8.5 * 72, 11 * 72)
        if job.plan.layup.drawing.paper == "North American"
        else (210 / 25.4 * 72, 297 / 25.4 * 72)
    )
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.01)


def test_the_same_layup_gives_the_same_bytes(job: Job, made: dict[str, bytes]) -> None:
    assert files(Job(job.examined, job.planned)) == made


def test_a_stop_comes_first_with_what_to_change() -> None:
    job = job_of(FAILING.format(title=json.dumps("Too hasty")))
    page = Plain(files(job)["report.html"])
    checks = [check for check in job.report.checks if check.status in ("stop", "caution")]
    assert checks[0].status == "stop"
    places = [page.text.index(squeezed(check.message)) for check in checks]
    held = page.text.index(squeezed(next(c.message for c in job.report.checks if c.status == "ok")))
    assert places == sorted(places)
    assert places[-1] < held
    for check in checks:
        assert squeezed(f"{check.change}: {check.remedy}") in page.text
    assert "open_time*" in page.text


def test_what_a_title_says_is_never_obeyed() -> None:
    job = job_of(FAILING.format(title=json.dumps(HOSTILE)))
    assert job.plan.layup.title == HOSTILE
    made = files(job)
    page = Plain(made["report.html"])
    assert "script" not in {tag for tag, _ in page.tags}
    assert squeezed(HOSTILE) in page.text
    text = squeezed(pypdf.PdfReader(BytesIO(made["report.pdf"])).pages[0].extract_text())
    assert squeezed(HOSTILE) in text


def test_chapters_that_are_asked_for_stand_behind_the_valve(job: Job) -> None:
    more = Chapter(key="air", title="Map of the air", pieces=(Sentences(texts=("Slowest corner 40 s.",)),))
    document = report_document(job.plan, job.report, job.scene, job.nestings, (more,))
    keys = [chapter.key for chapter in document.chapters]
    assert keys.index("air") == keys.index("bag") + 1
    assert "Slowest corner 40 s." in write_html(document).decode()


def test_a_picture_lies_in_the_pdf_as_it_does_on_the_page() -> None:
    job = job_of(FAILING.format(title='"Measured"'))
    view = views(job.scene, {}, flat_uprights(job.scene))[2]
    drawing = read_svg(view.svg)
    boxes = [box_of(mark.lines) for mark in drawing.marks if isinstance(mark, Shape)]
    picture = Picture(name=view.name, svg=view.svg, caption=view.caption)
    document = Document(
        title="Measured",
        kind="Picture",
        status="ok",
        summary="",
        chapters=(Chapter(key="picture", title="Picture", pieces=(picture,)),),
    )
    with pdfplumber.open(BytesIO(write_pdf(document))) as pdf:
        (page,) = pdf.pages
        words = page.extract_text()
        rules = [line for line in page.lines if line["width"] > 179 * POINT]
        drawn = [line for line in (*page.curves, *page.lines, *page.rects) if line not in rules]
    for mark in drawing.marks:
        if isinstance(mark, Label):
            assert shown(mark.text) in words
    # the picture takes its share of the 180 mm between the margins of A4
    scale = PICTURE_SHARE * 180.0 * POINT / drawing.width
    sides = (("x0", min, 0), ("top", min, 1), ("x1", max, 2), ("bottom", max, 3))
    svg = [choose(box[place] for box in boxes) for _, choose, place in sides]
    pdf_sides = [choose(line[name] for line in drawn) for name, choose, _ in sides]
    assert pdf_sides[2] - pdf_sides[0] == pytest.approx(scale * (svg[2] - svg[0]), abs=0.01 * POINT)
    assert pdf_sides[3] - pdf_sides[1] == pytest.approx(scale * (svg[3] - svg[1]), abs=0.01 * POINT)


@pytest.mark.parametrize(
    "asked",
    [
        {"panel": {"width": 100.0}, "bend": {"radius": 300.0, "angle": 3.7}, "substrate": {"laminations": 3}},
        {
            "panel": {"width": 150.0},
            "bend": {"chord": 1600.0, "rise": 60.0},
            "substrate": {"laminations": 60},
        },
        {"panel": {"length": 3000.0, "width": 60.0}},
        {
            "panel": {"length": 400.0, "width": 300.0},
            **{
                name: {"material": "none"}
                for name in ("face", "back", "release", "absorbent", "caul", "breather")
            },
        },
    ],
    ids=["undercut", "thirty laminations", "strip", "bare core"],
)
def test_the_report_of_what_is_out_of_the_ordinary(asked: dict[str, dict[str, Any]]) -> None:
    examined = examine(settle(asked, title="W" * 120))
    assert examined.planned is not None
    made = files(Job(examined, examined.planned))
    text = "".join(page.extract_text() for page in pypdf.PdfReader(BytesIO(made["report.pdf"])).pages)
    for check in examined.checks:
        assert squeezed(shown(check.title)) in squeezed(text)
    with pdfplumber.open(BytesIO(made["report.pdf"])) as pdf:
        page = pdf.pages[0]
        foot = page.crop((0, page.height - 40, page.width, page.height)).extract_words()
    # the long title leaves room for the number of the page
    number = next(place for place, word in enumerate(foot) if word["text"] == "1")
    assert max(word["x1"] for word in foot[:number]) < foot[number]["x0"]
    if examined.planned.plan.is_undercut:
        assert "undercut, not designed" in text


def test_path_data_reads_as_the_svg_standard_says() -> None:
    # SVG 2, chapter 9: l and q are relative to the point before, H and V absolute, z goes back to the start
    (line,) = lines_of("M10 20l5 0q6 0 6 6H30V-4z")
    assert line.is_closed
    assert [piece[-1] for piece in line.pieces] == [(15, 20), (21, 26), (30, 26), (30, -4)]
    # a parabola is the cubic whose controls lie two thirds of the way to its own
    (first, second, _) = line.pieces[1]
    assert first == pytest.approx((19, 20))
    assert second == pytest.approx((21, 22))
    with pytest.raises(ExportError, match="'A'"):
        lines_of("M0 0A1 1 0 0 0 2 2")
    with pytest.raises(ExportError, match="<circle>"):
        read_svg('<svg viewBox="0 0 9 9"><circle r="1"/></svg>')
