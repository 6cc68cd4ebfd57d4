"""Bag sizes against boxes whose girth can be written down (textbook geometry) and facts of the trade."""

import numpy as np
import pytest

from underbag.model.bag.section import FilmSection, along_section
from underbag.model.bag.size import size_bag
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.report import report
from underbag.model.wording import POUND_FORCE


def box(width: float, height: float) -> FilmSection:
    half = 0.5 * width
    contour = np.array([[-half, 0.0], [-half, height], [half, height], [half, 0.0]])
    girth = 2.0 * (width + height)
    return FilmSection(contour=contour, taut=girth, following=girth, is_hollow=False)


def bare(kind: str) -> dict[str, dict[str, object]]:
    return {
        "panel": {"length": 1200.0, "width": 600.0},
        "bag": {"kind": kind, "side_clearance": 0.0, "closure": 0.0},
    }


def test_tube_round_a_solid_box() -> None:
    # derived: a box of 1200 × 600 × 300 needs a lay-flat width of W + H = 900 and a length of L + H = 1500
    size = size_bag(settle(bare("tube")), box(1200.0, 300.0), box(600.0, 300.0), 0.0, ())
    assert size.needed_width == pytest.approx(900.0)
    assert size.needed_length == pytest.approx(1500.0)


def test_sheet_taped_down_climbs_both_sides() -> None:
    # common practice: width + 2 × height
    size = size_bag(settle(bare("taped sheets")), box(1200.0, 300.0), box(600.0, 300.0), 0.0, ())
    assert size.needed_width == pytest.approx(600.0 + 2 * 300.0)
    assert size.needed_length == pytest.approx(1200.0 + 2 * 300.0)


def test_every_millimetre_has_its_term() -> None:
    for asked in (
        {"panel": {"length": 420.0, "width": 300.0}},
        {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 60.0}},
    ):
        made = plan(settle(asked))
        values = report(made).by_key()
        assert sum(term.amount for term in made.bag.width_terms) == pytest.approx(
            values["bag.width"].number, rel=1e-14
        )
        assert sum(term.amount for term in made.bag.length_terms) == pytest.approx(
            values["bag.length"].number, rel=1e-14
        )


def test_film_over_a_flat_stack_is_the_hull_of_platen_and_stack() -> None:
    # textbook: a trapezium's hull, from the platen's foot up its edge and over to the caul
    asked = {"panel": {"length": 400.0, "width": 300.0}, "platen": {"margin": 0.0}, "caul": {"margin": 0.0}}
    bare_veneer = {"face": {"overhang": 0.0}, "back": {"overhang": 0.0}}
    made = plan(settle(asked | bare_veneer))
    height = 18.0 + made.stack.height
    assert along_section(made.stack, made.base).taut == pytest.approx(2.0 * (400.0 + height), rel=1e-12)


def test_a_panel_of_a_hundred_square_inches_carries_about_1400_pounds() -> None:
    # common practice: roughly 100 in² carries about 1,400 lbf near full vacuum (14 psi of 14.7)
    inch = 25.4
    asked = {"panel": {"length": 10 * inch, "width": 10 * inch}, "vacuum": {"gauge": 0.0965}}
    force = report(plan(settle(asked))).value("press.force").number / POUND_FORCE
    assert force == pytest.approx(1400.0, rel=0.02)


def test_a_gauge_of_25_inches_is_refused_a_mile_up() -> None:
    # ISO 2533 / US Standard Atmosphere 1976: 83 431.8 Pa at 1609.344 m, which is 24.637 inHg
    checks = report(
        plan(
            settle(
                {
                    "panel": {"length": 400.0, "width": 300.0},
                    "vacuum": {"gauge": 0.0846597, "altitude": 1_609_344.0},
                }
            )
        )
    ).checks
    worst = checks[0]
    assert (worst.key, worst.status) == ("vacuum.possible", "stop")
    assert worst.limit == pytest.approx(0.0834318, abs=1e-7)
    assert "24.6 inHg" in worst.message
