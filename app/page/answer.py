"""What the page is told after every request: the whole state, and the picture where it has changed."""

import json
import struct
from collections.abc import Mapping
from html import escape
from typing import Any

from ...export.page.markup import checks_list, measures, section_of, sentences, sign, sizes_table
from ...export.page.stage import edge_band, layers_list
from ...export.preview import check_row, content
from ...model.bag.size import CLOSED_KINDS
from ...model.checks.rule import Check
from ..examine import Examined, Planned
from .desk import Desk, Standing
from .fields import own_values, values
from .picture import LARGEST, Picture, dimensions, spots

State = dict[str, Any]
TOO_LARGE = f"This stack has too many pieces to draw here (over {LARGEST} triangles); its numbers stand."
WORDS = {"stop": "do not press this as it is", "caution": "cautions, no stop", "ok": "all checks hold"}
IMPOSSIBLE = "No such layup can be built; the picture shows the last one that can."


def state(desk: Desk) -> State:
    """Everything that the page shows, the picture aside."""
    now = desk.now
    examined, layup = now.examined, now.file.layup
    home = desk.home.name if desk.home is not None and now.version.at_home else ""
    return {
        "revision": desk.revision,
        "title": layup.title,
        "bent": layup.is_bent,
        "home": home,
        "dirty": desk.is_dirty,
        "undo": desk.can_undo or bool(desk.pending),
        "redo": desk.can_redo,
        "values": values(desk),
        "own": own_values(desk),
        "verdict": examined.verdict,
        **_found(now),
    }


def _found(now: Standing) -> State:
    """What a plan has to tell; without one, only the check that says why."""
    examined = now.examined
    planned = examined.planned
    seen = now.picture
    told: State = {
        "checks": _checks(examined, seen),
        "remark": IMPOSSIBLE if planned is None else TOO_LARGE if seen is None else "",
        "picture": "" if seen is None else seen.digest,
        "dimensions": [],
        "valve": None,
        "html": {
            "checks": checks_list(tuple(map(check_row, examined.checks))),
            "verdict": f"{sign(examined.verdict)}<span>{WORDS[examined.verdict]}</span>",
        },
    }
    if planned is None or seen is None:
        return told
    said = content(planned.plan, planned.report, seen.scene)
    told["dimensions"] = dimensions(planned.plan, seen.scene)
    told["valve"] = None if planned.plan.is_undercut else _valve(planned)
    told["html"] |= {
        "edge": edge_band(seen.scene),
        "verdict": f"{sign(said.status)}<span>{escape(said.summary)}</span>",
        "sizes": sizes_table(said.sizes),
        "layers": layers_list(said.layers, seen.scene),
        "bench": section_of("bag", "Bag and valve", measures(said.bag) + measures(said.valve))
        + section_of("cautions", "Take care", sentences(said.cautions))
        + section_of("notes", "Notes", sentences(said.notes)),
    }
    return told


def _checks(examined: Examined, seen: Picture | None) -> list[State]:
    """Tell every check, with its place in the picture where there is one."""
    if seen is None or examined.planned is None:
        return [_check(check, None) for check in examined.checks]
    found = spots(examined.planned.plan, seen.scene, [check.place for check in examined.checks])
    return [
        _check(check, {"part": key, "point": point})
        for check, (key, point) in zip(examined.checks, found, strict=True)
    ]


def _check(check: Check, place: State | None) -> State:
    return {
        "key": check.key,
        "status": check.status,
        "title": check.title,
        "message": check.message,
        "why": check.why,
        "change": check.change,
        "remedy": check.remedy,
        "place": place,
    }


def _valve(planned: Planned) -> State:
    """Where the valve sits in the flat bag, and the room around it."""
    plan = planned.plan
    valve, bag, layup = plan.valve, plan.bag, plan.layup
    return {
        "owned": bag.is_owned and layup.valve.from_closed_end is not None,
        "end": valve.from_closed_end,
        "left": valve.from_left_seam,
        "radius": valve.radius,
        "length": bag.length,
        "width": bag.width,
        "closure": layup.bag.closure if bag.kind in CLOSED_KINDS else 0.0,
        "least": layup.valve.clearance,
    }


def framed(desk: Desk, known: str) -> bytes:
    """State in JSON behind its length, and the packed picture where the page knows another one."""
    told = state(desk)
    seen = desk.now.picture
    send = seen is not None and seen.digest != known
    head = as_json(told)
    head += b" " * (-len(head) % 4)
    body = seen.packed if seen is not None and send else b""
    return struct.pack("<I", len(head)) + head + body


def as_json(told: Mapping[str, Any]) -> bytes:
    """Compact JSON."""
    return json.dumps(told, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode()
