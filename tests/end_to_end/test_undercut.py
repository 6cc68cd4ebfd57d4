"""Bends past the half round: their blanks are right, while form, bag and valve are said not to be designed."""

import csv
import io
import json
import math
from pathlib import Path
from typing import Any

import pytest

from underbag.app.command import main

RING = (
    "[panel]\nwidth = 140\n[bend]\nradius = 120\nangle = 230\n[substrate]\nthickness = 1\nlaminations = 5\n"
)
HORSESHOE = RING.replace(
    "radius = 120\nangle = 230",
    'chain = "straight 60, crown 90 through 110°, straight 30, crown 90 through 110°, straight 60"',
)
LENGTHS = {
    RING: (120.0 * math.radians(230.0), 230.0),
    HORSESHOE: (150.0 + 90.0 * math.radians(220.0), 220.0),
}
"""Length of the show face and degrees that it turns through, by plane geometry."""


@pytest.fixture(params=[RING, HORSESHOE], ids=["ring", "horseshoe"])
def job(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[Path, float, float]:
    path = tmp_path / "bend.toml"
    path.write_text(request.param, encoding="utf-8")
    return path, *LENGTHS[request.param]


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str]:
    status = main([*arguments])
    return status, capsys.readouterr().out


def test_the_blanks_are_right(job: tuple[Path, float, float], capsys: pytest.CaptureFixture[str]) -> None:
    """L + d·Δθ for each lamination, with 12 mm of trim at both ends; Δθ is that on the form."""
    path, length, degrees = job
    status, text = told(capsys, "check", str(path), "--json")
    document: dict[str, Any] = json.loads(text)
    assert status == 1
    assert [document[key] for key in ("base", "bag", "valve")] == [None, None, None]
    ratio = next(value["value"] for value in document["values"] if value["key"] == "springback.ratio")
    turn = math.radians(degrees) / (1.0 - ratio)
    layers = {layer["key"]: layer for layer in document["layers"]}
    show = layers["face"]["height"] + layers["face"]["thickness"]
    for number in range(1, 6):
        layer = layers[f"substrate-{number}"]
        middle = layer["height"] + 0.5 * layer["thickness"]
        assert layer["blank"]["length"] == pytest.approx(length + 24.0 + (middle - show) * turn, rel=1e-9)


def test_form_bag_and_valve_are_said_not_to_be_designed(
    job: tuple[Path, float, float], capsys: pytest.CaptureFixture[str]
) -> None:
    _, text = told(capsys, "check", str(job[0]))
    lines = [line for line in text.splitlines() if line.endswith("undercut, not designed")]
    assert [line.split()[0].rstrip(":") for line in lines] == ["form", "BAG", "VALVE"]
    assert "half of the girth" not in text
    assert "the blanks given here are" in text
    _, everything = told(capsys, "check", str(job[0]), "--all")
    assert "form_radius" not in everything
    assert "radius of the form" not in everything
    assert "edges of the form" not in everything
    assert "flat film from the valve" not in everything


def test_the_cut_list_has_neither_form_nor_film(
    job: tuple[Path, float, float], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told(capsys, "make", str(job[0]), "-o", str(tmp_path / "out"), "--only", "cut-list")
    rows = list(csv.DictReader(io.StringIO((tmp_path / "out" / "cut-list.csv").read_text("utf-8-sig"))))
    parts = {row["part"] for row in rows}
    assert parts.isdisjoint({"form", "bag film"})
    assert {"face veneer", "lamination 5"} <= parts
