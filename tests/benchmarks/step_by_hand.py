"""Solids and a STEP file as one would write them by hand in cadquery, for one job whose numbers are all known.

``step_speed.py`` runs it as a process of its own: ``python step_by_hand.py NUMBERS.json OUT.step``.
"""

import json
import sys
from pathlib import Path
from typing import Any

import cadquery as cq


def section(part: dict[str, Any]) -> Any:
    """Straight lines and arcs in the plane of the length, extruded across."""
    plane = cq.Workplane("XZ").moveTo(*part["start"])
    for kind, *numbers in part["path"]:
        if kind == "line":
            plane = plane.lineTo(*numbers)
        else:
            plane = plane.threePointArc(tuple(numbers[:2]), tuple(numbers[2:]))
    return plane.close().extrude(0.5 * part["width"], both=True)


def plate(part: dict[str, Any]) -> Any:
    """Rectangle, its corners rounded or not, between two levels."""
    x, y, z = part["middle"]
    body = cq.Workplane("XY", origin=(x, y, z)).rect(part["length"], part["width"]).extrude(part["thickness"])
    return body.edges("|Z").fillet(part["corner"]) if part["corner"] else body


def film(part: dict[str, Any]) -> Any:
    """Hull with a flange, hollowed out from below."""
    outer = cq.Workplane("XZ").polyline(part["outer"]).close().extrude(part["outer_half"], both=True)
    inner = cq.Workplane("XZ").polyline(part["inner"]).close().extrude(part["inner_half"], both=True)
    return outer.union(plate(part["flange"])).cut(inner)


def disc(part: dict[str, Any]) -> Any:
    """Round disc, upright."""
    return cq.Workplane("XY", origin=tuple(part["base"])).circle(part["radius"]).extrude(part["height"])


MAKERS = {"section": section, "plate": plate, "film": film, "disc": disc}


def main() -> None:
    """Build, name, colour and export."""
    job = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))
    assembly = cq.Assembly(name=job["title"])
    for part in job["parts"]:
        assembly.add(MAKERS[part["kind"]](part), name=part["name"], color=cq.Color(*part["colour"]))
    assembly.export(sys.argv[2])


main()
