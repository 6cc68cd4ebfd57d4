"""Numbers of the standards for technical drawings.

Sources, and how they were read:
- ISO 216, ISO 5457 borders, parts of ISO 128 and ISO 7200: read on public help pages, the prints were not opened.
- ISO 5455, ISO 3098, the rest of ISO 128 and ISO 5457 and ASME Y14.1: from memory.
"""

import math
from itertools import pairwise

import pytest

from underbag.export.drawing.lettering import CAPITAL, HEIGHTS, Face, font_file, text_width
from underbag.export.drawing.paper import (
    A4,
    ANSI_PAPERS,
    GRID_LETTERS,
    ISO_PAPERS,
    Paper,
    fields,
    frame,
)
from underbag.export.drawing.pens import CENTRE, FRAME, HIDDEN, NARROW, PENS, WIDE, WIDTHS
from underbag.export.drawing.primitives import Stroke, Text
from underbag.export.drawing.scale import FULL_SIZE, SCALES, Scale, scale_to_fit
from underbag.export.drawing.sheet import Sheet, furniture, title_box
from underbag.export.drawing.title_block import TitleBlock

A_SIZES = {"A0": (841, 1189), "A1": (594, 841), "A2": (420, 594), "A3": (297, 420), "A4": (210, 297)}
"""ISO 216, Table 1: shorter and longer side (standard, read on public pages)."""

SPACES = {"A4": (180, 277), "A3": (390, 277), "A2": (564, 400), "A1": (811, 574), "A0": (1159, 821)}
"""ISO 5457: drawing space behind a border of 20 mm at the left and 10 mm elsewhere (standard; computed)."""

FIELDS = {"A4": (4, 6), "A3": (8, 6), "A2": (12, 8), "A1": (16, 12), "A0": (24, 16)}
"""ISO 5457: fields of the reference grid along the width and the height (from memory)."""


@pytest.mark.parametrize("paper", ISO_PAPERS, ids=lambda paper: paper.name)
def test_iso_216_sizes(paper: Paper) -> None:
    assert tuple(sorted((paper.width, paper.height))) == A_SIZES[paper.name]
    # Each size is the one before folded in half, rounded down to whole mm.
    larger = A_SIZES.get(f"A{int(paper.name[1]) - 1}", (1189, 1682))
    assert A_SIZES[paper.name] == (larger[1] // 2, larger[0])
    assert paper.is_upright == (paper.name == "A4")


def test_a0_has_one_square_metre() -> None:
    (a0,) = (paper for paper in ISO_PAPERS if paper.name == "A0")
    assert a0.width * a0.height == 999_949


@pytest.mark.parametrize("paper", ISO_PAPERS, ids=lambda paper: paper.name)
def test_iso_5457_drawing_space(paper: Paper) -> None:
    assert (paper.space.width, paper.space.height) == SPACES[paper.name]
    assert paper.space.low == (20, 10)


@pytest.mark.parametrize("paper", ISO_PAPERS, ids=lambda paper: paper.name)
def test_iso_5457_grid_fields(paper: Paper) -> None:
    columns, rows = fields(paper.width), fields(paper.height)
    assert (len(columns) + 1, len(rows) + 1) == FIELDS[paper.name]
    # From memory: fields of 50 mm that start at the axes of symmetry.
    for places, length in ((columns, paper.width), (rows, paper.height)):
        assert length / 2 in places
        assert all(b - a == 50 for a, b in pairwise(places))


def test_iso_5457_grid_names() -> None:
    """Letters without I and O from above, numerals from the left; A4 only above and on the right (from memory)."""
    assert not {"I", "O"} & set(GRID_LETTERS)
    texts = [item for item in frame(A4) if isinstance(item, Text)]
    assert "".join(sorted(text.text for text in texts)) == "1234ABCDEF"
    assert all(text.position[1] > A4.space.high[1] or text.position[0] > A4.space.high[0] for text in texts)
    heights = {text.text: text.position[1] for text in texts}
    assert heights["A"] > heights["B"] > heights["F"]
    assert {text.height for text in texts} == {3.5}


@pytest.mark.parametrize("paper", [*ISO_PAPERS, *ANSI_PAPERS], ids=lambda paper: paper.name)
def test_iso_5457_frame_and_centring_marks(paper: Paper) -> None:
    """Frame and four centring marks of 0.7 mm (from memory); each mark lies on an axis of symmetry."""
    assert FRAME.width == 0.7
    thick = [item for item in frame(paper) if isinstance(item, Stroke) and item.pen is FRAME]
    border, *marks = thick
    assert len(marks) == 4
    axes = [(paper.width / 2, 0), (paper.width / 2, 0), (paper.height / 2, 1), (paper.height / 2, 1)]
    for mark, (middle, coordinate) in zip(marks, axes, strict=True):
        assert mark.curve.start[coordinate] == mark.curve.end[coordinate] == middle
    assert border.curve.points[0] == paper.space.low


def test_north_american_sizes() -> None:
    """ASME Y14.1 (from memory): A 8.5 × 11 in, B 11 × 17, C 17 × 22, D 22 × 34, E 34 × 44."""
    inches = [side / 25.4 for paper in ANSI_PAPERS for side in sorted((paper.width, paper.height))]
    assert inches == pytest.approx([8.5, 11, 11, 17, 17, 22, 22, 34, 34, 44])


def test_iso_5455_scales() -> None:
    """ISO 5455 (from memory): 50, 20, 10, 5, 2 to 1, full size, and 1 to 2, 5, 10 … 10000; 1:2.5 is none."""
    enlarged = [(50, 1), (20, 1), (10, 1), (5, 1), (2, 1)]
    reduced = [(1, n * 10**power) for power in range(4) for n in (2, 5, 10)]
    assert [(scale.paper, scale.thing) for scale in SCALES] == [*enlarged, (1, 1), *reduced]
    assert str(Scale(1, 5)) == "1:5"
    assert str(Scale(10, 1)) == "10:1"


def test_a_scale_is_chosen_to_fit() -> None:
    assert scale_to_fit(390, 277, 390, 277) == FULL_SIZE
    assert scale_to_fit(390.1, 277, 390, 277) == Scale(1, 2)
    assert scale_to_fit(3000, 60, 390, 277) == Scale(1, 10)
    assert scale_to_fit(10, 10, 390, 277) == FULL_SIZE
    assert scale_to_fit(10, 10, 390, 277, at_most=SCALES[0]) == Scale(20, 1)
    assert scale_to_fit(1e9, 1, 390, 277) == SCALES[-1]


def test_iso_128_line_widths() -> None:
    """ISO 128-2 (part of the series read on a public page, the rest from memory): step √2, wide twice narrow."""
    assert WIDTHS == (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
    # The printed widths are rounded to two digits, by up to 4 %.
    steps = [b / a for a, b in pairwise(WIDTHS)]
    assert steps == pytest.approx([math.sqrt(2)] * 8, rel=0.04)
    assert WIDE.width == 2 * NARROW.width
    assert {pen.width for pen in PENS} <= set(WIDTHS)


def test_iso_128_dashes() -> None:
    """ISO 128-2 (from memory): dash 12, gap 3, long dash 24, dot up to 0.5, in line widths."""
    assert HIDDEN.dashes == pytest.approx((12 * 0.25, 3 * 0.25))
    assert CENTRE.dashes == pytest.approx((24 * 0.25, 3 * 0.25, 0.5 * 0.25, 3 * 0.25))


def test_iso_3098_heights_and_widths() -> None:
    """ISO 3098 (from memory): heights in steps of √2; type B advances 0.7 of the height for a digit."""
    assert HEIGHTS == (1.8, 2.5, 3.5, 5, 7, 10, 14, 20)
    assert text_width("0000000000", 10.0) == pytest.approx(70, abs=0.5)


@pytest.mark.parametrize("face", Face)
def test_lettering_height_is_that_of_a_capital(face: Face) -> None:
    """The outline of H in the font itself, read with another library."""
    from fontTools.ttLib import TTFont

    font = TTFont(font_file(face))
    assert font["glyf"]["H"].yMax / font["head"].unitsPerEm == CAPITAL


MANDATORY = (
    "Legal owner",
    "Number",
    "Date of issue",
    "Sheet",
    "Title",
    "Approved by",
    "Created by",
    "Document type",
)
"""ISO 7200: data fields that a title block must have (standard, table read on a public page)."""


@pytest.mark.parametrize("paper", [*ISO_PAPERS, *ANSI_PAPERS], ids=lambda paper: paper.name)
def test_iso_7200_title_block(paper: Paper) -> None:
    """180 mm wide (standard, read on a public page), at the lower right of the frame, with the mandatory fields."""
    box = title_box(paper)
    assert box.width == 180
    assert box.high[0] == pytest.approx(paper.space.high[0])
    assert box.low[1] == paper.space.low[1]
    assert box.low[0] >= paper.space.low[0] - 1e-9
    said = {item.text for item in furniture(_sheet(paper)) if isinstance(item, Text)}
    assert set(MANDATORY) <= said
    assert {"Scale", "Dimensions in", "Projection", "Revision", "Document status"} <= said
    assert {"Elder Lane", "EL-7", "2/5", "STOP: see checks", "1:5"} <= said


def _sheet(paper: Paper) -> Sheet:
    block = TitleBlock(
        title="Tray",
        owner="Elder Lane",
        number="EL-7",
        sheet=2,
        sheets=5,
        scale="1:5",
        status="STOP: see checks",
        date="2024-05-01",
    )
    return Sheet(name="tray", paper=paper, title=block)
