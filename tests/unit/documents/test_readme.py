"""README's lines, commands and code do what it says."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from profilestack.cli.commands import COMMANDS
from profilestack.cli.main import main
from tests.unit.documents.pages import ROOT, Block, blocks_of

README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = list(blocks_of(README))


def blocks(language: str) -> list[Block]:
    return [block for block in BLOCKS if block.language == language]


def only(language: str) -> str:
    (block,) = blocks(language)
    return block.text


@pytest.fixture
def stack(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """README's stack in an otherwise empty folder."""
    monkeypatch.setenv("PROFILESTACK_DRAWER", str(tmp_path / "none.bits.toml"))
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "shelf-front.stack.toml"
    assert f"`{path.name}`" in README
    path.write_text(only("toml"), encoding="utf-8")
    return path


def test_each_block_is_met_by_a_test() -> None:
    languages = [block.language for block in BLOCKS]
    assert sorted(languages) == ["console", "python", "sh", "sh", "sh", "text", "toml"]


def test_the_two_lines_need_nothing_but_python() -> None:
    first, second, packages = (block.text for block in blocks("sh"))
    assert re.fullmatch(r"sudo apt-get install [a-z0-9. -]+\n", packages)
    for line in (first, second):
        assert line.count("\n") == 1
        assert line.startswith("python3 -m venv .venv && .venv/bin/pip install ")
    assert first.endswith(" . && .venv/bin/profilestack demo\n")
    assert second.endswith(" '.[test]' && .venv/bin/python -m pytest\n")
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert "test" in settings["project"]["optional-dependencies"]
    assert settings["project"]["scripts"] == {"profilestack": "profilestack.cli.main:main"}
    assert settings["project"]["requires-python"] == ">=3.11"
    assert "Python 3.11 or newer" in README


def test_the_package_takes_bits_and_examples_along() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    wheel = settings["tool"]["hatch"]["build"]["targets"]["wheel"]
    assert wheel["packages"] == ["profilestack"]
    assert wheel["force-include"] == {
        folder: f"profilestack/{folder}" for folder in ("bitlibrary", "examples")
    }
    assert any((ROOT / "bitlibrary").glob("*.bits.toml"))
    assert any((ROOT / "examples").rglob("*.stack.toml"))


@pytest.mark.skipif(sys.platform == "win32", reason="a script of the Unix shell")
def test_the_checks_script_runs_the_second_line(tmp_path: Path) -> None:
    script = ROOT / ".ci" / "run"
    assert os.access(script, os.X_OK)
    # a stand-in notes how it was called, and fails, so that the rest of the line does not run
    stand_in = tmp_path / "python3"
    stand_in.write_text(f'#!/bin/sh\necho "$@" "$(pwd)" > {tmp_path}/called\nexit 7\n')
    stand_in.chmod(0o755)
    path = f"{tmp_path}{os.pathsep}{os.environ['PATH']}"
    done = subprocess.run(
        [script], cwd=tmp_path, env=os.environ | {"PATH": path}, capture_output=True, check=False
    )
    assert done.stdout.decode() == blocks("sh")[1].text
    assert done.returncode == 7
    assert (tmp_path / "called").read_text() == f"-m venv .venv {ROOT}\n"


def test_the_console_shows_what_is_printed(stack: Path, capsys: pytest.CaptureFixture[str]) -> None:
    typed, _, printed = only("console").partition("\n")
    prompt, program, *arguments = shlex.split(typed)
    assert (prompt, program) == ("$", "profilestack")
    assert main(arguments) == 0
    assert capsys.readouterr().out == printed
    assert (stack.parent / "shelf-front.png").is_file()


def test_the_library_example_prints_what_is_shown(
    stack: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    exec(compile(only("python"), "README.md", "exec"), {"__name__": "readme"})
    assert capsys.readouterr().out == only("text")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_named(command: str) -> None:
    assert f"\n| `profilestack {command}" in README


def test_the_picture_is_that_of_the_crown(tmp_path: Path) -> None:
    fresh = tmp_path / "crown.png"
    crown = ROOT / "examples" / "cornice" / "crown.stack.toml"
    assert main(["cut", str(crown), "--plot", str(fresh)]) == 0
    with Image.open(ROOT / "docs" / "crown.png") as shown, Image.open(fresh) as drawn:
        assert shown.size == drawn.size
        old, new = (np.asarray(picture.convert("L"), dtype=int) for picture in (shown, drawn))
    # other versions of the drawing library set single pixels otherwise
    assert np.mean(np.abs(new - old) > 64) < 0.01
