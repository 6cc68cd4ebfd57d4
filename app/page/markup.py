"""The page itself, empty: its scripts fill it with what the server tells."""

from html import escape

from ...export.page.markup import sign_shapes
from ...export.page.stage import stage
from ...export.page.thickness import THIN

STYLES = ("/picture/look.css", "/picture/stage.css", "/page/bench.css")
ACTS = (
    ("start", "New panel"),
    ("demos", "Demos"),
    ("open", "Open"),
    ("undo", "Undo"),
    ("redo", "Redo"),
    ("save", "Save"),
    ("copy", "Save a copy"),
    ("papers", "Papers"),
)
QUICK = (
    ("panel.length", "Length", "such as 600 mm"),
    ("panel.width", "Width", "such as 11 3/4 in"),
    ("substrate.thickness", "Thickness of the core", "left empty: 18 mm"),
    ("face.thickness", "Thickness of the veneer", "left empty: 0.6 mm"),
)
"""What a flat panel needs to begin with: key, label, example."""


def page(token: str) -> str:
    """Whole page; the token of this run stands in it for its own script."""
    styles = "".join(f'<link rel="stylesheet" href="{address}">' for address in STYLES)
    acts = "".join(f'<button type="button" data-do="{key}">{label}</button>' for key, label in ACTS)
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark">\n'
        f'<meta name="token" content="{escape(token)}">\n'
        f"<title>Bench</title>\n{styles}\n"
        '<script type="module" src="/page/bench.js"></script>\n</head>\n<body>\n'
        f"{sign_shapes()}"
        '<a class="skip" href="#numbers">To the numbers</a>'
        '<div id="edge"></div><header><div><h1 id="title"></h1><p class="date" id="where"></p></div>'
        f'<div class="bar" role="group" aria-label="Layup">{acts}</div>'
        '<p class="verdict" id="verdict"></p></header>\n'
        '<noscript><p class="gone">This page needs its script. Without one: underbag make writes a page '
        "that can be read anywhere.</p></noscript>\n"
        '<p class="gone" id="gone" role="alert" hidden></p>\n'
        f"<main>{_numbers()}{_picture()}{_side()}{_below()}</main>\n"
        f"{_start()}{_demos()}{_papers()}"
        '<input type="file" id="file" accept=".toml" hidden>\n'
        '<p id="said" role="status" aria-live="polite"></p>\n</body>\n</html>\n'
    )


def _numbers() -> str:
    return (
        '<section id="numbers" aria-labelledby="numbers-title" tabindex="-1">'
        '<h2 id="numbers-title">Numbers</h2>'
        '<p class="quiet">Write a size as you measure it: 600, 60 cm, 23 5/8 in. '
        "An empty field keeps to what it shows in grey.</p>"
        '<div id="fields"></div></section>'
    )


def _picture() -> str:
    return (
        '<section id="picture" aria-labelledby="picture-title"><h2 id="picture-title">The stack</h2>'
        '<p id="words" hidden></p><p class="remark" id="remark" role="status"></p><div class="twofold"><div>'
        f'<div id="thin" data-thin="{THIN:g}"></div>{stage()}<div id="views"></div>'
        '<fieldset class="valve" id="valve" hidden><legend>Valve of your bag</legend>'
        '<p class="quiet">Drag the ring in the picture, move it there with the arrow keys, or write.</p>'
        '<div id="valve-fields"></div><ul id="rooms" aria-label="Film around the valve"></ul></fieldset>'
        f"</div>{_flat()}</div></section>"
    )


def _flat() -> str:
    return (
        '<div id="blanks"><h3 id="blanks-title">Lying flat</h3><div id="blank-list" tabindex="0" role="group" '
        'aria-labelledby="blanks-title"></div></div>'
    )


def _side() -> str:
    return (
        '<div class="side"><section id="checks" aria-labelledby="checks-title">'
        '<h2 id="checks-title">Checks</h2><div id="check-list"></div></section>'
        '<section id="layers" aria-labelledby="layers-title"><h2 id="layers-title">Layers</h2>'
        '<div id="layer-list"></div></section></div>'
    )


def _below() -> str:
    return (
        '<div class="below"><section id="sizes" aria-labelledby="sizes-title"><h2 id="sizes-title">Sizes to cut</h2>'
        '<div id="size-list"></div></section>'
        '<div class="bench" id="bench"></div></div>'
    )


def _start() -> str:
    fields = "".join(
        f'<div class="field"><label for="q-{key}">{label}</label>'
        f'<input id="q-{key}" name="{key}" autocomplete="off" placeholder="{example}"></div>'
        for key, label, example in QUICK
    )
    return (
        '<dialog id="start" aria-labelledby="start-title"><form method="dialog">'
        '<h2 id="start-title">A flat panel</h2>'
        '<p class="quiet">Length and width are enough. A number without a unit is in mm.</p>'
        f'{fields}<p class="wrong" id="start-wrong" role="alert"></p>'
        '<div class="bar"><button type="submit" class="main">Lay it up</button>'
        '<button type="button" data-close>Leave it</button></div></form></dialog>'
    )


def _demos() -> str:
    return (
        '<dialog id="demos" aria-labelledby="demos-title"><h2 id="demos-title">Demos</h2>'
        '<p class="quiet">Jobs of an invented workshop. Undo brings back what you have now.</p>'
        '<div id="demo-list"></div><button type="button" data-close>Leave it</button></dialog>'
    )


def _papers() -> str:
    return (
        '<dialog id="papers" aria-labelledby="papers-title"><h2 id="papers-title">Papers</h2>'
        '<fieldset id="paper-kinds"><legend>What to make</legend>'
        '<button type="button" class="quiet-button" data-do="tick">Tick none</button></fieldset>'
        '<div class="bar"><button type="button" class="main" data-do="make">Make them</button>'
        '<button type="button" data-do="stop" hidden>Stop</button>'
        '<button type="button" data-close>Close</button></div>'
        '<progress id="paper-bar" max="1" value="0" hidden aria-label="Papers made"></progress>'
        '<p id="paper-says" role="status"></p><ul id="paper-files"></ul></dialog>'
    )
