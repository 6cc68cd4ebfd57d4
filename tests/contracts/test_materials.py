"""Materials are found by the words of the trade, remember what was given, and know the source of each value."""

import math
import re
import subprocess
import sys

import pytest

from underbag.model.data.tables import names
from underbag.model.errors import LayupError
from underbag.model.materials import (
    SHELVES,
    Adhesive,
    Film,
    facts_of,
    find_adhesive,
    find_board,
    find_breather,
    find_film,
    find_key,
    find_paper,
    find_release,
    find_substrate,
    find_wood,
    notes_of,
    replace_values,
    sources_of,
)
from underbag.model.materials.kinds import TABLES
from underbag.model.materials.override import units_of
from underbag.model.materials.shelf import every
from underbag.model.source import GIVEN


@pytest.mark.parametrize(
    ("find", "written", "key"),
    [
        (find_wood, "walnut", "black-walnut"),
        (find_wood, "Hard Maple", "hard-maple"),
        (find_wood, "  douglas   FIR ", "douglas-fir"),
        (find_wood, "black-walnut", "black-walnut"),
        (find_board, "MDF", "mdf"),
        (find_board, "birch plywood", "birch-plywood"),
        (find_board, "aluminum", "aluminium"),
        (find_substrate, "Birch Plywood", "birch-plywood"),
        (find_substrate, "okoume", "okoume"),
        (find_adhesive, "PVA", "pva"),
        (find_adhesive, "hide glue", "hide"),
        (find_adhesive, "white glue", "pva"),
        (find_film, "vinyl", "pvc-film"),
        (find_film, "polyethylene", "ldpe-film"),
        (find_release, "polyethylene", "pe-film"),
        (find_release, "waxed paper", "waxed-paper"),
        (find_breather, "netting", "netting"),
        (find_breather, "none", "no-breather"),
        (find_paper, "newsprint", "newsprint"),
    ],
)
def test_a_woodworker_s_word_finds_its_material(find, written, key):
    assert find(written).key == key


def test_every_name_and_alias_finds_its_own_key():
    for shelf, tables in SHELVES.items():
        for item in (item for item in names() if item.table == tables[0]):
            assert {find_key(shelf, word) for word in (item.key, item.name, *item.aliases)} == {item.key}


def test_a_misspelt_name_is_refused_with_the_nearest():
    with pytest.raises(LayupError) as refused:
        find_wood("wallnut")
    assert refused.value.found == 'the wood "wallnut"'
    assert refused.value.hint == 'Did you mean "walnut"?'
    assert refused.value.allowed.endswith("more (underbag materials lists them)")
    with pytest.raises(LayupError, match="Use the nearest kind and enter its values") as strange:
        find_release("qqqq")
    assert "waxed paper" in strange.value.allowed


def test_a_replaced_value_is_remembered_and_counts_as_given():
    walnut = find_wood("walnut")
    own = replace_values(walnut, {"E_L": 12000, "C_T": 0.0})
    assert (own.E_L, own.C_T, own.MOR) == (12000.0, 0.0, walnut.MOR)
    assert own.given == {"E_L", "C_T"}
    assert walnut.given == frozenset()
    assert own.E_T == pytest.approx(own.ET_EL * 12000)
    assert {name for name, source in sources_of(own).items() if source == GIVEN} == {"E_L", "C_T"}
    assert {fact.name for fact in facts_of(walnut)} - {fact.name for fact in facts_of(own)} == {
        "E_bend",
        "C_T",
    }
    assert replace_values(own, {"MOR": 90}).given == {"E_L", "C_T", "MOR"}


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"e_L": 12000.0}, 'Did you mean "E_L"?'),
        ({"name": 1.0}, 'the property "name" of black walnut'),
        ({"E_L": math.nan}, "allowed: a finite number"),
        ({"E_L": math.inf}, "allowed: a finite number"),
        ({"E_L": True}, "allowed: a finite number"),
        ({"E_L": -1.0}, "E_L of -1 MPa; allowed: zero or more"),
    ],
)
def test_a_value_that_cannot_be_is_not_taken(values, said):
    with pytest.raises(LayupError, match=re.escape(said)):
        replace_values(find_wood("walnut"), values)


def test_only_a_temperature_may_be_below_zero():
    assert replace_values(find_film("pvc"), {"stiffens_below": -10.0}).stiffens_below == -10.0


@pytest.mark.parametrize("kind", TABLES, ids=lambda kind: kind.__name__)
def test_every_number_of_a_material_has_a_source(kind):
    for material in every(kind).values():
        sources = sources_of(material)
        for name in units_of(kind):
            assert name in sources or getattr(material, name) is None, (material.key, name)


def test_remarks_come_with_their_property():
    assert "MOR 103" in notes_of(find_wood("ash"))[0]
    assert any(note.startswith("modulus: ") for note in notes_of(find_film("pvc")))


def test_importing_reads_no_table_and_one_material_reads_only_its_own():
    program = """
import sys
opened = []
sys.addaudithook(lambda event, args: opened.append(str(args[0])) if event == "open" else None)
from underbag.model import materials
assert not [path for path in opened if path.endswith(".csv")], opened
assert "difflib" not in sys.modules
materials.find_film("vinyl")
materials.find_film("ldpe")
print(sorted(path.replace("\\\\", "/").rsplit("/", 1)[-1] for path in opened if path.endswith(".csv")))
"""
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert done.stdout.strip() == "['films.csv', 'names.csv', 'sources.csv']"


def test_what_is_sold_is_a_list():
    assert find_board("mdf").stock_sheets[0] == (2440.0, 1220.0)
    assert find_film("pvc").stock_thickness == (0.5, 0.75)


@pytest.mark.parametrize(
    ("material", "name", "least"),
    [
        (find_adhesive("white glue"), "density", 1e-5),
        (find_adhesive("white glue"), "rate_doubles_per", 1.0),
        (find_film("pvc"), "modulus", 1e-2),
    ],
)
def test_what_is_divided_by_cannot_be_next_to_nothing(
    material: Adhesive | Film, name: str, least: float
) -> None:
    assert getattr(replace_values(material, {name: least}), name) == least  # type: ignore[type-var]
    for number in (0.0, 0.99 * least):
        with pytest.raises(LayupError, match="or more"):
            replace_values(material, {name: number})  # type: ignore[type-var]
