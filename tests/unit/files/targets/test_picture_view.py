"""How a picture looks, as it is shown to point at places in it."""

from __future__ import annotations

from pathlib import Path as FilePath

import numpy as np
import pytest
from PIL import Image

from profilestack.errors import FileError, InputError
from profilestack.files.targets.isolation import read_view
from profilestack.files.targets.picture_view import MOST_SHOWN, view_of
from tests.unit.files.targets.pictures import encoded, picture
from tests.unit.targets.profiles import SECTION


def test_a_small_picture_is_shown_pixel_by_pixel(tmp_path: FilePath) -> None:
    image = picture(SECTION, 200)
    file = tmp_path / "scan.png"
    file.write_bytes(encoded(image))
    view = read_view(file)  # over the border of a process
    assert (view.width, view.height) == image.size
    np.testing.assert_array_equal(view.tones, np.asarray(image))


def test_a_large_one_is_shown_smaller_and_keeps_its_size() -> None:
    image = Image.new("L", (5000, 1000), 255)
    image.paste(0, (2500, 0, 5000, 1000))
    view = view_of(encoded(image))
    assert (view.width, view.height) == (5000, 1000)
    assert view.tones.shape == (MOST_SHOWN // 5, MOST_SHOWN)
    assert view.tones[:, : MOST_SHOWN // 2].min() == 255
    assert view.tones[:, MOST_SHOWN // 2 :].max() == 0


def test_it_stands_upright_as_it_is_read() -> None:
    image = Image.new("RGB", (40, 20), "white")
    image.paste("black", (0, 0, 10, 10))
    turned = Image.Exif()
    turned[0x0112] = 6  # to be turned clockwise
    view = view_of(encoded(image, "JPEG", exif=turned, quality=95))
    assert (view.width, view.height) == (20, 40)
    assert view.tones[:8, 12:].max() < 60
    assert view.tones[12:, :].min() > 200


def test_what_is_no_picture_is_refused_with_its_name(tmp_path: FilePath) -> None:
    file = tmp_path / "words.png"
    file.write_bytes(b"plain words")
    with pytest.raises(InputError, match=r"words\.png: is no picture that is read"):
        read_view(file)
    with pytest.raises(FileError, match="there is no such file"):
        read_view(tmp_path / "none.png")
