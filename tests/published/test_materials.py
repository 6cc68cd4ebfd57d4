"""Values of the materials against what is in print.

Sources
-------
Wood Handbook, Wood as an Engineering Material, Forest Products Laboratory: FPL-GTR-190 (2010) and FPL-GTR-282 (2021).
Tables 5-3a (metric), 5-3b (inch-pound), 4-3, 4-4, 13-5 and 5-1 were read in transcriptions and page text, not in the
original print. Tropical Timbers of the World, Agriculture Handbook 607, technical sheet of sapele: web page.
"""

import math

import pytest

from underbag.model.materials import (
    adhesives,
    find_adhesive,
    find_board,
    find_wood,
    sources_of,
    woods,
)

PSI = 6894.757e-6
"""MPa; NIST SP 811, App. B."""

# FPL-GTR-282 Table 5-3a, rows at 12 % MC: specific gravity, MOR, modulus, compression and tension across the grain.
METRIC = [
    ("black cherry", 0.50, 85.0, 10300, 4.8, 3.9),
    ("hard maple", 0.63, 109.0, 12600, 10.1, None),
    ("red oak", 0.63, 99.0, 12500, 7.0, 5.5),
    ("white oak", 0.68, 105.0, 12300, 7.4, 5.5),
    ("yellow-poplar", 0.42, 70.0, 10900, 3.4, 3.7),
    ("douglas-fir", 0.48, 85.0, 13400, 5.5, 2.3),
    ("southern pine", 0.51, 88.0, 12300, 5.4, 3.2),
]

# FPL-GTR-282 Table 5-3b, rows at 12 % MC, in lbf/in² (modulus in 10⁶ lbf/in²), same order.
INCH_POUND = [
    ("red alder", 0.41, 9800, 1.38, 440, 420),
    ("quaking aspen", 0.38, 8400, 1.18, 370, 260),
    ("basswood", 0.37, 8700, 1.46, 370, 350),
    ("american beech", 0.64, 14900, 1.72, 1010, 1010),
    ("paper birch", 0.55, 12300, 1.59, 600, None),
]


@pytest.mark.parametrize(("name", "SG", "MOR", "E", "compression", "tension"), METRIC)
def test_metric_rows_of_table_5_3(name, SG, MOR, E, compression, tension):
    wood = find_wood(name)
    assert (wood.SG, wood.MOR, wood.compression_perp) == pytest.approx((SG, MOR, compression), rel=1e-12)
    assert wood.E_bend == pytest.approx(E, rel=1e-12)
    if tension is not None:
        assert wood.tension_perp == pytest.approx(tension, rel=1e-12)


@pytest.mark.parametrize(("name", "SG", "MOR", "E", "compression", "tension"), INCH_POUND)
def test_inch_pound_rows_of_table_5_3(name, SG, MOR, E, compression, tension):
    wood = find_wood(name)
    assert wood.SG == pytest.approx(SG)
    # the metric and the inch-pound table are each rounded on their own: 1 MPa, 100 MPa, 0.1 MPa
    assert wood.MOR == pytest.approx(MOR * PSI, abs=1.0)
    assert wood.E_bend == pytest.approx(E * 1e6 * PSI, abs=100)
    assert wood.compression_perp == pytest.approx(compression * PSI, abs=0.1)
    if tension is not None:
        assert wood.tension_perp == pytest.approx(tension * PSI, abs=0.1)


def test_white_ash_keeps_the_value_of_the_printed_example():
    # FPL-GTR-190 Table 5-3a and FPL-GTR-282 Eq. 5-3 example print 103 MPa; the 2021 table prints 106 (15 400 lbf/in²)
    ash = find_wood("white ash")
    assert ash.MOR == 103
    assert (ash.SG, ash.E_bend, ash.compression_perp, ash.tension_perp) == pytest.approx(
        (0.60, 12000, 8.0, 6.5)
    )


@pytest.mark.parametrize(
    ("name", "MOR", "E"),
    [("black walnut", 14600, 1.68), ("yellow-poplar", 10100, 1.58), ("white oak", 15200, 1.78)],
)
def test_rows_as_a_workshop_page_quotes_them(name, MOR, E):
    # lbf/in² and 10⁶ lbf/in², a page for woodworkers that quotes the handbook
    wood = find_wood(name)
    assert wood.MOR == pytest.approx(MOR * PSI, abs=1.0)
    assert wood.E_bend == pytest.approx(E * 1e6 * PSI, abs=100)


def test_modulus_along_the_grain_is_a_tenth_above_the_bending_modulus():
    # FPL-GTR-190 Table 5-3a footnote c: increase by 10 % to correct for shear deflection
    assert find_wood("walnut").E_L == pytest.approx(1.10 * 11600, rel=1e-12)


@pytest.mark.parametrize(
    ("name", "ratios"),
    [("douglas-fir", (0.050, 0.068, 0.064, 0.078)), ("hard maple", (0.065, 0.132, 0.111, 0.063))],
)
def test_elastic_ratios_of_table_5_1(name, ratios):
    wood = find_wood(name)
    assert (wood.ET_EL, wood.ER_EL, wood.GLR_EL, wood.GLT_EL) == ratios
    assert (wood.E_T, wood.E_R, wood.G_LR, wood.G_LT) == pytest.approx(
        tuple(ratio * wood.E_L for ratio in ratios)
    )
    assert sources_of(wood)["ET_EL"].basis == "handbook"


@pytest.mark.parametrize(
    ("name", "basic"),
    [
        ("mahogany", 0.45),
        ("african mahogany", 0.42),
        ("sapele", 0.55),
        ("teak", 0.55),
        ("purpleheart", 0.67),
        ("indian rosewood", 0.75),
        ("okoume", 0.33),
        ("obeche", 0.30),
        ("limba", 0.38),
        ("avodire", 0.48),
        ("lauan", 0.34),
        ("balsa", 0.16),
    ],
)
def test_printed_basic_gravity_at_12_percent(name, basic):
    # FPL-GTR-282 Table 5-5b prints ovendry mass over green volume; Eq. 4-13 with a = (30 - 12)/30 brings it to 12 % MC
    at_12 = basic / (1 - 0.265 * (30 - 12) / 30 * basic)
    assert find_wood(name).SG == pytest.approx(at_12, abs=6e-4)  # three printed digits


def test_gravity_of_the_printed_example_of_eq_4_13():
    # FPL-GTR-282: white ash of basic gravity 0.55 has 0.603 to 0.605 at 12 % MC, and 678 kg/m³
    at_12 = 0.55 / (1 - 0.265 * (30 - 12) / 30 * 0.55)
    assert 0.602 < at_12 < 0.605
    assert find_wood("white ash").density == pytest.approx(678e-6, rel=0.01)  # from the rounded 0.60


@pytest.mark.parametrize(
    ("name", "kg_per_m3"), [("white ash", 672), ("sitka spruce", 448), ("black walnut", 616)]
)
def test_density_at_12_percent(name, kg_per_m3):
    # FPL-GTR-282 Table 4-6a: SG 0.60 at 12 % MC weighs 672 kg/m³, SG 0.40 448 kg/m³
    wood = find_wood(name)
    assert wood.density == pytest.approx(kg_per_m3 * 1e-6, rel=1e-12)
    assert wood.dry_density == pytest.approx(kg_per_m3 * 1e-6 / 1.12, rel=1e-12)


@pytest.mark.parametrize(
    ("name", "radial", "tangential"),
    [
        ("avodire", 4.6, 6.7),
        ("limba", 4.5, 6.2),
        ("african mahogany", 2.5, 4.5),
        ("obeche", 3.0, 5.4),
        ("okoume", 4.1, 6.1),
        ("ovangkol", 4.5, 8.2),
        ("sapele", 4.6, 7.4),
    ],
)
def test_shrinkage_of_imported_woods(name, radial, tangential):
    # FPL-GTR-190 Table 4-4, page text; sapele: Tropical Timbers of the World, technical sheet
    wood = find_wood(name)
    assert (wood.shrink_R, wood.shrink_T) == (radial, tangential)
    assert sources_of(wood)["shrink_T"].basis in ("handbook", "literature")


@pytest.mark.parametrize(
    ("name", "C_R", "C_T"),
    [
        ("black cherry", 0.00126, 0.00248),
        ("black walnut", 0.00190, 0.00274),
        ("american beech", 0.00190, 0.00431),
        ("hard maple", 0.00165, 0.00353),
        ("red alder", 0.00151, 0.00256),
        ("red oak", 0.00158, 0.00369),
        ("white oak", 0.00180, 0.00365),
    ],
)
def test_movement_of_table_13_5(name, C_R, C_T):
    wood = find_wood(name)
    assert (wood.C_R, wood.C_T) == (C_R, C_T)
    assert sources_of(wood)["C_T"].basis == "handbook"


def test_movement_follows_from_shrinkage():
    # FPL-GTR-190 Eq. 13-3 at 10 % MC; the coefficients are printed to 1e-5. The two oaks print the coefficients of
    # their commercial group beside the shrinkage of one species, teak and lauan are computed here as well.
    for wood in woods().values():
        if wood.key in ("white-oak", "red-oak"):
            continue
        assert wood.C_R == pytest.approx(1 / (3000 / wood.shrink_R - 20), abs=2.1e-5), wood.key
        assert wood.C_T == pytest.approx(1 / (3000 / wood.shrink_T - 20), abs=2.1e-5), wood.key


def test_movement_along_the_grain():
    # FPL-GTR-190 ch. 4: 0.1 to 0.2 % from green (30 % MC) to ovendry; a tangential board moves some fifty times more
    for wood in woods().values():
        assert 0.1 <= wood.C_L * 30 * 100 <= 0.2
        assert wood.C_L < wood.C_R < wood.C_T


ESTIMATE = {
    ("hardwood", "tension_perp"): (10.1, 1.30, 0.75),
    ("softwood", "tension_perp"): (6.0, 1.11, 0.75),
    ("hardwood", "compression_perp"): (21.6, 2.09, 0.80),
    ("softwood", "compression_perp"): (16.5, 1.57, 0.80),
}
"""FPL-GTR-190 Table 5-11 (from memory): factor and exponent of the specific gravity, in MPa; and by how much it is lowered."""


@pytest.mark.parametrize(("kind", "field"), ESTIMATE)
def test_estimated_strengths_lie_below_measured_ones(kind, field):
    factor, exponent, lowered = ESTIMATE[kind, field]
    measured = []
    for wood in (wood for wood in woods().values() if wood.kind == kind):
        by_gravity = factor * wood.SG**exponent
        if "lowered" in sources_of(wood)[field].place:
            assert getattr(wood, field) == pytest.approx(lowered * by_gravity, abs=0.051), (
                wood.key
            )  # one printed digit
        else:
            measured.append(math.log(getattr(wood, field) / by_gravity))
    # the relation itself fits what the handbook prints for these species: a tenth, the mean over 7 to 21 of them
    assert len(measured) >= 7
    assert math.exp(sum(measured) / len(measured)) == pytest.approx(1.0, abs=0.11)
    # and four out of five measured woods are at least as strong as the lowered estimate
    assert sum(value >= math.log(lowered) for value in measured) >= 0.8 * len(measured)


FIELDS = ("ET_EL", "ER_EL", "GLR_EL", "GLT_EL", "nu_LR", "nu_LT")


@pytest.mark.parametrize("kind", ["hardwood", "softwood"])
@pytest.mark.parametrize("field", FIELDS)
def test_missing_ratios_are_the_rounded_mean_of_the_others(kind, field):
    # FPL-GTR-190 Tables 5-1 and 5-2; balsa, a quarter as dense as the rest, is left out
    printed, filled = [], []
    for wood in (wood for wood in woods().values() if wood.kind == kind and wood.key != "balsa"):
        target = filled if "rounded mean" in sources_of(wood)[field].place else printed
        target.append(getattr(wood, field))
    assert len(printed) >= 6
    assert set(filled) == {round(sum(printed) / len(printed), 2)}


def test_movement_of_fibreboard_of_the_industry_guide():
    # MDF industry guide: a door 600 mm wide that takes up 5 % MC grows by 1.5 mm
    mdf = find_board("MDF")
    assert 600 * 5 * mdf.movement == pytest.approx(1.5, rel=1e-12)


def test_void_of_wood():
    # FPL-GTR-190 ch. 4: the cell wall has a specific gravity of about 1.5, so SG 0.6 is 60 % air
    assert find_wood("white ash").void_fraction == pytest.approx(0.60, abs=1e-12)
    assert find_wood("balsa").void_fraction == pytest.approx(0.89, abs=0.005)


def test_water_that_a_veneer_takes_up():
    # two ways to one number: 150 g/m² half of which is water, all into 0.6 mm walnut of 330 g/m² dry, is 22.7 % MC
    glue, walnut = find_adhesive("cross-linking PVA"), find_wood("walnut")
    dry = walnut.dry_density * 0.6
    assert dry == pytest.approx(330e-6, rel=1e-12)
    assert 100 * glue.spread * glue.water_fraction / dry == pytest.approx(22.7, abs=0.05)


def test_times_and_lines_of_adhesives_lie_in_the_printed_ranges():
    # FPL-GTR-190 p. 10-17: cold pressing takes from 15 minutes to 24 hours; rigid lines are strongest at 0.08 to 0.15 mm
    for glue in adhesives().values():
        for shape in ("flat", "bent"):
            least, safe = (
                getattr(glue, f"press_time_least_{shape}"),
                getattr(glue, f"press_time_safe_{shape}"),
            )
            assert 15 * 60 <= least <= safe <= 24 * 3600
        assert glue.press_time_safe_bent >= glue.press_time_safe_flat
    for name in ("urea", "epoxy"):
        assert 0.08 <= find_adhesive(name).line_thickness <= 0.15


def test_white_glue_stays_eight_hours_under_the_film():
    # common practice: about eight hours at the bench's pace
    assert find_adhesive("white glue").press_time_safe_flat == 8 * 3600


def test_cured_line_of_white_glue():
    # what is left of the spread when its water has gone, at the density of the wet glue; within a fifth
    glue = find_adhesive("PVA")
    solids = glue.spread * (1 - glue.water_fraction) / glue.density
    assert glue.line_thickness == pytest.approx(solids, rel=0.2)
