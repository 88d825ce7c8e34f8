"""A wanted profile drawn as lines and arcs: a table of its pieces, and the chosen one's numbers."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QSizePolicy,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from profilestack.desktop.fields import LengthField
from profilestack.desktop.labelled import Choice, Labelled
from profilestack.desktop.target.editing import Editing, Make
from profilestack.desktop.target.path_drawing import PathDrawing
from profilestack.geometry.path import Arc, Path, Point
from profilestack.session.path_edits import (
    as_closed,
    points_of,
    with_bow,
    with_center,
    with_kind,
    with_point,
    with_point_added,
    with_radius,
    without_point,
)
from profilestack.stack import PathTarget
from profilestack.targets.placement import LARGEST_SHIFT
from profilestack.units import to_units

KINDS = (
    ("line", "line"),
    ("cw", "arc, clockwise"),
    ("ccw", "arc, counter-clockwise"),
)


class PieceTable(QTableWidget):
    """One row a point: where the piece before it leads, and about which centre."""

    def __init__(self) -> None:
        super().__init__(0, 5)
        self.setAccessibleName("Points and pieces of the wanted profile")
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        # five columns of six digits have to find room in a narrow panel
        font = self.font()
        font.setPointSizeF(max(7.0, 0.9 * font.pointSizeF()))
        self.setFont(font)
        for header in (self.horizontalHeader(), self.verticalHeader()):
            header.setFont(font)
            header.setHighlightSections(False)
        self.horizontalHeader().setMinimumSectionSize(0)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.horizontalHeader().setSectionResizeMode(4, QHeaderView.ResizeMode.Stretch)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().setDefaultSectionSize(round(1.4 * self.fontMetrics().lineSpacing()))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setToolTip("The chosen point's numbers are edited below")

    def sizeHint(self) -> QSize:
        """Nine lines high."""
        line = self.fontMetrics().lineSpacing()
        return QSize(14 * line, 12 * line)

    def show_path(self, path: Path, units: str) -> None:
        """Show the pieces of a path."""
        self.setHorizontalHeaderLabels(
            [f"x\n{units}", f"z\n{units}", "turn", "centre\nx", "centre\nz"],
        )
        self.setRowCount(len(path.steps) + 1)
        rows: list[tuple[Point, Arc | None, str]] = [(path.start, None, "start")]
        for piece in path.segments:
            arc = piece if isinstance(piece, Arc) else None
            rows.append((piece.end, arc, "line" if arc is None else arc.turn))
        for row, (to, arc, kind) in enumerate(rows):
            center = ("", "") if arc is None else tuple(_short(v, units) for v in arc.center)
            cells = (_short(to[0], units), _short(to[1], units), kind, *center)
            for column, text in enumerate(cells):
                item = self.item(row, column)
                if item is None:
                    self.setItem(row, column, QTableWidgetItem(text))
                elif item.text() != text:
                    item.setText(text)


class PathEditor(QWidget):
    """The pieces in a table; below it the chosen point, and the piece that leads to it."""

    def __init__(self, editing: Editing, drawing: PathDrawing) -> None:
        super().__init__()
        self._editing, self._drawing = editing, drawing
        document, far = editing.document, LARGEST_SHIFT
        self.table = PieceTable()
        self.point_x = LengthField(
            document, "x", low=-far, high=far, about="From the blank's left side"
        )
        self.point_z = LengthField(
            document, "z", low=-far, high=far, about="From the blank's bottom"
        )
        self.kind = Choice()
        for word, said in KINDS:
            self.kind.addItem(said, word)
        self.kind.setToolTip("How the piece leads from the point before to this one")
        self.radius = LengthField(document, "Radius", low=0.001, high=far)
        self.center_x = LengthField(
            document, "Centre x", low=-far, high=far, about="The centre's z follows from it"
        )
        self.center_z = LengthField(
            document, "Centre z", low=-far, high=far, about="The centre's x follows from it"
        )
        self.add = QPushButton("Add point")
        self.add.setToolTip("Part the piece that leads to the chosen point; its shape stays")
        self.remove = QPushButton("Remove point")
        self.turn_round = QPushButton("Wood on the other side")
        self.turn_round.setToolTip("Walk the profile the other way: the wood is on its right hand")
        self.closed = QCheckBox("Closed: the whole section")
        self.closed.setToolTip("Lead it back to its start; the wood is inside")
        self._rows: dict[str, Labelled] = {}
        self._lay_out()
        self._connect()

    @property
    def path(self) -> Path:
        """The path of the document, without what is only previewed."""
        return self._target.typed

    @property
    def at(self) -> int:
        """The chosen point."""
        return min(max(0, self.table.currentRow()), len(self.path.steps))

    def refresh(self) -> None:
        """Show the document's path."""
        self.table.blockSignals(True)
        row = max(0, self.table.currentRow())
        self.table.show_path(self.path, self._editing.document.units)
        self.table.setCurrentCell(min(row, self.table.rowCount() - 1), 0)
        self.table.blockSignals(False)
        self._show_point()

    @property
    def _target(self) -> PathTarget:
        target = self._editing.target
        assert isinstance(target, PathTarget), "the target is a path"
        return target

    def _show_point(self) -> None:
        path, at = self.path, self.at
        self.point_x.value, self.point_z.value = points_of(path)[at]
        piece = path.segments[at - 1] if at > 0 else None
        arc = piece if isinstance(piece, Arc) else None
        self._rows["kind"].setVisible(piece is not None)
        for key in ("radius", "center_x", "center_z"):
            self._rows[key].setVisible(arc is not None)
        self.kind.setCurrentIndex(self.kind.findData(arc.turn if arc is not None else "line"))
        if arc is not None:
            self.radius.value = arc.radius
            self.center_x.value, self.center_z.value = arc.center
        self.remove.setEnabled(len(path.steps) > 1)
        self.remove.setToolTip(
            "A line takes the place of the pieces beside it" if len(path.steps) > 1
            else "One piece at least has to stay"
        )  # fmt: skip
        self.closed.blockSignals(True)
        self.closed.setChecked(self._target.closed)
        self.closed.blockSignals(False)
        self._drawing.choose(at)

    def _lay_out(self) -> None:
        for key, name, field in (
            ("x", "x", self.point_x), ("z", "z", self.point_z), ("kind", "Reached by", self.kind),
            ("radius", "Radius", self.radius), ("center_x", "Centre x", self.center_x),
            ("center_z", "Centre z", self.center_z),
        ):  # fmt: skip
            self._rows[key] = Labelled(name, field)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.table)
        row = QHBoxLayout()
        row.addWidget(self.add)
        row.addWidget(self.remove)
        box.addLayout(row)
        grid = QGridLayout()
        bottom = Qt.AlignmentFlag.AlignBottom
        for place, key in enumerate(("x", "z", "kind", "radius", "center_x", "center_z")):
            grid.addWidget(self._rows[key], place // 2, place % 2, alignment=bottom)
        box.addLayout(grid)
        box.addWidget(self.closed)
        box.addWidget(self.turn_round)

    def _connect(self) -> None:
        self.table.currentCellChanged.connect(self._chosen)
        self._drawing.chosen_changed.connect(self._choose)
        self._drawing.point_moved.connect(self._drag_point)
        self._drawing.bow_moved.connect(self._drag_bow)
        self._drawing.let_go.connect(self._editing.abandon)
        follow = self._editing.follow
        follow(self.point_x, lambda x: self._point_made(x=x), "x")
        follow(self.point_z, lambda z: self._point_made(z=z), "z")
        follow(self.radius, partial(self._arc_made, with_radius), "radius")
        follow(self.center_x, partial(self._arc_made, _with_center_x), "center x")
        follow(self.center_z, partial(self._arc_made, _with_center_z), "center z")
        self.kind.activated.connect(self._change_kind)
        self.add.clicked.connect(self._add)
        self.remove.clicked.connect(self._remove)
        self.turn_round.clicked.connect(
            lambda: self._commit(lambda path: path.reversed(), "Put the wood on the other side")
        )
        self.closed.toggled.connect(
            lambda on: self._editing.commit(
                lambda: (as_closed(self._target, on), "Close the profile" if on else "Open it")
            )
        )

    def _chosen(self) -> None:
        for field in (self.point_x, self.point_z, self.radius, self.center_x, self.center_z):
            field.restore()
        self._editing.abandon()
        self._show_point()

    def _choose(self, index: int) -> None:
        if isinstance(self._editing.target, PathTarget) and index != self.at:
            self.table.setCurrentCell(index, 0)

    def _made(self, change: Callable[[Path], Path], label: str) -> Make:
        def make() -> tuple[PathTarget, str]:
            return PathTarget(change(self.path), self._target.closed), label

        return make

    def _commit(self, change: Callable[[Path], Path], label: str) -> bool:
        return self._editing.commit(self._made(change, label))

    def _point_made(self, x: float | None = None, z: float | None = None) -> Make:
        at = self.at

        def change(path: Path) -> Path:
            old = points_of(path)[at]
            return with_point(path, at, (old[0] if x is None else x, old[1] if z is None else z))

        return self._made(change, f"Move point {at + 1}")

    def _arc_made(self, change: Callable[[Path, int, float], Path], number: float | None) -> Make:
        assert number is not None, "none of these fields may be empty"
        value, piece = number, self.at - 1
        return self._made(lambda path: change(path, piece, value), f"Change piece {piece + 1}")

    def _change_kind(self) -> None:
        piece, kind = self.at - 1, self.kind.currentData()
        make = self._made(lambda path: with_kind(path, piece, kind), f"Change piece {piece + 1}")
        self._editing.commit(make, merging=f"kind of piece {piece}")
        self.refresh()

    def _add(self) -> None:
        at = max(1, self.at)
        if self._commit(lambda path: with_point_added(path, at - 1), "Add a point"):
            self.table.setCurrentCell(at, 0)

    def _remove(self) -> None:
        at = self.at
        self._commit(lambda path: without_point(path, at), f"Remove point {at + 1}")

    def _drag_point(self, index: int, place: Point, is_last: bool) -> None:
        make = self._made(lambda path: with_point(path, index, place), f"Move point {index + 1}")
        self._drag(make, is_last)

    def _drag_bow(self, index: int, place: Point, is_last: bool) -> None:
        make = self._made(lambda path: with_bow(path, index, place), f"Bend piece {index + 1}")
        self._drag(make, is_last)

    def _drag(self, make: Make, is_last: bool) -> None:
        if is_last:
            self._editing.commit(make)
        else:
            self._editing.preview(make)


def _with_center_x(path: Path, index: int, x: float) -> Path:
    return with_center(path, index, x=x)


def _with_center_z(path: Path, index: int, z: float) -> Path:
    return with_center(path, index, z=z)


def _short(mm: float, units: str) -> str:
    """A place in a table: its digits without a unit."""
    digits = 3 if units == "mm" else 4
    return f"{round(to_units(mm, units), digits) + 0.0:.{digits}f}".rstrip("0").rstrip(".")
