"""What ``export`` wrote is read again as it was, without a question; other drawings are asked."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath

import numpy as np
import pytest

from profilestack.errors import InputError
from profilestack.files.shipped import shipped_examples_dir
from profilestack.files.stack_file import read_stack_text
from profilestack.files.targets import ReadingWishes
from profilestack.geometry.motion import move, turn
from profilestack.geometry.path import Path
from profilestack.jobs.export import export
from profilestack.jobs.exports.order import ExportOrder
from profilestack.jobs.opening import open_stack
from profilestack.jobs.target import Laying, TargetReport, TargetRequest, make_target
from profilestack.stack import Blank, PathTarget, Rectangle, Round, Stack
from profilestack.targets.choosing import SeveralChains
from tests.unit.files.targets.drawings import dxf_bytes, new_dxf
from tests.unit.targets.profiles import farthest

CROWN = shipped_examples_dir() / "cornice" / "crown.stack.toml"
NEAR = 0.005


def exported(path: FilePath, **other: object) -> tuple[Stack, FilePath]:
    opened = open_stack(CROWN, ())
    export(ExportOrder(opened.stack, opened.bits, path, **{"units": "mm", **other}))  # type: ignore[arg-type]
    return opened.stack, path


def path_of(stack: Stack) -> Path:
    assert stack.target is not None
    return stack.target.path()


def apart(one: Path, two: Path) -> float:
    """How far two paths lie apart at most, looked at from both, and from end to end [mm]."""
    ends = np.abs(np.array([one.start, one.end]) - np.array([two.start, two.end])).max()
    return max(farthest(one.flatten(0.01), two), farthest(two.flatten(0.01), one), float(ends))


@pytest.mark.parametrize(
    ("name", "other"),
    [
        ("crown.dxf", {}),
        ("crown.dxf", {"version": "R2000"}),
        ("crown.dxf", {"units": "in"}),
        ("crown.dxf", {"show": "section"}),
        ("crown.dxf", {"polylines": True}),
        ("crown.svg", {}),
    ],
)
def test_the_crown_comes_back(name: str, other: dict[str, object], tmp_path: FilePath) -> None:
    stack, file = exported(tmp_path / name, **other)
    report = make_target(TargetRequest(file))
    assert apart(path_of(report.stack), path_of(stack)) < NEAR
    stock = report.stack.blank.stock
    assert isinstance(stock, Rectangle)
    assert (stock.width, stock.thickness) == pytest.approx((84.0, 20.0), abs=NEAR)
    told = "\n".join(report.notes)
    assert "layer TARGET was taken as the profile, and all other layers were left out" in told
    assert "its blank is that of layer BLANK" in told
    assert "was led on" not in told


def test_a_drawing_without_units_is_only_asked_for_them(tmp_path: FilePath) -> None:
    stack, file = exported(tmp_path / "crown.dxf", version="R12")
    with pytest.raises(InputError, match="does not say its units"):
        make_target(TargetRequest(file))
    report = make_target(TargetRequest(file, reading=ReadingWishes(units="mm")))
    assert apart(path_of(report.stack), path_of(stack)) < NEAR


def test_what_is_asked_for_goes_before(tmp_path: FilePath) -> None:
    _, file = exported(tmp_path / "crown.dxf")
    section = make_target(TargetRequest(file, reading=ReadingWishes(layers=("SECTION",))))
    assert path_of(section.stack).is_closed
    assert "TARGET" not in "\n".join(section.notes)
    longest = make_target(TargetRequest(file, pick="longest"))
    assert path_of(longest.stack).is_closed
    assert longest.stack.blank.stock == Rectangle(84.0, 2400.0)  # the plan
    with pytest.raises(InputError, match="falls into"):
        make_target(TargetRequest(file, reading=ReadingWishes(layers=("TARGET", "CHECK"))))


def test_another_blank_that_is_asked_for_goes_before(tmp_path: FilePath) -> None:
    _, file = exported(tmp_path / "crown.dxf")
    for laying in (Laying(own_blank=False), Laying(margin=8.0)):
        report = make_target(TargetRequest(file, laying=laying))
        stock = report.stack.blank.stock
        assert isinstance(stock, Rectangle)
        assert stock.thickness == pytest.approx(20.0 + 8.0, abs=1e-3)
        assert "BLANK" not in "\n".join(report.notes)
    wide = make_target(TargetRequest(file, laying=Laying(width=90.0, thickness=30.0)))
    assert wide.stack.blank.stock == Rectangle(90.0, 30.0)


def test_mirrored_and_scaled_with_its_blank(tmp_path: FilePath) -> None:
    stack, file = exported(tmp_path / "crown.dxf")
    report = make_target(TargetRequest(file, laying=Laying(mirror=True, scale=0.5)))
    assert report.stack.blank.stock == Rectangle(42.0, 10.0)
    back = path_of(report.stack)
    points = back.flatten(0.01) * 2.0
    points[:, 0] = 84.0 - points[:, 0]
    assert farthest(points, path_of(stack)) < NEAR


def drawn(tmp_path: FilePath, *layers: tuple[str, Path]) -> FilePath:
    """A drawing of paths, each on its layer."""
    drawing = new_dxf()
    for layer, path in layers:
        drawing.modelspace().add_lwpolyline(
            path.flatten(0.01).tolist(), close=path.is_closed, dxfattribs={"layer": layer}
        )
    file = tmp_path / "drawn.dxf"
    file.write_bytes(dxf_bytes(drawing))
    return file


def board(width: float, thickness: float) -> Path:
    around = Path((0.0, 0.0)).line((width, 0.0)).line((width, thickness)).line((0.0, thickness))
    return around.line((0.0, 0.0))


STEP = Path((0.0, 20.0)).line((20.0, 20.0)).line((20.0, 12.0)).line((50.0, 12.0))
AWAY = Path((0.0, 90.0)).line((50.0, 90.0))


def notes_of(report: TargetReport) -> str:
    return "\n".join(report.notes)


def test_two_chains_on_the_layer_are_asked_about(tmp_path: FilePath) -> None:
    file = drawn(
        tmp_path, ("TARGET", STEP), ("TARGET", AWAY), ("OTHER", move(0.0, 200.0).apply_to(AWAY))
    )
    with pytest.raises(SeveralChains) as caught:
        make_target(TargetRequest(file))
    assert len(caught.value.chains) == 3
    assert str(file) in str(caught.value)
    picked = make_target(TargetRequest(file, pick=1))
    assert [chain.length for chain in picked.chains] == pytest.approx([58.0, 50.0, 50.0])


def test_a_layer_is_known_in_small_letters_and_one_chain_needs_no_word(tmp_path: FilePath) -> None:
    file = drawn(tmp_path, ("Target", STEP), ("notes", AWAY))
    assert "layer TARGET was taken" in notes_of(make_target(TargetRequest(file)))
    alone = make_target(TargetRequest(drawn(tmp_path, ("Target", STEP))))
    assert "TARGET" not in notes_of(alone)


def test_lines_of_other_layers_that_meet_it_do_not_matter(tmp_path: FilePath) -> None:
    rays = [Path(STEP.end).line((90.0, z)) for z in (0.0, 30.0)]
    file = drawn(tmp_path, ("TARGET", STEP), *(("RAYS", ray) for ray in rays))
    report = make_target(TargetRequest(file))
    assert path_of(report.stack).length == pytest.approx(STEP.length)


@pytest.mark.parametrize(
    "blank",
    [
        turn(45.0).then(move(20.0, -20.0)).apply_to(board(80.0, 80.0)),  # it stands on a corner
        move(5.0, 0.0).apply_to(board(84.0, 45.0)),  # the profile leaves it
        Path((-15.0, 20.0)).arc((-15.0, 20.0), (30.0, 20.0), "cw"),
    ],
)
def test_a_blank_that_is_no_board_round_the_profile_is_told(
    blank: Path, tmp_path: FilePath
) -> None:
    report = make_target(TargetRequest(drawn(tmp_path, ("TARGET", STEP), ("BLANK", blank))))
    assert report.stack.blank.stock == Rectangle(50.0, 8.0 + 8.0)
    assert "layer BLANK holds no board round the profile" in notes_of(report)


def test_a_board_away_from_the_origin_is_taken_with_its_profile(tmp_path: FilePath) -> None:
    away = move(30.0, -7.0)
    layers = [("TARGET", away.apply_to(STEP)), ("BLANK", away.apply_to(board(50.0, 20.0)))]
    report = make_target(TargetRequest(drawn(tmp_path, *layers)))
    assert report.stack.blank == Blank(Rectangle(50.0, 20.0))
    assert report.stack.target == PathTarget(STEP)


def test_a_round_blank_is_no_board(tmp_path: FilePath) -> None:
    opened = open_stack(CROWN, ())
    stack = replace(opened.stack, blank=Blank(Round(84.0)), target=PathTarget(
        Path((0.0, 42.0)).line((84.0, 42.0))), passes=())  # fmt: skip
    file = tmp_path / "round.dxf"
    export(ExportOrder(stack, {}, file, "mm"))
    report = make_target(TargetRequest(file))
    assert path_of(report.stack).length == pytest.approx(84.0)
    assert isinstance(report.stack.blank.stock, Rectangle)


def test_a_stack_may_follow_such_a_drawing(tmp_path: FilePath) -> None:
    stack, _ = exported(tmp_path / "crown.dxf")
    text = (
        'format = "profilestack-stack/1"\nunits = "mm"\n[blank]\nwidth = 84\nthickness = 20\n'
        '[run]\nkind = "straight"\nlength = 9\n[target]\nfile = "crown.dxf"\n'
    )
    followed = read_stack_text(text, str(tmp_path / "follows.stack.toml"))
    assert apart(path_of(followed), path_of(stack)) < NEAR
