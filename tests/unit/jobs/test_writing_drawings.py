"""Pictures and full-size sections written to files."""

from pathlib import Path

import pytest

from profilestack.drawing.picture import KINDS
from profilestack.drawing.section_picture import section_picture
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.template import template_sheets
from profilestack.errors import FileError, InputError
from profilestack.jobs.cut import CutReport, cut_and_judge
from profilestack.jobs.opening import open_stack
from profilestack.jobs.picture import kind_of, write_picture
from profilestack.jobs.template import TemplateRequest, write_template
from tests.unit.drawing.examples import CAUTIONS, example
from tests.unit.drawing.pdf_reading import pages_of
from tests.unit.drawing.sheets import assert_all_on_paper, overlapping_words

STARTS = {"png": b"\x89PNG", "svg": b"<?xml", "pdf": b"%PDF"}


@pytest.fixture
def report() -> CutReport:
    return CutReport(*example("crown"), CAUTIONS)


@pytest.mark.parametrize("kind", KINDS)
def test_the_suffix_says_the_kind(report: CutReport, tmp_path: Path, kind: str) -> None:
    path = tmp_path / f"cut.{kind.upper()}"
    written = write_picture(report, path, "mm")
    data = path.read_bytes()
    assert data.startswith(STARTS[kind])
    assert (written.kind, written.path, written.size) == (kind, path, len(data))
    assert written.width > written.height > 100.0


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("cut.jpg", ".png or .svg or .pdf"),
        ("cut.pgn", "did you mean 'png'"),
        ("cut", ".png or .svg or .pdf"),
    ],
)
def test_other_suffixes_are_refused_and_nothing_is_written(
    report: CutReport, tmp_path: Path, name: str, hint: str
) -> None:
    with pytest.raises(InputError, match=hint):
        write_picture(report, tmp_path / name, "mm")
    assert list(tmp_path.iterdir()) == []


def test_kinds_are_known_before_anything_is_drawn() -> None:
    assert kind_of(Path("a.b/c.SVG")) == "svg"


def test_a_template_is_written_and_told(report: CutReport, tmp_path: Path) -> None:
    path = tmp_path / "crown.pdf"
    written = write_template(TemplateRequest(report, path, TemplateOptions("Letter", "landscape")))
    data = path.read_bytes()
    assert written.size == len(data)
    assert written.sheets == len(pages_of(data))
    assert (written.paper, written.width, written.height) == ("Letter", 279.4, 215.9)


def test_a_template_is_a_pdf(report: CutReport, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="ends in .pdf"):
        write_template(TemplateRequest(report, tmp_path / "crown.png", TemplateOptions()))
    assert list(tmp_path.iterdir()) == []


def test_an_old_file_is_replaced_without_a_copy_beside_it(
    report: CutReport, tmp_path: Path
) -> None:
    path = tmp_path / "crown.svg"
    path.write_text("old")
    write_picture(report, path, "in")
    assert path.read_bytes().startswith(b"<?xml")
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_that_is_not_there_is_said(report: CutReport, tmp_path: Path) -> None:
    with pytest.raises(FileError, match="its folder is not there"):
        write_picture(report, tmp_path / "gone" / "cut.svg", "mm")


SHIPPED = sorted((Path(__file__).parents[3] / "examples").rglob("*.stack.toml"))


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.name.split(".")[0])
def test_the_shipped_examples_are_drawn_without_words_that_meet(path: Path) -> None:
    opened = open_stack(path)
    report = cut_and_judge(opened.stack, opened.bits)
    drawings = [section_picture(report.cut, report.comparison, report.cautions, "mm")]
    options = TemplateOptions("Letter", reverse=True, units="in")
    drawings += template_sheets(report.cut, report.comparison, report.cautions, options)
    for drawing in drawings:
        assert_all_on_paper(drawing)
        assert overlapping_words(drawing) == []


def test_there_are_shipped_examples() -> None:
    assert SHIPPED
