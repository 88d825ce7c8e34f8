from __future__ import annotations

import math
from pathlib import Path as FilePath

import numpy as np
import pytest

from profilestack.errors import FileError, InputError
from profilestack.files.targets import PictureWishes, ReadingWishes
from profilestack.geometry.extent import box_of
from profilestack.geometry.motion import move, turn
from profilestack.geometry.path import Arc, Line, Path
from profilestack.jobs.target import Corrections, Laying, TargetReport, TargetRequest, make_target
from profilestack.stack import PathTarget, Rectangle
from profilestack.targets.rows import Corner
from tests.unit.files.targets.drawings import dxf_bytes, dxf_of_pieces, new_dxf, svg
from tests.unit.files.targets.pictures import encoded, picture
from tests.unit.targets.profiles import SECTION, STEPPED, farthest, sampled, scattered


def write_points(path: FilePath, points: np.ndarray, head: str = "x_mm,z_mm") -> FilePath:
    rows = "".join(f"{x:.4f},{z:.4f}\n" for x, z in points.tolist())
    path.write_text(f"{head}\n{rows}")
    return path


@pytest.fixture
def csv(tmp_path: FilePath) -> FilePath:
    return write_points(tmp_path / "gauge.csv", sampled(STEPPED, 0.3))


@pytest.fixture
def dxf(tmp_path: FilePath) -> FilePath:
    path = tmp_path / "profile.dxf"
    path.write_bytes(dxf_of_pieces(STEPPED, "R2010"))
    return path


def target_of(report: TargetReport) -> Path:
    target = report.stack.target
    assert isinstance(target, PathTarget)
    return target.typed


def size(report: TargetReport) -> tuple[float, float]:
    stock = report.stack.blank.stock
    assert isinstance(stock, Rectangle)
    return (stock.width, stock.thickness)


def test_measured_points_become_a_stack(csv: FilePath) -> None:
    report = make_target(TargetRequest(csv))
    path = target_of(report)
    assert [type(piece) for piece in path.segments] == [type(p) for p in STEPPED.segments]
    # against the left side and the top, 8 mm of wood below
    assert size(report) == pytest.approx((70.0, 48.0), abs=1e-3)
    assert farthest(path.flatten(0.1), move(0.0, 3.0).apply_to(STEPPED)) < 2e-3
    assert (report.before, report.after) == (len(sampled(STEPPED, 0.3)) - 1, 6)
    assert report.deviation.largest < 2e-3
    assert report.tolerance == 0.05
    assert report.is_good
    assert report.stack.title == "gauge"
    assert report.stack.units == "mm"
    assert report.average is None


def test_a_drawing_s_arcs_and_round_numbers_stay(dxf: FilePath) -> None:
    path = target_of(make_target(TargetRequest(dxf)))
    arcs = [piece for piece in path.segments if isinstance(piece, Arc)]
    assert [arc.center for arc in arcs] == [
        pytest.approx(center, abs=1e-12) for center in ((10.0, 28.0), (50.0, 28.0), (50.0, 8.0))
    ]
    corners = [path.start, *(step.to for step in path.steps)]
    assert corners[:3] == [(0.0, 48.0), (10.0, 48.0), (30.0, 28.0)]


def test_a_closed_section_fills_its_blank(tmp_path: FilePath) -> None:
    (tmp_path / "s.dxf").write_bytes(dxf_of_pieces(SECTION, "R2010"))
    report = make_target(TargetRequest(tmp_path / "s.dxf"))
    target = report.stack.target
    assert target is not None
    assert target.closed
    assert size(report) == (70.0, 45.0)
    assert target_of(report).signed_area == pytest.approx(-abs(SECTION.signed_area))


def test_a_scan_becomes_a_section(tmp_path: FilePath) -> None:
    (tmp_path / "scan.png").write_bytes(encoded(picture(SECTION), dpi=(300, 300)))
    report = make_target(TargetRequest(tmp_path / "scan.png"))
    assert size(report) == pytest.approx((70.0, 45.0), abs=0.1)
    assert report.after == len(SECTION.steps)


def test_corrections_are_taken_off(tmp_path: FilePath) -> None:
    """A scanner that stretches x by 2 % and shrinks z by 1 %, over a piece that lay askew, would
    give these points; taking both off in the order in which they came gives the profile."""
    askew = np.array([turn(2.0).apply((x, z)) for x, z in sampled(STEPPED, 0.3).tolist()])
    file = write_points(tmp_path / "a.csv", askew * np.array([1.02, 0.99]))
    off = Corrections(across=1.0 / 1.02, up=1.0 / 0.99, tilt=2.0)
    report = make_target(TargetRequest(file, corrections=off))
    assert farthest(target_of(report).flatten(0.1), move(0.0, 3.0).apply_to(STEPPED)) < 3e-3


def test_paint_is_taken_off_the_wood(dxf: FilePath) -> None:
    report = make_target(TargetRequest(dxf, corrections=Corrections(paint=0.5)))
    arcs = [piece for piece in target_of(report).segments if isinstance(piece, Arc)]
    # rounds of wood lose the paint, hollows gain it
    assert [arc.radius for arc in arcs] == pytest.approx([19.5, 10.5, 9.5])
    thicker = make_target(TargetRequest(dxf, corrections=Corrections(paint=-0.5)))
    arcs = [piece for piece in target_of(thicker).segments if isinstance(piece, Arc)]
    assert [arc.radius for arc in arcs] == pytest.approx([20.5, 9.5, 10.5])


def test_laid_into_a_blank_that_is_there(dxf: FilePath) -> None:
    laying = Laying(at=(4.0, 2.0), width=90.0, thickness=50.0)
    report = make_target(TargetRequest(dxf, laying=laying))
    path = target_of(report)
    assert size(report) == (90.0, 50.0)
    assert path.start == (0.0, 47.0)
    assert path.end == (90.0, 7.0)
    assert report.notes == (
        "its start was led on level by 4.00 mm to the blank's side",
        "its end was led on level by 16.00 mm to the blank's side",
    )


def test_mirrored_scaled_and_turned(dxf: FilePath) -> None:
    mirrored = target_of(make_target(TargetRequest(dxf, laying=Laying(mirror=True))))
    assert mirrored.start == pytest.approx((0.0, 8.0))
    assert mirrored.end == pytest.approx((70.0, 48.0))
    half = make_target(TargetRequest(dxf, laying=Laying(scale=0.5)))
    assert size(half) == pytest.approx((35.0, 20.0 + 8.0))
    turned = make_target(TargetRequest(dxf, laying=Laying(rotation=90.0, wood="left", margin=5.0)))
    assert size(turned) == pytest.approx((40.0 + 5.0, 70.0))


def test_the_wood_can_be_at_the_left(tmp_path: FilePath) -> None:
    hung = Path((15.0, 62.0)).line((15.0, 50.0)).arc((35.0, 30.0), (35.0, 50.0), "ccw")
    hung = hung.line((35.0, 0.0)).reversed()
    (tmp_path / "crown.dxf").write_bytes(dxf_of_pieces(hung, "R2010"))
    report = make_target(
        TargetRequest(tmp_path / "crown.dxf", laying=Laying(wood="left", margin=12.0))
    )
    path = target_of(report)
    assert path.start == pytest.approx((12.0, 62.0))
    assert path.end == pytest.approx((32.0, 0.0))
    assert size(report) == pytest.approx((32.0, 62.0))
    other = make_target(TargetRequest(tmp_path / "crown.dxf", laying=Laying(wood="right")))
    assert target_of(other).start == pytest.approx((20.0, 0.0))


def test_slices_in_files_are_averaged(tmp_path: FilePath) -> None:
    files = []
    for k in range(4):
        points = scattered(sampled(move(3.0 * k, k).apply_to(STEPPED), 0.3), 0.04, seed=k)
        files.append(write_points(tmp_path / f"{k}.csv", points))
    report = make_target(TargetRequest(files[0], tuple(files[1:]), tolerance=0.12))
    assert report.average is not None
    assert len(report.average.moves) == 4
    assert report.average.rms == pytest.approx(0.04, rel=0.4)
    assert report.after == 6
    assert farthest(target_of(report).flatten(0.2), move(0.0, 3.0).apply_to(STEPPED)) < 0.1


def test_slices_in_one_file_are_averaged(tmp_path: FilePath) -> None:
    file = tmp_path / "a.csv"
    rows = [
        "".join(f"{x:.4f},{z:.4f}\n" for x, z in scattered(sampled(STEPPED, 0.3), 0.04, k).tolist())
        for k in range(3)
    ]
    file.write_text("x_mm,z_mm\n" + "\n".join(rows))
    report = make_target(TargetRequest(file, average=True, tolerance=0.12))
    assert report.average is not None
    assert report.after == 6
    with pytest.raises(InputError, match="falls into 3 chains"):
        make_target(TargetRequest(file, tolerance=0.12))


def test_chains_are_joined_within_the_gap_and_picked(tmp_path: FilePath) -> None:
    drawing = new_dxf()
    space = drawing.modelspace()
    space.add_line((0, 20), (30, 20))
    space.add_line((30.3, 20), (50, 10))
    space.add_line((0, 90), (5, 90))
    file = tmp_path / "a.dxf"
    file.write_bytes(dxf_bytes(drawing))
    with pytest.raises(InputError) as caught:
        make_target(TargetRequest(file))
    assert "falls into 3 chains" in str(caught.value)
    assert str(file) in str(caught.value)
    report = make_target(TargetRequest(file, gap=0.5, pick="longest"))
    assert "gaps up to 0.300 mm were closed" in report.notes
    assert "1 other chain is left out" in report.notes
    corners = [report.fitted.start, *(step.to for step in report.fitted.steps)]
    assert corners[1] == pytest.approx((30.15, 10.0 + 8.0))


def test_corners_are_meant_in_the_file_s_own_place(tmp_path: FilePath) -> None:
    rounded = Path((0.0, 10.0)).line((9.0, 10.0)).arc((10.0, 9.0), (9.0, 9.0), "cw")
    rounded = rounded.line((10.0, 2.0)).line((25.0, 2.0))
    file = write_points(tmp_path / "a.csv", sampled(rounded, 0.1))
    laying = Laying(scale=2.0, mirror=True)
    corners = (Corner((10.0, 10.0), 1.2),)
    report = make_target(TargetRequest(file, corners=corners, laying=laying))
    assert all(isinstance(piece, Line) for piece in report.fitted.segments)
    assert report.after == 3


def test_a_tolerance_below_the_scatter_is_told(tmp_path: FilePath) -> None:
    file = write_points(tmp_path / "a.csv", scattered(sampled(STEPPED, 0.5), 0.1))
    report = make_target(TargetRequest(file, tolerance=0.01))
    assert any("the points scatter more than the tolerance" in note for note in report.notes)
    assert report.deviation.largest <= 0.01


def test_units_title_and_length_of_the_new_stack(tmp_path: FilePath) -> None:
    file = tmp_path / "x\u202e\t.svg"
    file.write_bytes(svg('<path d="M0 0H50L60 20"/>', 'width="4in" viewBox="0 0 101.6 50.8"'))
    report = make_target(TargetRequest(file, length=500.0))
    assert report.stack.units == "in"
    assert report.stack.title == "x"
    assert report.stack.run.volume(2.0, (0.0, 0.0)) == pytest.approx(1000.0)
    named = make_target(TargetRequest(file, title="Crown", units="mm"))
    assert (named.stack.title, named.stack.units) == ("Crown", "mm")


def test_readers_get_the_wishes(tmp_path: FilePath) -> None:
    (tmp_path / "scan.png").write_bytes(encoded(picture(SECTION, 200)))
    wishes = ReadingWishes(picture=PictureWishes(across=35.0))
    report = make_target(TargetRequest(tmp_path / "scan.png", reading=wishes))
    assert size(report)[0] == pytest.approx(35.0, abs=0.05)


def test_what_cannot_lie_in_the_blank_is_refused(dxf: FilePath) -> None:
    with pytest.raises(InputError, match="leaves the blank"):
        make_target(TargetRequest(dxf, laying=Laying(width=50.0, thickness=60.0)))
    with pytest.raises(FileError, match="no such file"):
        make_target(TargetRequest(dxf.with_name("gone.dxf")))


def test_every_impossible_value_is_told_at_once() -> None:
    with pytest.raises(InputError) as caught:
        TargetRequest(
            FilePath("a.dxf"),
            gap=-1.0,
            corrections=Corrections(across=0.0, up=math.nan, tilt=200.0, paint=math.inf),
            laying=Laying(scale=0.0, rotation=math.nan, width=-1.0, margin=-1.0, wood="under"),  # type: ignore[arg-type]
            corners=(Corner((math.nan, 0.0)),),
            length=0.0,
        )
    told = [problem.where for problem in caught.value.problems]
    assert told == [
        "gap", "scale-x", "scale-z", "tilt", "paint", "width", "margin", "length", "scale",
        "rotation", "wood", "corner",
    ]  # fmt: skip


def test_tracing_and_fit_lie_where_the_target_does(csv: FilePath) -> None:
    report = make_target(TargetRequest(csv, laying=Laying(width=80.0, thickness=60.0)))
    box = box_of(report.fitted)
    assert (box.left, box.top) == pytest.approx((0.0, 60.0), abs=1e-6)
    assert farthest(report.traced.flatten()[::10], report.fitted) <= report.deviation.points + 1e-6
