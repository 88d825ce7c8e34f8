"""``measure``: points and readings through the door, corrected settings out of it."""

from __future__ import annotations

import numpy as np
import pytest

from profilestack.files.stack_file import read_stack
from tests.unit.cli.calling import BOARD, Call, Folder

RADIUS, DEEPER, RIGHT = 10.0, 0.15, 0.20


@pytest.fixture
def board(folder: Folder) -> str:
    return folder.write("board.stack.toml", BOARD)


@pytest.fixture
def points(folder: Folder) -> str:
    """The hollow cut too deep and too far to the right, and the face on both sides of it."""
    angles = np.radians(np.arange(188.0, 353.0, 3.0))
    arc = np.column_stack((np.cos(angles), np.sin(angles))) * RADIUS + (30.0 + RIGHT, 30.0 - DEEPER)
    face = [(x, 30.0) for x in (2.0, 10.0, 50.0, 58.0)]
    rows = [f"{x:.4f},{z:.4f}" for x, z in [*face, *arc.tolist()]]
    return folder.write("points.csv", "\n".join(["x_mm,z_mm", *rows]) + "\n")


def test_points_are_explained_and_settings_written(
    board: str, points: str, folder: Folder, call: Call
) -> None:
    answer = call("measure", board, points, "--true-to", "0.01 mm", "-o", "new.stack.toml")
    assert answer.code == 0, answer.err
    words = " ".join(answer.out.split())
    assert "+0.20 +- 0.00 29.80 +0.15 +- 0.00 9.85" in words
    assert "corrected settings written" in answer.err
    single = read_stack(folder.path / "new.stack.toml").passes[0]
    assert single.offset == pytest.approx(30.0 - RIGHT, abs=0.005)
    assert single.depth == pytest.approx(10.0 - DEEPER, abs=0.005)
    assert all(len(line) <= 80 for line in answer.out.splitlines())


def test_json_has_the_same(board: str, points: str, call: Call) -> None:
    answer = call("measure", board, points, "--true-to", "0.01", "--json").json
    assert answer["format"] == "profilestack-measure/1"
    found = {each["kind"]: each for each in answer["found"]}
    assert found["offset"]["error"] == pytest.approx(RIGHT, abs=0.005)
    assert found["depth"]["error"] == pytest.approx(DEEPER, abs=0.005)
    assert found["offset"]["told"]
    assert answer["corrected"][0]["offset"] == pytest.approx(29.8, abs=0.005)
    assert answer["outlying"] == []


def test_check_dimensions_are_listed_then_read(board: str, folder: Folder, call: Call) -> None:
    listed = call("measure", board)
    assert listed.code == 0
    assert "height above the bed" in listed.out
    checks = call("measure", board, "--json").json["checks"]
    deeper = [
        f"{check['number']},{check['nominal'] - 0.1:.3f}"
        for check in checks
        if check["kind"] == "height"
    ]
    assert deeper
    folder.write("read.csv", "\n".join(["check,measured_mm", *deeper]) + "\n")
    answer = call("measure", board, "read.csv", "--json").json
    depth = next(each for each in answer["found"] if each["kind"] == "depth")
    assert depth["error"] == pytest.approx(0.1, abs=0.03)
    for check in answer["checks"]:
        assert check["measured"] == pytest.approx(check["nominal"] - 0.1, abs=6e-4)


def test_a_splinter_ends_with_one(board: str, points: str, folder: Folder, call: Call) -> None:
    folder.write("more.csv", (folder.path / points).read_text(encoding="utf-8") + "30.0,21.5\n")
    answer = call("measure", board, "more.csv", "--true-to", "0.01")
    assert answer.code == 1
    assert "explained by nothing" in answer.out


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ("check,measured_mm\n99,5\n", "check 99"),
        ("check,measured_mm\n1,90\n", "where about"),
        ("x_mm,z_mm\n500,500\n510,500\n", "lower left"),
        ("x,z\n1,2\n3,4\n", "mm or inches"),
    ],
)
def test_what_is_no_measurement_of_this_part_is_refused(
    board: str, rows: str, told: str, folder: Folder, call: Call
) -> None:
    folder.write("rows.csv", rows)
    answer = call("measure", board, "rows.csv")
    assert answer.code == 2
    assert told in answer.err


def test_nothing_measured_corrects_nothing(board: str, folder: Folder, call: Call) -> None:
    answer = call("measure", board, "-o", "new.stack.toml")
    assert answer.code == 2
    assert "new.stack.toml" not in folder.names()
