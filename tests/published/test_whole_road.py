"""Printed values met again through the whole road: from the keys of a layup file to a value of its report."""

from typing import Any

import pytest

from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.report import Report, report

Asked = dict[str, dict[str, Any]]

INCH = 25.4
POUND_FORCE = 4.4482216152605
INCH_OF_MERCURY = 3.386389e-3
"""MPa, mercury at 0 °C."""


def told(asked: Asked) -> Report:
    return report(plan(settle(asked)))


def test_a_hundred_square_inches_carry_about_1400_pounds() -> None:
    """Common practice: a panel of roughly 100 in² carries about 1,400 lbf at near full vacuum."""
    asked: Asked = {
        "panel": {"length": 10.0 * INCH, "width": 10.0 * INCH},
        "vacuum": {"gauge": 28.5 * INCH_OF_MERCURY},
    }
    pounds = told(asked).value("press.force").number / POUND_FORCE
    # "about" in the trade: to the nearest hundred
    assert pounds == pytest.approx(1400.0, abs=50.0)
    assert told(asked).value("support.load").number == told(asked).value("press.force").number


@pytest.mark.parametrize(
    ("humidity", "moisture"), [(30.0, 6.2), (40.0, 7.7), (50.0, 9.2), (65.0, 12.0), (80.0, 16.0)]
)
def test_moisture_of_wood_in_the_air_of_the_shop(humidity: float, moisture: float) -> None:
    """Wood Handbook, FPL-GTR-282, Table 4-2, at 21.1 °C (70 °F)."""
    asked: Asked = {
        "panel": {"length": 420.0, "width": 300.0},
        "press": {"temperature": 21.1, "humidity": humidity},
    }
    # printed to 0.1
    assert told(asked).value("moisture.shop").number == pytest.approx(moisture, abs=0.06)


@pytest.mark.parametrize(
    ("thickness", "along", "across"),
    [(0.035, 2.0, 1.1), (0.070, 5.2, 3.2), (0.100, 8.6, 5.2), (0.125, 12.0, 7.1), (0.375, 54.0, 36.0)],
)
def test_radii_of_aircraft_plywood(thickness: float, along: float, across: float) -> None:
    """FAA AC 43.13-1B, Table 1-2, plywood at 10 % bent cold: 90° to the face grain, and 0 to 45°; inches."""
    for grain, radius in (("along length", along), ("along width", across)):
        asked: Asked = {
            "panel": {"width": 150.0},
            "bend": {"radius": 3000.0, "angle": 0.5},
            "substrate": {
                "material": "birch plywood",
                "thickness": thickness * INCH,
                "laminations": 3,
                "grain": grain,
            },
        }
        published = told(asked).value("bend.substrate.published").number
        assert published == pytest.approx(radius * INCH, rel=1e-9)


def test_walnut_veneer_bends_to_57_thicknesses() -> None:
    """MOR over E of the Wood Handbook, FPL-GTR-190, Table 5-3a, 101 over 11 600 MPa: radius 57 thicknesses.

    FAA AC 43.13-1B has its thinnest plywood, 0.035 in, at 2.0 in: 57.1 thicknesses too.
    """
    asked: Asked = {
        "panel": {"width": 150.0},
        "bend": {"radius": 600.0, "angle": 0.5},
        "face": {"thickness": 0.6},
    }
    # to half a thickness: the table's radii are of the concave face, the rule of thumb of the middle
    assert told(asked).value("bend.face.least").number / 0.6 == pytest.approx(57.0, abs=0.6)
