"""``underbag air`` as a person runs it."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

DEMOS = Path(__file__).parents[2] / "demos"
SHELF = str(DEMOS / "shelf.toml")


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    program = [
        sys.executable,
        "-c",
        "from underbag.app.command import main; raise SystemExit(main())",
        "air",
        *arguments,
    ]
    return subprocess.run(program, capture_output=True, text=True, check=False)


@pytest.mark.parametrize("demo", ["shelf", "drawer-front", "chessboard"])
def test_a_demo_is_drawn_down_within_a_minute(demo: str) -> None:
    ended = run(str(DEMOS / f"{demo}.toml"))
    assert ended.returncode == 0, ended.stderr
    assert "YES: one valve" in ended.stdout
    assert "SECONDS UNTIL" in ended.stdout
    assert all(len(line) <= 80 for line in ended.stdout.splitlines())


def test_a_small_pump_is_told_to_be_one() -> None:
    ended = run(SHELF, "--pump", "1 L/min", "--within", "10 s")
    assert ended.returncode == 1
    assert "the pump is too small" in ended.stdout


def test_a_poor_breather_is_told_to_be_one_and_no_breather_too(tmp_path: Path) -> None:
    text = Path(SHELF).read_text()
    poor = tmp_path / "poor.toml"
    poor.write_text(text + "\n[values.netting]\npermeability = 1e-6\n")
    ended = run(str(poor), "--within", "5 s")
    assert ended.returncode == 1
    assert "the breather is too poor" in ended.stdout
    none = tmp_path / "none.toml"
    none.write_text(text + '\n[breather]\nmaterial = "none"\n')
    ended = run(str(none))
    assert ended.returncode == 1
    assert "There is no breather" in ended.stdout


def test_programs_get_the_same() -> None:
    ended = run(SHELF, "--json")
    assert ended.returncode == 0
    told = json.loads(ended.stdout)
    times = [time for row in told["map"]["reached"] for time in row if time is not None]
    assert max(times) == told["slowest"]
    assert told["pump"]["alone"] <= told["slowest"] <= told["within"]


@pytest.mark.parametrize(
    "more", [("--within", "0 s"), ("--within", "soon"), ("--pump", "0 L/min"), ("--pump", "3 m")]
)
def test_what_can_not_be_read_is_answered_in_words(more: tuple[str, str]) -> None:
    ended = run(SHELF, *more)
    assert ended.returncode == 2
    assert "Traceback" not in ended.stderr
    assert "found" in ended.stderr


def test_the_map_is_drawn_where_it_is_asked_for_and_in_the_papers_too(tmp_path: Path) -> None:
    picture = tmp_path / "map.svg"
    assert run(SHELF, "-o", str(picture)).returncode == 0
    assert picture.read_bytes().startswith(b"<svg ")
    assert run(SHELF, "-o", str(tmp_path / "map.txt")).returncode == 3
    program = [sys.executable, "-c", "from underbag.app.command import main; raise SystemExit(main())"]
    for names in ("air,preview,report", "preview"):
        subprocess.run(
            [*program, "make", SHELF, "-o", str(tmp_path / names), "--only", names],
            capture_output=True,
            check=True,
        )
    asked = tmp_path / "air,preview,report"
    assert (asked / "air.svg").read_bytes() == picture.read_bytes()
    for page in ("preview.html", "report.html"):
        assert "Air on its way to the valve" in (asked / page).read_text(encoding="utf-8")
    assert "Air on its way" not in (tmp_path / "preview" / "preview.html").read_text(encoding="utf-8")
