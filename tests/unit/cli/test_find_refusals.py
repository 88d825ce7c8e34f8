"""``profilestack find``: what is refused at once, what is an answer, how it is cut short."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from profilestack.files.shipped import SMALL_SHOP
from tests.unit.cli.calling import BOARD, HOLLOW, Call, Folder, without_bits

ROOT = Path(__file__).parents[3]


def board_with(target: str, passes: str = "") -> str:
    """The board of the tests with another target and no bits of its own."""
    before, _, _ = without_bits(BOARD).partition("[target]")
    return f"{before}[target]\n{target}\n{passes}"


HOLLOW_PATH = """\
start = [0, 30]
path = [
  { to = [20, 30] },
  { to = [40, 30], center = [30, 30], turn = "ccw" },
  { to = [60, 30] },
]
"""

REFUSED = {
    "outside the blank": (
        "start = [0, 30]\npath = [{ to = [20, 30] }, { to = [30, 36] }, { to = [60, 30] }]",
        "leaves the blank by 6.000 mm",
    ),
    "crossing itself": (
        "start = [0, 30]\npath = [{ to = [40, 20] }, { to = [20, 10] }, { to = [30, 28] },\n"
        "  { to = [60, 20] }]",
        "crosses or touches itself near (27.317, 23.171) mm",
    ),
    "along the face, backward": (
        "start = [60, 30]\npath = [{ to = [0, 30] }]",
        "leaves no wood on its right hand",
    ),
    "backward": (
        "start = [60, 30]\npath = [{ to = [40, 30] },\n"
        '  { to = [20, 30], center = [30, 30], turn = "cw" }, { to = [0, 30] }]',
        "turn the path round",
    ),
    "across, backward": (
        "start = [60, 20]\npath = [{ to = [0, 20] }]",
        "leaves wood that ends 20.000 mm above the bed",
    ),
    "without width": ("start = [30, 30]\npath = [{ to = [30, 0] }]", "has no width"),
    "one point": ("start = [30, 30]\npath = []", "is one point"),
    "not from side to side": (
        "start = [10, 20]\npath = [{ to = [50, 20] }]",
        "starts at (10.000, 20.000), 10.000 mm inside the blank",
    ),
    "the face as it is": (
        "start = [0, 30]\npath = [{ to = [60, 30] }]",
        "nothing has to be cut",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_an_impossible_target_is_refused_and_nothing_written(
    name: str, folder: Folder, call: Call
) -> None:
    target, told = REFUSED[name]
    stack = folder.write("wrong.stack.toml", board_with(target))
    answer = call("find", stack, "--bits", SMALL_SHOP, "-o", "new.stack.toml", "--plot", "way.svg")
    assert (answer.code, answer.out) == (2, "")
    assert told in answer.err
    assert "Traceback" not in answer.err
    assert folder.names() == {stack}


def test_an_empty_drawer_is_refused(folder: Folder, call: Call) -> None:
    stack = folder.write("board.stack.toml", board_with(HOLLOW_PATH))
    empty = folder.write("drawer.bits.toml", 'format = "profilestack-bits/1"\nunits = "mm"\n')
    for given in ((), ("--bits", empty)):
        answer = call("find", stack, *given, "-o", "new.stack.toml")
        assert (answer.code, answer.out) == (2, "")
        assert "is empty" in answer.err
        assert "at least one bit" in answer.err
    assert folder.names() == {stack, empty}


@pytest.mark.parametrize("key", ["--leftover", "--overcut", "--resolution"])
@pytest.mark.parametrize("value", ["-0.1", "0", "nan", "1e999", "11 mm"])
def test_tolerances_that_are_no_lengths_above_nothing_are_refused(
    key: str, value: str, board: str, folder: Folder, call: Call
) -> None:
    answer = call("find", board, key, value, "-o", "new.stack.toml")
    assert (answer.code, answer.out) == (2, "")
    assert key.removeprefix("--") in answer.err
    assert folder.names() == {board}


TWO_HOLLOWS = """\
start = [0, 30]
path = [
  { to = [10, 30] },
  { to = [22, 30], center = [16, 30], turn = "ccw" },
  { to = [36, 30] },
  { to = [52, 30], center = [44, 30], turn = "ccw" },
  { to = [60, 30] },
]
"""


def two_core_boxes() -> str:
    small = HOLLOW.replace('"hollow"', '"small"').format(diameter=12)
    large = HOLLOW.replace('"hollow"', '"large"').format(diameter=16)
    return small + large[large.index("[[bit]]") :]


def test_limits_that_leave_no_way_are_told_with_what_is_needed(folder: Folder, call: Call) -> None:
    stack = folder.write("two.stack.toml", board_with(TWO_HOLLOWS))
    library = folder.write("two.bits.toml", two_core_boxes())
    given = ("find", stack, "--bits", library, "--leftover", "0.05", "--overcut", "0.05")
    assert call(*given).code == 0
    answer = call(*given, "--passes", "1", "-o", "new.stack.toml")
    assert answer.code == 1
    said = " ".join(answer.out.split())
    assert "No way keeps these limits: it takes at least 2 finishing passes" in said
    told = call(*given, "--passes", "1", "--json")
    assert told.code == 1
    assert told.json["options"] == []
    assert told.json["needs"]["passes"] == 2
    assert folder.names() == {stack, library}
    assert call(*given, "--json").json["needs"] is None


def test_with_no_way_at_all_what_stays_is_told(folder: Folder, call: Call) -> None:
    # nothing lower than the face is wanted beside a slot that no bit enters
    slot = "start = [0, 30]\npath = [{ to = [29.5, 30] }, { to = [29.5, 20] },\n" \
           "  { to = [30.5, 20] }, { to = [30.5, 30] }, { to = [60, 30] }]"  # fmt: skip
    stack = folder.write("slot.stack.toml", board_with(slot))
    library = folder.write("wide.bits.toml", HOLLOW.format(diameter=20))
    answer = call("find", stack, "--bits", library, "--json")
    assert answer.code == 1
    (stays,) = answer.json["unreached"]
    assert stays["from"][0] == pytest.approx(29.5)
    assert stays["to"][0] == pytest.approx(30.5)
    assert stays["leftover"] > 5.0
    assert stays["why"] == "a corner or hollow tighter than any bit at hand"


def test_what_is_written_cuts_to_the_last_digit_shown(folder: Folder, call: Call) -> None:
    stack = folder.write("two.stack.toml", board_with(TWO_HOLLOWS))
    library = folder.write("two.bits.toml", two_core_boxes())
    found = call("find", stack, "--bits", library, "-o", "new.stack.toml", "--json")
    assert found.code == 0
    option = found.json["options"][0]
    cut = call("cut", "new.stack.toml", "--bits", library, "--json")
    assert cut.code == 0
    comparison = cut.json["comparison"]
    assert comparison["leftover"]["max"] == option["leftover_max"]
    assert comparison["overcut"]["max"] == option["overcut_max"]
    assert comparison["unreached_max"] == option["unreached_max"]
    keys = ("bit", "setup", "offset", "depth")
    assert [[single[key] for key in keys] for single in cut.json["passes"]] == [
        [single[key] for key in keys] for single in option["passes"]
    ]


# -- Ctrl-C ----------------------------------------------------------------------------------------


def started(*arguments: str, folder: Path) -> subprocess.Popen[str]:
    """The command in a process of its own, which an interrupt can reach."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "80"}
    return subprocess.Popen(
        [sys.executable, "-m", "profilestack", *arguments],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=folder, env=environment,
    )  # fmt: skip


def interrupted(process: subprocess.Popen[str], after: float) -> tuple[int, str, str]:
    """End a process by Ctrl-C after so many seconds of work; its code and what it said."""
    time.sleep(after)
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    return process.returncode, out, err


HARD = str(ROOT / "examples" / "cornice" / "crown-target.stack.toml")


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGINT for a child there")
def test_ctrl_c_gives_the_best_so_far_or_nothing(folder: Folder) -> None:
    # an interrupt may come while Python still starts, while nothing is found yet, or later
    ends = []
    for after in (1.0, 4.0):
        hard = ("--leftover", "0.03", "--seconds", "60")  # half a minute's work on any machine
        given = (HARD, "--bits", "@all", *hard, "--json", "-o", f"way-{after}.stack.toml")
        process = started("find", *given, folder=folder.path)
        code, out, err = interrupted(process, after)
        ends.append(code)
        assert code in (1, 130)
        assert "Traceback" not in err
        written = folder.path / f"way-{after}.stack.toml"
        if code == 130:
            assert out == ""
            assert "cancelled" in err
            assert not written.exists()
        else:
            found = json.loads(out)
            assert found["options"]
            assert written.exists()
    assert ends
