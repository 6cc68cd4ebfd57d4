"""``underbag bags`` as a person runs it."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

DEMOS = Path(__file__).parents[2] / "demos"
FLAT = (str(DEMOS / "shelf.toml"), str(DEMOS / "drawer-front.toml"))


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    program = [
        sys.executable,
        "-c",
        "from underbag.app.command import main; raise SystemExit(main())",
        "bags",
        *arguments,
    ]
    return subprocess.run(program, capture_output=True, text=True, check=False)


def test_every_demo_has_a_bag_in_both_answers() -> None:
    ended = run(*map(str, sorted(DEMOS.glob("*.toml"))))
    assert ended.returncode == 0, ended.stderr
    assert ended.stdout.count("Dining table for ten") >= 2
    assert "BAGS USED AGAIN AND AGAIN" in ended.stdout
    assert "A BAG FOR EVERY JOB" in ended.stdout
    assert all(len(line) <= 80 for line in ended.stdout.splitlines())


def test_an_owned_bag_that_is_large_enough_leaves_nothing_to_buy() -> None:
    ended = run(*FLAT, "--owned", "80 in x 60 in")
    assert ended.returncode == 0
    assert ended.stdout.count("new film 0 m² (0 ft²)") == 2
    assert "owned" in ended.stdout


def test_sizes_come_in_the_steps_that_are_asked_for() -> None:
    ended = run(*FLAT, "--most", "1", "--step", "6 in")
    sizes = [
        line for line in ended.stdout.splitlines() if line.startswith("  ") and "×" in line and "new" in line
    ]
    assert sizes
    for line in sizes:
        length, width = (float(part) for part in line.split("mm")[0].split("×"))
        # told to a tenth of a millimetre
        assert length % 152.4 == pytest.approx(0.0, abs=0.1)
        assert width % 152.4 == pytest.approx(0.0, abs=0.1)


def test_a_layup_that_cannot_exist_is_left_out_and_told(tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text(
        'title = "Too tight"\n[panel]\nwidth = 200\n[bend]\nradius = 20\nangle = "90°"\nshow_face = "outside"\n'
        "[substrate]\nlaminations = 20\n"
    )
    ended = run(FLAT[0], str(bad))
    assert ended.returncode == 1
    assert "Too tight is left out" in ended.stdout
    assert "A BAG FOR EVERY JOB" in ended.stdout


@pytest.mark.parametrize(
    "more", [("--most", "0"), ("--step", "1 mm"), ("--owned", "1500"), ("--owned", "axb"), ("nowhere.toml",)]
)
def test_what_can_not_be_read_is_answered_in_words(more: tuple[str, ...]) -> None:
    ended = run(FLAT[0], *more)
    assert ended.returncode == 2
    assert "Traceback" not in ended.stderr
    assert "found" in ended.stderr


def test_programs_get_what_people_read() -> None:
    told = json.loads(run(*FLAT, "--owned", "80 in x 60 in", "--json").stdout)
    assert [one["key"] for one in told["answers"]] == ["reused", "one each"]
    for answer in told["answers"]:
        (bag,) = answer["bags"]
        assert (bag["length"], bag["width"]) == pytest.approx((2032.0, 1524.0))
        assert bag["owned"]
        assert [job["title"] for job in bag["jobs"]] == [
            "Shelf for the plane cabinet",
            "Bow-front drawer, hall table",
        ]
        assert answer["film"] == 0.0
    new = json.loads(run(*FLAT, "--json").stdout)["answers"][-1]
    assert sum(bag["copies"] for bag in new["bags"]) == 2


def test_a_bend_whose_bag_is_not_designed_is_left_out_and_told(tmp_path: Path) -> None:
    round_ = tmp_path / "round.toml"
    round_.write_text('title = "Drum"\n[panel]\nwidth = 200\n[bend]\nradius = 150\nangle = "250°"\n')
    ended = run(FLAT[0], str(round_))
    assert ended.returncode == 1
    assert "Drum is left out: The form of this bend is undercut" in ended.stdout
