"""The JSON Schema of the layup file: what editors take as right is what the reader takes, and the other way round."""

import json
import tomllib
from pathlib import Path
from typing import get_args

import jsonschema
import pytest

from underbag.app.document import as_text
from underbag.app.phrase import written
from underbag.app.read import entry
from underbag.app.read.layup_file import read_text
from underbag.app.read.schema import _KINDS, schema
from underbag.app.read.starter import starter
from underbag.model.errors import LayupError
from underbag.model.layup.phrase import phrase
from underbag.model.layup.sections import SECTIONS
from underbag.model.layup.setting import Quantity, settings_of

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
SCHEMA = jsonschema.Draft202012Validator(schema())
PANEL = "[panel]\nlength = 600\nwidth = 300\n"
BEND = "[panel]\nwidth = 300\n[bend]\n"


def is_valid(text):
    return SCHEMA.is_valid(tomllib.loads(text))


def can_be_read(text):
    try:
        read_text(text)
    except LayupError:
        return False
    return True


def test_the_schema_is_itself_valid_and_the_same_each_time():
    jsonschema.Draft202012Validator.check_schema(schema())
    assert as_text(schema()) == as_text(json.loads(as_text(schema())))


def test_every_key_of_every_table_stands_in_it_with_its_help():
    tables = schema()["properties"]
    for name, section in SECTIONS.items():
        keys = tables[name]["properties"]
        assert list(keys) == list(settings_of(section))
        for key, setting in settings_of(section).items():
            assert keys[key]["description"].startswith(setting.help)


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_demos_are_valid(path):
    SCHEMA.validate(tomllib.loads(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize("kind", ["flat", "bent"])
def test_starters_are_valid(kind):
    SCHEMA.validate(tomllib.loads(starter(kind)))


GOOD = [
    PANEL,
    "unit = 'in'\n[panel]\nlength = '23 5/8'\nwidth = 12.5\n",
    "[panel]\nlength = '600 mm'\nwidth = \"1' 3 1/2\\\"\"\n",
    "[panel]\nlength = '2.4 m'\nwidth = '1-1/8 in'\n",
    "[panel]\nlength = '12¾\"'\nwidth = '300 MM'\n",
    "[panel]\nlength = 12.5\nwidth = '12 ½ in'\n",
    PANEL + "[caul]\nmargin = '-3 mm'\n",
    PANEL
    + "[drawing]\nunits = 'inch'\npaper = 'North American'\nowner = 'Ålders & Søn'\ndate = '2026-05-04'\n",
    PANEL + "[vacuum]\ngauge = '25 inHg'\naltitude = '-20 m'\n",
    PANEL + "[vacuum]\ngauge = '0.8 BAR'\naltitude = '5280 ft'\n",
    PANEL + "[press]\ntemperature = '-5 °C'\n",
    PANEL + "[press]\ntemperature = '68 F'\n",
    PANEL + "[adhesive]\nspread = '15 g/ft2'\nwaste = 12\n",
    PANEL + "[adhesive]\nspread = '40 lb/1000 ft²'\nwaste = '12 %'\n",
    PANEL + "[values.mdf]\ndensity = '700 kg/m³'\nMOR = 30\n",
    BEND + "angle = 90\nradius = 300\n",
    BEND + "angle = '90°'\nradius = '12 in'\n",
    BEND + "angle = '1.2 rad'\nchord = 500\n",
    BEND + "chain = 'straight 80, crown 150 mm through 60°, hollow 5 7/8 in through 1.2 rad,'\n",
    BEND + 'chain = """\nstraight 80,\ncrown 150 through 60"""\n',
    BEND + "shape = 'chain'\nchain = 'crown 150 through 60'\n",
    BEND + "radius = 200\nangle = 120\n[taper]\nradius = '110 mm'\n",
    BEND + "radius = 200\nangle = 120\n[taper]\nradius = 110\nangle = 120\nlift = '-12 mm'\n",
]

WRONG = [
    "title = 'no panel'\n",
    "title = 3\n" + PANEL,
    "unit = 'cm'\n" + PANEL,
    "colour = 'red'\n" + PANEL,
    "[panel]\nlength = 600\n",
    "[panel]\nwidth = 300\n",
    "[panel]\nlenght = 600\nwidth = 300\n",
    "[panel]\nlength = '600 furlongs'\nwidth = 300\n",
    "[panel]\nlength = '600 kPa'\nwidth = 300\n",
    "[panel]\nlength = '1,200 mm'\nwidth = 300\n",
    "[panel]\nlength = '-600 mm'\nwidth = 300\n",
    "[panel]\nlength = -600\nwidth = 300\n",
    "[panel]\nlength = true\nwidth = 300\n",
    "[panel]\nlength = ''\nwidth = 300\n",
    "[panel]\nlength = '12 3/4 1/2 in'\nwidth = 300\n",
    PANEL + "outline = 'circle'\n",
    PANEL + "[substrate]\nlaminations = 0\n",
    PANEL + "[substrate]\nlaminations = 2.5\n",
    PANEL + "[substrate]\nlaminations = '2'\n",
    PANEL + "[vacuum]\ngauge = 80\n",
    PANEL + "[vacuum]\ngauge = '80'\n",
    PANEL + "[vacuum]\ngauge = '-80 kPa'\n",
    PANEL + "[press]\ntemperature = 20\n",
    PANEL + "[press]\nlay = 'sideways'\n",
    PANEL + "[adhesive]\nspread = '150 g'\n",
    PANEL + "[adhesive]\nwaste = 300\n",
    PANEL + "[values]\nmdf = 3\n",
    BEND + "angle = 400\nradius = 300\n",
    BEND + "angle = '90 mm'\nradius = 300\n",
    BEND + "chain = 'curved 150 through 60'\n",
    BEND + "chain = 'crown 150'\n",
    BEND + "chain = 80\n",
    BEND + "chain = ''\n",
    BEND + "shape = 'dome'\nchord = 300\nrise = 40\n",
    BEND + "radius = 200\nangle = 120\n[taper]\nshape = 'file'\n",
    BEND + "radius = 200\nangle = 120\n[taper]\nshow_face = 'outside'\n",
    PANEL + "[taper]\nradius = 110\n",
]


@pytest.mark.parametrize("text", GOOD)
def test_what_is_right_is_right_for_both(text):
    assert can_be_read(text)
    assert is_valid(text)


@pytest.mark.parametrize("text", WRONG)
def test_what_is_wrong_is_wrong_for_both(text):
    assert not can_be_read(text)
    assert not is_valid(text)


def test_every_kind_of_quantity_can_be_read_told_and_described():
    """A kind that is new in the model needs its row in the reader, in the wording and in the schema."""
    described = schema()["$defs"].keys() | _KINDS.keys()
    for kind in get_args(Quantity):
        assert kind in described
        if kind not in ("text", "choice", "flag", *entry.ROWS):
            assert kind in entry._READERS
            assert phrase(kind, 1.0)
            assert written(kind, 1.0)
