"""Run sheet and exports: what the app writes is what the command line writes, byte for byte."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from profilestack.cli.main import main
from profilestack.desktop.desk import Desk
from profilestack.desktop.labelled import Choice
from profilestack.desktop.machine.export_window import ABOUT, ExportWindow
from profilestack.desktop.machine.sheet_window import SheetWindow
from profilestack.desktop.window import Window
from profilestack.drawing.drawing import Drawing, Words
from profilestack.files.shipped import shipped_examples_dir
from profilestack.files.shop_file import write_shop
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS
from profilestack.stack.edits import with_changed
from tests.unit.drawing.pdf_reading import pages_of

CROWN = shipped_examples_dir() / "cornice" / "crown.stack.toml"
KINDS = (".dxf", ".svg", ".csv", ".pdf", ".nc")


@pytest.fixture
def window(desk: Desk, qtbot: QtBot) -> Window:
    return desk.open(CROWN)


def answer(window: Window, path: Path | None) -> list[str]:
    """Let the next questions for a file be answered so; what they suggest is kept."""
    suggested: list[str] = []

    def ask(parent: QWidget, title: str, name: str, kinds: str) -> str:
        suggested.append(Path(name).name)
        return str(path) if path else ""

    window.outputs.ask_file = ask
    return suggested


def idle(qtbot: QtBot, is_busy: Callable[[], bool]) -> None:
    qtbot.waitUntil(lambda: not is_busy(), timeout=30_000)


def sheets_of(qtbot: QtBot, window: Window) -> SheetWindow:
    window.actions_by_name["sheet"].trigger()
    sheet = window.machine.sheet
    assert sheet is not None
    idle(qtbot, lambda: sheet.is_busy)
    return sheet


def exports_of(window: Window, ending: str) -> ExportWindow:
    window.actions_by_name["export"].trigger()
    exports = window.machine.export
    assert exports is not None
    choose(exports.form.kind, ending)
    return exports


def choose(choice: Choice, data: str) -> None:
    choice.setCurrentIndex(choice.findData(data))


def saved(qtbot: QtBot, exports: ExportWindow) -> None:
    exports.save.click()
    idle(qtbot, lambda: exports.is_busy)


# -- the run sheet ---------------------------------------------------------------------------------


def test_the_run_sheet_is_what_the_command_line_writes(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    sheet = sheets_of(qtbot, window)
    suggested = answer(window, tmp_path / "app.pdf")
    sheet.save.click()
    idle(qtbot, lambda: sheet.exporting.is_busy)
    assert suggested == ["crown-sheet.pdf"]
    main(["sheet", str(CROWN), "-o", str(tmp_path / "cli.pdf")])
    assert (tmp_path / "app.pdf").read_bytes() == (tmp_path / "cli.pdf").read_bytes()
    data = (tmp_path / "app.pdf").read_bytes()
    pages = len(pages_of(data))
    assert f"{pages} pages A4, {len(data):,} bytes" in sheet.words.text()
    assert len(sheet.view.sheets) == pages


def test_the_run_sheet_of_another_shop_and_paper(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    table = tmp_path / "table.shop.toml"
    write_shop(replace(USUAL_SHOPS["router-table"], name="corner"), table)
    window.docks["machine"].widget().shop.take(str(table))
    sheet = sheets_of(qtbot, window)
    choose(sheet.paper, "Letter")
    window.document.set_units("in")
    idle(qtbot, lambda: sheet.is_busy)
    answer(window, tmp_path / "app.pdf")
    sheet.save.click()
    idle(qtbot, lambda: sheet.exporting.is_busy)
    main(["sheet", str(CROWN), "-o", str(tmp_path / "cli.pdf"), "--shop", str(table),
          "--paper", "Letter", "--units", "in"])  # fmt: skip
    assert (tmp_path / "app.pdf").read_bytes() == (tmp_path / "cli.pdf").read_bytes()


def test_the_run_sheet_follows_edits_and_is_printed(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    sheet = sheets_of(qtbot, window)
    document, former = window.document, sheet.view.sheets
    run = replace(document.stack.run, pieces=9)
    document.edit(replace(document.stack, run=run), "Make nine")
    assert not sheet.print.isEnabled()  # what is seen is not what would be printed
    idle(qtbot, lambda: sheet.is_busy)
    assert sheet.view.sheets != former

    def to_file(printer: QPrinter) -> bool:
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(tmp_path / "printed.pdf"))
        return True

    sheet.ask_printer = to_file
    sheet.print.click()
    idle(qtbot, lambda: sheet.is_busy)
    count = len(sheet.view.sheets)
    assert len(pages_of((tmp_path / "printed.pdf").read_bytes())) == count
    assert sheet.words.text() == f"{count} sheets are with the printer."


def test_a_sheet_that_must_not_be_cut_says_so(qtbot: QtBot, window: Window) -> None:
    sheet = sheets_of(qtbot, window)
    assert sheet.warning.isHidden()
    spoil(window)
    idle(qtbot, lambda: sheet.is_busy)
    assert "stop" in sheet.warning.text()


def words_on(sheets: Iterable[Drawing]) -> str:
    marks = (mark for sheet in sheets for mark in sheet.marks)
    return " ".join(mark.text for mark in marks if isinstance(mark, Words))


@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_sheet_shown_names_what_the_app_has(qtbot: QtBot, window: Window, units: str) -> None:
    window.document.set_units(units)
    words = words_on(sheets_of(qtbot, window).view.sheets)
    assert "--" not in words
    action = window.actions_by_name["export"]
    assert action in window.menus["Output"].actions()
    menu, option = "Output, Export", exports_of(window, ".nc").form.rows["extra"].label.text()
    assert action.text().replace("&", "").startswith("Export")
    assert f"extra at each end (machine code: {menu}: {option})" in words


def spoil(window: Window) -> None:
    """Cut a pass so deep that it spoils the profile."""
    document = window.document
    deeper = with_changed(document.stack, (4,), lambda single: replace(single, depth=14.0))
    document.edit(deeper, "Too deep")


# -- exports ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("ending", KINDS)
def test_exports_are_what_the_command_line_writes(
    qtbot: QtBot, window: Window, tmp_path: Path, ending: str
) -> None:
    app, cli = tmp_path / "app", tmp_path / "cli"
    for folder in (app, cli):
        folder.mkdir()
    suggested = answer(window, app / f"out{ending}")
    exports = exports_of(window, ending)
    saved(qtbot, exports)
    assert suggested == [f"crown{ending}"]
    main(["export", str(CROWN), "-o", str(cli / f"out{ending}")])
    names = sorted(path.name for path in cli.iterdir())
    assert names
    assert sorted(path.name for path in app.iterdir()) == names
    for name in names:
        assert (app / name).read_bytes() == (cli / name).read_bytes()
        assert f"{(app / name).stat().st_size:,} bytes" in exports.words.text()


def test_exports_with_every_option_are_what_the_command_line_writes(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    exports = exports_of(window, ".dxf")
    form = exports.form
    choose(form.units, "in")
    choose(form.version, "R12")
    choose(form.show_what, "section")
    form.polylines.setChecked(True)
    answer(window, tmp_path / "app.dxf")
    saved(qtbot, exports)
    main(["export", str(CROWN), "-o", str(tmp_path / "cli.dxf"), "--units", "in", "--version",
          "R12", "--show", "section", "--polylines"])  # fmt: skip
    assert (tmp_path / "app.dxf").read_bytes() == (tmp_path / "cli.dxf").read_bytes()
    choose(form.kind, ".nc")
    choose(form.zero, "face")
    form.per_bit.setChecked(True)
    form.extra.value = 10.0
    for who in ("app", "cli"):
        (tmp_path / who).mkdir()
    answer(window, tmp_path / "app" / "out.nc")
    saved(qtbot, exports)
    main(["export", str(CROWN), "-o", str(tmp_path / "cli" / "out.nc"), "--units", "in",
          "--zero", "face", "--per-bit", "--extra", "10 mm"])  # fmt: skip
    names = sorted(path.name for path in (tmp_path / "cli").iterdir())
    assert len(names) > 3
    for name in names:
        assert (tmp_path / "app" / name).read_bytes() == (tmp_path / "cli" / name).read_bytes()


def test_machine_code_is_refused_with_the_caution_that_stands(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    spoil(window)
    answer(window, tmp_path / "out.nc")
    exports = exports_of(window, ".nc")
    saved(qtbot, exports)
    row = exports.notices.row(ABOUT)
    assert row is not None
    assert "No machine code is written: a caution says stop." in row.notice.text
    assert "overcut" in row.notice.text
    assert "profilestack" not in row.notice.text
    assert list(tmp_path.glob("*.nc")) == []


def test_several_files_replace_nothing_unasked(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    answer(window, tmp_path / "out.nc")
    exports = exports_of(window, ".nc")
    saved(qtbot, exports)
    assert "export anew with “Wood beyond each end”" in exports.words.text()
    assert "--" not in exports.words.text()
    written = sorted(tmp_path.glob("*.nc"))
    assert len(written) > 1
    written[1].write_bytes(b"mine")
    written[0].unlink()
    saved(qtbot, exports)
    row = exports.notices.row(ABOUT)
    assert row is not None
    assert written[1].name in row.notice.text
    assert written[1].read_bytes() == b"mine"
    assert not written[0].exists()
    row.buttons["Replace"].click()
    idle(qtbot, lambda: exports.is_busy)
    assert written[1].read_bytes() != b"mine"
    assert written[0].exists()


def test_a_name_that_gets_its_ending_here_is_asked_about(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    (tmp_path / "out.csv").write_bytes(b"mine")
    answer(window, tmp_path / "out")
    exports = exports_of(window, ".csv")
    saved(qtbot, exports)
    assert (tmp_path / "out.csv").read_bytes() == b"mine"
    row = exports.notices.row(ABOUT)
    assert row is not None
    row.buttons["Replace"].click()
    idle(qtbot, lambda: exports.is_busy)
    assert (tmp_path / "out.csv").read_bytes() != b"mine"
    assert exports.notices.row(ABOUT) is None


def test_a_file_that_cannot_be_written_is_told(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    answer(window, tmp_path / "no" / "such" / "out.dxf")
    exports = exports_of(window, ".dxf")
    saved(qtbot, exports)
    row = exports.notices.row(ABOUT)
    assert row is not None
    assert row.notice.text.startswith("Nothing is written.")
    assert "Try again" in row.buttons


def test_only_the_options_of_a_kind_are_shown(window: Window) -> None:
    exports = exports_of(window, ".dxf")
    assert not exports.form.version.isHidden()
    shown = {name for name, row in exports.form.rows.items() if not row.isHidden()}
    assert shown == {"units", "version", "show", "polylines"}
    choose(exports.form.kind, ".nc")
    shown = {name for name, row in exports.form.rows.items() if not row.isHidden()}
    assert shown == {"units", "zero", "extra", "per_bit"}


def test_what_is_spoiled_is_written_but_said(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    spoil(window)
    answer(window, tmp_path / "out.dxf")
    exports = exports_of(window, ".dxf")
    saved(qtbot, exports)
    assert (tmp_path / "out.dxf").exists()
    row = exports.notices.row(ABOUT)
    assert row is not None
    assert "does not make its wanted profile" in row.notice.text


def test_the_usual_shop_is_meant_where_none_is_chosen(window: Window) -> None:
    assert window.document.shop == USUAL_SHOP
