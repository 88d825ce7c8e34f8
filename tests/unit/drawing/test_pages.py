import io

import numpy as np
import pytest
from pypdf import PdfReader

from profilestack.drawing.drawing import Drawing, Window, box, line, words
from profilestack.drawing.fonts import POINT
from profilestack.drawing.pages import pages_bytes
from profilestack.drawing.palette import Look, Pen
from tests.unit.drawing.pdf_reading import drawn_on, pages_of


def one_page(*marks: object) -> bytes:
    return pages_bytes([Drawing(210.0, 297.0, tuple(marks))])  # type: ignore[arg-type]


def test_a_hundred_millimetres_are_283_464567_points() -> None:
    data = one_page(line((20.0, 30.0), (120.0, 30.0), pen=Pen()))
    bar = drawn_on(pages_of(data)[0]).strokes[0].points
    assert bar[1][0] - bar[0][0] == pytest.approx(100.0 / 25.4 * 72.0, abs=2e-4)
    assert bar[0] == pytest.approx((20.0 / 25.4 * 72.0, 30.0 / 25.4 * 72.0), abs=2e-4)


def test_pages_are_of_their_own_size() -> None:
    data = pages_bytes([Drawing(210.0, 297.0, ()), Drawing(420.0, 297.0, ())])
    sizes = [tuple(float(x) for x in page.mediabox[2:]) for page in pages_of(data)]
    assert sizes[0] == pytest.approx((595.275591, 841.889764), abs=1e-3)
    assert sizes[1] == pytest.approx((2 * 595.275591, 841.889764), abs=1e-3)


def test_viewers_are_asked_not_to_scale() -> None:
    reader = PdfReader(io.BytesIO(one_page()))
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_the_bytes_are_the_same_every_time() -> None:
    marks = (line((1.0, 1.0), (9.0, 9.0), pen=Pen()), words((5.0, 5.0), "кириллица Ω", 9.0))
    assert one_page(*marks) == one_page(*marks)
    assert b"CreationDate (D:2000" in one_page(*marks)


def test_words_can_be_read_back() -> None:
    data = one_page(words((20.0, 30.0), "Größe Ω кириллица ½", 9.0))
    assert "Größe Ω кириллица ½" in pages_of(data)[0].extract_text()


def test_a_window_clips_what_is_in_it() -> None:
    inner = line((0.0, 50.0), (200.0, 50.0), pen=Pen())
    data = one_page(Window((20.0, 40.0), 100.0, 60.0, (inner,)), inner)
    drawn = drawn_on(pages_of(data)[0])
    clip, outside = (chain.clip for chain in drawn.strokes)
    assert outside is None
    assert clip is not None
    assert clip.min(axis=0) * POINT == pytest.approx((20.0, 40.0), abs=1e-4)
    assert clip.max(axis=0) * POINT == pytest.approx((120.0, 100.0), abs=1e-4)


def test_fills_keep_their_place() -> None:
    data = one_page(*box(10.0, 20.0, 30.0, 5.0, Look("#E6CFA9")))
    drawn = drawn_on(pages_of(data)[0])
    corners = np.array(((10.0, 20.0), (40.0, 20.0), (40.0, 25.0), (10.0, 25.0)))
    assert drawn.fills[0].points[:4] * POINT == pytest.approx(corners, abs=1e-4)
    assert drawn.fills[0].color == pytest.approx((0xE6 / 255, 0xCF / 255, 0xA9 / 255), abs=1e-4)
