"""The face of the molding under a raking lamp: wanted above, as cut below."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter
from PySide6.QtWidgets import QSlider, QWidget
from shapely.geometry.base import BaseGeometry

from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.inks import mixed, pen
from profilestack.desktop.strips.strip import Strip
from profilestack.desktop.theme import THEMES, Theme
from profilestack.drawing.light import Face, Lamp, face_of, shaded_pixels

LOWEST, HIGHEST = 5, 85
"""The lamp's altitude goes over so many degrees."""

PACE = 33
"""While a hand moves the light is painted so many milliseconds apart: the eye sees no more."""

ROOM = 0.15
"""A little light comes from the room, so that the shape is seen in the shadows too."""

Colors = npt.NDArray[np.uint8]


class LightStrip(Strip):
    """What the eye will see; the lamp is moved by a slider or by keys."""

    def __init__(self, document: Document, axis: Axis, parent: QWidget | None = None) -> None:
        super().__init__(document, axis, parent)
        self.lamp = Lamp(room=ROOM)
        self._wanted: tuple[BaseGeometry, Face | None] | None = None
        self._wanted_row: tuple[tuple[object, ...], Colors] | None = None
        self._waits = False
        self._pace = QTimer(self)
        self._pace.setSingleShot(True)
        self._pace.setInterval(PACE)
        self._pace.timeout.connect(self._catch_up)
        self.slider = QSlider(Qt.Orientation.Horizontal, self)
        # from the left over the top to the right: 90 is straight above, and shows nothing
        self.slider.setRange(-(90 - LOWEST), 90 - LOWEST)
        self.slider.setPageStep(10)
        self.slider.setValue(_slider_value(self.lamp))
        self.slider.valueChanged.connect(self._move_lamp)
        self.slider.setAccessibleName("Lamp")
        self.slider.setAccessibleDescription(
            "Where the light comes from: low from the left, over the top, low from the right"
        )
        self.slider.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Light")
        self.setAccessibleDescription(
            "The face of the molding under a raking lamp: wanted profile above, as cut below"
        )
        self._tell_lamp()

    def set_lamp(self, lamp: Lamp) -> None:
        """Let the light come from there."""
        self.lamp = lamp
        self._tell_lamp()
        self.repaint_all()

    def follow(self) -> None:
        """While a hand moves the light has a pace of its own; the section must not wait for it."""
        session = self.document.session
        if session.stack is session.settled:
            self._pace.stop()
            self._waits = False
        elif self._pace.isActive():
            self._waits = True
            return
        else:
            self._pace.start()
        self.repaint_all()

    def repaint_all(self) -> None:
        """Something in it changed; never the words and the lamp at the left."""
        self._is_stale = True
        self.update_drawing()

    def place_under(self, pixel: QPointF) -> tuple[float, float] | None:
        """The highest wood under a pixel, or the foot of the paper where there is none."""
        report, x = self.document.report, self.axis.x_at(pixel.x())
        face = None if report is None else face_of(report.cut.sections[-1])
        if face is None or not face.places[0] <= x <= face.places[-1]:
            return (x, 0.0)
        return (x, max(0.0, float(np.interp(x, face.places, face.heights))))

    def resizeEvent(self, event: object) -> None:
        """The slider stands at the left, in the middle."""
        wide = round(self.edge) - 8
        high = self.slider.sizeHint().height()
        self.slider.setGeometry(4, (self.height() - high) // 2, wide, high)

    def paint_ground(self, painter: QPainter, theme: Theme, room: QRectF) -> None:
        """What the two bands are called."""
        self.paint_edge(painter, theme, room)
        painter.setPen(pen(theme.quiet))
        line = painter.fontMetrics().height() + 2.0
        for text, top in (("wanted", 2.0), ("as cut", room.height() - line - 2.0)):
            painter.drawText(QRectF(0.0, top, self.edge, line), Qt.AlignmentFlag.AlignCenter, text)

    def paint_strip(self, painter: QPainter, theme: Theme, room: QRectF) -> None:
        """Two bands of light."""
        report = self.document.report
        half = room.height() / 2.0
        if report is not None:
            width = room.width()
            if report.comparison is not None:
                row = self._row_of_wanted(report.comparison.wanted, theme)
                _paint_row(painter, row, QRectF(0.0, 0.0, width, half))
            moment = self.document.moment
            cut = report.cut
            section = cut.sections[-1] if moment is None else cut.section_after(moment)
            _paint_row(painter, self._row(face_of(section), theme), QRectF(0.0, half, width, half))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(pen(theme.rule))
        painter.drawLine(QPointF(0.0, half), QPointF(room.width(), half))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right move the lamp."""
        if event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self.slider.event(event)
        else:
            super().keyPressEvent(event)

    def _row(self, face: Face | None, theme: Theme) -> Colors:
        """One row of the screen's own pixels, (n, 4): blue, green, red, and nothing."""
        ratio = self.devicePixelRatioF()
        count = max(1, round(self.width() * ratio))
        pixels = np.full((count, 4), 255, dtype=np.uint8)
        paper = _rgb(QColor(theme.paper))
        if face is None:
            pixels[:, :3] = paper[::-1]
            return pixels
        scale = self.axis.scale * ratio
        each = 2 if ratio > 1.5 else 3  # small pixels need fewer looks
        bright, wood = shaded_pixels(face, self.axis.left, scale, count, self.lamp, each)
        ramp = _ramp(theme.name, self.lamp)
        colors = ramp[np.clip(bright * 255.0, 0.0, 255.0).astype(np.intp)].astype(np.float32)
        row = colors * wood[:, None] + paper * (1.0 - wood[:, None])
        pixels[:, :3] = row.astype(np.uint8)[:, ::-1]
        return pixels

    def _row_of_wanted(self, region: BaseGeometry, theme: Theme) -> Colors:
        """That of the wanted profile, kept while nothing about it changes."""
        if self._wanted is None or self._wanted[0] is not region:
            self._wanted, self._wanted_row = (region, face_of(region)), None
        axis = self.axis
        asked = (axis.left, axis.scale, self.width(), self.devicePixelRatioF(), theme, self.lamp)
        if self._wanted_row is None or self._wanted_row[0] != asked:
            self._wanted_row = (asked, self._row(self._wanted[1], theme))
        return self._wanted_row[1]

    def _catch_up(self) -> None:
        if self._waits:
            self._waits = False
            self.follow()

    def _move_lamp(self, value: int) -> None:
        self.set_lamp(Lamp(float(90 - abs(value)), value < 0, ROOM))

    def _tell_lamp(self) -> None:
        side = "left" if self.lamp.from_left else "right"
        self.slider.setToolTip(
            f"The lamp stands {self.lamp.altitude:.0f} degrees above the face, at the {side}. "
            "Slide it, or use the arrow keys, to let ridges show."
        )


def _paint_row(painter: QPainter, row: Colors, band: QRectF) -> None:
    """One row of pixels drawn out over a band."""
    image = QImage(row.data, len(row), 1, 4 * len(row), QImage.Format.Format_RGB32)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, False)
    painter.drawImage(band, image)


def _slider_value(lamp: Lamp) -> int:
    value = 90 - round(lamp.altitude)
    return -value if lamp.from_left else value


def _rgb(color: QColor) -> npt.NDArray[np.float32]:
    return np.array((color.red(), color.green(), color.blue()), dtype=np.float32)


@lru_cache(maxsize=64)
def _ramp(theme_name: str, lamp: Lamp) -> Colors:
    """The colour of each brightness: shadow, wood where the face lies flat, full light."""
    theme = THEMES[theme_name]
    dark, flat, light = (
        (
            mixed(theme.wood_edge, "#000000", 0.35),
            QColor(theme.wood),
            mixed(theme.wood, "#FFFFFF", 0.85),
        )
        if theme_name == "light"
        else (
            mixed(theme.paper, "#000000", 0.5),
            QColor(theme.wood),
            mixed(theme.wood_edge, "#FFFFFF", 0.5),
        )
    )
    bright = np.linspace(0.0, 1.0, 256)
    middle = lamp.on_flat
    stops = np.array((0.0, middle, 1.0))
    table = np.stack([_rgb(dark), _rgb(flat), _rgb(light)])
    return np.stack([np.interp(bright, stops, table[:, k]) for k in range(3)], axis=1).astype(
        np.uint8
    )
