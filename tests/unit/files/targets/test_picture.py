from __future__ import annotations

import struct
import zlib

import numpy as np
import pytest
from PIL import Image

from profilestack.errors import InputError
from profilestack.files.targets.picture import MOST_PIXELS, read_picture
from profilestack.files.targets.wishes import PictureWishes, ReadingWishes
from profilestack.geometry.motion import move
from profilestack.geometry.path import Path
from profilestack.targets.tracing import Chain, Tracing
from tests.unit.files.targets.pictures import EDGE, SIZE, encoded, picture
from tests.unit.targets.profiles import SECTION, STEPPED, farthest

PLACED = move(EDGE, EDGE).apply_to(SECTION)
"""Where the section lies on the sheet, from its lower left."""

DOTS = PictureWishes(dpi=300.0)
PIXEL = 25.4 / 300.0


def read(data: bytes, **wishes: object) -> Tracing:
    return read_picture(data, ReadingWishes(picture=PictureWishes(**wishes)))  # type: ignore[arg-type]


def only(data: bytes, **wishes: object) -> Chain:
    (chain,) = read(data, **wishes).chains
    return chain


def refused(data: bytes, **wishes: object) -> str:
    with pytest.raises(InputError) as caught:
        read(data, **wishes)
    return str(caught.value)


SCAN = encoded(picture(SECTION), dpi=(300, 300))


def test_the_outline_is_found_to_a_fraction_of_a_pixel() -> None:
    tracing = read(SCAN)
    (chain,) = tracing.chains
    assert chain.is_closed
    assert chain.measured
    assert tracing.notes == (
        "scale: 300 dots per inch, as the picture says",
        "tones parted at 147 of 255 (dark 40, light 255)",
    )
    assert tracing.tolerance == pytest.approx(1.2 * PIXEL)
    off = [farthest(point[None], PLACED) for point in chain.flatten()[::25]]
    assert max(off) < 0.5 * PIXEL  # in the corners
    assert float(np.median(off)) < 0.1 * PIXEL


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "BMP", "TIFF"])
def test_every_kind_of_picture_is_read(kind: str) -> None:
    data = encoded(picture(SECTION, 200), kind)
    assert only(data, dpi=200.0).is_closed


@pytest.mark.parametrize("mode", ["1", "P", "RGB", "RGBA", "LA", "CMYK", "I;16"])
def test_every_mode_of_colour_is_read(mode: str) -> None:
    image = picture(SECTION, 200)
    if mode == "I;16":
        image = Image.fromarray(np.asarray(image).astype(np.uint16) * 257)
        data = encoded(image, "PNG")
    else:
        data = encoded(image.convert(mode), "TIFF" if mode == "CMYK" else "PNG")
    chain = only(data, dpi=200.0)
    low, high = chain.flatten().min(axis=0), chain.flatten().max(axis=0)
    pixel = 25.4 / 200.0
    assert low == pytest.approx([EDGE, EDGE], abs=0.6 * pixel)
    assert high == pytest.approx([EDGE + 70.0, EDGE + 45.0], abs=0.6 * pixel)


def test_bare_ground_is_white() -> None:
    image = picture(SECTION, 200).convert("L")
    tones = np.asarray(image)
    clear = np.zeros((*tones.shape, 4), dtype=np.uint8)
    clear[..., 3] = 255 - tones  # black ink on nothing
    assert only(encoded(Image.fromarray(clear)), dpi=200.0).is_closed


def test_a_picture_that_says_how_it_was_held_is_turned() -> None:
    image = picture(SECTION, 200)
    exif = Image.Exif()
    exif[0x0112] = 6  # to be turned a quarter clockwise
    data = encoded(image.transpose(Image.Transpose.ROTATE_90), "JPEG", exif=exif, quality=95)
    low, high = (only(data, dpi=200.0).flatten().min(axis=0), None)
    assert high is None
    assert low == pytest.approx([EDGE, EDGE], abs=0.1)


def test_grain_does_no_harm_and_can_be_blurred() -> None:
    data = encoded(picture(SECTION, 300, dark=120, light=200, grain=12.0))
    for smooth in (0.0, 1.0):
        chain = only(data, dpi=300.0, smooth=smooth)
        off = [farthest(point[None], PLACED) for point in chain.flatten()[::25]]
        assert float(np.median(off)) < 0.3 * PIXEL


def test_light_wood_on_a_dark_ground_has_the_same_outline() -> None:
    dark = only(SCAN)
    light = only(encoded(picture(SECTION, 300, dark=255, light=40)), dpi=300.0)
    assert np.ptp(light.flatten(), axis=0) == pytest.approx(
        np.ptp(dark.flatten(), axis=0), abs=0.01
    )


def test_the_scale_by_a_width_and_by_two_points() -> None:
    bare = encoded(picture(SECTION))
    by_width = only(bare, across=70.0)
    assert np.ptp(by_width.flatten()[:, 0]) == pytest.approx(70.0)
    pixels = (100.0, 100.0, 100.0 + 300.0 / 25.4 * 30.0, 100.0)
    by_points = only(bare, points=pixels, distance=30.0)
    assert np.ptp(by_points.flatten()[:, 0]) == pytest.approx(70.0, abs=0.3 * PIXEL)


@pytest.mark.parametrize("said", [None, (72, 72), (96, 96)])
def test_a_picture_without_a_scale_is_asked_about(said: tuple[int, int] | None) -> None:
    data = encoded(picture(SECTION, 200), **({} if said is None else {"dpi": said}))
    told = refused(data)
    assert told.startswith("dpi: ")
    assert "--dpi" in told
    assert "--across" in told


def test_unlike_dots_across_and_up_are_heeded() -> None:
    image = picture(SECTION, 300)
    squeezed = image.resize((image.width // 2, image.height), Image.Resampling.BOX)
    chain = only(encoded(squeezed, dpi=(150, 300)))
    assert np.ptp(chain.flatten(), axis=0) == pytest.approx([70.0, 45.0], abs=0.15)


def test_the_middle_of_a_drawn_line() -> None:
    data = encoded(picture(STEPPED, 300, line=0.6), dpi=(300, 300))
    tracing = read(data, trace="line")
    (chain,) = tracing.chains
    assert "the middle of the drawn line was taken" in tracing.notes
    placed = move(EDGE, EDGE).apply_to(STEPPED)
    off = [farthest(point[None], placed) for point in chain.flatten()[::20]]
    assert max(off) < 0.8 * PIXEL
    ends = sorted([chain.start, chain.end])
    assert ends[0] == pytest.approx((EDGE, EDGE + 45.0), abs=0.35)
    assert ends[1] == pytest.approx((EDGE + 70.0, EDGE + 5.0), abs=0.35)


def test_a_light_line_on_dark_paper() -> None:
    data = encoded(picture(STEPPED, 200, line=0.8, dark=250, light=30))
    chain = only(data, dpi=200.0, trace="line", light=True)
    assert np.ptp(chain.flatten()[:, 0]) == pytest.approx(70.0, abs=0.9)  # the pen's width


def test_a_shape_is_no_line() -> None:
    told = refused(SCAN, trace="line")
    assert "no drawn line" in told
    assert "--trace edge" in told


def test_smaller_things_beside_are_left_out_and_told() -> None:
    image = picture(SECTION)
    image.paste(40, (800, 60, 860, 120))
    tracing = read(encoded(image), dpi=300.0)
    assert "left out: 1 shorter outlines" in tracing.notes
    assert tracing.chains[0].length > 150.0


def test_a_piece_that_runs_off_the_picture_is_an_open_profile() -> None:
    below = Path((-9.0, 30.0)).line((40.0, 30.0)).line((40.0, 10.0)).line((99.0, 10.0))
    below = below.line((99.0, -9.0)).line((-9.0, -9.0)).line((-9.0, 30.0))
    tracing = read(encoded(picture(below, 200)), dpi=200.0)
    (chain,) = tracing.chains
    assert not chain.is_closed
    assert "the outline runs to the edge of the picture and ends there" in tracing.notes
    xs = chain.flatten()[:, 0]
    # the first and last pixels' middles
    assert (xs.min(), xs.max()) == pytest.approx((0.0635, SIZE[0] - 0.0635), abs=1e-6)


def test_a_tone_can_be_said() -> None:
    told = read(SCAN, threshold=200.0).notes
    assert "tones parted at 200 of 255" in told
    assert "shows no outline at the tone" in refused(SCAN, threshold=5.0)


def header_only(width: int, height: int) -> bytes:
    """A PNG that says a size and has no pixels."""

    def part(kind: bytes, data: bytes) -> bytes:
        check = zlib.crc32(kind + data)
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", check)

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + part(b"IHDR", head) + part(b"IDAT", b"") + part(b"IEND", b"")


def test_a_huge_picture_is_refused_by_its_header() -> None:
    told = refused(header_only(50_000, 50_000), dpi=300.0)
    assert told.startswith("has 50000 x 50000 pixels; expected at most 40 million")
    assert MOST_PIXELS < 50_000**2


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (SCAN[: len(SCAN) // 2], "is no whole picture"),
        (header_only(100, 100), "is no whole picture"),
        (header_only(3, 100), "has 3 x 100 pixels"),
        (b"\x89PNG\r\n\x1a\n", "is no"),
        (b"plain words", "is no picture that is read"),
        (b"GIF89a" + bytes(50), "is no picture that is read"),
        (encoded(Image.new("L", (100, 100), 128)), "its tones run from 128 to 128 of 255 only"),
        (
            encoded(Image.linear_gradient("L").point(lambda tone: 120 + tone // 25)),
            "shows no outline",
        ),
    ],
)  # fmt: skip
def test_what_shows_nothing_is_refused(data: bytes, told: str) -> None:
    assert told in refused(data, dpi=300.0)


def test_noise_with_an_endless_outline_is_refused() -> None:
    tones = np.random.default_rng(1).integers(0, 2, (1500, 1500), dtype=np.uint8) * 255
    told = refused(encoded(Image.fromarray(tones)), dpi=300.0, threshold=100.0)
    assert "goes from dark to light" in told


@pytest.mark.parametrize(
    ("wishes", "told"),
    [
        ({"dpi": 0.0}, "dpi: 0.0 is impossible"),
        ({"dpi": float("nan")}, "dpi: nan is impossible"),
        ({"across": -1.0}, "across: -1.0 is impossible"),
        ({"points": (0.0, 0.0, 1.0, 1.0)}, "one of points and distance is missing"),
        ({"distance": 5.0}, "one of points and distance is missing"),
        ({"dpi": 300.0, "across": 70.0}, "dpi and across are given: two scales"),
        ({"threshold": 300.0}, "threshold: 300.0 is impossible"),
        ({"smooth": 99.0}, "smooth: 99.0 is impossible"),
        ({"trace": "outline"}, "trace: 'outline' is unknown"),
    ],
)
def test_impossible_wishes_are_refused(wishes: dict[str, object], told: str) -> None:
    assert told in refused(SCAN, **wishes)


def test_two_points_in_one_place_give_no_scale() -> None:
    bare = encoded(picture(SECTION, 200))
    assert "lie 5.0 pixels apart" in refused(bare, points=(0.0, 0.0, 3.0, 4.0), distance=10.0)
