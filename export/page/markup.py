"""Pieces of the page that only say something: status, checks, sizes, measurements, sentences. Plain HTML."""

import re
from collections.abc import Iterable
from html import escape

from .content import CheckRow, Line, SizeRow, Status

SIGNS: dict[Status, str] = {
    "ok": '<path d="M8 1a7 7 0 1 1-.01 0z"/><path class="cut" d="M4.5 8.2l2.4 2.4 4.6-5"/>',
    "caution": '<path d="M8 1l7.4 13.4H.6z"/><path class="cut" d="M8 5.6v4.2M8 12v.4"/>',
    "stop": '<path d="M5 1h6l4 4v6l-4 4H5l-4-4V5z"/><path class="cut" d="M5.2 5.2l5.6 5.6M10.8 5.2l-5.6 5.6"/>',
    "not applicable": '<path d="M3 7h10v2H3z"/>',
}
"""A shape of its own for each status, so that none is told by colour alone."""


SIZE_PARTS = re.compile(
    r"(?<=[0-9]) (?=[0-9]+/[0-9]|(?:mm|in|kPa|inHg|min|s)\b)|(?<=×) (?=[0-9])|(?<=[0-9]) (?=× [0-9.]+ mm)"
)
"""Spaces within a size: before its fraction and its unit, after its cross, and in mm before it."""


def whole_sizes(text: str) -> str:
    """Text in which no size is torn apart at the end of a line: 6 15/16 read in two halves is another."""
    return SIZE_PARTS.sub("\u00a0", text)


def unbroken(text: str) -> str:
    """Text for the page in which no size is torn apart."""
    return escape(whole_sizes(text))


def sign_shapes() -> str:
    """Shapes of all signs, once for the whole page."""
    shapes = "".join(
        f'<symbol id="sign-{_word(status)}" viewBox="0 0 16 16">{shape}</symbol>'
        for status, shape in SIGNS.items()
    )
    return f'<svg hidden aria-hidden="true">{shapes}</svg>'


def sign(status: Status) -> str:
    """Small drawn sign of a status; the word stands beside it."""
    return f'<svg class="sign" aria-hidden="true"><use href="#sign-{_word(status)}"/></svg>'


def _word(status: Status) -> str:
    """Status as one word, for classes and ids."""
    return status.split()[0]


def status_words(status: Status) -> str:
    """Sign and word of a status."""
    return f'<span class="status {_word(status)}">{sign(status)}{escape(status)}</span>'


def checks_list(checks: tuple[CheckRow, ...]) -> str:
    """List the checks in the given order: what asks for a change in full view, the rest folded away."""
    loud = [check for check in checks if check.status in ("stop", "caution")]
    calm = [check for check in checks if check.status not in ("stop", "caution")]
    said = f'<ul class="checks">{"".join(map(_check, loud))}</ul>' if loud else ""
    if not calm:
        return said
    rest = f"{len(calm)} {'other ' if loud else ''}check{'s' if len(calm) > 1 else ''} without a remark"
    return f"{said}<details><summary>{rest}</summary>{_calm(calm)}</details>"


def _calm(checks: list[CheckRow]) -> str:
    """Checks that ask for nothing, by status."""
    groups: dict[Status, list[CheckRow]] = {}
    for check in checks:
        groups.setdefault(check.status, []).append(check)
    return "".join(
        f"<h3>{status_words(status)}</h3><ul>"
        + "".join(f"<li><b>{escape(row.title)}</b> {unbroken(row.message)}</li>" for row in rows)
        + "</ul>"
        for status, rows in groups.items()
    )


def _check(check: CheckRow) -> str:
    """One check."""
    change = f'<p class="change"><b>Change:</b> {unbroken(check.change)}</p>' if check.change else ""
    return (
        f'<li class="{_word(check.status)}"><h3>{status_words(check.status)} {escape(check.title)}</h3>'
        f"<p>{unbroken(check.message)}</p>{change}</li>"
    )


def sizes_table(sizes: Iterable[SizeRow]) -> str:
    """Blanks to cut, one row each."""
    head = "".join(f'<th scope="col">{name}</th>' for name in ("No.", "Layer", "Blank", "Pieces"))
    return (
        '<div class="wide" role="region" aria-label="Table of sizes" tabindex="0"><table>'
        "<caption>Length × width, from the bottom of the stack upward</caption>"
        f"<thead><tr>{head}</tr></thead><tbody>{''.join(map(_size, sizes))}</tbody></table></div>"
    )


def _size(row: SizeRow) -> str:
    """One blank: inches below mm, material and thickness below the name."""
    about = ", ".join(escape(text) for text in (row.material, row.thickness) if text)
    return (
        f'<tr><td>{escape(row.number)}</td><th scope="row">{escape(row.name)}<small>{about}</small></th>'
        f"<td><b>{escape(row.mm)}</b><small>{unbroken(row.inches)}</small></td>"
        f"<td>{escape(row.quantity)}</td></tr>"
    )


def measures(lines: Iterable[Line]) -> str:
    """Measurements with their labels."""
    pairs = "".join(
        f"<div><dt>{escape(line.label)}</dt><dd>{unbroken(line.text)}</dd></div>" for line in lines
    )
    return f'<dl class="measures">{pairs}</dl>'


def sentences(texts: Iterable[str]) -> str:
    """Sentences as a list."""
    return "<ul>" + "".join(f"<li>{escape(text)}</li>" for text in texts) + "</ul>"


def section_of(key: str, title: str, body: str) -> str:
    """One part of the page with its heading; nothing when there is nothing to say."""
    if not body:
        return ""
    return (
        f'<section id="{key}" aria-labelledby="{key}-title"><h2 id="{key}-title">{title}</h2>{body}</section>'
    )
