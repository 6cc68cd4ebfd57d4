"""The section that takes most film is found: no other one, wherever it is cut, takes more."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.bag.section import section_at
from underbag.model.bag.terraces import terraces
from underbag.model.layup.settle import settle
from underbag.model.mechanics.film_path import path_length
from underbag.model.plan import Plan, plan
from underbag.model.shape.profile import Run

CHAIN = (Run(80.0, 1 / 150.0), Run(120.0, -1 / 180.0), Run(30.0, 0.0), Run(90.0, 1 / 250.0))
JOBS: dict[str, dict[str, Any]] = {
    "flat": {"panel": {"length": 420.0, "width": 300.0}},
    "rounded": {"panel": {"length": 420.0, "width": 300.0, "outline": "rounded rectangle", "corner": 60.0}},
    "oval": {"panel": {"length": 420.0, "width": 300.0, "outline": "ellipse"}, "platen": {"corner": 90.0}},
    "oval on the bench": {
        "panel": {"length": 420.0, "width": 300.0, "outline": "ellipse"},
        "platen": {"material": "none"},
    },
    "crown": {"panel": {"width": 150.0}, "bend": {"chord": 600.0, "rise": 90.0}},
    "hollow": {"panel": {"width": 150.0}, "bend": {"radius": 250.0, "angle": 2.6, "show_face": "inside"}},
    "lopsided chain": {"panel": {"width": 150.0}, "bend": {"chain": CHAIN}},
}
MADE: dict[str, Plan] = {}


def made(name: str) -> Plan:
    if name not in MADE:
        MADE[name] = plan(settle(JOBS[name]))
    return MADE[name]


@pytest.mark.parametrize("name", JOBS)
@given(share=st.floats(-0.9999, 0.9999))
@settings(max_examples=15)
def test_no_section_along_takes_more(name: str, share: float) -> None:
    job = made(name)
    rows = terraces(job.stack, job.base)
    w = share * rows[0].half_width
    contour = section_at(job.stack, job.base, rows, w)
    assert path_length(contour) + np.ptp(contour[:, 0]) <= job.along.following + 0.1


@pytest.mark.parametrize("name", JOBS)
def test_no_section_across_takes_more(name: str) -> None:
    """Width of the foot and twice the height of the highest point above it, at every place along."""
    job = made(name)
    t = np.linspace(-0.7, 0.7, 4001) * max(layer.outline.length for layer in job.stack.layers)
    most = 0.0
    for row in terraces(job.stack, job.base):
        on = np.clip(t, -row.half_length, row.half_length)
        z = job.stack.sheet.place(on, np.zeros_like(on), row.high)[:, 2] + job.base.lift
        most = max(most, float(z.max()))
    width = max(job.base.outline.width, *(layer.outline.width for layer in job.stack.work))
    assert job.across.following == pytest.approx(2.0 * (width + most), abs=0.05)


@pytest.mark.parametrize("name", JOBS)
def test_a_taut_film_is_the_shorter_one(name: str) -> None:
    for section in (made(name).along, made(name).across):
        assert section.taut <= section.following + 1e-9
        assert section.girth == section.following
