"""The tables of materials: every row can be read, names its unit, source and basis, and lies where it plausibly can."""

import hashlib
import re
from dataclasses import fields

import pytest

from underbag.model.data.fact import TEXT, YES_OR_NO, Fact
from underbag.model.data.tables import documents, facts_in, facts_of_rows, names, open_table, read_table
from underbag.model.errors import TableError
from underbag.model.materials import sources_of, woods
from underbag.model.materials.find import plain
from underbag.model.materials.kinds import TABLES
from underbag.model.materials.override import units_of
from underbag.model.materials.shelf import column_of, every
from underbag.model.source import BASES

# Number of values and a digest of them, so that none changes unseen. After a wanted change put in what the failing
# test shows, and say in the commit what changed and on what ground.
FINGERPRINTS = {
    "woods": (1121, "0e502adb"),
    "panels": (371, "c22a3b27"),
    "adhesives": (120, "60e25e8b"),
    "films": (74, "5ba10b25"),
    "breathers": (31, "3f239477"),
    "papers": (72, "c38fa0f0"),
    "releases": (42, "5a571518"),
}

# Bounds that a value of the real world keeps; a unit slip (kg/m³, psi, percent for a ratio) falls outside.
PLAUSIBLE = {
    "SG": (0.1, 1.3),
    "E_bend": (2_500, 25_000),
    "tension_perp": (0.5, 10),
    "compression_perp": (0.3, 20),
    "ET_EL": (0.01, 0.12),
    "ER_EL": (0.03, 0.25),
    "GLR_EL": (0.03, 0.2),
    "GLT_EL": (0.03, 0.2),
    "nu_LR": (0.2, 0.6),
    "nu_LT": (0.2, 0.7),
    "shrink_R": (1.5, 9),
    "shrink_T": (3, 13),
    "C_R": (5e-4, 3e-3),
    "C_T": (1e-3, 5e-3),
    "C_L": (3e-5, 8e-5),
    "MOR": (4, 250),
    "E": (1, 250_000),
    "E_across": (1, 250_000),
    "G": (1, 90_000),
    "nu": (0, 0.45),
    "crush": (0.05, 300),
    "movement": (0, 3e-3),
    "movement_across": (0, 3e-3),
    "swell": (0, 6e-3),
    "void_fraction": (0, 0.99),
    "spread": (8e-5, 4e-4),
    "water_fraction": (0, 0.7),
    "open_time": (30, 2 * 3600),
    "press_time_least_flat": (900, 86_400),
    "press_time_safe_flat": (900, 86_400),
    "press_time_least_bent": (900, 86_400),
    "press_time_safe_bent": (900, 86_400),
    "rate_doubles_per": (5, 15),
    "lowest_temperature": (0, 30),
    "bond_pressure": (0.005, 1.5),
    "line_thickness": (0.03, 0.3),
    "thickness": (0, 8),
    "pressed_thickness": (0, 6),
    "modulus": (0.5, 1_000),
    "elongation": (1, 10),
    "tensile_strength": (3, 150),
    "stiffens_below": (-60, 20),
    "least_seam": (5, 40),
    "permeability": (1e-9, 2e-2),
    "basis_weight": (1e-5, 8e-3),
    "absorbency": (0, 12),
    "usable_fraction": (0, 1),
    "highest_temperature": (40, 260),
    "density": (1e-5, 9e-3),
    "stock_thickness": (0.03, 60),
    "stock_widths": (250, 5_000),
    "stock_tubes": (250, 2_500),
    "stock_sheets": (500, 3_500),
}


def facts(table: str) -> list[Fact]:
    return [fact for key in open_table(table).keys for fact in facts_in(table, key)]


def numbers_of(fact: Fact) -> tuple[float, ...]:
    if fact.unit in (TEXT, YES_OR_NO):
        return ()
    if fact.unit == "mm×mm":
        return tuple(length for size in fact.sizes for length in size)
    return fact.numbers if fact.name.startswith("stock_") else (fact.number,)


@pytest.mark.parametrize("kind", TABLES, ids=lambda kind: kind.__name__)
def test_every_row_becomes_a_material(kind):
    made = every(kind)
    assert tuple(made) == open_table(TABLES[kind]).keys
    assert all(
        type(material) is kind and material.key == key and material.name for key, material in made.items()
    )


@pytest.mark.parametrize("kind", TABLES, ids=lambda kind: kind.__name__)
def test_every_property_is_a_field_in_the_same_unit(kind):
    columns = {column_of(kind, item.name): item.name for item in fields(kind)}
    units = units_of(kind)
    printed = {"SG": "1", "E_bend": "MPa"}
    for fact in facts(TABLES[kind]):
        assert fact.name in columns, fact.place
        if numbers_of(fact) and not fact.name.startswith("stock_"):
            assert fact.unit == printed.get(fact.name, units[columns[fact.name]]), fact.place


@pytest.mark.parametrize("table", TABLES.values())
def test_values_are_unchanged(table):
    assert (len(facts(table)), digest(table)) == FINGERPRINTS[table]


def digest(table: str) -> str:
    """Eight letters that stand for every value, unit, range and basis of a table."""
    told = [
        (key, fact.name, fact.text, fact.unit, fact.low, fact.high, fact.source.basis)
        for key in open_table(table).keys
        for fact in facts_in(table, key)
    ]
    return hashlib.sha256(repr(told).encode()).hexdigest()[:8]


@pytest.mark.parametrize("table", TABLES.values())
def test_values_are_plausible(table):
    for fact in facts(table):
        for number in numbers_of(fact):
            low, high = PLAUSIBLE[fact.name]
            assert low <= number <= high, fact.place


@pytest.mark.parametrize("table", TABLES.values())
def test_a_value_lies_within_its_own_range(table):
    for fact in facts(table):
        if fact.low is not None:
            assert fact.low <= fact.number, fact.place
        if fact.high is not None:
            assert fact.number <= fact.high, fact.place


def test_every_source_is_used_and_says_how_it_was_read():
    cited = {fact.source for table in TABLES.values() for fact in facts(table)}
    assert {(source.document, source.place) for source in cited} == set(documents().values())
    assert all(source.basis in BASES and source.basis != "given" for source in cited)
    assert all(source.document or source.basis == "common practice" for source in cited)
    for key, rows in open_table("sources").rows.items():
        assert len(rows) == 1, f"{key} stands twice"
        assert rows[0][1][3] or key == "isotropic-plate"


def test_names_and_tables_hold_the_same_materials():
    for table in TABLES.values():
        assert [item.key for item in names() if item.table == table] == list(open_table(table).keys)
    assert {item.table for item in names()} == set(TABLES.values())


def test_keys_are_plain_words_with_hyphens():
    assert all(item.key == plain(item.key) for item in names())


@pytest.mark.parametrize("table", TABLES.values())
def test_no_spelling_means_two_materials_of_a_table(table):
    spelled = {}
    for item in (item for item in names() if item.table == table):
        for word in {plain(word) for word in (item.key, item.name, *item.aliases)}:
            assert spelled.setdefault(word, item.key) == item.key, word


def test_names_carry_no_trade_marks():
    # A brand is a capitalised word; what may be capitalised are short forms and places and people in tree names.
    known = {"MDF", "PVA", "PVC", "LDPE", "PTFE", "American", "African", "European", "Brazilian", "Indian"}
    known |= {"Douglas", "Engelmann", "Norway", "Scots", "Sitka"}
    for item in names():
        words = re.findall(r"\b[A-Z]\w*", item.name.replace("kPa", ""))
        assert set(words) <= known, item.name
        assert all(alias == alias.lower() for alias in item.aliases), item.aliases
    for table in ("names", "sources", *TABLES.values()):
        assert not any(
            mark in cell
            for rows in open_table(table).rows.values()
            for _, row in rows
            for cell in row
            for mark in "®™"
        )


def test_what_is_estimated_says_so():
    for wood in woods().values():
        sources = sources_of(wood)
        for field in ("tension_perp", "compression_perp", "ET_EL", "GLT_EL", "nu_LT"):
            lowered = any(word in sources[field].place for word in ("lowered", "rounded mean"))
            assert (sources[field].basis == "derived") == lowered, (wood.key, field)


HEADER = "key,property,value,low,high,unit,source,basis,note"


def long_facts(*rows: str) -> tuple[Fact, ...]:
    return facts_of_rows(read_table("try", [HEADER, *rows]), "oak")


def test_a_whole_row_is_read():
    (fact,) = long_facts("oak,thickness,0.6,0.5,0.7,mm,common-practice,common practice,sliced")
    assert (fact.name, fact.number, fact.low, fact.high, fact.unit, fact.note) == (
        "thickness",
        0.6,
        0.5,
        0.7,
        "mm",
        "sliced",
    )
    assert fact.source.basis == "common practice"


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("oak,thickness,0.6,,,,common-practice,common practice,", "found the unit ''"),
        ("oak,thickness,0.6,,,inch,common-practice,common practice,", "found the unit 'inch'"),
        ("oak,thickness,0.6,,,mm,,common practice,", "column source is empty"),
        ("oak,thickness,0.6,,,mm,hearsay,common practice,", "found the source 'hearsay'"),
        ("oak,thickness,0.6,,,mm,common-practice,,", "found the basis ''"),
        ("oak,thickness,0.6,,,mm,common-practice,rumour,", "found the basis 'rumour'"),
        ("oak,thickness,,,,mm,common-practice,common practice,", "column value is empty"),
        ("oak,,0.6,,,mm,common-practice,common practice,", "column property is empty"),
        ("oak,thickness,0.6,thin,,mm,common-practice,common practice,", "column low: found 'thin'"),
    ],
)
def test_an_incomplete_row_is_refused_with_its_place(row, said):
    with pytest.raises(TableError, match=re.escape(said)) as refused:
        long_facts(row)
    assert "try.csv line 2 (oak" in str(refused.value)


def test_a_row_without_key_or_with_too_few_cells_is_refused():
    with pytest.raises(TableError, match=r"try\.csv line 2: column key is empty"):
        long_facts(",thickness,0.6,,,mm,common-practice,common practice,")
    with pytest.raises(TableError, match=r"try\.csv line 2: found 3 cells; allowed: 9"):
        long_facts("oak,thickness,0.6")


def test_a_property_stands_once_and_a_caution_may_repeat():
    row = "oak,thickness,0.6,,,mm,common-practice,common practice,"
    with pytest.raises(TableError, match=r"line 3 \(oak, thickness\): the property stands twice"):
        long_facts(row, row)
    caution = "oak,caution,wear gloves,,,text,common-practice,common practice,"
    assert len(long_facts(caution, caution)) == 2


def test_a_value_that_is_no_number_no_flag_or_no_size_is_refused():
    (number,) = long_facts("oak,thickness,thin,,,mm,common-practice,common practice,")
    with pytest.raises(TableError, match="found 'thin'; allowed: a number"):
        _ = number.number
    (flag,) = long_facts("oak,carries,perhaps,,,yes/no,common-practice,common practice,")
    with pytest.raises(TableError, match="found 'perhaps'; allowed: yes or no"):
        _ = flag.flag
    (size,) = long_facts("oak,stock_sheets,2440x1220,,,mm×mm,common-practice,common practice,")
    with pytest.raises(TableError, match="allowed: sizes such as 2440×1220"):
        _ = size.sizes


WIDE = ("key,SG,E_bend,static_source,static_basis,note", "unit,1,MPa,,,")


def wide_facts(*lines: str) -> tuple[Fact, ...]:
    return facts_of_rows(read_table("try", lines), "oak")


def test_a_wide_row_gives_its_group_one_source():
    first, second = wide_facts(*WIDE, "oak,0.6,12000,wood-handbook-5-3,handbook,")
    assert (first.name, first.number, first.unit) == ("SG", 0.6, "1")
    assert (second.name, second.number, second.unit) == ("E_bend", 12000, "MPa")
    assert first.source == second.source
    assert "Table 5-3a" in first.source.place


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ((*WIDE, "oak,0.6,,wood-handbook-5-3,handbook,"), "line 3 (oak, E_bend): column E_bend is empty"),
        ((*WIDE, "oak,0.6,12000,,handbook,"), "line 3 (oak, column static): column source is empty"),
        ((*WIDE, "oak,0.6,12000,wood-handbook-5-3,,"), "found the basis ''"),
        (
            (WIDE[0], "oak,0.6,12000,wood-handbook-5-3,handbook,"),
            "the key unit, which gives the units, is missing",
        ),
        (
            (WIDE[0], "unit,1,,,,", "oak,0.6,1,wood-handbook-5-3,handbook,"),
            "(oak, E_bend): found the unit ''",
        ),
        (("key,SG,note", "unit,1,", "oak,0.6,"), "the columns SG have no source column after them"),
        ((*WIDE, *["oak,0.6,12000,wood-handbook-5-3,handbook,"] * 2), "line 4: the key oak stands twice"),
        (WIDE, "has no row with the key 'oak'"),
    ],
)
def test_an_incomplete_wide_row_is_refused(lines, said):
    with pytest.raises(TableError, match=re.escape(said)):
        wide_facts(*lines)
