"""The text of a STEP file, put into one fixed order.

The kernel numbers the records of a file in an order that changes from run to run, counts its assemblies over the
life of the process, and stamps the clock into the header. Here each record is numbered where a walk from the roots
first meets it; strings are written in plain ASCII as ISO 10303-21 asks.

The kernel writes a curve once for each face and each edge that it bounds. Here points, directions and splines that
say the same are one record, which makes the file of a curved stack half as large.
"""

import re
from collections.abc import Iterable, Mapping

STYLES = "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION("
"""Records that give parts their colours: the roots whose order changes."""

SHARED = ("CARTESIAN_POINT(", "DIRECTION(", "VECTOR(", "B_SPLINE_CURVE_WITH_KNOTS(")
"""Records of which one is enough, those that others refer to first: they are nothing but what they say."""

USAGE = re.compile(r'^(NEXT_ASSEMBLY_USAGE_OCCURRENCE\()"\d+"')
STRING = re.compile(r"'((?:[^']|'')*)'")
REFERENCE = re.compile(r"#(\d+)")
MARK = re.compile(r'"(\d+)"')
FOREIGN = re.compile(r"[^ -~]+")


def canonical(text: str, header: str) -> str:
    """Give the file with a header of its own and its records in one fixed order, one a line."""
    strings: list[str] = []

    def set_aside(found: re.Match[str]) -> str:
        if not found.group(1):
            return "''"
        # the kernel breaks long strings over lines; a line end is no part of a string
        strings.append("'" + escaped(re.sub(r"[\r\n]", "", found.group(1))) + "'")
        return f'"{len(strings) - 1}"'

    bare = re.sub(r"\s+", "", STRING.sub(set_aside, text))
    body = bare[bare.index("DATA;") + len("DATA;") :].split("ENDSEC;", 1)[0]
    records = dict(record.split("=", 1) for record in body.split(";") if record)
    records = _each_once({number[1:]: content for number, content in records.items()})
    order = _order(records)
    fresh = {number: str(place) for place, number in enumerate(order, 1)}
    lines, usages = [], 0
    for number in order:
        content = REFERENCE.sub(lambda found: f"#{fresh[found.group(1)]}", records[number])
        if USAGE.match(content):
            usages += 1
            content = USAGE.sub(rf"\1'{usages}'", content)
        content = MARK.sub(lambda found: strings[int(found.group(1))], content)
        lines.append(f"#{fresh[number]}={content};")
    return "\n".join((header, "DATA;", *lines, "ENDSEC;", "END-ISO-10303-21;", ""))


def quoted(text: str) -> str:
    """Text as a string of a STEP file, quotes included."""
    return "'" + escaped(text.replace("\\", "\\\\").replace("'", "''")) + "'"


def escaped(text: str) -> str:
    """Text with whatever is not plain ASCII written as hexadecimal code units."""

    def code(found: re.Match[str]) -> str:
        wide = any(ord(letter) > 0xFFFF for letter in found.group())
        units = "".join(f"{ord(letter):08X}" if wide else f"{ord(letter):04X}" for letter in found.group())
        return f"\\X{4 if wide else 2}\\{units}\\X0\\"

    return FOREIGN.sub(code, text)


def _each_once(records: Mapping[str, str]) -> dict[str, str]:
    """Records without those that only repeat another one, which is referred to in their place."""
    stands_for: dict[str, str] = {}

    def redirected(content: str) -> str:
        return REFERENCE.sub(lambda found: f"#{stands_for.get(found.group(1), found.group(1))}", content)

    for kind in SHARED:
        first: dict[str, str] = {}
        for number, content in records.items():
            if content.startswith(kind):
                kept = first.setdefault(redirected(content), number)
                if kept != number:
                    stands_for[number] = kept
    return {number: redirected(content) for number, content in records.items() if number not in stands_for}


def _order(records: Mapping[str, str]) -> dict[str, None]:
    """Numbers of the records in the order in which a walk from the roots meets them first."""
    references = {number: REFERENCE.findall(content) for number, content in records.items()}
    used = {number for found in references.values() for number in found}
    roots = [number for number in records if number not in used]
    met: dict[str, None] = {}
    for root in roots:
        if not records[root].startswith(STYLES):
            _walk(root, references, met)
    place = {number: index for index, number in enumerate(met)}
    styles = [root for root in roots if records[root].startswith(STYLES)]
    for root in sorted(styles, key=lambda style: _known(style, references, place)):
        _walk(root, references, met)
    return met


def _walk(root: str, references: Mapping[str, Iterable[str]], met: dict[str, None]) -> None:
    """Add to the records met so far what a walk from a root meets, each record before what it refers to."""
    waiting = [root]
    while waiting:
        number = waiting.pop()
        if number not in met:
            met[number] = None
            waiting += reversed(list(references[number]))


def _known(style: str, references: Mapping[str, Iterable[str]], place: Mapping[str, int]) -> list[int]:
    """Places of the records that a style refers to and that have one already: its part and its context."""
    found, waiting = [], [style]
    while waiting:
        number = waiting.pop()
        if number in place:
            found.append(place[number])
        else:
            waiting += references[number]
    return sorted(found)
