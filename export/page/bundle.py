"""The page's own script and style as one text each, to be put into a file that stands alone."""

import gzip
import json
import re
from base64 import b64encode
from importlib.resources import files

MODULES = (
    "camera.js", "section.js", "gestures.js", "labels.js", "paint.js", "viewer.js", "parts.js", "controls.js", "preview.js",
)  # fmt: skip
"""Each comes after those that it imports."""


LOADER = (
    'const packed=Uint8Array.from(atob(document.getElementById("code").textContent),(c)=>c.charCodeAt(0));'
    'const plain=new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));'
    'const code=new Blob([await new Response(plain).arrayBuffer()],{type:"text/javascript"});'
    "await import(URL.createObjectURL(code));"
)
"""Script that unpacks and starts the page's own script."""


def packed(data: bytes) -> str:
    """Bytes compressed, as text that is safe inside a script element; the same for the same bytes."""
    return b64encode(gzip.compress(data, 9, mtime=0)).decode()


def own_text(name: str) -> str:
    """Text of one of the page's own files."""
    return files(__package__).joinpath(name).read_text(encoding="utf-8")


def script() -> str:
    """All modules as one: without their imports, exports, comments and indents.

    It begins by adding the style of the picture and its controls, which a page without scripts has no use for.
    """
    look = f"const look=new CSSStyleSheet();look.replaceSync({json.dumps(style('stage.css'), ensure_ascii=False)});"
    lines = [line for name in MODULES for line in _lines(own_text(name))]
    return "\n".join([look, "document.adoptedStyleSheets.push(look);", *lines])


def style(name: str) -> str:
    """Text of a style sheet without comments, indents, and blanks beside its signs."""
    plain = re.sub(r"/\*.*?\*/", "", own_text(name), flags=re.DOTALL)
    lines = "".join(line.strip() for line in plain.splitlines())
    return re.sub(r" ?([{;,]) ?|(: )", lambda found: found[1] or ":", lines).replace(";}", "}")


def _lines(text: str) -> list[str]:
    """Lines of a module that the joined script needs."""
    lines = (line.strip() for line in text.splitlines())
    kept = (line for line in lines if line and not line.startswith(("//", "import ")))
    return [line.removeprefix("export ").split(" // ")[0] for line in kept]
