"""What is shipped, what stands at the top, and that every rule is put to the test."""

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from underbag.model.checks.rules import RULES

ROOT = Path(__file__).parents[2]
SETTINGS = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
OUTSIDE = {"tests", "demos"}
"""Top folders that are no part of the package."""


def code_folders() -> set[str]:
    """Every folder with code, as a package."""
    found = set()
    for file in ROOT.rglob("*.py"):
        parts = file.relative_to(ROOT).parts[:-1]
        if parts and (
            parts[0] in OUTSIDE or parts[0].startswith(".") or parts[0] in ("build", "dist", "out")
        ):
            continue
        found.add(".".join(("underbag", *parts)))
    return found


def test_every_folder_with_code_is_in_the_package() -> None:
    assert set(SETTINGS["tool"]["setuptools"]["packages"]) == code_folders()


def test_every_file_that_code_reads_is_shipped() -> None:
    data = SETTINGS["tool"]["setuptools"]["package-data"]
    shipped = {
        file
        for package, patterns in data.items()
        for pattern in patterns
        for file in ROOT.joinpath(*package.split(".")[1:]).glob(pattern)
    }
    read = {
        file
        for folder in ("model", "export", "app")
        for kind in ("*.csv", "*.js", "*.css", "*.html")
        for file in (ROOT / folder).rglob(kind)
    }
    assert read <= shipped


def test_nothing_else_stands_at_the_top() -> None:
    allowed = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "__init__.py", "py.typed"}
    folders = {"model", "export", "app", "tests", "demos"}
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.skip("not a git checkout: what is at the top cannot be told from what a build left there")
    top = {line.split("/")[0] for line in listed.stdout.splitlines()}
    assert {name for name in top if not name.startswith(".")} <= allowed | folders


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.key)
def test_every_rule_is_named_by_a_test(rule: object) -> None:
    key = rule.key  # type: ignore[attr-defined]
    naming = [
        file.name
        for file in (ROOT / "tests").rglob("test_*.py")
        if f'"{key}"' in file.read_text(encoding="utf-8")
    ]
    assert naming, f"no test names the rule {key}; give it a passing, a failing and an at-the-limit case"


def test_rule_keys_are_unique() -> None:
    keys = [rule.key for rule in RULES]
    assert len(keys) == len(set(keys))


def test_the_model_and_its_report_load_nothing_heavy() -> None:
    heavy = (
        "cadquery",
        "OCP",
        "scipy",
        "shapely",
        "trimesh",
        "ezdxf",
        "reportlab",
        "pint",
        "tomllib",
        "tomlkit",
    )
    program = f"import sys, underbag.model.report, underbag.model.scene; print([n for n in {heavy!r} if n in sys.modules])"
    run = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_the_readme_names_every_demo() -> None:
    named = set(re.findall(r"demos/[\w-]+\.toml", (ROOT / "README.md").read_text(encoding="utf-8")))
    assert named == {f"demos/{file.name}" for file in (ROOT / "demos").glob("*.toml")}
