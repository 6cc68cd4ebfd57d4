"""Everything that is known of a layup as one document for programs: lengths in mm, keys that stay.

The order of everything is that of the plan and the report, numbers are finite, and the same layup gives the same
document.
"""

import math
from collections.abc import Mapping
from typing import Any

from ..model.bag.film_cut import FilmCut
from ..model.bag.size import BagSize, Term
from ..model.checks.rule import Check
from ..model.layup.layup import Layup
from ..model.plan import Plan
from ..model.shape.cone import Sector
from ..model.source import Source
from ..model.stack import Layer
from ..model.value import METHOD, Value
from .examine import Examined
from .phrase import row_text

SCHEMA = 1
"""Version of the document; it rises when a key is taken away or changes its meaning, not when one is added."""

Document = dict[str, Any]


def document(examined: Examined) -> Document:
    """Layers, bag, valve, values, checks and settings of a layup; without a plan the first four are empty.

    So are base, bag and valve where the form would be undercut: then they are not designed.
    """
    planned, layup = examined.planned, examined.layup
    # past the half round neither form nor bag is designed
    pressed = None if planned is None or planned.plan.is_undercut else planned.plan
    return {
        "schema": SCHEMA,
        "title": layup.title,
        "unit": layup.unit,
        "status": examined.verdict,
        "layers": [] if planned is None else _layers(planned.plan),
        "base": None if pressed is None else _base(pressed),
        "bag": None if pressed is None else _bag(pressed),
        "valve": None if pressed is None else _valve(pressed),
        "values": [] if planned is None else [_value(value) for value in planned.report.values],
        "checks": [_check(check) for check in examined.checks],
        "settings": _settings(layup),
    }


def as_text(content: Mapping[str, Any]) -> str:
    """Document as JSON with one key a line."""
    import json

    return json.dumps(content, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _layers(plan: Plan) -> list[Document]:
    return [_layer(number, layer) for number, layer in enumerate(plan.stack.layers, 1)]


def _layer(number: int, layer: Layer) -> Document:
    return {
        "number": number,
        "key": layer.key,
        "role": layer.role,
        "name": layer.name,
        "side": layer.side,
        "material": layer.material,
        "material_name": layer.material_name,
        "grain": layer.grain,
        "thickness": layer.thickness,
        "height": layer.height,
        "outline": {"length": layer.outline.length, "width": layer.outline.width},
        "blank": {
            "length": layer.blank.length,
            "width": layer.blank.width,
            "area": layer.blank.area,
            "quantity": layer.blank.quantity,
            "sector": _sector(layer.blank.sector),
        },
    }


def _sector(sector: Sector | None) -> Document | None:
    """How the blank of a round cone is struck with a beam compass; None for any other."""
    if sector is None:
        return None
    return {
        "angle": sector.angle,
        "outer_radius": sector.outer,
        "inner_radius": sector.inner,
        "beside": sector.side,
        "chord": sector.chord,
    }


def _base(plan: Plan) -> Document:
    base, (length, width, height) = plan.base, plan.base_size
    return {
        "kind": base.kind,
        "material": base.material,
        "material_name": base.material_name,
        "length": length,
        "width": width,
        "height": height,
    }


def _bag(plan: Plan) -> Document:
    bag: BagSize = plan.bag
    return {
        "kind": bag.kind,
        "material": plan.chosen.film.key,
        "owned": bag.is_owned,
        "width": bag.width,
        "length": bag.length,
        "needed_width": bag.needed_width,
        "needed_length": bag.needed_length,
        "width_terms": _terms(bag.width_terms),
        "length_terms": _terms(bag.length_terms),
        "film_width": bag.film_width,
        "film_length": bag.film_length,
        "film": None if plan.film is None else _film(plan.film),
    }


def _film(cut: FilmCut) -> Document:
    return {
        "tube": cut.is_tube,
        "roll": cut.roll,
        "run": cut.run,
        "seam": cut.seam,
        "row": cut.row,
        "rows": cut.rows,
        "film": cut.film,
        "taken": cut.taken,
        "sheets": [
            {
                "name": sheet.name,
                "length": sheet.length,
                "width": sheet.width,
                "joints": list(sheet.joints),
                "pieces": [
                    {
                        "length": piece.length,
                        "width": piece.width,
                        "from_closed_end": piece.from_closed_end,
                        "from_left": piece.from_left,
                    }
                    for piece in sheet.pieces
                ],
            }
            for sheet in cut.sheets
        ],
    }


def _terms(terms: tuple[Term, ...]) -> list[Document]:
    return [{"name": term.name, "amount": term.amount} for term in terms]


def _valve(plan: Plan) -> Document:
    valve = plan.valve
    return {
        "over": valve.over,
        "t": valve.t,
        "w": valve.w,
        "diameter": 2.0 * valve.radius,
        "from_closed_end": valve.from_closed_end,
        "from_left_seam": valve.from_left_seam,
        "work_from_closed_end": valve.work_from_closed_end,
        "work_from_left_seam": valve.work_from_left_seam,
    }


def _value(value: Value) -> Document:
    working = (
        {"method": value.expression.removeprefix(METHOD).strip()}
        if value.is_method
        else {"expression": value.expression}
    )
    return {
        "key": value.key,
        "name": value.name,
        "symbol": value.symbol,
        "value": _finite(value.number),
        "unit": value.unit,
        **working,
        "inputs": [
            {"symbol": item.symbol, "value": _finite(item.number), "unit": item.unit} for item in value.inputs
        ],
        **_source(value.source),
    }


def _check(check: Check) -> Document:
    return {
        "key": check.key,
        "title": check.title,
        "status": check.status,
        "value": _finite(check.value),
        "limit": _finite(check.limit),
        "margin": _finite(check.margin),
        "unit": check.unit,
        "message": check.message,
        "why": check.why,
        "change": check.change,
        "remedy": check.remedy,
        "place": {"layer": check.place.layer, "t": check.place.t, "w": check.place.w},
        **_source(check.source),
    }


def _settings(layup: Layup) -> list[Document]:
    return [
        {
            "key": one.key,
            "value": row_text(one.value) if isinstance(one.value, tuple) else one.value,
            "given": one.given,
            "reason": one.reason,
            "basis": one.basis,
        }
        for one in layup.settled
    ]


def _source(source: Source) -> Document:
    cited = ", ".join(part for part in (source.document, source.place) if part)
    return {"source": cited, "basis": source.basis}


def _finite(number: float) -> float | None:
    """Give a number as it is, and nothing for what JSON has no number for."""
    return number if math.isfinite(number) else None
