"""Readings of check dimensions: what is taken, and what is refused with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from profilestack.errors import FileError, InputError
from profilestack.files.check_values import has_checks, read_checks


def table(folder: Path, text: str) -> Path:
    path = folder / "readings.csv"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("check,measured_mm\n1,11.5\n3,7.25\n", {1: 11.5, 3: 7.25}),
        ("check;measured (in)\n1;1/2\n2;0.25\n", {1: 12.7, 2: 6.35}),
        ("# made by hand\ncheck\tmeasured_mm\n2\t3/8 in\n", {2: 9.525}),
        ("check,measured_mm\n1,\n2,8,\n".replace("8,", "8"), {2: 8.0}),
        ("check measured_mm\n4 1 1/2 in\n", {4: 38.1}),
    ],
)
def test_readings(tmp_path: Path, text: str, expected: dict[int, float]) -> None:
    path = table(tmp_path, text)
    assert has_checks(path)
    assert read_checks(path) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("check,measured_mm\n", "holds no reading"),
        ("check,measured_mm\none,5\n", "2: 'one' is no number"),
        ("check,measured_mm\n1,5\n1,6\n", "3: check 1 is there twice"),
        ("check,measured_mm\n1,nan\n", "2: .*is not a length"),
        ("check,measured\n1,5\n", "2: "),
    ],
)
def test_refusals(tmp_path: Path, text: str, told: str) -> None:
    with pytest.raises(InputError, match=told):
        read_checks(table(tmp_path, text))


def test_points_are_no_readings(tmp_path: Path) -> None:
    assert not has_checks(table(tmp_path, "x_mm,z_mm\n1,2\n"))
    with pytest.raises(FileError, match="no such file"):
        has_checks(tmp_path / "none.csv")
