"""Every shipped example is read, cut and judged."""

from __future__ import annotations

import re
from pathlib import Path as FilePath

import pytest

from profilestack.cli.main import main
from profilestack.cutting.cut import CHORD
from profilestack.files.shipped import shipped_examples_dir
from profilestack.files.stack_file import read_stack_text, stack_text
from tests.unit.examples.pieces import Pieces, stops

FOLDER = shipped_examples_dir()

EXACT = (
    "base/cap",
    "casing/adapted",
    "cornice/bow",
    "cornice/installed",
    "half-column/flutes",
    "half-column/rings",
    "ogee/large",
    "ogee/small",
    "shelf-rail/rail",
)
"""Pieces whose passes leave nothing and take nothing too much at nominal size."""

WITHIN = ("base/plinth", "casing/adapted-square", "cornice/crown")
"""Pieces that keep their tolerances."""

NOT_MET = ("casing/as-sampled",)

TO_FIND = ("cornice/crown-target",)
"""Wanted profiles without passes: the finder is to make them."""

FLATTENING = 2.0 * CHORD + 0.0005
"""The target's and the bit's arcs may each be off by a chord; numbers are rounded to 0.001 mm."""


def test_every_example_is_expected_here() -> None:
    files = {
        path.relative_to(FOLDER).as_posix().removesuffix(".stack.toml")
        for path in FOLDER.rglob("*.stack.toml")
    }
    assert files == {*EXACT, *WITHIN, *NOT_MET, *TO_FIND}


@pytest.mark.parametrize("name", [*EXACT, *WITHIN])
def test_the_piece_comes_out(name: str, pieces: Pieces) -> None:
    report = pieces.judged(name)
    assert report.is_good
    assert not stops(report)
    assert report.comparison is not None
    assert report.stack.tolerance.leftover <= 0.30
    assert report.stack.tolerance.overcut <= 0.10
    assert report.comparison.overcut_worst < FLATTENING


@pytest.mark.parametrize("name", EXACT)
def test_an_exact_piece_is_off_by_flattening_alone(name: str, pieces: Pieces) -> None:
    comparison = pieces.judged(name).comparison
    assert comparison is not None
    assert comparison.leftover_worst < FLATTENING
    assert comparison.overcut_worst < FLATTENING


@pytest.mark.parametrize("name", [*EXACT, *WITHIN, *NOT_MET])
def test_the_file_survives_being_written_and_read(name: str, pieces: Pieces) -> None:
    stack = pieces.stack(name)
    assert read_stack_text(stack_text(stack)) == stack


@pytest.mark.parametrize("name", [*EXACT, *WITHIN, *NOT_MET])
def test_no_pass_is_idle(name: str, pieces: Pieces) -> None:
    assert all(single.removed_area > 0.1 for single in pieces.judged(name).cut.passes)


@pytest.mark.parametrize("name", [*EXACT, *WITHIN, *NOT_MET])
def test_the_command_ends_with_the_right_code(
    name: str,
    pieces: Pieces,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    tmp_path: FilePath,
) -> None:
    monkeypatch.setenv("PROFILESTACK_DRAWER", str(tmp_path / "none.bits.toml"))
    code = main(["cut", str(FOLDER / f"{name}.stack.toml")])
    assert pieces.stack(name).title in capsys.readouterr().out
    assert code == (1 if name in NOT_MET else 0)


@pytest.mark.parametrize("name", TO_FIND)
def test_what_is_to_be_found_has_a_profile_and_no_passes(name: str, pieces: Pieces) -> None:
    stack = pieces.stack(name)
    assert stack.target is not None
    assert stack.passes == ()
    assert read_stack_text(stack_text(stack)) == stack


def test_the_readme_names_every_example_once() -> None:
    text = (FOLDER / "README.md").read_text(encoding="utf-8")
    named = re.findall(r"`profilestack cut examples/([\w/-]+)\.stack\.toml`", text)
    assert sorted(named) == sorted((*EXACT, *WITHIN, *NOT_MET))
    searched = re.findall(r"`profilestack find examples/([\w/-]+)\.stack\.toml`", text)
    assert sorted(searched) == sorted(TO_FIND)
