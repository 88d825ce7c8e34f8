from __future__ import annotations

import numpy as np
import pytest

from profilestack.errors import InputError
from profilestack.files.targets.points_csv import MOST_LINES, read_points
from profilestack.files.targets.wishes import ReadingWishes
from profilestack.targets.tracing import Tracing

INCH = 25.4


def read(text: str, **wishes: object) -> Tracing:
    return read_points(text.encode(), ReadingWishes(**wishes))  # type: ignore[arg-type]


def points(text: str, **wishes: object) -> list[list[float]]:
    (chain,) = read(text, **wishes).chains
    found: list[list[float]] = chain.flatten().tolist()
    return found


def refused(text: str, **wishes: object) -> str:
    with pytest.raises(InputError) as caught:
        read(text, **wishes)
    return str(caught.value)


@pytest.mark.parametrize(
    "text",
    [
        "x_mm,z_mm\n0,1\n2.5,3\n",
        "x (mm);z (mm)\n0;1\n2,5;3\n",
        "x [mm]\tz [mm]\n0\t1\n2.5\t3\n",
        "# units: mm\n0 1\n2.5   3\n",
        "# a gauge\nunits,mm\n0, 1\n2.5, 3\n",
        "\ufeffx_mm,z_mm\r\n0,1\r\n2.5,3\r\n",
        '"x_mm","z_mm"\n"0","1"\n"2.5","3"\n',
        'x_mm,z_mm\n"0,0","1,0"\n"2,5", "3"\n',
        "x_mm,z_mm\n0 1\n2.5 3\n",
        "# units mm\n0,0 1,0\n2,5 3,0\n",
        "x_mm,z_mm\n0,1\n0,1\n2.5e0,+3.\n\n",
    ],
)
def test_the_usual_ways_of_writing_a_table(text: str) -> None:
    tracing = read(text)
    assert tracing.units == "mm"
    assert tracing.chains[0].flatten().tolist() == [[0.0, 1.0], [2.5, 3.0]]
    assert tracing.chains[0].measured


def test_inches_by_the_head_by_the_call_and_by_the_cell() -> None:
    expected = pytest.approx(np.array([[0.0, INCH], [1.375 * INCH, 0.5 * INCH]]))
    assert np.array(points("x_in,z_in\n0,1\n1.375,0.5\n")) == expected
    assert np.array(points("0,1\n1.375,0.5\n", units="in")) == expected
    assert np.array(points("x_mm,z_mm\n0,1 in\n1-3/8 in,12.7\n")) == expected
    assert np.array(points('x_mm,z_mm\n0,1"\n1 3/8",12.7\n')) == expected


def test_a_silent_file_is_asked_about() -> None:
    told = refused("x,z\n0,1\n2,3\n")
    assert "does not say whether its numbers are mm or inches" in told
    assert "--units-of-file" in told


def test_the_call_wins_over_the_file_with_a_note() -> None:
    tracing = read("x_mm,z_mm\n0,1\n2,3\n", units="in")
    assert tracing.chains[0].end == pytest.approx((2.0 * INCH, 3.0 * INCH))
    assert tracing.notes == ("the file says mm; it was read as in",)


def test_columns_by_name_and_by_number() -> None:
    text = "x_mm,y_mm,z_mm\n1,9,2\n3,9,4\n"
    assert points(text) == [[1.0, 2.0], [3.0, 4.0]]
    assert points(text, columns=("2", "z_mm")) == [[9.0, 2.0], [9.0, 4.0]]
    assert "there is no column 'w'" in refused(text, columns=("w", "1"))
    assert "there is no column '4'" in refused(text, columns=("1", "4"))
    assert "the table has 3 columns" in refused("1,9,2\n3,9,4\n", units="mm")


def test_an_empty_line_begins_a_slice() -> None:
    tracing = read("x_mm,z_mm\n0,1\n2,3\n\n\n0,1.1\n2,3.1\n5,6\n")
    assert [chain.count for chain in tracing.chains] == [1, 2]
    assert [chain.label for chain in tracing.chains] == ["slice 1", "slice 2"]


def test_order_by_x_and_by_the_nearest() -> None:
    text = "x_mm,z_mm\n3,0\n1,0\n2,5\n0,0\n"
    assert [p[0] for p in points(text, order="x")] == [0.0, 1.0, 2.0, 3.0]
    hooked = "x_mm,z_mm\n4,3\n0,0\n4,0\n2,3\n2,0\n5,1.5\n"
    walked = [[0.0, 0.0], [2.0, 0.0], [4.0, 0.0], [5.0, 1.5], [4.0, 3.0], [2.0, 3.0]]
    assert points(hooked, order="nearest") == walked


def test_a_jump_is_told() -> None:
    rows = "".join(f"{k},0\n" for k in range(20)) + "-90,0\n"
    (note,) = read("x_mm,z_mm\n" + rows).notes
    assert "jumps 109.00 mm behind (19.00, 0.00)" in note


def test_wrong_lines_are_told_with_their_numbers_all_at_once() -> None:
    told = refused("x_mm,z_mm\n0,1\n2,nan\n3\n4,five\n5,1e308\n6,7\n")
    assert told.splitlines() == [
        "3: 'nan' is not finite; expected a number",
        "4: has 1 column; expected at least 2",
        "5: 'five' is not a length: a number was expected here at character 1; expected a length "
        "such as 19 mm, 1 3/8 in, 2 ft 3 in or 19 mm + 1/2 in",
        "6: '1e308' is too large; expected at most 1e+06 mm",
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("x_mm,z_mm\n", "holds no two points"),
        ("x_mm,z_mm\n1,2\n", "holds no two points"),
        ("x_mm,z_mm\n1,2\n1,2\n", "holds no two points"),
        ("\n" * (MOST_LINES + 2), "has more than"),
        ("x_mm,z_mm\n" + "1,2,3,4,5\n" * 41_000, "holds more than 200000 cells"),
        ("x_mm,z_mm\n9**9**9,1\n1,2\n", "is not a length"),
        ("x_mm,z_mm\n1/0,1\n1,2\n", "cannot have 0 below its bar"),
        ('x_mm,z_mm\n0,"1,234.5"\n1,2\n', "2: '1,234.5' is not a length"),
        ("x_mm,z_mm\n0,24\n12,5,24\n", "3: has 3 columns, the head 2; expected 2 (is a comma"),
        ("x_mm,z_mm\n" + "1" * 200_000 + ",2\n1,2\n", "is too large"),
    ],
)
def test_useless_and_hostile_tables_are_refused(text: str, told: str) -> None:
    assert told in refused(text)


def test_a_picture_called_csv_is_no_table() -> None:
    with pytest.raises(InputError, match="zero bytes"):
        read_points(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", ReadingWishes())


def test_notes_in_another_encoding_do_no_harm() -> None:
    data = "# Fräser über alles\nx_mm,z_mm\n0,1\n2,3\n".encode("latin-1")
    assert read_points(data, ReadingWishes()).chains[0].count == 1
