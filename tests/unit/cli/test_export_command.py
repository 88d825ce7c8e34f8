"""``profilestack export`` as it is called."""

from __future__ import annotations

import os

import ezdxf
import pytest
from pypdf import PdfReader

from tests.unit.cli.calling import BOARD, Call, Folder

not_as_root = pytest.mark.skipif(
    hasattr(os, "geteuid") and os.geteuid() == 0, reason="the system's owner may write anywhere"
)


@pytest.mark.parametrize("ending", ["dxf", "svg", "csv", "pdf", "nc"])
def test_each_ending_is_a_kind(ending: str, board: str, folder: Folder, call: Call):
    answer = call("export", board, "-o", f"out.{ending}")
    assert (answer.code, answer.err) == (0, "")
    assert f"out.{ending}: " in answer.out
    assert folder.names() == {board, f"out.{ending}"}


def test_a_file_that_is_there_stays(board: str, folder: Folder, call: Call):
    folder.write("out.dxf", "mine")
    answer = call("export", board, "-o", "out.dxf")
    assert answer.code == 2
    assert "--force" in answer.err
    assert (folder.path / "out.dxf").read_text() == "mine"
    assert call("export", board, "-o", "out.dxf", "--force").code == 0
    assert (folder.path / "out.dxf").read_bytes().rstrip().endswith(b"EOF")


def test_the_stack_itself_is_never_written_over(board: str, folder: Folder, call: Call):
    folder.write("board.csv", BOARD)
    assert call("export", "board.csv", "-o", "board.csv", "--force").code == 2
    assert (folder.path / "board.csv").read_text() == BOARD


def test_versions_units_and_polylines(board: str, folder: Folder, call: Call):
    for version, told in (("R12", "AC1009"), ("R2000", "AC1015"), ("R2010", "AC1024")):
        name = f"{version}.dxf"
        arguments = ["--version", version, "--units", "in", "--polylines"]
        answer = call("export", board, "-o", name, *arguments)
        assert answer.code == 0
        assert ("tell the program" in answer.out) == (version == "R12")
        assert ezdxf.readfile(folder.path / name).dxfversion == told


def test_json_tells_files_and_sizes(board: str, folder: Folder, call: Call):
    told = call("export", board, "-o", "out.svg", "--json").json
    assert told["format"] == "profilestack-export/1"
    (each,) = told["files"]
    assert each["file"] == "out.svg"
    assert each["bytes"] == (folder.path / "out.svg").stat().st_size
    assert told["refused"] is None


def test_papers_of_the_report(board: str, folder: Folder, call: Call):
    call("export", board, "-o", "out.pdf", "--paper", "Letter")
    page = PdfReader(folder.path / "out.pdf").pages[0]
    assert [float(side) for side in page.mediabox[2:]] == pytest.approx([792.0, 612.0])
    answer = call("export", board, "-o", "b.pdf", "--paper", "B5")
    assert answer.code == 2
    assert "A4" in answer.err


def test_code_of_several_bits_can_be_parted(crown: str, folder: Folder, call: Call):
    assert call("export", crown, "-o", "all.nc").code == 0
    assert folder.names() == {"all-1-back.nc", "all-2-face.nc", "all-3-tipped.nc"}
    assert call("export", crown, "-o", "bit.nc", "--per-bit").code == 0
    assert len([name for name in folder.names() if name.startswith("bit-")]) > 3


def test_wood_beyond_the_ends_is_a_length(board: str, folder: Folder, call: Call):
    assert call("export", board, "-o", "a.nc", "--extra", "4 in").code == 0
    text = (folder.path / "a.nc").read_text("ascii")
    assert "Y-121.6" in text  # 101.6, 10 clear, 10 to the axis
    for wrong in ("-5", "much", "1e9 mm"):
        answer = call("export", board, "-o", "b.nc", f"--extra={wrong}")
        assert answer.code == 2
        assert "extra" in answer.err


def test_what_breaks_a_tolerance_is_drawn_but_not_coded(casing: str, folder: Folder, call: Call):
    assert call("export", casing, "-o", "out.dxf").code == 1
    answer = call("export", casing, "-o", "out.nc")
    assert answer.code == 1
    assert "No machine code was written" in answer.out
    assert folder.names() == {"out.dxf"}
    told = call("export", casing, "-o", "out.nc", "--json")
    assert told.json["files"] == []
    assert told.json["refused"]


def test_what_the_machine_cannot_do_is_the_call_s_fault(board: str, folder: Folder, call: Call):
    turned = BOARD.replace('kind = "straight"\nlength = 1000', 'kind = "turned"')
    turned = turned.replace('[[setup]]\nname = "edge"\nangle = 90\n', "")
    folder.write("turned.stack.toml", turned)
    answer = call("export", "turned.stack.toml", "-o", "out.nc")
    assert answer.code == 2
    assert "turned" in answer.err
    long = folder.write("long.stack.toml", BOARD.replace("length = 1000", "length = 2490"))
    answer = call("export", long, "-o", "out.nc")
    assert answer.code == 2  # the part has room, its leads have not
    assert "machine.length" in answer.err
    assert "out.nc" not in folder.names()


@pytest.mark.parametrize("name", ["out.xyz", "out", "out.dfx"])
def test_unknown_endings(name: str, board: str, folder: Folder, call: Call):
    answer = call("export", board, "-o", name)
    assert answer.code == 2
    assert ".dxf" in answer.err
    assert folder.names() == {board}


def test_unwritable_places(board: str, folder: Folder, call: Call):
    assert call("export", board, "-o", "gone/out.dxf").code == 2
    (folder.path / "folder.dxf").mkdir()
    answer = call("export", board, "-o", "folder.dxf", "--force")
    assert answer.code == 2
    assert "folder" in answer.err


@not_as_root
def test_a_folder_that_may_not_be_written_to(board: str, folder: Folder, call: Call):
    locked = folder.path / "locked"
    locked.mkdir(mode=0o500)
    assert call("export", board, "-o", "locked/out.dxf").code == 2


@pytest.mark.parametrize("title", ["../x", "x" * 300, "CON", "a\\u0000b(M30)"])
def test_titles_from_documents_do_no_harm(title: str, folder: Folder, call: Call):
    text = BOARD.replace("A board with a hollow", title.replace("\\u0000", "\\u001b"))
    folder.write("odd.stack.toml", text)
    for ending in ("dxf", "svg", "csv", "pdf", "nc"):
        assert call("export", "odd.stack.toml", "-o", f"out.{ending}").code == 0
    names = {f"out.{ending}" for ending in ("dxf", "svg", "csv", "pdf", "nc")}
    assert folder.names() == {"odd.stack.toml"} | names
    for row in (folder.path / "out.nc").read_text("ascii").splitlines():
        assert "M30" not in row or row.startswith("(")
