"""``underbag fit`` as a person runs it."""

import subprocess
import sys
from pathlib import Path

import pytest

DEMOS = Path(__file__).parents[2] / "demos"


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    program = [
        sys.executable,
        "-c",
        "from underbag.app.command import main; raise SystemExit(main())",
        "fit",
        *arguments,
    ]
    return subprocess.run(program, capture_output=True, text=True, check=False)


@pytest.mark.parametrize(
    ("bag", "status", "word"),
    [("1500x900", 0, "YES: it fits as it lies"), ("60 in x 21 in", 0, "YES"), ("700×300", 1, "NO: it lacks")],
)
def test_a_bag_by_its_size(bag: str, status: int, word: str) -> None:
    ended = run(str(DEMOS / "drawer-front.toml"), "--bag", bag)
    assert ended.returncode == status
    assert word in ended.stdout
    assert all(len(line) <= 80 for line in ended.stdout.splitlines())


def test_the_bag_of_the_file_is_taken_where_none_is_named() -> None:
    ended = run(str(DEMOS / "chessboard.toml"))
    assert ended.returncode == 0
    assert '1524 × 1016 mm (60" × 40")' in ended.stdout


@pytest.mark.parametrize("bag", ["1500", "ax3", "1x2x3", "1500x-3"])
def test_a_size_that_can_not_be_read_is_answered_in_words(bag: str) -> None:
    ended = run(str(DEMOS / "shelf.toml"), "--bag", bag)
    assert ended.returncode == 2
    assert "Traceback" not in ended.stderr
    assert "found" in ended.stderr


def test_the_work_is_laid_under_the_valve_that_is_there() -> None:
    ended = run(str(DEMOS / "shelf.toml"), "--bag", "1500x900", "--valve", "420x400")
    assert ended.returncode == 0
    assert "The valve then sits over the breather, above the caul." in ended.stdout
    assert all(len(line) <= 80 for line in ended.stdout.splitlines())


def test_a_valve_on_the_bare_work_is_no_way() -> None:
    ended = run(str(DEMOS / "drawer-front.toml"), "--bag", "1200x520", "--valve", "500x260")
    assert ended.returncode == 1
    assert "wherever the work is laid the valve sits on it" in " ".join(ended.stdout.split())
