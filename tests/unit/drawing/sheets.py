"""What every sheet must keep: all on the paper, no words over other words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from shapely.geometry import Polygon

from profilestack.drawing.drawing import Drawing, Mark, Window, Words, reach_of, words_corners


def words_of(marks: Iterable[Mark]) -> Iterator[Words]:
    for mark in marks:
        if isinstance(mark, Words):
            yield mark
        elif isinstance(mark, Window):
            yield from words_of(mark.marks)


def texts_of(drawing: Drawing) -> list[str]:
    return [mark.text for mark in words_of(drawing.marks)]


def room_of(mark: Words) -> Polygon:
    return Polygon(words_corners(mark)[[0, 2, 3, 1]])


def assert_all_on_paper(drawing: Drawing) -> None:
    low_x, low_y, high_x, high_y = reach_of(drawing.marks)
    assert low_x >= 0.0
    assert low_y >= 0.0
    assert high_x <= drawing.width
    assert high_y <= drawing.height


def overlapping_words(drawing: Drawing) -> list[tuple[str, str]]:
    every = [(mark.text, room_of(mark)) for mark in words_of(drawing.marks)]
    return [
        (text, other)
        for place, (text, room) in enumerate(every)
        for other, taken in every[:place]
        if room.intersection(taken).area > 0.05
    ]
