"""A document as one HTML file: it stands alone, runs no script, asks nothing of anybody, and prints well."""

from base64 import b64encode
from hashlib import sha256
from html import escape
from importlib.resources import files
from itertools import groupby

from ..page.bundle import style
from ..page.markup import measures, section_of, sentences, sign, sign_shapes, status_words, unbroken
from .pieces import (
    Cell,
    Chapter,
    Document,
    Measures,
    Picture,
    Piece,
    Remark,
    Sentences,
    Subtitle,
    Table,
    Working,
)


def write_html(document: Document) -> bytes:
    """Write a document as HTML; the same document gives the same bytes."""
    look = style("look.css") + files(__package__).joinpath("document.css").read_text(encoding="utf-8")
    look += _widths(document)
    look += f"@page {{ size: {document.size} }}\n@media print {{ body {{ font-size: {document.letters:g}pt }} }}\n"
    digest = b64encode(sha256(look.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    shown = [chapter for chapter in document.chapters if chapter.pieces]
    page = (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark">\n'
        f"<title>{escape(document.title)}: {escape(document.kind.lower())}</title>\n<style>{look}</style>\n</head>\n"
        f'<body class="document">\n{sign_shapes()}{_head(document)}\n{_contents(shown)}\n<main>\n'
        + "\n".join(section_of(one.key, escape(one.title), _pieces(one.pieces)) for one in shown)
        + "\n</main>\n</body>\n</html>\n"
    )
    return page.encode()


def _widths(document: Document) -> str:
    """Rules for the widths of the columns, of which no element may carry one of its own."""
    tables = [piece for one in document.chapters for piece in one.pieces if isinstance(piece, Table)]
    shares = sorted({share for table in tables for share in _shares(table)})
    return "".join(f".w{share} {{ width: {share}% }}\n" for share in shares)


def _shares(table: Table) -> list[int]:
    """Widths of the columns in per cent."""
    total = sum(column.share for column in table.columns)
    return [round(100.0 * column.share / total) for column in table.columns]


def _head(document: Document) -> str:
    return (
        f'<header><div><p class="quiet">{escape(document.kind)}</p><h1>{escape(document.title)}</h1></div>'
        f'<p class="verdict {document.status.split()[0]}">{sign(document.status)}{escape(document.summary)}</p></header>'
    )


def _contents(chapters: list[Chapter]) -> str:
    """Links to the chapters, where there are enough of them to need any."""
    if len(chapters) < 3:
        return ""
    links = "".join(f'<li><a href="#{one.key}">{escape(one.title)}</a></li>' for one in chapters)
    return f'<nav aria-label="Chapters"><ul>{links}</ul></nav>'


def _pieces(pieces: tuple[Piece, ...]) -> str:
    """Pieces one behind the other; remarks, pictures and workings that follow each other share a list."""
    said = []
    for kind, group in groupby(pieces, key=type):
        body = "".join(map(_piece, group))
        said.append(WRAPS[kind].format(body) if kind in WRAPS else body)
    return "".join(said)


WRAPS = {
    Remark: '<ul class="checks">{}</ul>',
    Picture: '<div class="pictures">{}</div>',
    Working: '<ul class="workings">{}</ul>',
}


def _piece(piece: Piece) -> str:
    match piece:
        case Subtitle():
            return f"<h3>{escape(piece.text)}</h3>"
        case Sentences():
            return sentences(piece.texts)
        case Measures():
            return measures(piece.lines)
        case Table():
            return _table(piece)
        case Remark():
            return _remark(piece)
        case Picture():
            caption = f"<figcaption>{escape(piece.caption)}</figcaption>"
            return f"<figure><h3>{escape(piece.name)}</h3>{piece.svg}{caption}</figure>"
        case Working():
            return _working(piece)


def _table(table: Table) -> str:
    head = "".join(
        f'<th scope="col" class="w{share}">{escape(column.name)}</th>'
        for column, share in zip(table.columns, _shares(table), strict=True)
    )
    rows = "".join(
        "<tr>" + "".join(_cell(cell, place == table.head) for place, cell in enumerate(row)) + "</tr>"
        for row in table.rows
    )
    about = f"<caption>{escape(table.about)}</caption>" if table.about else ""
    return (
        f'<div class="wide" role="region" aria-label="{escape(table.about or "Table")}" tabindex="0"><table>{about}'
        f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>"
    )


def _cell(cell: Cell, is_head: bool) -> str:
    boxes = f'<span class="boxes" aria-hidden="true">{"<i></i>" * cell.boxes}</span>' if cell.boxes else ""
    below = f"<small>{unbroken(cell.below)}</small>" if cell.below else ""
    begin, end = ('<th scope="row">', "</th>") if is_head else ("<td>", "</td>")
    text = f"<b>{unbroken(cell.text)}</b>" if cell.strong else unbroken(cell.text)
    return f"{begin}{boxes}{text}{below}{end}"


def _remark(remark: Remark) -> str:
    change = f'<p class="change"><b>Change:</b> {unbroken(remark.change)}</p>' if remark.change else ""
    numbers = f"<p>{unbroken(remark.numbers)}</p>" if remark.numbers else ""
    ground = " ".join(part for part in (remark.why, f"[{remark.source}]") if part)
    return (
        f'<li class="{remark.status.split()[0]}"><h3>{status_words(remark.status)} {escape(remark.title)}</h3>'
        f'<p>{unbroken(remark.message)}</p>{numbers}{change}<p class="quiet">{escape(ground)}</p></li>'
    )


def _working(working: Working) -> str:
    lines = "".join(f"<p><code>{escape(line)}</code></p>" for line in working.lines)
    return (
        f"<li><p><b>{escape(working.name)}</b>: {escape(working.told)}</p>{lines}"
        f'<p class="quiet">{escape(working.key)} [{escape(working.source)}]</p></li>'
    )
