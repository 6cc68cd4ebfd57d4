"""A layup file to begin with: every key with what it means, its limits, and what holds without it.

It is made of the same records that the reader goes by. Only the sizes of the panel are set; all else stands behind
a comment sign with the value that holds anyway.
"""

from collections.abc import Iterator, Mapping

from ...model.layup.defaults import Kind
from ...model.layup.layup import Asked, Settled
from ...model.layup.phrase import phrase
from ...model.layup.sections import SECTIONS
from ...model.layup.setting import Entry, Setting, settings_of
from ...model.layup.settle import settle
from ..columns import wrap
from ..phrase import limits, written

COLUMNS = 100
MOST_DIGITS = 7

HEAD = """\
# A layup for the vacuum bag. Look at it with: underbag check, and the name of this file.
#
# A length is a number in the unit below, or a text with its own: "600 mm", "23 5/8 in", '7/16"'.
# A line that begins with # does not count: it shows what holds anyway. Take the # away to change it.
"""
VALUES = """
# Values of your own for a material, in place of those that underbag materials NAME shows:
# [values.black-walnut]
# density = "640 kg/m³"
"""
TITLES: Mapping[Kind, str] = {"flat": "Shelf", "bent": "Drawer front"}
ASKED: Mapping[Kind, Asked] = {
    "flat": {"panel": {"length": 600.0, "width": 300.0}},
    "bent": {"panel": {"width": 150.0}, "bend": {"chord": 500.0, "rise": 60.0}},
}
"""What is set in the file, in mm."""
LEFT_OUT: Mapping[Kind, tuple[str, ...]] = {"flat": ("bend", "taper", "form"), "bent": ("taper", "platen")}
"""Tables that only a panel of another kind has."""


def starter(kind: Kind) -> str:
    """Text of a commented layup file for a flat or a bent panel."""
    settled = {one.key: one for one in settle(ASKED[kind]).settled}
    parts = [HEAD, f'title = "{TITLES[kind]}"\nunit = "mm"\n']
    for name, section in SECTIONS.items():
        if name not in LEFT_OUT[kind]:
            parts += _table(name, section, settled)
    return "".join([*parts, VALUES])


def _table(name: str, section: type, settled: Mapping[str, Settled]) -> Iterator[str]:
    yield f"\n# {(section.__doc__ or '').partition(chr(10))[0]}\n[{name}]\n"
    for word, setting in settings_of(section).items():
        for line in wrap(f"{setting.help}{_allowed(setting)}", "# ", columns=COLUMNS):
            yield f"{line}\n"
        yield f"{_line(word, setting, settled[f'{name}.{word}'])}\n"


def _line(word: str, setting: Setting, one: Settled) -> str:
    """One key: set, or behind a comment sign with what holds anyway."""
    if one.value is None:
        return f"# {word} =  # left open: {one.reason}"
    if one.given:
        return f"{word} = {one.value:g}"
    said = phrase(setting.quantity, one.value)
    if one.basis == "derived" or not _is_round(setting, one.value):
        return f"# {word} =  # left open: {said}; {one.reason}"
    customary = said.partition("(")[2].rstrip(")")
    remark = f"{customary}; {one.reason}" if customary else one.reason
    return f"# {word} = {written(setting.quantity, one.value)}  # {remark}"


def _is_round(setting: Setting, value: Entry) -> bool:
    """Whether a value is short enough to be written by hand; what is worked out of other sizes seldom is."""
    return isinstance(value, str) or len(written(setting.quantity, value).partition(" ")[0]) <= MOST_DIGITS


def _allowed(setting: Setting) -> str:
    if setting.choices:
        return f" One of: {', '.join(setting.choices)}."
    if setting.longest:
        return f" Up to {setting.longest} characters."
    return f" From {limits(setting)}." if setting.low != setting.high else ""
