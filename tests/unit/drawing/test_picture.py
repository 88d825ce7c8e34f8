import io
import subprocess
import sys
from xml.etree import ElementTree

import matplotlib
import numpy as np
import pytest
from PIL import Image

from profilestack.drawing.drawing import Drawing, Window, box, line, words
from profilestack.drawing.palette import LEFTOVER_LOOK, WOOD, Look, Pen
from profilestack.drawing.picture import KINDS, Kind, picture_bytes
from tests.unit.drawing.pdf_reading import pages_of

SAMPLE = Drawing(
    140.0,
    100.0,
    (
        *box(10.0, 10.0, 50.8, 25.4, Look(WOOD)),
        *box(70.0, 10.0, 30.0, 20.0, LEFTOVER_LOOK),
        line((10.0, 60.0), (130.0, 60.0), pen=Pen("#0060A8", 0.5, (3.0, 1.0))),
        words((10.0, 70.0), "$x^2$ <b> & Ω \\frac", 9.0),
    ),
    paper="#FAF8F4",
)


@pytest.mark.parametrize("kind", KINDS)
def test_the_bytes_are_the_same_every_time(kind: Kind) -> None:
    assert picture_bytes(SAMPLE, kind) == picture_bytes(SAMPLE, kind)


def test_a_png_has_the_size_it_should() -> None:
    image = Image.open(io.BytesIO(picture_bytes(SAMPLE, "png", dots_per_inch=254)))
    assert image.size == (1400, 1000)


def test_a_png_shows_things_where_they_are() -> None:
    data = picture_bytes(SAMPLE, "png", dots_per_inch=254)
    pixels = np.asarray(Image.open(io.BytesIO(data)).convert("RGB"))
    # ten pixels a mm, from the top
    wood = tuple(int(WOOD[k : k + 2], 16) for k in (1, 3, 5))
    assert tuple(pixels[1000 - 200, 300]) == wood
    assert tuple(pixels[1000 - 105, 105]) == wood
    assert tuple(pixels[1000 - 200, 620]) == (0xFA, 0xF8, 0xF4)


def test_an_svg_is_xml_in_mm() -> None:
    root = ElementTree.fromstring(picture_bytes(SAMPLE, "svg"))
    assert root.get("width") == "140.0000mm"
    assert root.get("height") == "100.0000mm"
    _, _, width, height = (float(part) for part in root.get("viewBox", "").split())
    assert width / height == pytest.approx(1.4, rel=1e-6)


def test_a_pdf_picture_has_its_size() -> None:
    (page,) = pages_of(picture_bytes(SAMPLE, "pdf"))
    assert [float(x) for x in page.mediabox[2:]] == pytest.approx(
        (140.0 / 25.4 * 72.0, 100.0 / 25.4 * 72.0), abs=1e-3
    )


def test_a_window_hides_what_is_outside() -> None:
    inner = tuple(box(0.0, 0.0, 100.0, 100.0, Look("#000000")))
    data = picture_bytes(
        Drawing(100.0, 100.0, (Window((20.0, 20.0), 30.0, 30.0, inner),)), "png", 254
    )
    pixels = np.asarray(Image.open(io.BytesIO(data)).convert("L"))
    assert pixels[1000 - 300, 300] == 0
    assert pixels[1000 - 150, 300] == 255
    assert pixels[1000 - 300, 600] == 255


def test_the_users_settings_are_left_alone() -> None:
    before = dict(matplotlib.rcParams)
    picture_bytes(SAMPLE, "svg")
    assert dict(matplotlib.rcParams) == before


def test_the_users_settings_change_nothing() -> None:
    plain = picture_bytes(SAMPLE, "png")
    with matplotlib.rc_context({"savefig.bbox": "tight", "path.simplify": True, "font.size": 30}):
        assert picture_bytes(SAMPLE, "png") == plain


def test_nothing_slow_is_loaded_before_it_is_needed() -> None:
    code = (
        "import sys; import profilestack.drawing.picture, profilestack.drawing.pages, "
        "profilestack.drawing.section_picture, profilestack.drawing.template.template; "
        "print([name for name in ('matplotlib', 'reportlab', 'scipy') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_no_window_toolkit_is_touched() -> None:
    code = (
        "import sys; from profilestack.drawing.picture import picture_bytes; "
        "from profilestack.drawing.drawing import Drawing; "
        "picture_bytes(Drawing(10.0, 10.0, ()), 'png'); print('matplotlib.pyplot' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
