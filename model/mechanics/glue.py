"""Glue on the work: how much, how thick, and where its water goes.

Amounts per area are wet glue or water in g/mm² of one glue line. Moisture content is in percent of dry mass, so
densities of wood mean dry mass over volume (at 12 % moisture content near enough).
"""

from math import ceil

from ..source import COMMON_PRACTICE, Source
from ..units import Count, Gram, GramPerMm2, GramPerMm3, Mm, Mm2, Percent, Ratio
from ..value import formula

AMOUNTS = Source("textbook", "balance of masses and volumes")
MOISTURE = Source("handbook", "FPL-GTR-282, Wood Handbook", "chapter 4, moisture content")
VOIDS = Source("handbook", "FPL-GTR-282, Wood Handbook", "p. 4-3, largest moisture content")
CAPACITIES = Source("derived", "water in proportion to what each side can still take up")
BLEED = Source("derived", "volume of wet glue against volume of open voids; the limit is common practice")


@formula("m", "glue to mix", "s * A * n * (1 + w)", AMOUNTS)
def glue_mass(s: GramPerMm2, A: Mm2, n: Count, w: Ratio) -> Gram:
    """Glue for n glued faces of area A at the spread s, with the part w more for the roller and the pot."""
    return s * A * n * (1 + w)


@formula("m_w", "water in the glue", "m * w", AMOUNTS)
def water_load(m: Gram, w: Ratio) -> Gram:
    """Water that glue of mass m brings into the bag, w being the water's part of its mass.

    Take the glue that lies on the work, without the waste that stays on the roller.
    """
    return m * w


@formula("h", "thickness of the wet glue line", "s / rho", AMOUNTS)
def wet_line(s: GramPerMm2, rho: GramPerMm3) -> Mm:
    """Thickness of glue of density rho spread at s in all, both faces of the line together."""
    return s / rho


@formula("h", "thickness of the dry glue line", "s * (1 - w) / rho", AMOUNTS)
def dry_line(s: GramPerMm2, w: Ratio, rho: GramPerMm3) -> Mm:
    """Thickness of the solids that stay of the spread s with the water part w, if none sinks into the wood.

    rho is the density of the solids; wood that drinks glue, and glue pressed out, make the line thinner.
    """
    return s * (1 - w) / rho


@formula("ΔM", "rise of moisture content from water taken up", "100 * q / (rho * t)", MOISTURE)
def moisture_gain(q: GramPerMm2, rho: GramPerMm3, t: Mm) -> Percent:
    """Rise of the moisture content of a layer t thick and of dry density rho that takes up the water q."""
    return 100 * q / (rho * t)


@formula("q", "water that a layer can take up", "rho * t * max(M_s - M, 0) / 100", MOISTURE)
def uptake_capacity(rho: GramPerMm3, t: Mm, M: Percent, M_s: Percent) -> GramPerMm2:
    """Water that fits into a layer of dry density rho and moisture content M until it holds M_s.

    t is the thickness that water reaches while the glue sets: all of a veneer, but only the skin of a
    substrate (1 to 2 mm is common practice); 0 for a sheet that lets no water in. M_s is the fibre
    saturation point, about 28 %.
    """
    return rho * t * max(M_s - M, 0) / 100


@formula("k", "part of the glue's water that goes into the veneer", "q_v / (q_v + q_s)", CAPACITIES)
def veneer_share(q_v: GramPerMm2, q_s: GramPerMm2) -> Ratio:
    """Part of the water that the veneer takes, q_v and q_s being the capacities of veneer and substrate.

    A substrate that lets no water in (q_s = 0) leaves all of it to the veneer.
    """
    return q_v / (q_v + q_s)


@formula("q", "water that passes through the veneer", "max(q_w * k - q_v, 0)", CAPACITIES)
def water_through(q_w: GramPerMm2, k: Ratio, q_v: GramPerMm2) -> GramPerMm2:
    """Water that the veneer cannot hold of its part k of the glue's water q_w, q_v being its capacity.

    It goes into the absorbent if the release lets it through, else it stays and the glue sets slowly.
    """
    return max(q_w * k - q_v, 0)


@formula("m_w", "water that the absorbent can hold", "n * b * A * a * u", COMMON_PRACTICE)
def paper_capacity(n: Count, b: GramPerMm2, A: Mm2, a: Ratio, u: Ratio) -> Gram:
    """Water in n sheets of paper of basis weight b and area A.

    The paper takes a times its own weight when it is free, and the part u of that under pressure; 0.3 is
    common practice for u. Only paper behind a release that lets water through counts.
    """
    return n * b * A * a * u


@formula("n", "sheets of paper that hold the water", "ceil(m_w / (b * A * a * u) - 1e-9)", COMMON_PRACTICE)
def paper_sheets(m_w: Gram, b: GramPerMm2, A: Mm2, a: Ratio, u: Ratio) -> Count:
    """Least number of sheets that hold the water m_w; see ``paper_capacity`` for the letters."""
    # A billionth is taken off so that rounding does not add a sheet where the water fits exactly.
    return ceil(m_w / (b * A * a * u) - 1e-9)


@formula("φ", "part of the wood that is void", "1 - rho / rho_w", VOIDS)
def void_fraction(rho: GramPerMm3, rho_w: GramPerMm3) -> Ratio:
    """Part of wood of dry density rho that is air, rho_w being the density of the cell wall, 0.0015 g/mm³."""
    return 1 - rho / rho_w


@formula("B", "wet glue against the open voids of the face", "h / (t * phi * c)", BLEED)
def bleed_ratio(h: Mm, t: Mm, phi: Ratio, c: Ratio) -> Ratio:
    """How many times a wet glue line h thick would fill the voids of a face t thick that are open to it.

    phi is the void part of the wood and c the part of these voids that runs through to the show face: nearly
    0 in a dense, closed wood, up to 1 in a thin, coarse or end-grain face. Near or above 1 glue has nowhere
    else to go than the show face. It is a measure of risk, no forecast: it knows nothing of the glue's
    thickness in the pot, of the time before it thickens, or of the glue that the substrate drinks; a ratio
    below 1 does not rule out a few specks from single large vessels.
    """
    return h / (t * phi * c)
