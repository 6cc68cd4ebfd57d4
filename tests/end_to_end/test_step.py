"""A STEP file, read again by the kernel and by its text: nothing lost, nothing that changes from run to run.

Outside referee: the STEP reader of the CAD kernel. The form of the text: ISO 10303-21 (clear text encoding), from
memory.
"""

import json
import random
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from underbag.export.shapes import is_valid
from underbag.export.solids import NamedSolid, solids
from underbag.export.step import step, step_of
from underbag.export.step_text import canonical, escaped, quoted
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan

ARC: dict[str, Any] = {
    "panel": {"width": 150.0},
    "bend": {"chord": 600.0, "rise": 60.0},
    "substrate": {"laminations": 2},
}
ELLIPSE: dict[str, Any] = {"panel": {"length": 420.0, "width": 300.0, "outline": "ellipse"}}
TITLE = "Bow front № 3 · 'a\\b'; #12=FOO(#1);"
JOBS = {"arc": ARC, "ellipse": ELLIPSE}


@dataclass(frozen=True, slots=True)
class Read:
    """One part as the kernel reads it: name, colour (red, green, blue, opacity; sRGB, 0 to 1) and solid."""

    name: str
    colour: tuple[float, float, float, float]
    solid: Any


@pytest.fixture(scope="module")
def plans() -> dict[str, Plan]:
    return {name: plan(settle(asked, title=TITLE)) for name, asked in JOBS.items()}


@pytest.fixture(scope="module")
def built(plans: dict[str, Plan]) -> dict[str, tuple[NamedSolid, ...]]:
    return {name: solids(made) for name, made in plans.items()}


@pytest.fixture(scope="module")
def written(plans: dict[str, Plan]) -> dict[str, bytes]:
    return {name: step(made) for name, made in plans.items()}


@pytest.fixture(scope="module")
def read_back(written: dict[str, bytes], tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[Read]]:
    folder = tmp_path_factory.mktemp("step")
    return {name: read(folder / f"{name}.step", content)[1] for name, content in written.items()}


def read(path: Path, content: bytes) -> tuple[str, list[Read]]:
    """Name of the one assembly in a file, and its parts in their order."""
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPCAFControl import STEPCAFControl_Reader
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDF import TDF_Label, TDF_LabelSequence
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

    path.write_bytes(content)
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    assert reader.ReadFile(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone
    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    assert reader.Transfer(document)
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    roots = TDF_LabelSequence()
    shapes.GetFreeShapes(roots)
    assert roots.Length() == 1
    assert XCAFDoc_ShapeTool.IsAssembly_s(roots.Value(1))
    components = TDF_LabelSequence()
    XCAFDoc_ShapeTool.GetComponents_s(roots.Value(1), components)
    parts = []
    for number in range(1, components.Length() + 1):
        label = TDF_Label()
        assert XCAFDoc_ShapeTool.GetReferredShape_s(components.Value(number), label)
        assert name_of(label) == name_of(components.Value(number))
        parts.append(Read(name_of(label), colour_of(document, label), XCAFDoc_ShapeTool.GetShape_s(label)))
    return name_of(roots.Value(1)), parts


def name_of(label: Any) -> str:
    from OCP.TDataStd import TDataStd_Name

    name = TDataStd_Name()
    assert label.FindAttribute(TDataStd_Name.GetID_s(), name)
    return str(name.Get().ToExtString())


def colour_of(document: Any, label: Any) -> tuple[float, float, float, float]:
    from OCP.Quantity import Quantity_ColorRGBA
    from OCP.XCAFDoc import XCAFDoc_ColorTool, XCAFDoc_ColorType

    found = Quantity_ColorRGBA()
    assert XCAFDoc_ColorTool.GetColor_s(label, XCAFDoc_ColorType.XCAFDoc_ColorSurf, found)
    red, green, blue = (
        linear_to_screen(v) for v in (found.GetRGB().Red(), found.GetRGB().Green(), found.GetRGB().Blue())
    )
    return red, green, blue, found.Alpha()


def linear_to_screen(value: float) -> float:
    """Share of a linear colour as sRGB. Source: IEC 61966-2-1, 5.2; from memory."""
    return 12.92 * value if value <= 0.0031308 else 1.055 * value ** (1 / 2.4) - 0.055


def volume(solid: Any) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.VolumePropertiesGK_s(solid, properties, 1e-10)
    return float(properties.Mass())


@pytest.mark.parametrize("job", JOBS)
def test_names_come_back_in_order(
    read_back: dict[str, list[Read]], built: dict[str, tuple[NamedSolid, ...]], job: str
) -> None:
    assert [part.name for part in read_back[job]] == [part.name for part in built[job]]


@pytest.mark.parametrize("job", JOBS)
def test_colours_come_back(
    read_back: dict[str, list[Read]], built: dict[str, tuple[NamedSolid, ...]], job: str
) -> None:
    for found, part in zip(read_back[job], built[job], strict=True):
        # 1e-3: the kernel holds colours in single precision and rounds in between; a step of the screen is 4e-3
        assert found.colour[:3] == pytest.approx([value / 255.0 for value in part.colour], abs=1e-3), (
            part.name
        )
        assert (found.colour[3] < 1.0) == part.translucent, part.name


@pytest.mark.parametrize("job", JOBS)
def test_solids_come_back_whole(
    read_back: dict[str, list[Read]], built: dict[str, tuple[NamedSolid, ...]], job: str
) -> None:
    for found, part in zip(read_back[job], built[job], strict=True):
        assert is_valid(found.solid), part.name
        # 1e-9: numbers are written with 15 digits
        assert volume(found.solid) == pytest.approx(volume(part.solid), rel=1e-9), part.name


def test_the_assembly_bears_the_title_of_the_job(written: dict[str, bytes], tmp_path: Path) -> None:
    assert read(tmp_path / "one.step", written["arc"])[0] == TITLE


def test_a_job_without_title_is_a_layup(plans: dict[str, Plan]) -> None:
    assert b"FILE_NAME('layup'," in step(plan(settle(ELLIPSE)))


@pytest.mark.parametrize("job", JOBS)
def test_the_header_is_true(written: dict[str, bytes], job: str) -> None:
    header = written[job].decode("ascii").split("DATA;")[0]
    assert "lengths in mm" in header
    assert f"FILE_NAME({quoted(TITLE)},'1970-01-01T00:00:00',('underbag')," in header
    assert "SI_UNIT(.MILLI.,.METRE.)" in written[job].decode("ascii")


@pytest.mark.parametrize("job", JOBS)
def test_records_are_numbered_in_order_and_all_there(written: dict[str, bytes], job: str) -> None:
    lines = written[job].decode("ascii").split("DATA;\n")[1].split("\nENDSEC;")[0].split("\n")
    bare = [re.sub(r"'(?:[^']|'')*'", "", line) for line in lines]
    assert [int(line[1 : line.index("=")]) for line in bare] == list(range(1, len(lines) + 1))
    used = {int(number) for line in bare for number in re.findall(r"#(\d+)", line.split("=", 1)[1])}
    assert used <= set(range(1, len(lines) + 1))


@pytest.mark.parametrize("job", JOBS)
def test_written_again_in_one_process_it_is_the_same(
    plans: dict[str, Plan], written: dict[str, bytes], job: str
) -> None:
    """The kernel counts assemblies over the life of a process: the second file would differ."""
    assert step(plans[job]) == written[job]


def test_written_in_another_process_it_is_the_same(written: dict[str, bytes]) -> None:
    program = (
        "import sys, json\n"
        "from underbag.export.step import step\n"
        "from underbag.model.layup.settle import settle\n"
        "from underbag.model.plan import plan\n"
        "for asked in json.loads(sys.argv[1]):\n"
        "    sys.stdout.buffer.write(step(plan(settle(asked, title=sys.argv[2]))))\n"
    )
    arguments = [sys.executable, "-c", program, json.dumps(list(JOBS.values())), TITLE]
    # another seed than this process has, in which sets and the kernel's maps come in another order
    made = subprocess.run(arguments, env={"PYTHONHASHSEED": "77"}, capture_output=True, check=True)
    assert made.stdout == b"".join(written.values())


@pytest.mark.parametrize("seed", range(4))
def test_the_order_of_the_kernel_does_not_matter(written: dict[str, bytes], seed: int) -> None:
    """Other numbers for all records, and the colours in another order, as the kernel gives them from run to run."""
    text = written["arc"].decode("ascii")
    header = text.split("\nDATA;")[0]
    lines = text.split("DATA;\n")[1].split("\nENDSEC;")[0].split("\n")
    chance = random.Random(seed)
    fresh = list(range(1, len(lines) + 1))
    chance.shuffle(fresh)
    parts = re.compile(r"('(?:[^']|'')*')")
    renumbered = []
    for line in lines:
        pieces = parts.split(line)
        pieces[::2] = [
            re.sub(r"#(\d+)", lambda found: f"#{fresh[int(found[1]) - 1]}", piece) for piece in pieces[::2]
        ]
        renumbered.append("".join(pieces))
    styles = [number for number, line in enumerate(renumbered) if "=MECHANICAL_DESIGN" in line]
    assert len(styles) > 10
    mixed = [renumbered[number] for number in styles]
    chance.shuffle(mixed)
    for number, line in zip(styles, mixed, strict=True):
        renumbered[number] = line
    shuffled = "\n".join((header, "DATA;", *renumbered, "ENDSEC;", "END-ISO-10303-21;"))
    assert shuffled != text
    assert canonical(shuffled, header) == text


def test_strings_keep_what_looks_like_records() -> None:
    text = "DATA;\n#7 = B('#5 = C(''x'');\n ENDSEC;',#5);\n#5 = C('é ',$);\nENDSEC;\n"
    body = "#1=B('#5 = C(''x''); ENDSEC;',#2);\n#2=C('\\X2\\00E9\\X0\\ ',$);\nENDSEC;\nEND-ISO-10303-21;\n"
    assert canonical(text, "H") == "H\nDATA;\n" + body


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("plain", "plain"),
        ("№", "\\X2\\2116\\X0\\"),
        ("a··b", "a\\X2\\00B700B7\\X0\\b"),
        ("\U0001f600", "\\X4\\0001F600\\X0\\"),
        ("·\U0001f600", "\\X4\\000000B70001F600\\X0\\"),
    ],
)
def test_strings_are_plain_ascii(text: str, expected: str) -> None:
    assert escaped(text) == expected


def test_quotes_and_backslashes_are_doubled() -> None:
    assert quoted("a'b\\c") == "'a''b\\\\c'"


def test_each_file_counts_its_parts_from_one(built: dict[str, tuple[NamedSolid, ...]]) -> None:
    alone = step_of(built["arc"][:1], "one")
    assert alone.count(b"NEXT_ASSEMBLY_USAGE_OCCURRENCE('1',") == 1
    assert step_of(built["arc"][:1], "one") == alone


def test_without_the_kernel_one_sentence_says_what_to_do() -> None:
    program = (
        "import sys\n"
        "sys.modules['OCP'] = None\n"  # Python then says that there is no such module
        "import underbag.export.glb, underbag.export.stl\n"
        "from underbag.export.step import step\n"
        "from underbag.model.errors import ExportError\n"
        "from underbag.model.layup.settle import settle\n"
        "from underbag.model.plan import plan\n"
        "try:\n"
        "    step(plan(settle({'panel': {'length': 420, 'width': 300}})))\n"
        "except ExportError as error:\n"
        "    print(error)\n"
    )
    told = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout
    assert told.count("\n") == 1
    assert "pip install cadquery" in told
    assert "only STEP needs it" in told
