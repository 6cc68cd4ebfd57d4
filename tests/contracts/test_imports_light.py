"""What a command loads: a check stays light, and every command answers without the CAD kernel."""

import subprocess
import sys
from pathlib import Path

import pytest

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
HEAVY = ("cadquery", "OCP", "scipy", "shapely", "trimesh", "ezdxf", "reportlab")

PROGRAM = """
import sys
from underbag.app.command import main
status = main(sys.argv[1:])
print("LOADED", status, *sorted({name.partition(".")[0] for name in sys.modules}))
"""


def loaded_by(*arguments):
    """Status of a command and the packages that it loaded, in a fresh interpreter."""
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, *map(str, arguments)],
        capture_output=True,
        encoding="utf-8",
        check=True,
        timeout=60,
    )
    _, status, *packages = done.stdout.splitlines()[-1].split()
    return int(status), set(packages)


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_a_check_never_loads_what_is_heavy(path):
    status, packages = loaded_by("check", path)
    assert status == 0
    assert {"underbag", "numpy"} <= packages
    assert packages.isdisjoint({*HEAVY, "tomlkit", "pytest"})


def test_a_file_in_millimetres_needs_no_unit_library(tmp_path):
    path = tmp_path / "plain.toml"
    path.write_text("[panel]\nlength = 600\nwidth = '300 mm'\n", encoding="utf-8")
    assert "pint" not in loaded_by("check", path)[1]
    path.write_text("[panel]\nlength = 600\nwidth = '12 in'\n", encoding="utf-8")
    assert "pint" in loaded_by("check", path)[1]


@pytest.mark.parametrize(
    "arguments",
    [
        ["check", DEMOS[0], "--json"],
        ["check", DEMOS[0], "--all"],
        ["materials"],
        ["schema"],
        ["check", "none.toml"],
    ],
    ids=["json", "all", "materials", "schema", "mistake"],
)
def test_no_command_but_make_loads_what_is_heavy(arguments):
    assert loaded_by(*arguments)[1].isdisjoint(HEAVY)


def test_a_cut_list_needs_no_kernel(tmp_path):
    status, packages = loaded_by("make", DEMOS[0], "-o", tmp_path, "--only", "plan,cut-list")
    assert status == 0
    assert packages.isdisjoint(HEAVY)
