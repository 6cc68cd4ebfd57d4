"""What holds for every layup file, whatever is in it: a plan or a clear error, and the same job the same plan."""

import json
import math
import re
import tomllib
from itertools import combinations

import pytest
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from underbag.app.columns import WIDTH, width
from underbag.app.document import as_text, document
from underbag.app.examine import examine
from underbag.app.phrase import written
from underbag.app.read.layup_file import LONGEST_TITLE, read_bytes, read_text
from underbag.app.read.starter import starter
from underbag.app.read.write_back import set_key, unset_key
from underbag.app.screen.ink import no_ink
from underbag.app.screen.mistake import mistake
from underbag.app.screen.sheet import full_sheet, short_sheet
from underbag.model.data.tables import names
from underbag.model.errors import LayupError
from underbag.model.layup.sections import SECTIONS
from underbag.model.layup.setting import settings_of
from underbag.model.materials import SHELVES

# One plan takes some ten milliseconds; the first of all loads the unit library.
UNHURRIED = settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])

MATERIALS = {
    shelf: [item.name for item in names() if item.table in tables] for shelf, tables in SHELVES.items()
}


def quoted(text):
    return json.dumps(text, ensure_ascii=False)


@st.composite
def values(draw, setting):
    """A value of a key, mostly within its limits, as it is written in a file."""
    if setting.choices:
        return quoted(draw(st.sampled_from([*setting.choices, "neither"])))
    if setting.longest:
        return quoted(draw(st.sampled_from(["", "A-12", "Ålders & Søn", "7", "x" * (setting.longest + 1)])))
    if setting.quantity == "text":
        return quoted(draw(st.sampled_from([*MATERIALS[setting.table], "none"])))
    if setting.quantity == "chain":
        return quoted(
            draw(st.sampled_from(["straight 20 mm, crown 90 mm through 70°", "crown 9 through 2", ""]))
        )
    if setting.quantity == "lengths":
        row = draw(st.lists(st.floats(-50.0, 500.0), min_size=1, max_size=6))
        return str(row) if draw(st.booleans()) else quoted(", ".join(map(str, row)))
    if setting.quantity == "points":
        row = draw(
            st.lists(st.tuples(st.floats(-50.0, 900.0), st.floats(-50.0, 900.0)), min_size=1, max_size=6)
        )
        if draw(st.booleans()):
            return str([list(pair) for pair in row])
        return quoted("; ".join(f"{x}, {y}" for x, y in row))
    number = draw(
        st.one_of(
            st.sampled_from([setting.low, setting.high]),
            st.floats(setting.low, setting.high),
            st.floats(setting.low, min(setting.high, setting.low + 50.0)),
        )
    )
    return written(setting.quantity, round(number) if setting.quantity == "count" else number)


@st.composite
def files(draw):
    """Text of a layup file that is nearly right: known keys with values that may not go together."""
    is_bent = draw(st.booleans())
    lines = [f"unit = {quoted(draw(st.sampled_from(['mm', 'in'])))}"]
    for name, section in SECTIONS.items():
        keys = settings_of(section)
        if name == ("platen" if is_bent else "form") or (name in ("bend", "taper") and not is_bent):
            continue
        if name == "taper" and draw(st.booleans()):
            continue
        asked = draw(st.sets(st.sampled_from(sorted(keys)), max_size=3))
        if name == "panel":
            asked |= {"width"} if is_bent else {"length", "width"}
        lines += [f"[{name}]", *(f"{key} = {draw(values(keys[key]))}" for key in sorted(asked))]
    return "\n".join(lines) + "\n"


def demand_clear(error):
    """A clear error names what was found and what is allowed, and can be printed in the width of a terminal."""
    assert error.found
    assert error.allowed
    text = mistake("a file.toml", error, no_ink)
    assert all(width(line) <= WIDTH and line.isprintable() for line in text.splitlines())


@UNHURRIED
@given(files())
def test_any_tables_give_a_plan_or_a_clear_error(text):
    try:
        layup = read_text(text)
    except LayupError as error:
        demand_clear(error)
        return
    examined = examine(layup)
    assert examined.checks
    content = json.loads(as_text(document(examined)))
    assert content["status"] == examined.verdict
    assert bool(content["layers"]) == (examined.planned is not None)
    assert examined.planned is not None or examined.verdict == "stop"
    for sheet in (short_sheet, full_sheet):
        lines = sheet(examined, {}, no_ink).splitlines()
        assert max(map(width, lines)) <= WIDTH


TOML_VALUES = st.recursive(
    st.one_of(
        st.text(max_size=8),
        st.integers(),
        st.floats(),
        st.booleans(),
        st.dates(),
        st.sampled_from(["600 mm", '23 5/8"', "none", "face up", "25 inHg"]),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=2), st.dictionaries(st.text(max_size=4), inner, max_size=2)
    ),
    max_leaves=4,
)
SECTION_NAMES = st.one_of(
    st.sampled_from([*SECTIONS, "values", "title", "unit", "pannel"]), st.text(max_size=6)
)
KEYS = st.one_of(
    st.sampled_from(sorted({key for section in SECTIONS.values() for key in settings_of(section)})),
    st.text(max_size=6),
)


@UNHURRIED
@given(
    st.dictionaries(
        SECTION_NAMES, st.one_of(TOML_VALUES, st.dictionaries(KEYS, TOML_VALUES, max_size=3)), max_size=4
    )
)
def test_any_toml_gives_a_plan_or_a_clear_error(tables):
    import tomlkit

    text = tomlkit.dumps(tables)
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        assume(False)
    try:
        examine(read_text(text))
    except LayupError as error:
        demand_clear(error)


@UNHURRIED
@given(st.binary(max_size=200))
@example(b"\xef\xbb\xbf[panel]\r\nlength = 600\r\nwidth = 300\r\n")
@example(b"\x00" * 50)
@example(b"a = " + b"[" * 5000)
@example(b"a." * 3000 + b"a = 1")
@example(b"x" * 1_000_001)
@example(b"a = " + b"1" * 5000)
def test_any_bytes_give_a_plan_or_a_clear_error(data):
    try:
        examine(read_bytes(data).layup)
    except LayupError as error:
        demand_clear(error)


def told(text):
    """Everything that is told of a layup file but the unit that its numbers are in."""
    content = document(examine(read_text(text)))
    del content["unit"]
    return content


def flat(length, width_, thickness):
    # the paper of the drawings starts from the unit of the file, and nothing else does
    return f"""
[panel]
length = {length}
width = {width_}
[substrate]
thickness = {thickness}
[drawing]
paper = "ISO"
"""


SIXTEENTHS = st.integers(16 * 2, 16 * 100)


@UNHURRIED
@given(SIXTEENTHS, SIXTEENTHS, st.integers(1, 16))
def test_the_same_job_in_inches_is_the_same_plan(length, width_, thickness):
    sizes = (length, width_, thickness)
    mm = told(flat(*(f"{size * 15875 // 10000}.{size * 15875 % 10000:04d}" for size in sizes)))
    inches = told('unit = "in"\n' + flat(*(size / 16 for size in sizes)))
    written_out = told(flat(*(quoted(f"{size // 16} {size % 16}/16 in") for size in sizes)))
    hyphens = told(flat(*(quoted(f'{size // 16}-{size % 16}/16"') for size in sizes)))
    assert mm == inches == written_out == hyphens


def nearly(one, other):
    """Whether two documents say the same, numbers to nine digits, which key was given aside."""
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(nearly(one[key], other[key]) for key in one)
    if isinstance(one, list):
        return len(one) == len(other) and all(map(nearly, one, other))
    if isinstance(one, float):
        return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-7)
    return one == other


@UNHURRIED
@given(st.floats(150.0, 3000.0), st.floats(0.2, math.pi))
def test_an_arc_in_each_of_its_ways_is_the_same_plan(radius, angle):
    half = 0.5 * angle
    sizes = {
        "radius": radius,
        "angle": math.degrees(angle),
        "rise": radius * (1.0 - math.cos(half)),
        "chord": 2.0 * radius * math.sin(half),
    }
    lines = [f"{name} = {size!r}\n" for name, size in sizes.items()]
    plans = []
    for pair in combinations(lines, 2):
        content = told("[panel]\nwidth = 120\n[bend]\n" + "".join(pair))
        # which sizes the file gives, and why the others are so, does differ
        del content["settings"]
        # messages round numbers that may lie on either side of a half
        for check in content["checks"]:
            del check["message"]
        plans.append(content)
    everything = "[panel]\nwidth = 120\n[bend]\n" + "".join(lines)
    assert len(plans) == 6
    assert all(nearly(plans[0], plan) for plan in plans[1:])
    assert examine(read_text(everything)).planned is not None


@UNHURRIED
@given(st.floats(700.0, 1600.0), st.floats(0.1, 0.9), st.floats(0.1, 0.9))
def test_swapping_left_and_right_changes_nothing(bag_width, valve_across, valve_along):
    def laid(across):
        lines = ["[panel]\nlength = 600\nwidth = 300\n[bag]\nlength = 1500"]
        lines.append(f"width = {bag_width!r}\n[valve]\nfrom_closed_end = {1500 * valve_along!r}")
        lines.append(f"from_left_seam = {across!r}\n")
        return told("\n".join(lines))

    left, right = laid(bag_width * valve_across), laid(bag_width - bag_width * valve_across)
    for key in ("layers", "base", "bag"):
        assert left[key] == right[key]
    assert [check["status"] for check in left["checks"]] == [check["status"] for check in right["checks"]]
    one, other = left["valve"], right["valve"]
    assert one["w"] == pytest.approx(-other["w"], abs=1e-9)
    for key in ("from_left_seam", "work_from_left_seam"):
        assert one[key] + other[key] == pytest.approx(bag_width, rel=1e-12)
    for key in ("over", "t", "from_closed_end", "work_from_closed_end"):
        assert one[key] == other[key]


COMMENTED = """\
# before everything
title = "Shelf"  # its name
unit = "in"

[panel]  # the finished panel
# longer than it looks
length = 24   # as drawn
width = '12 1/2'

  [face]
material = "walnut" # from the rack
# overhang = 6

[vacuum]
gauge = "25 inHg"
# after everything
"""
PLACES = st.sampled_from(
    [(name, key) for name in ("panel", "face", "caul", "vacuum") for key in settings_of(SECTIONS[name])]
)
NEW_VALUES = st.one_of(
    st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=20),
    st.integers(-(10**6), 10**6),
    st.floats(allow_nan=False, allow_infinity=False),
    st.booleans(),
)


@UNHURRIED
@given(PLACES, NEW_VALUES)
@example(("panel", "length"), "23 5/8 in")
@example(("panel", "width"), '7/16"')
def test_a_key_that_is_set_reads_back_and_all_else_stays(place, value):
    table, key = place
    text = set_key(COMMENTED, table, key, value)
    before, after = tomllib.loads(COMMENTED), tomllib.loads(text)
    assert after[table][key] == value
    assert type(after[table][key]) is type(value)
    before.setdefault(table, {})[key] = value
    assert after == before
    kept = [line for line in text.splitlines() if line in COMMENTED.splitlines()]
    changed = [line for line in COMMENTED.splitlines() if line not in kept]
    assert all(line.startswith(f"{key} =") for line in changed)
    assert len(changed) <= 1
    assert all(
        comment in text for comment in ("# its name", "# as drawn", "# from the rack", "# overhang = 6")
    )


@UNHURRIED
@given(PLACES)
def test_a_key_that_is_unset_is_gone_and_all_else_stays(place):
    table, key = place
    text = unset_key(COMMENTED, table, key)
    expected = tomllib.loads(COMMENTED)
    expected.get(table, {}).pop(key, None)
    assert tomllib.loads(text) == expected
    gone = [line for line in COMMENTED.splitlines() if line not in text.splitlines()]
    assert all(line.startswith(f"{key} =") for line in gone)


@UNHURRIED
@given(PLACES, st.integers(1, 500))
def test_setting_and_unsetting_leads_back(place, value):
    table, key = place
    assume(key not in tomllib.loads(COMMENTED).get(table, {}))
    there = set_key(COMMENTED, table, key, value)
    back = tomllib.loads(unset_key(there, table, key))
    assert {name: keys for name, keys in back.items() if keys} == tomllib.loads(COMMENTED)


@pytest.mark.parametrize("kind", ["flat", "bent"])
def test_a_starter_says_what_holds_anyway(kind):
    text = starter(kind)
    bare = read_text(text)
    # every line that shows a value is taken in; those left open have none
    shown = re.sub(r"^# (?!density)([a-z_]+ = [^ ])", r"\1", text, flags=re.MULTILINE)
    # these go only with the outlines that have them
    for key in ("corner", "exponent", "fillet"):
        shown = re.sub(rf"^{key} = .*\n", "", shown, count=1, flags=re.MULTILINE)
    full = read_text(shown)
    assert examine(bare).verdict == "ok"
    for before, after in zip(bare.settled, full.settled, strict=True):
        assert before.key == after.key
        # a number with a unit may differ in its last digit
        assert after.value == (
            pytest.approx(before.value, rel=1e-12) if isinstance(before.value, float) else before.value
        )
    assert sum(one.given for one in full.settled) > 40
    assert all(width(line) <= 140 for line in text.splitlines())


def test_a_title_is_one_line():
    panel = "\n[panel]\nlength = 600\nwidth = 300\n"
    assert read_text('title = "  Shelf "' + panel).title == "Shelf"
    assert read_text(f'title = "{"x" * LONGEST_TITLE}"' + panel).title == "x" * LONGEST_TITLE
    for title in ("x" * (LONGEST_TITLE + 1), "two\\nlines", "\\u001b[31m", "\\u202e"):
        with pytest.raises(LayupError, match="title"):
            read_text(f'title = "{title}"' + panel)
