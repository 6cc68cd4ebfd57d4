"""``underbag together`` as a person runs it."""

import json
import subprocess
import sys
from pathlib import Path

DEMOS = Path(__file__).parents[2] / "demos"
SHELF, DRAWER = str(DEMOS / "shelf.toml"), str(DEMOS / "drawer-front.toml")


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    program = [sys.executable, "-c", "from underbag.app.command import main; raise SystemExit(main())"]
    return subprocess.run([*program, "together", *arguments], capture_output=True, text=True, check=False)


def test_two_panels_are_laid_in_one_bag_within_80_columns() -> None:
    ended = run(SHELF, DRAWER)
    assert ended.stderr == ""
    assert "2 panels in one bag" in ended.stdout
    assert "1 Shelf for the plane" in ended.stdout
    assert "2 Bow-front drawer" in ended.stdout
    assert all(len(line) <= 80 for line in ended.stdout.splitlines())


def test_a_bag_that_is_too_small_is_told_with_what_it_lacks() -> None:
    ended = run(SHELF, SHELF, "--bag", "40 in x 40 in")
    assert ended.returncode == 1
    assert "The bag lacks" in ended.stdout


def test_programs_get_the_same_places() -> None:
    ended = run(SHELF, SHELF, "--json")
    told = json.loads(ended.stdout)
    assert [one["title"] for one in told["panels"]] == ["Shelf for the plane cabinet"] * 2
    assert told["length"] >= told["needed_length"]
    assert told["values"]["together.gap"] == 100.0


def test_bags_that_cannot_be_one_are_refused_in_one_sentence() -> None:
    ended = run(SHELF, str(DEMOS / "table-top.toml"))
    assert ended.returncode == 2
    assert "one kind of bag and one film" in ended.stderr
