"""What the finder is asked: bits, tolerances, setups, limits."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QFileDialog,
    QGridLayout,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField, NumberField, WholeField
from profilestack.desktop.labelled import Choice, Labelled
from profilestack.errors import Problem
from profilestack.files.shipped import ALL
from profilestack.finding.adapting.adaptation import LARGEST_LIMIT
from profilestack.finding.request import RESOLUTIONS
from profilestack.jobs.find import FindWishes
from profilestack.stack import FACE, Stack
from profilestack.units import format_length

AT_HAND, OWN, FILE = "at hand", "own", "file"
"""The document's and the drawer's bits; the document's alone; another file, to be chosen."""


class WishesForm(QWidget):
    """The form above the ways; what is left empty is as the document and custom say."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.bits = Choice()
        self.bits.setToolTip("Which bits the ways may use")
        self.leftover = LengthField(
            document, "Leftover (proud), at most", low=1e-3, high=10.0, optional=True,
            about="How far stock may stand proud of the wanted profile",
        )  # fmt: skip
        self.overcut = LengthField(
            document, "Overcut (gouge), at most", low=1e-3, high=10.0, optional=True,
            about="How far may be cut into the wanted profile",
        )  # fmt: skip
        self.adapt = LengthField(
            document, "Fit the profile to the bits by up to", low=1e-3, high=LARGEST_LIMIT,
            optional=True, about="Radii move by so much, and by a tenth at most, to what a bit has",
        )  # fmt: skip
        self.passes = WholeField(
            "Finishing passes, at most", low=1.0, high=1000.0, optional=True,
            about="Passes that rough out are not counted",
        )  # fmt: skip
        self.most_bits = WholeField("Bits, at most", low=1.0, high=1000.0, optional=True)
        self.resolution = LengthField(
            document, "Offsets and depths in steps of", low=1e-4, high=10.0, optional=True,
            about="Every offset and depth is a whole number of this",
        )  # fmt: skip
        self.seconds = WholeField(
            "Seconds to look for each proof", low=1.0, high=86_399.0, optional=True,
            about="Longer looking may find a better way, or prove that there is none",
        )  # fmt: skip
        self._seen: tuple[Stack, str] | None = None
        self._setups: dict[str, QCheckBox] = {}
        self._setup_box = QWidget()
        QVBoxLayout(self._setup_box).setContentsMargins(0, 0, 0, 0)
        self._rows: dict[str, Labelled] = {}
        self._lay_out()
        self._files: list[str] = []
        self.bits.activated.connect(self._bits_chosen)
        document.changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        self.refresh()

    @property
    def fields(self) -> tuple[NumberField, ...]:
        """All number fields."""
        return (
            self.leftover, self.overcut, self.adapt, self.passes, self.most_bits,
            self.resolution, self.seconds,
        )  # fmt: skip

    def wishes(self) -> FindWishes | None:
        """What is asked; None where a field holds no number, and that field then has the focus."""
        for row in self._rows.values():
            if not isinstance(row.field, NumberField):
                row.refuse("")
        for field in self.fields:
            field.commit()
        wrong = next((field for field in self.fields if field.trouble), None)
        if wrong is not None:
            self.more.setChecked(self.more.isChecked() or self._rest.isAncestorOf(wrong))
            wrong.setFocus(Qt.FocusReason.OtherFocusReason)
            return None
        source = self.bits.currentData()
        return FindWishes(
            libraries=() if source in (AT_HAND, OWN) else (source,),
            bits=self._document.session.settled.bits if source == OWN else None,
            leftover=self.leftover.value,
            overcut=self.overcut.value,
            resolution=self.resolution.value,
            setups=tuple(name for name, box in self._setups.items() if box.isChecked()),
            most_passes=_whole(self.passes),
            most_bits=_whole(self.most_bits),
            seconds=self.seconds.value,
            adapt=self.adapt.value,
        )

    def refuse(self, problems: Iterable[Problem]) -> list[Problem]:
        """Show problems at their fields; returns those that belong to none."""
        left = []
        for problem in problems:
            row = self._rows.get(problem.where)
            if row is None:
                left.append(problem)
                continue
            row.refuse(f"{problem.text}; {problem.expected}" if problem.expected else problem.text)
            self.more.setChecked(self.more.isChecked() or self._rest.isAncestorOf(row))
        return left

    def refresh(self) -> None:
        """Show what the document offers."""
        stack, units = self._document.session.settled, self._document.units
        if self._seen is not None and self._seen[0] is stack and self._seen[1] == units:
            return  # while something is dragged nothing changes here
        self._seen = (stack, units)
        self.leftover.setPlaceholderText(format_length(stack.tolerance.leftover, units))
        self.overcut.setPlaceholderText(format_length(stack.tolerance.overcut, units))
        self.resolution.setPlaceholderText(format_length(RESOLUTIONS[stack.units], units))
        self.adapt.setPlaceholderText("as drawn")
        self.passes.setPlaceholderText("no limit")
        self.most_bits.setPlaceholderText("no limit")
        self.seconds.setPlaceholderText("as few as do")
        self._offer_bits()
        self._offer_setups([FACE.name, *(setup.name for setup in stack.setups)])

    def _lay_out(self) -> None:
        for key, field in (
            ("bits", self.bits), ("leftover", self.leftover), ("overcut", self.overcut),
            ("setup", self._setup_box), ("adapt", self.adapt), ("most_passes", self.passes),
            ("most_bits", self.most_bits), ("resolution", self.resolution),
            ("seconds", self.seconds),
        ):  # fmt: skip
            name = {"bits": "Bits to use", "setup": "Setups to use"}.get(key)
            self._rows[key] = Labelled(name or field.accessibleName(), field)
        self.more = QToolButton()
        self.more.setText("Setups, limits, fit")
        self.more.setToolTip("Show or hide what is seldom asked")
        self.more.setCheckable(True)
        self.more.setAutoRaise(True)
        self.more.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.more.setArrowType(Qt.ArrowType.RightArrow)
        self._rest = QWidget()
        rest = QGridLayout(self._rest)
        rest.setContentsMargins(0, 0, 0, 0)
        rest.addWidget(self._rows["setup"], 0, 0, 1, 2)
        rest.addWidget(self._rows["adapt"], 1, 0, 1, 2)
        for place, key in enumerate(("most_passes", "most_bits", "resolution", "seconds")):
            rest.addWidget(
                self._rows[key], 2 + place // 2, place % 2, alignment=Qt.AlignmentFlag.AlignBottom
            )
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(self._rows["bits"], 0, 0, 1, 2)
        bottom = Qt.AlignmentFlag.AlignBottom
        grid.addWidget(self._rows["leftover"], 1, 0, alignment=bottom)
        grid.addWidget(self._rows["overcut"], 1, 1, alignment=bottom)
        grid.addWidget(self.more, 2, 0, 1, 2)
        grid.addWidget(self._rest, 3, 0, 1, 2)
        self._rest.hide()
        self.more.toggled.connect(self._show_rest)

    def _show_rest(self, shown: bool) -> None:
        self._rest.setVisible(shown)
        self.more.setArrowType(Qt.ArrowType.DownArrow if shown else Qt.ArrowType.RightArrow)

    def _offer_bits(self) -> None:
        stack, at_hand = self._document.session.settled, self._document.session.bits_at_hand
        offered = [("The drawer's and this document's", AT_HAND), ("All shipped bits", ALL)]
        if stack.bits:
            offered.append(("This document's alone", OWN))
        files = dict.fromkeys([*at_hand.libraries, *self._files])
        offered += [(Path(name).name, name) for name in files]
        offered.append(("Bits of a file\N{HORIZONTAL ELLIPSIS}", FILE))
        if offered == [
            (self.bits.itemText(k), self.bits.itemData(k)) for k in range(self.bits.count())
        ]:
            return
        chosen = self.bits.currentData()
        self.bits.clear()
        for text, source in offered:
            self.bits.addItem(text, source)
        self._used = max(0, self.bits.findData(chosen))
        self.bits.setCurrentIndex(self._used)

    def _bits_chosen(self, index: int) -> None:
        if self.bits.itemData(index) != FILE:
            self._used = index
            return
        self.bits.setCurrentIndex(self._used)
        name, _ = QFileDialog.getOpenFileName(self, "Bits to use", "", "Bits (*.bits.toml)")
        if name:
            self.offer_file(name)

    def offer_file(self, name: str) -> None:
        """Use the bits of a library file."""
        self._files.append(name)
        self._offer_bits()
        self._used = self.bits.findData(name)
        self.bits.setCurrentIndex(self._used)

    def _offer_setups(self, names: list[str]) -> None:
        if list(self._setups) == names:
            return
        # who has made a setup wants to use it
        left_out = {name for name, box in self._setups.items() if not box.isChecked()}
        box = self._setup_box.layout()
        assert box is not None, "it was made with one"
        for old in self._setups.values():
            box.removeWidget(old)
            old.deleteLater()
        self._setups = {}
        for name in names:
            tick = QCheckBox(name)
            tick.setToolTip("Passes may be cut in this setup; make more of them in the piece")
            tick.setChecked(name not in left_out)
            box.addWidget(tick)
            self._setups[name] = tick


def _whole(field: WholeField) -> int | None:
    return None if field.value is None else round(field.value)
