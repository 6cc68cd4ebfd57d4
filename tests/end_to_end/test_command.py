"""The whole program from the shell: what it prints, what it writes, and how it ends."""

import codecs
import csv
import hashlib
import io
import json
import os
import pty
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from underbag.app.exports import BY_DEFAULT

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
SHELF = next(path for path in DEMOS if path.stem == "shelf")
PANEL = "[panel]\nlength = 600\nwidth = 300\n"
STOP = 'title = "Overhang"\n' + PANEL + "\n[face]\noverhang = 60  # far too much\n"
IMPOSSIBLE = "[panel]\nwidth = 100\n[bend]\nradius = 12\nangle = 120\nshow_face = 'outside'\n"


def run(*arguments, **options):
    """Run the program in a process of its own."""
    environment = {**os.environ, "PYTHONIOENCODING": "utf-8", "COLUMNS": "200"} | options.pop("env", {})
    return subprocess.run(
        [sys.executable, "-m", "underbag.app.command", *map(str, arguments)],
        capture_output=True,
        encoding=options.pop("encoding", "utf-8"),
        env=environment,
        timeout=120,
        check=False,
        **options,
    )


@pytest.fixture
def layup(tmp_path):
    """Give a function that writes a layup file and tells its path."""

    def write(content):
        path = tmp_path / "layup.toml"
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    return write


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_demo_is_checked_without_a_caution(path):
    done = run("check", path)
    assert (done.returncode, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    # below the title, up to three lines on the panel, and a rule
    assert any(line.startswith("OK: all ") for line in lines[:6])
    assert max(map(len, lines)) <= 80
    assert all(line == line.rstrip() for line in lines)
    headings = re.findall(r"^ *([A-Z]{3,})(?=[, ])", done.stdout, flags=re.MULTILINE)
    assert [one for one in headings if one != "MDF"] == [
        "LAYERS",
        "BAG",
        "FILM",
        "VALVE",
        "HANDLING",
        "SETTINGS",
    ]


def test_what_to_change_comes_first_with_its_line(layup):
    done = run("check", layup(STOP))
    assert done.returncode == 1
    head = done.stdout.split("LAYERS")[0]
    assert "STOP: 1 check says stop" in head
    assert "[face] overhang, line 7" in head
    assert "-> Cut the overhang to 12 mm" in head
    assert head.index("STOP  ") < head.index("CAUTION  ")


def test_all_tells_values_with_their_working_and_reasons(layup):
    done = run("check", layup(STOP), "--all")
    assert "CHECKS THAT HOLD" in done.stdout
    assert "press.force" in done.stdout
    assert "F = p * A" in done.stdout
    assert "the usual board for furniture panels (common practice)" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


def test_json_has_the_keys_that_programs_rely_on(layup):
    done = run("check", layup(STOP), "--json")
    assert done.returncode == 1

    def refuse(constant):
        raise AssertionError(constant)

    content = json.loads(done.stdout, parse_constant=refuse)
    assert content["schema"] == 1
    assert content["status"] == "stop"
    assert {"layers", "bag", "valve", "values", "checks"} <= content.keys()
    for value in content["values"]:
        assert {"key", "name", "value", "unit", "inputs", "source", "basis"} <= value.keys()
        assert ("expression" in value) != ("method" in value)
    for check in content["checks"]:
        assert {
            "key",
            "status",
            "value",
            "limit",
            "margin",
            "unit",
            "why",
            "change",
            "place",
            "source",
        } <= check.keys()
    by_key = {value["key"]: value["value"] for value in content["values"]}
    # 80 kPa on 600 × 300 mm is 14.4 kN
    assert by_key["press.force"] == pytest.approx(14_400.0, rel=1e-12)
    assert [layer["number"] for layer in content["layers"]] == list(range(1, len(content["layers"]) + 1))
    assert run("check", layup(STOP), "--json").stdout == done.stdout


def test_a_hundred_square_inches_carry_1400_pounds():
    """A panel of 100 square inches carries about 1,400 lbf at near full vacuum; source: common practice."""
    text = "unit = 'in'\n[panel]\nlength = 10\nwidth = 10\n[vacuum]\ngauge = '28.5 inHg'\n"
    done = run("check", "/dev/stdin", "--json", input=text)
    newtons = next(
        value["value"] for value in json.loads(done.stdout)["values"] if value["key"] == "press.force"
    )
    assert newtons / 4.4482216152605 == pytest.approx(1400, rel=0.01)


def test_a_shape_that_cannot_exist_is_a_stop_and_nothing_is_written(layup, tmp_path):
    path, folder = layup(IMPOSSIBLE), tmp_path / "out"
    done = run("check", path)
    assert done.returncode == 1
    assert "STOP: 1 check says stop" in done.stdout
    assert "[bend] radius, line 4" in done.stdout
    assert "LAYERS" not in done.stdout
    content = json.loads(run("check", path, "--json").stdout)
    assert content["layers"] == []
    assert content["checks"][0]["status"] == "stop"
    made = run("make", path, "-o", folder)
    assert made.returncode == 1
    assert "Nothing was written" in made.stdout
    assert not folder.exists()


MISTAKES = {
    "unknown key": (
        "[panel]\nlenght = 600\nwidth = 300\n",
        ["line 2", "[panel] lenght", 'Did you mean "length"?'],
    ),
    "unknown table": (PANEL + "[cual]\nmargin = 3\n", ["line 4", 'Did you mean "caul"?']),
    "unknown material": (PANEL + "[face]\nmaterial = 'wallnut'\n", ["line 5", 'Did you mean "walnut"?']),
    "too large": (PANEL + "[face]\n\nthickness = 60\n", ["line 6", '60 mm (2 3/8")', '6 mm (1/4")']),
    "too large in inches": (
        "unit = 'in'\n[panel]\nlength = 900\nwidth = 10\n",
        ["line 3", '22860 mm (900")', '20000 mm (787 3/8")'],
    ),
    "pressure without a unit": (PANEL + "[vacuum]\ngauge = 80\n", ["line 5", "[vacuum] gauge", '"85 kPa"']),
    "no quotes": ("[panel]\nlength = 600 mm\n", ["line 2", "quotes"]),
    "arc too fat": (
        "[panel]\nwidth = 100\nlength = 900\n[bend]\nradius = 500\nangle = 90\n",
        ["line 3", "785.398 mm", "implies"],
    ),
    "no length": ("[panel]\nwidth = 300\n", ["line 1", "[panel] length", "Add length to [panel]."]),
    "not UTF-8": (b"[panel]\nlength = 600 # \xff\n", ["line 2", "UTF-8"]),
    "binary": (bytes(range(256)), ["UTF-8"]),
    "huge": (b"#" * 1_000_001, ["very large"]),
    "deep": (b"a = " + b"[" * 9000, ["lists within lists"]),
    "endless name": (b"a." * 400_000 + b"a = 1\n", ["line 1", "very many parts"]),
    "endless text": (PANEL + f"[face]\nmaterial = '{'w' * 500_000}'\n", ["line 5", "[face] material"]),
    "empty": (b"", ["[panel] length"]),
}


@pytest.mark.parametrize("name", MISTAKES)
def test_a_wrong_file_is_answered_with_the_place_and_what_is_allowed(layup, name):
    content, expected = MISTAKES[name]
    done = run("check", layup(content))
    assert (done.returncode, done.stdout) == (2, "")
    assert "Traceback" not in done.stderr
    told = " ".join(done.stderr.split())
    for words in (*expected, "found:", "allowed:"):
        assert words in told
    assert max(map(len, done.stderr.splitlines())) <= 80


@pytest.mark.parametrize("ends", [b"\r\n", b"\n"])
def test_marks_of_windows_change_nothing(layup, ends):
    plain = run("check", layup(STOP)).stdout
    assert run("check", layup(codecs.BOM_UTF8 + STOP.encode().replace(b"\n", ends))).stdout == plain


def test_what_is_no_file_is_told_without_a_traceback(tmp_path):
    for path, words in ((tmp_path, "a folder"), (tmp_path / "shlef.toml", "no file of that name")):
        done = run("check", path)
        assert done.returncode == 2
        assert words in done.stderr
    (tmp_path / "shelf.toml").write_text(PANEL, encoding="utf-8")
    assert 'Did you mean "shelf.toml"?' in run("check", tmp_path / "shlef.toml").stderr


def test_a_misspelt_command_is_answered_with_the_nearest():
    done = run("chek", "layup.toml")
    assert (done.returncode, done.stdout) == (2, "")
    assert "'chek'" in done.stderr
    assert 'Did you mean "check"?' in done.stderr


def test_no_command_at_all_is_answered_with_what_there_is():
    done = run()
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == run("--help").stdout


def test_a_length_that_cannot_be_negative_is_not_shown_with_a_sign(layup):
    done = run("check", layup(PANEL.replace("600", "'60 cn'")))
    assert done.returncode == 2
    assert "a length such as" in done.stderr
    assert '"-' not in done.stderr


def test_nothing_from_a_file_steers_the_terminal(layup):
    done = run("check", layup(PANEL + '[face]\nmaterial = "\\u001b[2Jx\\u202e"\n'))
    assert done.returncode == 2
    assert "\x1b" not in done.stderr
    assert "\u202e" not in done.stderr


def test_a_starter_is_written_once(tmp_path):
    path = tmp_path / "new.toml"
    assert run("start", path).returncode == 0
    first = path.read_bytes()
    again = run("start", path)
    assert again.returncode == 2
    assert "a file of that name" in again.stderr
    assert path.read_bytes() == first
    assert run("check", path).returncode == 0
    assert run("start", "--bent", tmp_path / "bent.toml").returncode == 0
    assert "convex form" in run("check", tmp_path / "bent.toml").stdout
    assert run("start", tmp_path / "no folder" / "new.toml").returncode == 3


def test_materials_are_listed_and_told_with_their_sources():
    listed = run("materials").stdout
    assert max(map(len, listed.splitlines())) <= 80
    for words in ("WOODS", "ADHESIVES", "black walnut", "Wood Handbook"):
        assert words in listed
    told = run("materials", "Walnut")
    assert told.returncode == 0
    # Wood Handbook, FPL-GTR-190 (2010), Table 5-3a: black walnut, modulus of rupture at 12 % MC 101 MPa
    assert re.search(r"MOR +101 MPa", told.stdout)
    assert "Table 5-3a (handbook)" in told.stdout
    assert max(map(len, told.stdout.splitlines())) <= 80
    both = run("materials", "polyurethane").stdout
    assert "adhesives" in both
    assert "films, for the bag" in both
    missing = run("materials", "wallnut")
    assert missing.returncode == 2
    assert 'Did you mean "walnut"?' in missing.stderr


def test_the_schema_is_json():
    assert json.loads(run("schema").stdout)["$schema"] == "https://json-schema.org/draft/2020-12/schema"


QUICK = "plan,cut-list"


def test_a_set_is_named_by_its_manifest_and_the_same_each_time(tmp_path):
    for folder in ("one", "two"):
        done = run("make", SHELF, "-o", tmp_path / folder, "--only", QUICK)
        assert (done.returncode, done.stderr) == (0, "")
        assert "OK: all " in done.stdout
    one, two = (
        {path.name: path.read_bytes() for path in (tmp_path / name).iterdir()} for name in ("one", "two")
    )
    assert one == two
    manifest = json.loads(one.pop("manifest.json"))
    assert manifest["schema"] == 1
    assert manifest["status"] == "ok"
    assert {entry["file"] for entry in manifest["files"]} == one.keys()
    for entry in manifest["files"]:
        content = one[entry["file"]]
        assert entry["bytes"] == len(content)
        assert entry["sha256"] == hashlib.sha256(content).hexdigest()
    assert manifest["layup_sha256"] == hashlib.sha256(SHELF.read_bytes()).hexdigest()


@pytest.mark.parametrize("name", ["shelf", "drawer-front"])
def test_everything_that_can_be_made_is_made_and_the_same_each_time(tmp_path, name):
    path = SHELF.with_name(f"{name}.toml")
    for folder in ("one", "two"):
        done = run("make", path, "-o", tmp_path / folder)
        assert (done.returncode, done.stderr) == (0, "")
    one, two = (contents(tmp_path / folder) for folder in ("one", "two"))
    assert one == two
    manifest = json.loads(one.pop("manifest.json"))
    # a shelf is set out with a square
    known = {export.name for export in BY_DEFAULT} - ({"templates"} if name == "shelf" else set())
    assert {entry["export"] for entry in manifest["files"]} == known
    assert {entry["file"]: entry["sha256"] for entry in manifest["files"]} == {
        file: hashlib.sha256(content).hexdigest() for file, content in one.items()
    }
    # a mesh for every part of the solids, and one of the whole
    layers = json.loads(one["plan.json"])["layers"]
    meshes = {file.partition("/")[2] for file in one if file.startswith("stl/")}
    assert {f"{layer['key']}.stl" for layer in layers} <= meshes
    assert {"whole.stl", "upper-film.stl", "lower-film.stl", "valve.stl"} <= meshes


def contents(folder):
    """Every file below a folder, by its place in it."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_files_of_a_stop_are_written_and_marked(layup, tmp_path):
    done = run("make", layup(STOP), "-o", tmp_path / "out", "--only", QUICK)
    assert done.returncode == 1
    assert "STOP: 1 check says stop" in done.stdout
    assert json.loads((tmp_path / "out" / "manifest.json").read_text())["status"] == "stop"
    assert json.loads((tmp_path / "out" / "plan.json").read_text())["status"] == "stop"
    rows = list(csv.DictReader(io.StringIO((tmp_path / "out" / "cut-list.csv").read_text("utf-8-sig"))))
    assert rows
    assert all(row["note"].startswith("STOP: veneer overhang") for row in rows)


@pytest.mark.parametrize("title", ["=1+2", "+1", "-1", "@SUM(A1)", "  =1", "\uff1d1"])
def test_no_cell_of_a_cut_list_becomes_a_formula(layup, tmp_path, title):
    path = layup(f"title = {json.dumps(title)}\n{PANEL}[caul]\nmargin = -3\n")
    run("make", path, "-o", tmp_path / "out", "--only", "cut-list")
    data = (tmp_path / "out" / "cut-list.csv").read_text("utf-8-sig")
    rows = list(csv.reader(io.StringIO(data)))
    assert {len(row) for row in rows} == {12}
    cells = [cell for row in rows for cell in row]
    assert not any(cell.lstrip()[:1] in ("=", "+", "-", "@", "\t", "\r", "\uff1d") for cell in cells if cell)
    assert f"'{title.strip()}" in cells


def test_a_cut_list_has_the_blanks_of_the_plan(tmp_path):
    run("make", SHELF, "-o", tmp_path, "--only", QUICK)
    plan = json.loads((tmp_path / "plan.json").read_text())
    rows = {
        row["number"]: row
        for row in csv.DictReader(io.StringIO((tmp_path / "cut-list.csv").read_text("utf-8-sig")))
    }
    for layer in plan["layers"]:
        if layer["role"] != "adhesive":
            row = rows[str(layer["number"])]
            # the table is rounded to a tenth of a millimetre
            assert float(row["length mm"]) == pytest.approx(layer["blank"]["length"], abs=0.051)
            assert float(row["width mm"]) == pytest.approx(layer["blank"]["width"], abs=0.051)
            assert int(row["pieces"]) == layer["blank"]["quantity"]
    assert rows["2"]["length in"] == '24 1/8"'


def test_progress_is_one_object_a_line(tmp_path):
    done = run("make", SHELF, "-o", tmp_path, "--only", QUICK, "--progress", "json")
    events = [json.loads(line) for line in done.stdout.splitlines()]
    assert [event["event"] for event in events] == [
        "begin",
        "making",
        "wrote",
        "making",
        "wrote",
        "wrote",
        "end",
    ]
    assert events[-2]["file"] == "manifest.json"
    assert events[-1]["status"] == "ok"
    wrote = {event["file"]: event["sha256"] for event in events if event["event"] == "wrote"}
    for file, digest in wrote.items():
        assert hashlib.sha256((tmp_path / file).read_bytes()).hexdigest() == digest


def test_a_folder_that_cannot_be_written_ends_with_3(tmp_path):
    (tmp_path / "file").write_text("not a folder")
    done = run("make", SHELF, "-o", tmp_path / "file" / "out", "--only", QUICK)
    assert done.returncode == 3
    assert "Traceback" not in done.stderr
    blocked = tmp_path / "blocked"
    (blocked / "plan.json").mkdir(parents=True)
    done = run("make", SHELF, "-o", blocked, "--only", QUICK, "--progress", "json")
    assert done.returncode == 3
    assert json.loads(done.stdout.splitlines()[-1])["event"] == "failed"
    assert [path.name for path in blocked.iterdir()] == ["plan.json"]


def test_a_wrong_choice_of_exports_is_told(tmp_path):
    done = run("make", SHELF, "-o", tmp_path, "--only", "cutlist")
    assert done.returncode == 2
    assert 'Did you mean "cut-list"?' in done.stderr


def test_plain_terminals_get_plain_letters(layup):
    done = run(
        "check",
        layup('title = "Häuschen 家 ½"\n' + STOP.partition("\n")[2]),
        env={"PYTHONIOENCODING": "ascii"},
    )
    assert done.returncode == 1
    assert done.stderr == ""
    assert done.stdout.isascii()
    assert "600 x 300 mm" in done.stdout
    assert done.stdout.startswith("Hauschen ? ")


def on_a_terminal(*arguments, **environment):
    """Output of the program on a terminal of its own."""
    here, there = pty.openpty()
    command = [sys.executable, "-m", "underbag.app.command", *map(str, arguments)]
    done = subprocess.Popen(
        command, stdout=there, stderr=there, env={**os.environ, "TERM": "xterm"} | environment
    )
    os.close(there)
    parts = []
    while True:
        try:
            part = os.read(here, 65536)
        except OSError:
            break
        if not part:
            break
        parts.append(part)
    os.close(here)
    return done.wait(timeout=60), b"".join(parts).decode().replace("\r\n", "\n")


def test_colour_only_repeats_what_the_words_say(layup):
    path = layup(STOP)
    plain = run("check", path).stdout
    status, coloured = on_a_terminal("check", path, NO_COLOR="")
    assert status == 1
    assert "\x1b[1;31mSTOP" in coloured
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain
    assert on_a_terminal("check", path, NO_COLOR="1") == (1, plain)


def test_people_see_a_bar_that_goes_away(tmp_path):
    status, said = on_a_terminal("make", SHELF, "-o", tmp_path, "--only", QUICK, NO_COLOR="1")
    assert status == 0
    assert "] 1 of 2  cut-list" in said
    assert said.split("\r")[-1].startswith("Shelf for the plane cabinet\nOK: all")


def test_whoever_stops_reading_hears_no_complaint():
    command = [sys.executable, "-m", "underbag.app.command", "materials"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as program:
        program.stdout.close()
        said = program.stderr.read()
    assert said == b""


def test_breaking_off_leaves_no_complaint():
    """A program that waits for its input is broken off from the keyboard."""
    waiting = subprocess.Popen(
        [
            sys.executable,
            "-c",
            "import underbag.app.command as c; print('ready', flush=True); raise SystemExit(c.main(['check', '/dev/stdin']))",
        ],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert waiting.stdout.readline() == b"ready\n"
    # until it reads, the signal could come too early to be caught
    time.sleep(1.0)
    waiting.send_signal(signal.SIGINT)
    _, said = waiting.communicate(timeout=30)
    assert (waiting.returncode, said) == (130, b"")
