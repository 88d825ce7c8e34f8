"""``profilestack target`` as its users meet it."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from profilestack.files.stack_file import read_stack
from profilestack.jobs import target_picture
from tests.unit.cli.calling import Call, Folder
from tests.unit.files.targets.drawings import dxf_of_pieces
from tests.unit.targets.profiles import STEPPED, sampled

INCH = 25.4


@pytest.fixture
def csv(folder: Folder) -> str:
    rows = "".join(f"{x:.4f},{z:.4f}\n" for x, z in sampled(STEPPED, 0.3).tolist())
    return folder.write("gauge.csv", "x_mm,z_mm\n" + rows)


def test_a_stack_and_a_picture_are_written(call: Call, csv: str, folder: Folder) -> None:
    answer = call("target", csv, "-o", "new.stack.toml", "--plot", "look.png")
    assert answer.code == 0
    assert answer.err == ""
    assert "6 pieces (3 straight, 3 round) for" in answer.out
    assert "largest deviation 0.00" in answer.out
    assert "of 0.050 mm allowed" in answer.out
    assert "blank 70 mm x 48 mm" in answer.out
    assert "Written: new.stack.toml." in answer.out
    assert read_stack(folder.path / "new.stack.toml").target is not None
    assert (folder.path / "look.png").read_bytes().startswith(b"\x89PNG")
    assert all(len(line) <= 80 for line in answer.out.splitlines())


def test_without_a_name_nothing_is_written(call: Call, csv: str, folder: Folder) -> None:
    answer = call("target", csv)
    assert answer.code == 0
    assert "Nothing was written: say -o NEW.stack.toml." in answer.out
    assert folder.names() == {"gauge.csv"}


def test_json(call: Call, csv: str) -> None:
    answer = call("target", csv, "-o", "new.stack.toml", "--json").json
    assert answer["format"] == "profilestack-target/1"
    assert answer["file"] == "new.stack.toml"
    assert answer["blank"] == {"width": pytest.approx(70.0), "thickness": pytest.approx(48.0)}
    assert answer["pieces"]["after"] == 6
    assert answer["pieces"]["lines"] == answer["pieces"]["arcs"] == 3
    assert answer["deviation"]["largest"] <= answer["tolerance"] == 0.05
    assert answer["slices"] is None
    assert answer["closed"] is False


def test_a_file_without_units_is_refused_until_they_are_said(call: Call, folder: Folder) -> None:
    folder.write("a.csv", "0,1\n2,1\n3,0\n")
    answer = call("target", "a.csv", "-o", "new.stack.toml")
    assert answer.code == 2
    assert answer.out == ""
    assert "--units-of-file mm or in" in answer.err
    assert folder.names() == {"a.csv"}
    answer = call("target", "a.csv", "-o", "new.stack.toml", "--units-of-file", "in")
    assert answer.code == 0
    table = tomllib.loads((folder.path / "new.stack.toml").read_text())
    assert table["units"] == "in"
    assert table["blank"]["width"] == 3


def test_the_same_of_a_drawing(call: Call, folder: Folder) -> None:
    (folder.path / "old.dxf").write_bytes(dxf_of_pieces(STEPPED, "R12"))
    answer = call("target", "old.dxf", "-o", "new.stack.toml")
    assert answer.code == 2
    assert "$INSUNITS is absent or 0" in answer.err
    assert folder.names() == {"old.dxf"}
    assert call("target", "old.dxf", "-o", "n.stack.toml", "--units-of-file", "mm").code == 0


def test_bare_lengths_are_in_the_units_of_the_file(call: Call, folder: Folder) -> None:
    folder.write("a.csv", "x_in,z_in\n0,1\n2,1\n3,0.5\n")
    answer = call("target", "a.csv", "--width", "4", "--thickness", "1 1/2", "--json").json
    assert answer["blank"]["width"] == pytest.approx(4.0 * INCH)
    assert answer["blank"]["thickness"] == pytest.approx(1.5 * INCH)
    answer = call("target", "a.csv", "--units", "mm", "--width", "101.6", "--json").json
    assert answer["blank"]["width"] == pytest.approx(101.6)
    answer = call("target", "a.csv", "--width", "10 cm", "--json").json
    assert answer["blank"]["width"] == pytest.approx(100.0)


def test_places_and_slices(call: Call, csv: str, folder: Folder) -> None:
    folder.write("second.csv", (folder.path / csv).read_text())
    answer = call(
        "target", csv, "--slice", "second.csv", "--at", "-1/2 mm", "3", "--width", "69",
        "--thickness", "48", "--json",
    )  # fmt: skip
    assert answer.code == 2  # half a millimetre of it would lie outside
    assert "leaves the blank by 0.500 mm" in answer.err
    answer = call("target", csv, "--slice", "second.csv", "--at", "0", "3", "--json")
    assert answer.json["slices"]["count"] == 2
    text = call("target", csv, "--slice", "second.csv").out
    assert "mean of 2 slices" in text


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--columns", "1"), "columns: '1' names 1; expected two, as 1,3 or x,z"),
        (("--tolerance", "0"), "tolerance: 0.0 is impossible"),
        (("--tolerance", "fine"), "tolerance: 'fine' is not a length"),
        (("--scale-x", "nan"), "scale-x: nan is impossible"),
        (("--pick", "middle"), "pick: 'middle' names no chain"),
        (("--points", "0", "0", "9", "9"), "one of points and distance is missing"),
        (("--wood", "inside"), "invalid choice: 'inside'"),
        (("--plot", "look.gif"), "ends in no known kind of picture"),
        (("-o", "new.png"), "is the name of a picture"),
        (("-o", "gauge.csv"), "is the file read"),
        (("--plot", "x/look.png"), "look.png"),
        (("-o", "x/new.stack.toml"), "new.stack.toml"),
    ],
)
def test_wrong_calls_end_with_2_and_write_nothing(
    call: Call, csv: str, folder: Folder, words: tuple[str, ...], told: str
) -> None:
    out = () if "-o" in words else ("-o", "new.stack.toml")
    answer = call("target", csv, *out, *words)
    assert answer.code == 2
    assert told in answer.err
    assert folder.names() == {"gauge.csv"}


def test_a_picture_that_cannot_be_saved_leaves_no_stack(
    call: Call, csv: str, folder: Folder, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(path: Path, data: bytes, **more: object) -> None:
        from profilestack.errors import FileError

        raise FileError(f"{path}: was not saved: the disk is full")

    monkeypatch.setattr(target_picture, "save_bytes", fail)
    answer = call("target", csv, "-o", "new.stack.toml", "--plot", "look.png")
    assert answer.code == 2
    assert "the disk is full" in answer.err
    assert folder.names() == {"gauge.csv"}


def test_a_stack_that_is_there_is_replaced_whole_and_kept_beside(
    call: Call, csv: str, folder: Folder
) -> None:
    folder.write("new.stack.toml", "old")
    assert call("target", csv, "-o", "new.stack.toml").code == 0
    assert (folder.path / "new.stack.toml.bak").read_text() == "old"


def test_the_new_stack_can_be_cut(call: Call, csv: str) -> None:
    assert call("target", csv, "-o", "new.stack.toml").code == 0
    answer = call("cut", "new.stack.toml", "--json")
    assert answer.code == 1  # nothing is cut yet: all of it stands proud
    assert answer.json["comparison"]["overcut"]["max"] < 1e-6


def test_the_help_names_every_source(call: Call) -> None:
    answer = call("target", "--help")
    assert answer.code == 0
    for word in ("CSV", "DXF", "SVG", "PNG", "--units-of-file", "--plot", "--corner", "--paint"):
        assert word in answer.out
