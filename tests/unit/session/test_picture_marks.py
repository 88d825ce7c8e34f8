"""Marks A and B on a picture, and what they say of its scale."""

from __future__ import annotations

import pytest

from profilestack.session.picture_marks import BEGIN, GO_ON, Marks, length_label, scale_words

SIZE = (960, 660)


def test_marks_are_put_one_after_the_other() -> None:
    marks = Marks()
    assert marks.next_free == 0
    assert marks.points is None
    marks = marks.put(0, (10.04, 20.0), SIZE)
    assert marks.next_free == 1
    marks = marks.put(1, (310.0, 420.0), SIZE)
    assert marks.next_free is None
    assert marks.points == (10.0, 20.0, 310.0, 420.0)
    assert marks.put(0, None, SIZE) == Marks(None, (310.0, 420.0))


@pytest.mark.parametrize(
    ("asked", "kept"),
    [((-5.0, 700.0), (0.0, 660.0)), ((961.0, -0.1), (960.0, 0.0)), ((3.0, 4.0), (3.0, 4.0))],
)
def test_a_mark_stays_on_the_picture(asked: tuple[float, float], kept: tuple[float, float]) -> None:
    assert Marks().put(1, asked, SIZE).b == kept


def test_the_words_lead_from_nothing_to_a_scale() -> None:
    marks = Marks()
    assert scale_words(marks, None, "mm") == BEGIN
    marks = marks.put(0, (0.0, 100.0), SIZE)
    assert scale_words(marks, 25.4, "mm") == GO_ON
    marks = marks.put(1, (300.0, 100.0), SIZE)
    assert (
        scale_words(marks, None, "mm")
        == "A to B: 300.0 pixels. Give the true distance between them."
    )
    assert scale_words(marks, 25.4, "mm") == (
        "A to B: 300.0 pixels are 25.4 mm, so a pixel is 0.0847 mm: 300 dots per inch."
    )
    assert scale_words(marks, 25.4, "in") == (
        "A to B: 300.0 pixels are 1 in, so a pixel is 0.00333 in: 300 dots per inch."
    )


def test_the_line_says_its_length_or_its_pixels() -> None:
    marks = Marks((0.0, 0.0), (30.0, 40.0))
    assert length_label(Marks(), 10.0, "mm") == ""
    assert length_label(marks, None, "mm") == "50.0 pixels"
    assert length_label(marks, 19.05, "mm") == "19.05 mm"


def test_marks_in_one_place_say_no_scale() -> None:
    marks = Marks((5.0, 5.0), (5.0, 5.0))
    assert scale_words(marks, 10.0, "mm") == "A to B: 0.0 pixels."
