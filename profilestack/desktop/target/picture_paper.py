"""A picture that can be seen larger and moved, to point at places in it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import (
    QColor,
    QImage,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from profilestack.desktop.axis import Axis
from profilestack.desktop.theme import theme_now
from profilestack.files.targets.picture_view import PictureView
from profilestack.geometry.path import Point

LONGER = 100.0
"""The longer side of a picture in what the axis counts in: it knows no picture of 2000 mm."""

ZOOM = 1.25

LARGER, SMALLER, WHOLE = (Qt.Key.Key_Plus, Qt.Key.Key_Equal), (Qt.Key.Key_Minus,), (Qt.Key.Key_0,)


class PicturePaper(QWidget):
    """A picture in greys. Places in it are pixels of the picture from its upper left."""

    def __init__(self) -> None:
        super().__init__()
        self.axis = Axis(self)
        self.picture_size = (1, 1)
        self._image: QImage | None = None
        self._smoothed: QImage | None = None
        self._is_whole = True
        self.axis.changed.connect(self.update)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    @property
    def has_picture(self) -> bool:
        """Whether there is a picture to point at."""
        return self._image is not None

    def show_picture(self, view: PictureView | None) -> None:
        """Show all of a picture; None shows nothing."""
        self._image = self._smoothed = None
        if view is not None:
            rows, columns = view.tones.shape
            tones = view.tones.tobytes()
            image = QImage(tones, columns, rows, columns, QImage.Format.Format_Grayscale8)
            self._image = image.copy()  # the bytes go, the picture stays
            self.picture_size = (view.width, view.height)
        self.show_whole()
        self.update()

    def show_whole(self) -> None:
        """As large as all of it can be seen."""
        self._is_whole = True
        width, height = (side * self._share for side in self.picture_size)
        scale = self._whole_scale()
        left = (width - self.width() / scale) / 2.0
        top = (self.height() / scale - height) / 2.0
        self.axis.set(left, top, scale)

    def zoom(self, factor: float, at: QPointF) -> None:
        """Larger or smaller, with what is at a point of the screen staying there."""
        if self.axis.scale * factor <= self._whole_scale():
            self.show_whole()  # smaller shows nothing more
            return
        self._is_whole = False
        self.axis.zoom(factor, at.x(), at.y())

    def pan(self, by: QPointF) -> None:
        """Move the picture."""
        self._is_whole = False
        self.axis.pan(by.x(), by.y())

    def pixel_of(self, place: Point) -> QPointF:
        """Where a place of the picture lies on the screen."""
        x, y = (value * self._share for value in place)
        return QPointF(self.axis.pixel_of_x(x), self.axis.pixel_of_z(-y))

    def place_at(self, pixel: QPointF) -> Point:
        """The place of the picture at a point of the screen."""
        return (
            self.axis.x_at(pixel.x()) / self._share,
            -self.axis.z_at(pixel.y()) / self._share,
        )

    def show_place(self, place: Point) -> None:
        """Bring a place into sight."""
        pixel, middle = self.pixel_of(place), QRectF(self.rect()).center()
        if not self.rect().adjusted(8, 8, -8, -8).contains(pixel.toPoint()):
            self.pan(middle - pixel)

    def sizeHint(self) -> QSize:
        """Fourteen lines high."""
        line = self.fontMetrics().lineSpacing()
        return QSize(16 * line, 14 * line)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """What was seen whole stays whole."""
        if self._is_whole:
            self.show_whole()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Larger or smaller at the pointer, but only with the focus or Ctrl: a form scrolls by."""
        held = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if not (self.hasFocus() or held):
            event.ignore()
            return
        event.accept()  # even where it cannot be smaller: the form stays where it is
        if self.has_picture:
            self.zoom(ZOOM ** (event.angleDelta().y() / 120.0), event.position())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Plus and minus change the size, 0 shows all of it."""
        key, middle = event.key(), QRectF(self.rect()).center()
        if key in LARGER:
            self.zoom(ZOOM, middle)
        elif key in SMALLER:
            self.zoom(1.0 / ZOOM, middle)
        elif key in WHOLE:
            self.show_whole()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the picture, then what lies over it."""
        theme = theme_now()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.fillRect(self.rect(), QColor(theme.panel))
        if self._image is not None:
            width, height = self.picture_size
            room = QRectF(self.pixel_of((0.0, 0.0)), self.pixel_of((width, height)))
            painter.drawImage(room, self._shown(self._image, room.size()))
            self.paint_over(painter)
        frame = theme.ink if self.hasFocus() else theme.rule
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(frame), 1.0))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()

    def paint_over(self, painter: QPainter) -> None:
        """Draw what lies over the picture."""

    def _shown(self, image: QImage, room: QSizeF) -> QImage:
        """The picture with no more pixels than the screen has: thin lines turn grey, none is lost.

        A painter takes one pixel of several. What is smoothed is kept as long as the size stays.
        """
        size = (room * self.devicePixelRatioF()).toSize().expandedTo(QSize(1, 1))
        if size.width() >= image.width():
            return image
        if self._smoothed is None or self._smoothed.size() != size:
            self._smoothed = image.scaled(
                size, Qt.AspectRatioMode.IgnoreAspectRatio,
                Qt.TransformationMode.SmoothTransformation,
            )  # fmt: skip
        return self._smoothed

    def _whole_scale(self) -> float:
        """The scale at which all of the picture is seen."""
        width, height = (side * self._share for side in self.picture_size)
        return min(self.width() / width, self.height() / height)

    @property
    def _share(self) -> float:
        return LONGER / max(self.picture_size)
