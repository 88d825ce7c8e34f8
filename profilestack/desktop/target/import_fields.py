"""The fields of the import form: which belong to which kind of file, and how each is made."""

from __future__ import annotations

from profilestack.desktop.document import Document
from profilestack.desktop.fields import AngleField, LengthField, WholeField
from profilestack.desktop.number_field import NumberField
from profilestack.desktop.target.placing_form import FactorField
from profilestack.targets.placement import SCALES

ASKED = {
    "drawing": ("units", "layer", "pick", "blank", "wood", "scale", "rotation", "tolerance"),
    "table": (
        "units", "columns", "order", "pick", "wood", "blank", "scale", "rotation", "tolerance",
    ),
    "picture": (
        "way", "trace", "threshold", "smooth", "pick", "wood", "blank", "scale", "rotation",
        "tolerance",
    ),
}  # fmt: skip
"""The fields that belong to each kind of file."""

SCALE_BY: dict[str, tuple[str, ...]] = {"dpi": ("dpi",), "across": ("across",), "points": ()}
"""The fields that belong to each way of giving a picture's scale; the points have their form."""

CHOICES: dict[str, tuple[tuple[str, str | None], ...]] = {
    "units": (("as the file says", None), ("mm", "mm"), ("inches", "in")),
    "way": (
        ("dots per inch", "dpi"), ("the width of the outline", "across"),
        ("two points on the picture", "points"),
    ),
    "order": (("as in the file", "file"), ("by x", "x"), ("each the nearest next", "nearest")),
    "trace": (("the edge of what is dark", "edge"), ("the middle of a line", "line")),
    "wood": (("below", "below"), ("above", "above"), ("left", "left"), ("right", "right")),
    "blank": (("as large as the profile", "fitted"),),
}  # fmt: skip
WIDE = ("units", "way", "dpi", "across", "trace", "blank")
"""What needs the whole width: its own words, or what may be wrong with it."""

OWN_BLANK = ("the file's own, or as large as the profile", "file")
"""A drawing may bring the blank of its profile along."""

NAMES = {
    "way": "Scale by",
    "units": "Its numbers are", "order": "Order of points", "trace": "Follow",
    "wood": "The wood lies", "blank": "Blank", "layer": "Layers", "columns": "Columns",
}  # fmt: skip


def asked_about(kind: str, way: str) -> tuple[str, ...]:
    """The fields for a kind of file, in their order; ``way`` is how a picture's scale is given."""
    asked = ASKED[kind]
    return (asked[0], *SCALE_BY[way], *asked[1:]) if kind == "picture" else asked


def number_fields(document: Document) -> dict[str, NumberField]:
    """Every field that holds a number, as it is before anything is said."""
    numbers: dict[str, NumberField] = {
        "pick": WholeField("Number of the outline", low=1.0, high=9999.0, optional=True),
        "dpi": FactorField("Dots per inch", low=1.0, high=20_000.0, optional=True),
        "across": LengthField(
            document, "Width of the outline", low=0.001, high=1e6, optional=True,
            about="From its leftmost place to its rightmost",
        ),
        "threshold": WholeField(
            "Tone between wood and background", low=0.0, high=255.0, optional=True,
            about="0 is black, 255 is white; empty: where the tones part best",
        ),
        "smooth": FactorField("Blur, pixels", low=0.0, high=50.0),
        "scale": FactorField("Scale", low=SCALES[0], high=SCALES[1]),
        "rotation": AngleField("Turned", low=-360.0, high=360.0),
        "tolerance": LengthField(
            document, "Tolerance", low=1e-4, high=100.0, optional=True,
            about="How far the lines and arcs may leave what was read",
        ),
    }  # fmt: skip
    for key, text in (
        ("pick", "the only one"), ("dpi", "as the picture says"), ("across", "not given"),
        ("threshold", "where tones part best"), ("tolerance", "as suits the file"),
    ):  # fmt: skip
        numbers[key].setPlaceholderText(text)
    numbers["scale"].value, numbers["rotation"].value = 1.0, 0.0
    numbers["smooth"].value = 0.0
    return numbers
