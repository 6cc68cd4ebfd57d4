"""The sections of a layup file, one frozen type each, in internal units.

A number is what the file says or, where it says nothing, the starting value of ``model/data/defaults.csv``.
``None`` stands only where the file may leave something open on purpose.
"""

from dataclasses import dataclass

from ..shape.profile import Run
from ..units import Celsius, GramPerMm2, Mm, Mm3, Mm3PerSecond, MPa, Percent, Radian, Second
from .setting import chain, choice, lengths, line, points, setting, text

NO_MATERIAL = "none"
"""Written as a material, it leaves the layer out of the stack."""

OUTLINES = (
    "rectangle",
    "rounded rectangle",
    "ellipse",
    "superellipse",
    "regular polygon",
    "polygon",
    "drawing",
)
LAYS = ("face up", "face down", "convex", "concave")
ON_SHEET, IN_PLAN = "unrolled sheet", "plan"
FLAT_LAYS = ("face up", "face down")
BENT_LAYS = ("convex", "concave")
GRAINS = ("along length", "along width")
BAG_KINDS = ("tube", "joined sheets", "taped sheets", "sheet on board")
CLOSURES = ("tape", "fold and clamp", "bar in a channel")
FORM_BUILDS = ("stacked", "ribs", "box")
SHAPES = ("arc", "ellipse", "parabola", "chain", "points", "file")
FAR_SHAPES = ("arc", "ellipse", "parabola", "chain", "points")
DOUBLY_CURVED = ("dome", "sphere", "ball", "bowl", "dish", "shell", "barrel", "saddle", "doubly curved")
"""Shapes that people ask for and no flat sheet takes; they are refused with the reason."""
FILE_UNITS = ("mm", "cm", "in", "px 96", "px 90", "px 72")
CURVES = ("show face", "substrate middle", "form face")
SIDES = ("outside", "inside")
PUMPS = ("powered", "hand")
FACES = ("both", "face first", "back first")
DRAWING_UNITS = ("both", "metric", "inch")
PAPERS = ("ISO", "North American")
SPREAD_ON = ("core", "veneer", "both")


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """The finished panel, at the surface that the bend speaks of."""

    length: Mm = setting(
        "length",
        "Finished length; on a bend, measured along the curve, or in plan where the outline is given there.",
        10.0,
        20_000.0,
    )
    width: Mm = setting("length", "Finished width.", 10.0, 10_000.0)
    outline: str = choice(
        "Shape of the edge; only rounded rectangles and ellipses need to be named.", *OUTLINES
    )
    outline_on: str = choice(
        "Where a bent panel has this outline: on the sheet unrolled, with edges square to it; or in plan, cut plumb after "
        "pressing where the panel stays within 60° of level.",
        ON_SHEET,
        IN_PLAN,
    )
    corner: Mm = setting("length", "Corner radius of a rounded rectangle.", 0.1, 5_000.0)
    exponent: float = setting(
        "number", "Exponent of a superellipse: 2 is an ellipse, more is closer to a rectangle.", 2.0, 10.0
    )
    sides: int | None = setting(
        "count", "Number of sides of a regular polygon; one of them is level at the front.", 3, 24
    )
    corners: tuple[tuple[float, float], ...] | None = points(
        "Corners of a polygon in their order around the panel, each as its place along and across, from any origin.",
        -20_000.0,
        20_000.0,
    )
    fillet: Mm = setting("length", "Radius that the corners of a polygon are rounded to.", 0.0, 5_000.0)
    outline_file: str | None = line(
        "Name of an SVG or DXF drawing of the closed outline, in the folder of the layup file; holes may lie within it.",
        200,
    )
    outline_file_unit: str | None = choice(
        "How long that drawing's unit is, where it does not say so itself; pixels by how many make an inch.",
        *FILE_UNITS,
    )
    flat_within: Mm = setting("length", "How far a flat panel may bow, cup or twist in use.", 0.05, 200.0)
    driest: Percent = setting("share", "Driest air that it will live in, relative humidity.", 5.0, 95.0)
    dampest: Percent = setting("share", "Dampest air that it will live in, relative humidity.", 5.0, 95.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """What gives a curve: an arc by two of chord, rise, radius and angle, or any other one."""

    shape: str = choice(
        "What the curve is; only an ellipse and a parabola need to be named, both by chord and rise.",
        *SHAPES,
        refused=DOUBLY_CURVED,
    )
    chord: Mm = setting("length", "Straight distance between the two ends.", 10.0, 20_000.0)
    rise: Mm = setting(
        "length",
        "Height of the middle of an arc above its chord; of another curve, its depth.",
        0.1,
        20_000.0,
    )
    radius: Mm | None = setting("length", "Radius of the arc.", 5.0, 1_000_000.0)
    angle: Radian = setting(
        "angle",
        "Angle that the curve turns through, from end to end; a half round for an ellipse.",
        0.001,
        6.0,
    )
    chain: tuple[Run, ...] | None = chain(
        'Tangent pieces in their order, such as "straight 80 mm, crown 150 mm through 60°, hollow 90 mm through 60°".'
    )
    ordinates: tuple[float, ...] | None = lengths(
        "Heights of points that a smooth curve runs through, as they are taken off a template, from left to right.",
        -20_000.0,
        20_000.0,
    )
    every: Mm | None = setting(
        "length", "Distance of the ordinates from each other, all alike.", 1.0, 5_000.0
    )
    stations: tuple[float, ...] | None = lengths(
        "Places of the ordinates along the template, one for each, where they are not all alike.",
        -20_000.0,
        20_000.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Bend(Curve):
    """The bend along the panel's length: an arc by two of chord, rise, radius and angle, or any other curve."""

    file: str | None = line(
        "Name of an SVG or DXF drawing of the curve, crowns up, in the folder of the layup file.", 200
    )
    file_unit: str | None = choice(
        "How long the drawing's unit is, where it does not say so itself; pixels by how many make an inch.",
        *FILE_UNITS,
    )
    curve: str = choice(
        "Which surface these sizes describe: one of the finished panel, or the form that is there already.",
        *CURVES,
    )
    show_face: str = choice(
        "Whether the show face is outside or inside of the bend: on the side of the crowns, or of the hollows.",
        *SIDES,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Taper(Curve):
    """The curve at the far end of the width, where a bend tapers: the sizes of [bend] are those of the near end.

    Chord, rise or radius alone makes it the curve of [bend] in proportion.
    """

    shape: str = choice(
        "What the curve at the far end is; that of [bend] where this is left open.",
        *FAR_SHAPES,
        refused=DOUBLY_CURVED,
    )
    lift: Mm = setting(
        "length",
        "How much higher the chord of the far end lies than that of the near one.",
        -20_000.0,
        20_000.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Substrate:
    """The core, or the laminations that a bent core is built of."""

    material: str = text("What the core is made of.", "substrate")
    thickness: Mm = setting("length", "Thickness of the core, or of each lamination.", 0.2, 300.0)
    laminations: int = setting("count", "Number of equal sheets glued to each other.", 1, 60)
    grain: str = choice("Direction of the grain or of the stiff axis.", *GRAINS)
    trim: Mm = setting("length", "Waste on every side that is trimmed off after pressing.", 0.0, 200.0)
    moisture: Percent | None = setting("share", "Moisture content of the core when it is glued.", 0.0, 30.0)
    proved_radius: Mm | None = setting(
        "length", "Radius of a test bend that held, at the inside of the bend.", 0.5, 100_000.0
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Lipping:
    """The edging of solid wood that is glued to the core before it is veneered."""

    material: str = text('Species of the lipping, or "none".', "wood")
    width: Mm = setting("length", "Width of the lipping on every side, within the core's size.", 0.5, 200.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Veneer:
    """One veneer: the face or the back."""

    material: str = text('Species of the veneer, or "none".', "veneer")
    thickness: Mm = setting("length", "Thickness of the veneer.", 0.1, 6.0)
    grain: str = choice("Direction of the grain.", *GRAINS)
    overhang: Mm = setting("length", "How far the veneer reaches past the core on every side.", 0.0, 200.0)
    pieces: int = setting("count", "Number of pieces that the sheet is joined of.", 1, 5_000)
    proved_radius: Mm | None = setting(
        "length", "Radius of a test bend that held, at the inside of the bend.", 0.5, 100_000.0
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossband:
    """A veneer of the core's size that is laid under each face, its grain across that of the face."""

    material: str = text('Species of the crossbands, or "none".', "veneer")
    thickness: Mm = setting("length", "Thickness of each crossband.", 0.1, 6.0)
    grain: str = choice("Direction of the grain.", *GRAINS)
    proved_radius: Mm | None = setting(
        "length", "Radius of a test bend that held, at the inside of the bend.", 0.5, 100_000.0
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Adhesive:
    """The glue and how much of it."""

    material: str = text("Kind of glue.", "adhesive")
    spread: GramPerMm2 = setting("spread", "Wet glue on each glue line.", 1e-5, 2e-3)
    waste: Percent = setting("share", "Extra glue for tray, roller and edges, in percent.", 0.0, 200.0)
    spread_on: str = choice(
        "Which side of a glue line is spread; between laminations both, or one of the two.", *SPREAD_ON
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Release:
    """The sheet that keeps squeezed-out glue off the plates."""

    material: str = text('Kind of release sheet, or "none".', "release")
    margin: Mm = setting("length", "How far the release reaches past the veneer.", 0.0, 500.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Absorbent:
    """Paper that draws water or evens out a face of mixed thickness."""

    material: str = text('Kind of paper or cushion, or "none".', "paper")
    sheets: int = setting("count", "Number of sheets.", 0, 60)


@dataclass(frozen=True, slots=True, kw_only=True)
class Caul:
    """The plate above the work."""

    material: str = text('What the caul is made of, or "none".', "plate")
    thickness: Mm = setting("length", "Thickness of the caul.", 0.3, 60.0)
    margin: Mm = setting(
        "length", "How far the caul reaches past the core; below zero if it is smaller.", -200.0, 200.0
    )
    easing: Mm = setting("length", "Radius of the eased edges.", 0.0, 30.0)
    corner: Mm = setting("length", "Radius of the corners, seen from above.", 0.0, 500.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Breather:
    """The netting or felt that leads air from every edge to the valve."""

    material: str = text('Kind of breather, or "none".', "breather")
    margin: Mm = setting("length", "How far the breather reaches past the caul or the work.", 0.0, 1_000.0)
    tail: Mm = setting("length", "Width of the tail that leads to a valve beside the work.", 20.0, 1_000.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Platen:
    """The plate below flat work."""

    material: str = text('What the platen is made of, or "none" where the bag lies on a flat bench.', "plate")
    thickness: Mm = setting("length", "Thickness of the platen.", 1.0, 100.0)
    margin: Mm = setting("length", "How far the platen reaches past the panel.", -200.0, 1_000.0)
    easing: Mm = setting("length", "Radius of the eased edges.", 0.0, 30.0)
    corner: Mm = setting("length", "Radius of the corners, seen from above.", 0.0, 500.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """What a bent panel lies on."""

    material: str = text("What the form is made of.", "plate")
    build: str = choice("How the form is built.", *FORM_BUILDS)
    margin: Mm = setting("length", "How far the form reaches past the panel.", 0.0, 1_000.0)
    base: Mm = setting(
        "length", "Height under the lowest point of its face, above its baseboard.", 5.0, 1_000.0
    )
    easing: Mm = setting("length", "Radius of the eased edges.", 0.0, 30.0)
    vented: str = choice("Whether air can leave every hollow of the form.", "yes", "no")
    springback: Percent | None = setting(
        "share", "Share of its curve that the work loses off the form, where a trial has shown it.", 0.0, 50.0
    )
    skin: Mm = setting("length", "Thickness of the skin over ribs, or of the walls of a box.", 0.5, 60.0)
    skins: int = setting(
        "count", "Number of equal sheets that the skin over ribs is bent of, glued to each other there.", 1, 6
    )
    spacing: Mm | None = setting(
        "length",
        "Most from rib to rib, middle to middle; left open, as far as the skin carries.",
        10.0,
        1_000.0,
    )
    rib: Mm = setting(
        "length", "Thickness of ribs, stretchers and baseboard, or of a sheet of the stack.", 1.0, 200.0
    )
    baseboard: str = choice(
        "Whether ribs stand on a vented board that reaches under all of them.", "yes", "no"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """How the work lies in the bag."""

    lay: str = choice("Which way up a flat panel lies, or which form a bent one lies on.", *LAYS)
    faces: str = choice(
        "Whether both veneers are pressed at once, or which one in this pressing and the other in a later one.",
        *FACES,
    )
    temperature: Celsius = setting("temperature", "Temperature of glue, core and plates.", -10.0, 80.0)
    humidity: Percent = setting(
        "share", "Relative humidity of the shop, where veneer and core have lain.", 5.0, 95.0
    )
    hands: int = setting("count", "Number of people who spread the glue.", 1, 12)
    dry_run: Second | None = setting(
        "time",
        "How long a dry run took, from the first sheet that lies on glue to the closed bag.",
        1.0,
        86_400.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Vacuum:
    """The gauge and the air around it."""

    gauge: MPa = setting("pressure", "Reading of the gauge below the air outside.", 0.001, 0.11)
    altitude: Mm = setting("altitude", "Height of the shop above the sea.", -500_000.0, 6_000_000.0)
    fall: MPa | None = setting(
        "pressure",
        "Fall of the gauge in the first five minutes of a leak test, the pump shut off.",
        1e-6,
        0.1,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Pump:
    """The pump that draws the air out of the bag."""

    kind: str = choice("Whether a motor drives it or a hand.", *PUMPS)
    flow: Mm3PerSecond = setting("flow", "Air that a powered pump takes in.", 1e3, 1e8)
    stroke: Mm3 = setting("volume", "Air that a hand pump takes in at one stroke.", 1e4, 1e7)
    deepest: MPa = setting(
        "pressure", "Deepest gauge reading that the pump reaches at sea level.", 0.005, 0.101325
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Bag:
    """The bag: a new one to be sized, or one that is owned."""

    material: str = text("Kind of film.", "film")
    kind: str = choice("How the bag is made.", *BAG_KINDS)
    thickness: Mm = setting("length", "Thickness of the film.", 0.02, 3.0)
    side_clearance: Mm = setting(
        "length", "Room beside the work to each seam, past the film's own path.", 0.0, 1_000.0
    )
    roll: Mm | None = setting(
        "length", "Width of the film on its roll; of a tube, as it lies flat.", 200.0, 20_000.0
    )
    seam: Mm = setting("length", "Width of each seam.", 1.0, 100.0)
    closed_by: str = choice("How the open end is closed.", *CLOSURES)
    closure: Mm = setting("length", "Film that the closure takes at the open end.", 0.0, 2_000.0)
    width: Mm | None = setting("length", "Inside width of a bag that is owned, lying flat.", 50.0, 20_000.0)
    length: Mm | None = setting("length", "Inside length of a bag that is owned, lying flat.", 50.0, 40_000.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Valve:
    """The valve on the upper film."""

    diameter: Mm = setting("length", "Diameter of the valve's base.", 10.0, 300.0)
    clearance: Mm = setting(
        "length", "Least distance from the valve's base to a seam or the closure.", 0.0, 1_000.0
    )
    from_closed_end: Mm | None = setting(
        "length", "Valve of an owned bag: ruler distance from the closed end.", 0.0, 40_000.0
    )
    from_left_seam: Mm | None = setting(
        "length", "Valve of an owned bag: ruler distance from the left seam.", 0.0, 20_000.0
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """The sheets, leaves and rolls that are at hand, onto which the pieces are laid."""

    kerf: Mm = setting("length", "Width of a saw cut in a board.", 0.0, 20.0)
    edge: Mm = setting("length", "What is trimmed off every edge of a board first.", 0.0, 200.0)
    board_length: Mm | None = setting("length", "Length of a board, along its grain.", 100.0, 10_000.0)
    board_width: Mm | None = setting("length", "Width of a board, across its grain.", 100.0, 10_000.0)
    leaf_length: Mm = setting(
        "length", "Usable length of a leaf of veneer, along the grain.", 100.0, 10_000.0
    )
    leaf_width: Mm = setting("length", "Usable width of a leaf of veneer.", 30.0, 3_000.0)
    joint: Mm = setting("length", "What truing both edges takes off a strip of veneer.", 0.0, 20.0)
    release_roll: Mm | None = setting("length", "Width of the release on its roll.", 100.0, 10_000.0)
    paper_roll: Mm | None = setting("length", "Width of the paper or cushion on its roll.", 100.0, 10_000.0)
    breather_roll: Mm | None = setting("length", "Width of the breather on its roll.", 100.0, 10_000.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """The drawings: units, paper, and what their title block says beside the title of the job."""

    units: str = choice("Units of the sizes on drawings.", *DRAWING_UNITS)
    paper: str = choice("Sizes of paper: A4 to A0, or 8 1/2 by 11 inches and its multiples.", *PAPERS)
    owner: str | None = line("Legal owner of the drawings, such as the workshop.", 60)
    number: str | None = line("Number of the drawings.", 16)
    date: str | None = line("Date of issue, as it is to be printed.", 10)
    revision: str | None = line("Index of the revision.", 2)
    drawn_by: str | None = line("Who drew them.", 20)
    approved_by: str | None = line("Who approved them.", 20)


SECTIONS: dict[str, type] = {
    "panel": Panel,
    "bend": Bend,
    "taper": Taper,
    "substrate": Substrate,
    "lipping": Lipping,
    "face": Veneer,
    "back": Veneer,
    "crossband": Crossband,
    "adhesive": Adhesive,
    "release": Release,
    "absorbent": Absorbent,
    "caul": Caul,
    "breather": Breather,
    "platen": Platen,
    "form": Form,
    "press": Press,
    "vacuum": Vacuum,
    "pump": Pump,
    "bag": Bag,
    "valve": Valve,
    "stock": Stock,
    "drawing": Drawing,
}
"""Every table of the layup file, in the order in which it is written."""
