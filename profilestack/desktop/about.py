"""What this program is, what it is made of, and a report on the system for those who help."""

from __future__ import annotations

import importlib.metadata
import platform
import sys

import PySide6
from PySide6.QtCore import Qt, qVersion
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLabel,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from profilestack import __version__

LIBRARIES = (
    "contourpy", "defusedxml", "ezdxf", "matplotlib", "numpy", "Pillow", "platformdirs",
    "reportlab", "scipy", "shapely",
)  # fmt: skip

WORDS = f"""profilestack {__version__}

Which router bits, at which offsets and depths, make a wanted molding profile.

Licence: MIT. The window is made with Qt by way of PySide6, which stands under the GNU Lesser \
General Public License (LGPL) version 3; it is a package of its own and may be replaced by another \
version. Sources of PySide6 and Qt: https://code.qt.io

Bits spin fast and wood kicks back: the marks on your bits, your machine's manual, local rules and \
a qualified operator come first. Try every stack in scrap."""


def system_report() -> str:
    """Versions and the screen, as plain lines; nothing of the user's is in it."""
    screens = "; ".join(
        f"{screen.size().width()} x {screen.size().height()} at {screen.devicePixelRatio():g}"
        for screen in QGuiApplication.screens()
    )
    lines = [
        f"profilestack {__version__}",
        f"Python {platform.python_version()} ({sys.implementation.name}, {platform.machine()})",
        f"{platform.system()} {platform.release()}",
        f"PySide6 {PySide6.__version__}, Qt {qVersion()}, {QGuiApplication.platformName()}",
        f"screens: {screens}",
        *(f"{name} {_version(name)}" for name in LIBRARIES),
    ]
    return "\n".join(lines)


def _version(name: str) -> str:
    try:
        return importlib.metadata.version(name)
    except importlib.metadata.PackageNotFoundError:
        return "(not installed as a package)"


class AboutDialog(QDialog):
    """Version, licences, the system report with a button that copies it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("About profilestack")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        words = QLabel(WORDS)
        words.setWordWrap(True)
        words.setTextFormat(Qt.TextFormat.PlainText)
        words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.report = QPlainTextEdit(system_report())
        self.report.setReadOnly(True)
        self.report.setTabChangesFocus(True)
        self.report.setAccessibleName("Report on this system")
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.copy_button = buttons.addButton(
            "Copy the report", QDialogButtonBox.ButtonRole.ActionRole
        )
        self.copy_button.clicked.connect(self.copy)
        buttons.rejected.connect(self.close)
        box = QVBoxLayout(self)
        for widget in (words, self.report, buttons):
            box.addWidget(widget)
        self.resize(
            72 * self.fontMetrics().averageCharWidth(), 30 * self.fontMetrics().lineSpacing()
        )

    def copy(self) -> None:
        """Put the report on the clipboard."""
        QGuiApplication.clipboard().setText(self.report.toPlainText())
