"""The help of the program: every command and argument is explained, in the width of a terminal."""

import argparse

import pytest

from underbag.app.columns import WIDTH
from underbag.app.command import COMMANDS, main, parser
from underbag.app.exports import EXPORTS
from underbag.app.status import FINE, MEANINGS, UNUSABLE

NAMES = [command.name for command in COMMANDS]


def help_of(capsys, *arguments):
    assert main([*arguments, "--help"]) == FINE
    return capsys.readouterr().out


def test_the_program_names_its_commands_and_its_statuses(capsys):
    text = help_of(capsys)
    for command in COMMANDS:
        assert f"    {command.name}" in text
        assert command.help in " ".join(text.split())
        # name and words on one line
        (line,) = (line for line in text.splitlines() if line.startswith(f"    {command.name} "))
        assert line.split(maxsplit=1)[1][:12] == command.help[:12]
    for status, meaning in MEANINGS:
        assert f"  {status}  {meaning}" in text
    assert max(map(len, text.splitlines())) <= WIDTH


@pytest.mark.parametrize("command", COMMANDS, ids=NAMES)
def test_every_command_explains_itself_and_its_arguments(capsys, command):
    text = help_of(capsys, command.name)
    assert command.about.split(".")[0] in " ".join(text.split())
    assert max(map(len, text.splitlines())) <= WIDTH
    one = argparse.ArgumentParser()
    command.add(one)
    # a private name, but the only one for what was added
    assert all(action.help for action in one._actions)


def test_make_names_every_export(capsys):
    text = " ".join(help_of(capsys, "make").split())
    for export in EXPORTS:
        assert export.name in text


def test_the_commands_of_the_parser_are_those_of_the_list():
    assert parser().parse_args(["schema"]).command is COMMANDS[NAMES.index("schema")]
    assert len(set(NAMES)) == len(NAMES)
    assert {"start", "check", "make", "materials", "schema"} <= set(NAMES)


def test_the_version_is_that_of_the_distribution(capsys):
    from importlib.metadata import version

    assert main(["--version"]) == FINE
    assert capsys.readouterr().out == f"underbag {version('underbag')}\n"


@pytest.mark.parametrize("arguments", [[], ["check"], ["make", "a.toml"], ["check", "--jsn", "a.toml"]])
def test_a_command_that_cannot_be_understood_is_told_so(capsys, arguments):
    assert main(arguments) == UNUSABLE
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("usage: underbag")
