"""Files that commands write: pictures, templates, the demo's folder; and when none is written."""

from __future__ import annotations

import os
import re

import pytest
from pypdf import PdfReader

from tests.unit.cli.calling import BOARD, Call, Folder, without_bits

STARTS = {"png": b"\x89PNG\r\n", "svg": b"<?xml", "pdf": b"%PDF-"}

not_as_root = pytest.mark.skipif(
    hasattr(os, "geteuid") and os.geteuid() == 0, reason="the system's owner may write anywhere"
)


@pytest.mark.parametrize("kind", STARTS)
def test_the_cut_is_drawn_as(kind: str, board: str, folder: Folder, call: Call) -> None:
    plain = call("cut", board)
    answer = call("cut", board, "--plot", f"cut.{kind}")
    assert (answer.code, answer.out) == (0, plain.out)
    assert (folder.path / f"cut.{kind}").read_bytes().startswith(STARTS[kind])


def test_the_suffix_may_be_in_capitals(board: str, folder: Folder, call: Call) -> None:
    assert call("cut", board, "--plot", "CUT.SVG").code == 0
    assert (folder.path / "CUT.SVG").read_bytes().startswith(STARTS["svg"])


def test_pictures_are_in_the_units_asked_for(board: str, folder: Folder, call: Call) -> None:
    call("cut", board, "--plot", "mm.svg")
    call("cut", board, "--plot", "in.svg", "--units", "in")
    assert "inches" not in (folder.path / "mm.svg").read_text(encoding="utf-8")
    assert "inches" in (folder.path / "in.svg").read_text(encoding="utf-8")


def test_pictures_and_templates_are_written_also_at_1(
    casing: str, folder: Folder, call: Call
) -> None:
    assert call("cut", casing, "--plot", "cut.png").code == 1
    assert call("template", casing, "-o", "out.pdf").code == 1
    assert folder.names() == {"cut.png", "out.pdf"}
    assert len(PdfReader(folder.path / "out.pdf").pages) >= 1


def test_the_template_says_what_to_do_with_it(crown: str, folder: Folder, call: Call) -> None:
    answer = call("template", crown, "-o", "out.pdf", "--paper", "Letter")
    assert answer.code == 0
    pages = PdfReader(folder.path / "out.pdf").pages
    assert f"out.pdf: {len(pages)} sheet" in answer.out
    assert "Print at 100 %, measure the bars" in answer.out
    told = call("template", crown, "-o", "out.pdf", "--paper", "Letter", "--json").json
    sides = {round(float(side) * 25.4 / 72.0, 1) for side in pages[0].mediabox[2:]}
    assert told["format"] == "profilestack-template/1"
    assert told["sheets"] == len(pages)
    assert {round(told["width"], 1), round(told["height"], 1)} == sides == {215.9, 279.4}


def test_lengths_on_the_command_line_are_in_the_documents_units(folder: Folder, call: Call) -> None:
    before, _, rest = BOARD.partition("[target]")
    free = before + "[[setup]]" + rest.partition("[[setup]]")[2]
    folder.write("mm.stack.toml", free)
    # the same lengths, in a document whose bare numbers are inches
    lengths = "width|thickness|length|offset|depth|diameter|cutting_length|shank"
    inch = re.sub(rf"^({lengths}) = (\d+)$", r'\1 = "\2 mm"', free, flags=re.MULTILINE)
    folder.write("inch.stack.toml", inch.replace('units = "mm"', 'units = "in"'))
    # a margin of 4 mm leaves room on a sheet, one of 4 inches does not
    assert call("template", "mm.stack.toml", "-o", "a.pdf", "--margin", "4").code == 0
    assert call("template", "inch.stack.toml", "-o", "b.pdf", "--margin", "4 mm").code == 0
    refused = call("template", "inch.stack.toml", "-o", "c.pdf", "--margin", "4")
    assert refused.code == 2
    assert "margin" in refused.err
    assert not (folder.path / "c.pdf").exists()


def test_the_reverse_is_drawn_when_asked_for(crown: str, folder: Folder, call: Call) -> None:
    plain = call("template", crown, "-o", "a.pdf").code
    with_gauge = call("template", crown, "-o", "b.pdf", "--reverse").code
    assert (plain, with_gauge) == (0, 0)
    assert (folder.path / "a.pdf").read_bytes() != (folder.path / "b.pdf").read_bytes()


WRONG_OUTPUTS = (
    ("cut", "{board}", "--plot", "good.png", "-o", "no-such-folder/answer.txt"),
    ("cut", "{board}", "--plot", "no-such-folder/cut.png", "-o", "good.txt"),
    ("cut", "{board}", "--plot", "good.png", "-o", "a-folder"),
    ("cut", "{board}", "--plot", "same.png", "-o", "same.png"),
    ("cut", "{board}", "-o", "good.txt", "--chord", "-1"),
    ("template", "{board}", "-o", "a-folder/no/out.pdf"),
    ("template", "{board}", "-o", "a-folder"),
    ("demo", "-o", "{board}"),
    ("demo", "-o", "{board}/below"),
    ("demo", "-o", "demo", "--bits", "no-such.bits.toml"),
    ("bits", "-o", "bits.png"),
    ("bits", "--show", "core-box-2in", "-o", "a-folder"),
    ("bits", "--show", "core-box-2in", "-o", "no-such-folder/a.png"),
    ("bits", "--show", "core-box-2in", "-o", "bit.doc"),
)


@pytest.mark.parametrize("arguments", WRONG_OUTPUTS, ids=" ".join)
def test_nothing_is_written_at_2(
    arguments: tuple[str, ...], board: str, folder: Folder, call: Call
) -> None:
    (folder.path / "a-folder").mkdir()
    answer = call(*(each.format(board=board) for each in arguments))
    assert (answer.code, answer.out) == (2, "")
    assert answer.err.count("profilestack: ") == 1
    assert folder.names() == {board, "a-folder"}
    assert not list((folder.path / "a-folder").iterdir())
    assert (folder.path / board).read_text(encoding="utf-8") == BOARD


@not_as_root
def test_a_folder_that_may_not_be_written_to(board: str, folder: Folder, call: Call) -> None:
    locked = folder.path / "locked"
    locked.mkdir(mode=0o500)
    answer = call("cut", board, "--plot", "good.png", "-o", "locked/answer.txt")
    assert answer.code == 2
    assert "may not be written to" in answer.err
    assert "good.png" not in folder.names()


@not_as_root
def test_a_file_that_may_not_be_read(board: str, folder: Folder, call: Call) -> None:
    (folder.path / board).chmod(0)
    answer = call("cut", board)
    assert answer.code == 2
    assert "cannot be read" in answer.err


def test_a_write_protected_file_stays(board: str, folder: Folder, call: Call) -> None:
    kept = folder.path / "kept.txt"
    kept.write_text("mine", encoding="utf-8")
    kept.chmod(0o444)
    answer = call("cut", board, "-o", "kept.txt")
    assert answer.code == 2
    assert "write-protected" in answer.err
    assert kept.read_text(encoding="utf-8") == "mine"


def test_names_with_blanks_and_letters_of_any_script(folder: Folder, call: Call) -> None:
    name = folder.write("mein Gesims, Ä 鉋.stack.toml", BOARD)
    answer = call("cut", name, "--plot", "Bild ß.svg", "-o", "bericht ö.txt")
    assert answer.code == 0
    assert folder.names() == {name, "Bild ß.svg", "bericht ö.txt"}


def test_a_document_without_its_bits_is_told_with_lines(folder: Folder, call: Call) -> None:
    answer = call("cut", folder.write("bare.stack.toml", without_bits()))
    lines = [k for k, line in enumerate(BOARD.splitlines(), 1) if line == 'bit = "hollow"']
    assert answer.code == 2
    for number, line in enumerate(lines, 1):
        assert (
            f"bare.stack.toml:{line}: pass[{number}].bit: no bit is called 'hollow'" in answer.err
        )
    assert "profilestack bits lists them" in answer.err
