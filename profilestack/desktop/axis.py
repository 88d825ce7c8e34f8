"""The axis that all views of the section share: the same x at the same pixel, at every zoom."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

LEAST, MOST = 0.5, 400.0
"""Pixels per mm."""


class Axis(QObject):
    """Where the section lies in the views: x [mm] and pixels from a view's left side.

    ``left`` is the x at the left side of the views, ``top`` the z at the top of the section's
    view [mm]; ``scale`` is in pixels per mm, the same both ways.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.left = 0.0
        self.top = 0.0
        self.scale = 8.0

    def pixel_of_x(self, x: float) -> float:
        """Pixels from the left side of a view."""
        return (x - self.left) * self.scale

    def x_at(self, pixel: float) -> float:
        """The x at so many pixels from the left side of a view [mm]."""
        return self.left + pixel / self.scale

    def pixel_of_z(self, z: float) -> float:
        """Pixels from the top of the section's view."""
        return (self.top - z) * self.scale

    def z_at(self, pixel: float) -> float:
        """The z at so many pixels from the top of the section's view [mm]."""
        return self.top - pixel / self.scale

    def zoom(self, factor: float, pixel_x: float, pixel_z: float) -> None:
        """Larger or smaller, with what is at these pixels staying there."""
        scale = min(MOST, max(LEAST, self.scale * factor))
        x, z = self.x_at(pixel_x), self.z_at(pixel_z)
        self.set(x - pixel_x / scale, z + pixel_z / scale, scale)

    def pan(self, pixels_x: float, pixels_z: float) -> None:
        """Move the paper by so many pixels, right and down."""
        self.set(self.left - pixels_x / self.scale, self.top + pixels_z / self.scale, self.scale)

    def fit(
        self,
        low: tuple[float, float],
        high: tuple[float, float],
        width: float,
        height: float,
        edges: tuple[float, float] = (0.0, 0.0),
    ) -> None:
        """Show the box from ``low`` to ``high`` [mm], with margins, in a view of so many pixels.

        ``edges`` are so many pixels at its left and at its top that are left to its rulers.
        """
        width, height = max(16.0, width - edges[0]), max(16.0, height - edges[1])
        size_x, size_z = max(1.0, high[0] - low[0]), max(1.0, high[1] - low[1])
        scale = min(MOST, max(LEAST, min(width / (1.16 * size_x), height / (1.2 * size_z))))
        left = (low[0] + high[0]) / 2.0 - (edges[0] + width / 2.0) / scale
        top = (low[1] + high[1]) / 2.0 + (edges[1] + height / 2.0) / scale
        self.set(left, top, scale)

    def set(self, left: float, top: float, scale: float) -> None:
        """Put the section where it is to be."""
        if (left, top, scale) != (self.left, self.top, self.scale):
            self.left, self.top, self.scale = left, top, scale
            self.changed.emit()
