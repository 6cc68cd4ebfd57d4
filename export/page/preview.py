"""The preview: one HTML file that shows a layup offline, with scripts or without.

Without scripts it is a plain page: checks, sizes, layers, measurements and ready views. A script then puts the
picture that can be turned into the views' place. The file asks nothing of anybody: its policy allows no request
at all, and only its own style and the small script that unpacks the rest, known by their hashes.
"""

from base64 import b64encode
from hashlib import sha256
from html import escape

from ...model.scene import Scene
from .bundle import LOADER, packed, script, style
from .content import Content
from .markup import checks_list, measures, section_of, sentences, sign, sign_shapes, sizes_table
from .pack import pack
from .stage import edge_band, figures, layers_list, ready_views, stage
from .svg_views import View, views
from .thickness import THIN, Uprights, flat_uprights

WORDS = (
    "These are drawn views. Where scripts and WebGL are allowed, a picture that can be turned, "
    "spread and cut takes their place."
)


def preview_html(
    scene: Scene,
    content: Content,
    uprights: Uprights | None = None,
    air: tuple[View, ...] = (),
    drawn: tuple[View, ...] | None = None,
) -> bytes:
    """Self-contained HTML page of a layup.

    Parameters
    ----------
    scene
        The parts in space.
    content
        What the page says.
    uprights
        Heights and normals of the parts of a bent layup by key; none for a flat one.
    air
        Maps of the air; a page without them says nothing of it.
    drawn
        The drawn views, where they are at hand.
    """
    stands = flat_uprights(scene) if uprights is None else uprights
    numbers = {row.key: row.number for row in content.layers}
    seen = views(scene, numbers, stands) if drawn is None else drawn
    look = style("look.css")
    policy = (
        f"default-src 'none'; script-src {_hash(LOADER)} blob:; style-src {_hash(look)}; "
        "base-uri 'none'; form-action 'none'"
    )
    page = (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark">\n'
        f"<title>{escape(content.title)}</title>\n<style>{look}</style>\n</head>\n"
        f"<body>\n{sign_shapes()}{_header(scene, content)}\n<main>\n{_main(scene, content, seen, air)}\n</main>\n"
        '<p id="said" role="status" aria-live="polite"></p>\n'
        f'<script type="text/plain" id="parts" data-thin="{THIN:g}">{packed(pack(scene, numbers, stands))}</script>\n'
        f'<script type="text/plain" id="code">{packed(script().encode())}</script>\n'
        f'<script type="module">{LOADER}</script>\n</body>\n</html>\n'
    )
    return page.encode()


def _hash(text: str) -> str:
    """Source of a content policy that allows exactly this text."""
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


def _header(scene: Scene, content: Content) -> str:
    """Title, date and verdict."""
    date = f'<p class="date">{escape(content.date)}</p>' if content.date else ""
    verdict = f"{sign(content.status)}<span>{escape(content.summary)}</span>"
    return (
        f"{edge_band(scene)}<header><div><h1>{escape(content.title)}</h1>{date}</div>"
        f'<p class="verdict {content.status.split()[0]}">{verdict}</p></header>'
    )


def _main(scene: Scene, content: Content, seen: tuple[View, ...], air: tuple[View, ...]) -> str:
    """Put the sections in reading order."""
    picture = f'<p class="quiet" id="words">{WORDS}</p>{stage()}{ready_views(seen)}'
    measured = (("Bag", content.bag), ("Valve", content.valve))
    work = (
        section_of("picture", "The stack", picture),
        section_of("sizes", "Sizes to cut", sizes_table(content.sizes) if content.sizes else ""),
        section_of(
            "bag",
            "Bag and valve",
            "".join(f"<h3>{name}</h3>{measures(lines)}" for name, lines in measured if lines),
        ),
        section_of("air", "Air on its way to the valve", figures(air)) if air else "",
    )
    bench = (
        section_of("cautions", "Take care", sentences(content.cautions) if content.cautions else ""),
        section_of("notes", "Notes", sentences(content.notes) if content.notes else ""),
    )
    return "\n".join(
        (
            section_of("checks", "Checks", checks_list(content.checks) if content.checks else ""),
            f'<div class="work">{"".join(work)}</div>',
            section_of("layers", "Layers", layers_list(content.layers, scene)),
            f'<div class="bench">{"".join(bench)}</div>',
        )
    )
