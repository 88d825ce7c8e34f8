"""Exports as jobs: from a stack to files."""

from __future__ import annotations

from pathlib import Path

import pytest

from profilestack.cutting.cut import cut_stack
from profilestack.errors import FileError, InputError
from profilestack.files.shipped import shipped_examples_dir
from profilestack.jobs.export import export, kind_of
from profilestack.jobs.exports import EXPORTS
from profilestack.jobs.exports.order import ExportOrder
from profilestack.jobs.opening import open_stack
from profilestack.planning.toolpath.programs import programs_of
from profilestack.stack import Setup, StraightRun
from tests.shop import core_box, stack_of, straight, vee
from tests.simulated import largest_distance, section_after


def order(path: Path, **other) -> ExportOrder:
    stack, bits = stack_of(
        (straight(12.0), 20.0, 5.0), (vee(20.0, 90.0, 0.5), 40.0, 4.0, {"setup": "a/../b"}),
        run=StraightRun(800.0), setups=(Setup("a/../b", 180.0),), title="../../etc/x",
    )  # fmt: skip
    return ExportOrder(stack, bits, path, "mm", libraries=("@small-shop",), **other)


@pytest.mark.parametrize("suffix", EXPORTS)
def test_every_kind_is_written_and_told(suffix: str, tmp_path: Path):
    done = export(order(tmp_path / f"out{suffix.upper()}"))
    assert done.files
    for each in done.files:
        assert each.size == len(each.path.read_bytes()) > 0
        assert each.about
    assert {each.path for each in done.files} == set(tmp_path.iterdir())


@pytest.mark.parametrize("suffix", EXPORTS)
def test_files_that_are_there_stay_unless_forced(suffix: str, tmp_path: Path):
    first = export(order(tmp_path / f"out{suffix}"))
    for each in first.files:
        each.path.write_bytes(b"mine")
    with pytest.raises(InputError, match=r"there already.*--force to write over"):
        export(order(tmp_path / f"out{suffix}"))
    assert all(each.path.read_bytes() == b"mine" for each in first.files)
    again = export(order(tmp_path / f"out{suffix}", force=True))
    assert [each.path for each in again.files] == [each.path for each in first.files]
    assert not any(each.path.read_bytes() == b"mine" for each in first.files)
    assert not list(tmp_path.glob("*.bak"))


def test_one_of_several_files_that_is_there_stops_all(tmp_path: Path):
    first = export(order(tmp_path / "out.nc"))
    assert len(first.files) == 2
    first.files[0].path.unlink()
    first.files[1].path.write_bytes(b"mine")
    with pytest.raises(InputError, match="there already"):
        export(order(tmp_path / "out.nc"))
    assert not first.files[0].path.exists()


def test_names_from_the_document_are_no_paths(tmp_path: Path):
    done = export(order(tmp_path / "out.nc", per_bit=True))
    names = [each.path.name for each in done.files]
    assert all(each.path.parent == tmp_path for each in done.files)
    assert sorted(names) == ["out-1-face-straight-12.nc", "out-2-a-b-vee-90.nc"]


def test_long_names_are_cut(tmp_path: Path):
    long = "x" * 300
    stack, bits = stack_of(
        (straight(12.0), 20.0, 5.0), (vee(20.0, 90.0, 0.5), 40.0, 4.0, {"setup": long}),
        run=StraightRun(800.0), setups=(Setup(long, 180.0),), title="y" * 300,
    )  # fmt: skip
    done = export(ExportOrder(stack, bits, tmp_path / "out.nc", "mm", ("@small-shop",)))
    assert max(len(each.path.name) for each in done.files) < 64


@pytest.mark.parametrize(
    ("name", "told"),
    [("out.dx", "did you mean '.dxf'"), ("out", "one of .dxf"), ("x.tap", "one of .dxf")],
)
def test_unknown_endings_are_refused(name: str, told: str, tmp_path: Path):
    with pytest.raises(InputError, match=told):
        kind_of(tmp_path / name)
    with pytest.raises(InputError, match=told):
        export(order(tmp_path / name))
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told(tmp_path: Path):
    with pytest.raises(FileError, match="its folder is not there"):
        export(order(tmp_path / "gone" / "out.dxf"))


def test_code_is_refused_while_a_caution_says_stop(tmp_path: Path):
    groove = core_box(12.0, edge=6.0, shank=16.0)  # its shank rubs in the groove
    stack, bits = stack_of((groove, 30.0, 12.0), run=StraightRun(800.0))
    done = export(ExportOrder(stack, bits, tmp_path / "out.nc", "mm", ("@small-shop",)))
    assert done.files == ()
    assert not done.is_good
    assert "pass 1, shank-rubs: " in done.refused
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "name", ["cornice/crown", "cornice/bow", "base/cap", "base/plinth", "shelf-rail/rail"]
)
def test_the_examples_come_out_of_the_simulator_as_planned(name: str, tmp_path: Path):
    opened = open_stack(shipped_examples_dir() / f"{name}.stack.toml", ("@small-shop",))
    done = export(
        ExportOrder(opened.stack, opened.bits, tmp_path / "out.nc", "mm", ("@small-shop",))
    )
    assert not done.refused
    assert done.plan is not None
    programs = programs_of(done.plan)
    codes = [each.path.read_bytes() for each in done.files]
    left = section_after(done.plan.stack, programs, codes)
    bits = {step.bit.id: step.bit for step in done.plan.steps}
    wanted = cut_stack(done.plan.stack, bits, 1e-5).section
    # rounded to 0.0001 mm, and turned by a tipped setup; an arris of 45 degrees moves by more
    assert left.symmetric_difference(wanted).area <= 0.00015 * wanted.boundary.length
    assert largest_distance(left, wanted) <= 0.0005
