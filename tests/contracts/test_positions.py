"""Every key that the standard library finds in a TOML text has its place in the index, and no other has."""

import random
import re
import tomllib

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from underbag.app.read.position import Position, element, join, nearest, positions
from underbag.app.read.syntax import decoded, parse
from underbag.model.errors import LayupError

FILE = '''\
# [no.table]
title = "Drawer front"  # no = 1
unit = 'mm'

[panel]
length = 600
width = "23 5/8 in"
outline.kind = "ellipse"
[substrate.core]
note = """
[fake]
fake = 1
one quote: \\""" and two at the end"""""
[[pieces]]
species = "ash"
  [[pieces.knots]]
  at = [1, 2]
[[pieces]]
species = "elm"
[pieces."end grain"]
side = {left = 1, right.far = 2}
list = [  # ]
  {a = "}"},
  [3.5, [ ]], 1979-05-27 07:32:00,
]
[substrate]
thickness = 18
'''

# Counted by hand in the text above.
PLACES = {
    "title": (2, 1),
    "unit": (3, 1),
    "panel": (5, 2),
    "panel.length": (6, 1),
    "panel.width": (7, 1),
    "panel.outline": (8, 1),
    "panel.outline.kind": (8, 9),
    "substrate": (26, 2),
    "substrate.core": (9, 12),
    "substrate.core.note": (10, 1),
    "pieces": (14, 3),
    "pieces[0]": (14, 3),
    "pieces[0].species": (15, 1),
    "pieces[0].knots": (16, 12),
    "pieces[0].knots[0]": (16, 12),
    "pieces[0].knots[0].at": (17, 3),
    "pieces[0].knots[0].at[0]": (17, 9),
    "pieces[0].knots[0].at[1]": (17, 12),
    "pieces[1]": (18, 3),
    "pieces[1].species": (19, 1),
    'pieces[1]."end grain"': (20, 9),
    'pieces[1]."end grain".side': (21, 1),
    'pieces[1]."end grain".side.left': (21, 9),
    'pieces[1]."end grain".side.right': (21, 19),
    'pieces[1]."end grain".side.right.far': (21, 25),
    'pieces[1]."end grain".list': (22, 1),
    'pieces[1]."end grain".list[0]': (23, 3),
    'pieces[1]."end grain".list[0].a': (23, 4),
    'pieces[1]."end grain".list[1]': (24, 3),
    'pieces[1]."end grain".list[1][0]': (24, 4),
    'pieces[1]."end grain".list[1][1]': (24, 9),
    'pieces[1]."end grain".list[2]': (24, 15),
    "substrate.thickness": (27, 1),
}


def paths(value, path=""):
    """Every path below a value that the standard library has read."""
    inner = []
    if isinstance(value, dict):
        inner = [(join(path, key), child) for key, child in value.items()]
    elif isinstance(value, list):
        inner = [(element(path, number), child) for number, child in enumerate(value)]
    for name, child in inner:
        yield name, child
        yield from paths(child, name)


def test_a_file_with_every_way_of_writing_a_key():
    found = {path: (place.line, place.column) for path, place in positions(FILE).items()}
    assert found == PLACES
    assert set(found) == {path for path, _ in paths(tomllib.loads(FILE))}


def test_line_ends_of_another_system_change_nothing():
    assert positions(FILE.replace("\n", "\r\n")) == positions(FILE)


# A writer of TOML in all its ways; every number in a text is another one, so that it tells its own key.
KEYS = st.one_of(
    st.sampled_from(["a", "b", "c-d", "1", "panel", "length"]),
    st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), max_size=4),
)
TREES = st.recursive(
    st.just(0),
    lambda inner: st.one_of(st.dictionaries(KEYS, inner, max_size=3), st.lists(inner, max_size=3)),
    max_leaves=12,
)
TEXTS = [
    '"x # [y]"',
    "'\"'",
    '"\\""',
    '"""\n[t]\nq = 1\n\\""" ""."""',
    "'''\n[[t]]\n'''''",
    "07:32:00",
    "-1.5e+3",
]


class Writer:
    """Write a tree as TOML, choosing among the ways by chance."""

    def __init__(self, seed):
        self.chance = random.Random(seed)
        self.number = 1000

    def key(self, key):
        ways = ['"' + "".join(f"\\U{ord(sign):08x}" if sign in '"\\' else sign for sign in key) + '"']
        if re.fullmatch("[A-Za-z0-9_-]+", key):
            ways += [key, key]
        if "'" not in key:
            ways.append(f"'{key}'")
        return self.chance.choice(ways)

    def dotted(self, keys):
        return self.chance.choice([".", " . "]).join(self.key(key) for key in keys)

    def leaf(self):
        if self.chance.random() < 0.3:
            return self.chance.choice(TEXTS)
        self.number += 1
        return str(self.number)

    def blank(self):
        return self.chance.choice(["", " ", "\n", " # ], }, [x]\n  "])

    def value(self, tree):
        if isinstance(tree, list):
            items = f"{self.blank()},{self.blank()}".join(self.value(item) for item in tree)
            comma = self.chance.choice(["", ","]) if tree else ""
            return f"[{self.blank()}{items}{self.blank()}{comma}{self.blank()}]"
        if isinstance(tree, dict):
            pairs = [f"{self.dotted(keys)} = {self.value(child)}" for keys, child in self.flat(tree)]
            return "{ " + ", ".join(pairs) + " }"
        return self.leaf()

    def flat(self, tree):
        """Key and child of a table; some tables that are not empty are dissolved into dotted keys."""
        for key, child in tree.items():
            if isinstance(child, dict) and child and self.chance.random() < 0.4:
                yield from (([key, *keys], grandchild) for keys, grandchild in self.flat(child))
            else:
                yield [key], child

    def table(self, tree, path=()):
        """Lines of a table below its header: its own pairs first, then the tables in it."""
        lines, later = [], []
        for key, child in tree.items():
            tables = isinstance(child, list) and child and all(isinstance(item, dict) for item in child)
            if isinstance(child, dict) and self.chance.random() < 0.6:
                later += [f"[{self.dotted((*path, key))}]", *self.table(child, (*path, key))]
            elif tables and self.chance.random() < 0.6:
                for item in child:
                    later += [f"[[ {self.dotted((*path, key))} ]] # [z]", *self.table(item, (*path, key))]
            else:
                lines += [
                    f"{self.dotted(keys)} = {self.value(leaf)}" for keys, leaf in self.flat({key: child})
                ]
        return [line for pair in lines for line in (self.chance.choice(["", "# c = 1"]), pair)] + later


@given(st.dictionaries(KEYS, TREES, max_size=4), st.integers(0, 2**32))
@example({}, 0)
def test_every_key_of_any_text_is_found_where_it_stands(tree, seed):
    text = "\n".join(Writer(seed).table(tree))
    data = tomllib.loads(text)
    index = positions(text)
    assert set(index) == {path for path, _ in paths(data)}
    lines = text.split("\n")
    for path, value in paths(data):
        place = index[path]
        here = lines[place.line - 1][place.column - 1 :]
        if path.endswith("]"):
            # An element begins with what it is; a table of an array is named by its header.
            assert value == [] or here
        else:
            written = re.match(r"[A-Za-z0-9_-]+|\"(?:[^\"\\]|\\.)*\"|'[^']*'", here)
            key = next(iter(tomllib.loads(f"{written.group()} = 1")))
            assert path.endswith(join("", key))
        if isinstance(value, int):
            # Numbers are unlike each other: this is the right one of several keys of the same name.
            pattern = rf"{value}\b" if path.endswith("]") else rf"{re.escape(written.group())} *= *{value}\b"
            assert re.match(pattern, here)


@given(st.text(st.sampled_from("[]{}=,.\"'\\#\n ab1"), max_size=40))
@example('"\\1" = 1')
@example("a = [1, = 2]")
def test_no_text_whatever_stops_the_index(text):
    index = positions(text)
    assert all(place.line >= 1 and place.column >= 1 for place in index.values())
    try:
        data, line = parse(text), 1
    except LayupError as error:
        data, line = None, error.line
    assert 1 <= line <= text.count("\n") + 1
    if data is not None:
        assert set(index) == {path for path, _ in paths(data)}


def test_a_missing_key_stands_where_its_table_does():
    index = positions(FILE)
    assert nearest(index, "panel.length") == Position(6, 1)
    assert nearest(index, "panel.height") == Position(5, 2)
    assert nearest(index, 'pieces[1]."end grain".way.x[2].y') == Position(20, 9)
    assert nearest(index, "pieces[7].species") == Position(14, 3)
    assert nearest(index, "bag.film") is None
    assert nearest(index, "") is None


# Slip, the line that is told, and a word of the hint.
SLIPS = [
    ("length = 600 mm", 1, "quotes"),
    ("[panel]\nlength = 23 5/8", 2, "quotes"),
    ("title = Drawer", 1, "quotes"),
    ('a = 1\nthickness = "7/16""', 2, "inch mark"),
    ('title = "Drawer\nlength = 1', 1, "quote"),
    ("a = 1\n\na = 2", 3, "twice"),
    ("[a]\nb = 1\n[a]", 3, "twice"),
    ("a = [1,\n2,\n\n", 2, "bracket"),
    ("[panel\nlength = 1", 1, "bracket"),
    ("[a]]", 1, "bracket"),
    ("length", 1, "equals"),
    ("= 1", 1, "equals"),
    ("a = {b = 1}\n[a.c]", 2, "table"),
    ('path = "C:\\new\\q"', 1, "single quotes"),
]


@pytest.mark.parametrize(("text", "line", "word"), SLIPS)
def test_a_slip_is_told_with_its_line_and_a_hint(text, line, word):
    with pytest.raises(LayupError) as caught:
        parse(text)
    assert caught.value.line == line
    assert word in caught.value.hint
    assert text.split("\n")[line - 1].strip() in caught.value.found


@pytest.mark.parametrize("text", ["x = " + "1" * 5000, "x = " + "[" * 100_000, "x = [" * 3000])
def test_what_the_library_gives_up_on_is_a_plain_error(text):
    with pytest.raises(LayupError):
        parse(text)
    assert positions(text)["x"] == Position(1, 1)


def test_bytes_become_text_without_marks_of_the_system():
    assert decoded(b"\xef\xbb\xbfa = 1\r\nb = 2\r\n") == "a = 1\nb = 2\n"
    assert decoded("ø = ½".encode()) == "ø = ½"
    with pytest.raises(LayupError) as caught:
        decoded(b"a = 1\nb = '\xbd'")
    assert (caught.value.line, caught.value.found) == (2, "the byte 0xbd")
