"""The pictures and the list of the member page are what the code makes of the table today."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import numpy as np
import pytest

from profilestack.drawing.member_picture import lies_drawing, member_drawing, member_pictures
from profilestack.drawing.palette import PAPER, TARGET, WOOD, WOOD_EDGE
from profilestack.targets.member_listing import member_listing
from profilestack.targets.member_shapes import MEMBERS
from profilestack.targets.members import Member, MemberColumn

DOCS = Path(__file__).parents[3] / "docs"
NUMBER = re.compile(rb"-?\d+(?:\.\d+)?")


@pytest.fixture(scope="module")
def pictures() -> dict[str, bytes]:
    return member_pictures()


def drawn(picture: bytes) -> list[np.ndarray]:
    """The numbers of each path that is filled with wood or drawn as a target [pt]."""
    pattern = rb'<path d="([^"]*)"[^>]*style="[^"]*(?:%s|%s)' % (
        WOOD.lower().encode(),
        TARGET.lower().encode(),
    )
    return [
        np.array([float(number) for number in NUMBER.findall(path)])
        for path in re.findall(pattern, picture)
    ]


def test_each_member_and_the_lies_have_a_picture(pictures: dict[str, bytes]) -> None:
    assert set(pictures) == {f"{word}.svg" for word in MEMBERS} | {"lies.svg"}


def test_a_picture_is_the_same_every_time(pictures: dict[str, bytes]) -> None:
    assert member_pictures() == pictures


def test_the_kept_pictures_are_those_made_today(pictures: dict[str, bytes]) -> None:
    kept = {file.name: file.read_bytes() for file in (DOCS / "members").glob("*.svg")}
    assert set(kept) == set(pictures)
    for name, picture in pictures.items():
        now, then = drawn(picture), drawn(kept[name])
        assert len(now) == len(then) > 0
        for one, other in zip(now, then, strict=True):
            np.testing.assert_allclose(one, other, atol=0.01, err_msg=name)


def test_the_page_lists_the_members_of_the_table() -> None:
    page = (DOCS / "members.md").read_text(encoding="utf-8")
    assert page.endswith(member_listing())


def test_the_drawn_line_is_as_long_as_the_member() -> None:
    # the blue line of the first piece is the member's own face, 1:1; chords 0.01 mm from an arc of
    # 2 mm and more are shorter than it by 1 in 600 at most
    for word, shape in MEMBERS.items():
        given = shape.samples[0]
        member = Member(
            word, given.height, given.projection, given.variant, given.width, given.depth
        )
        lines = [
            mark
            for mark in member_drawing(word).marks
            if getattr(getattr(mark, "pen", None), "color", "") == TARGET
        ]
        steps = np.diff(lines[0].chains[0], axis=0)  # type: ignore[union-attr]
        assert np.hypot(*steps.T).sum() == pytest.approx(member.trace().length, rel=1 / 600)


def test_every_lie_is_named_in_its_picture() -> None:
    said = {getattr(mark, "text", "") for mark in lies_drawing().marks}
    assert {"upright", "head-down", "flat", "sprung"} <= said


def test_the_colours_are_the_palette_s(pictures: dict[str, bytes]) -> None:
    for picture in pictures.values():
        for color in (PAPER, WOOD, WOOD_EDGE, TARGET):
            assert color.lower().encode() in picture


def columns_on_the_page() -> list[MemberColumn]:
    page = (DOCS / "members.md").read_text(encoding="utf-8")
    found = []
    for block in re.findall(r"```toml\n(.*?)```", page, re.DOTALL):
        target = tomllib.loads(block)["target"]
        members = tuple(Member(**row) for row in target.pop("members"))
        found.append(MemberColumn(members, **target))
    return found


def test_what_the_page_says_of_its_examples() -> None:
    tuscan, cornice = columns_on_the_page()
    assert tuscan.box() == pytest.approx((21.0, 32.0))
    ends = [tuscan.path().start, *(step.to for step in tuscan.path().steps)]
    page = (DOCS / "members.md").read_text(encoding="utf-8")
    said = [
        tuple(float(number) for number in pair)
        for pair in re.findall(r"^\| \((\d+), (\d+)\) \|", page, re.MULTILINE)
    ]
    np.testing.assert_allclose(ends, said, atol=1e-9)
    assert tuple(round(size, 2) for size in cornice.box()) == (82.87, 20.0)
    thinner = MemberColumn(cornice.members, lie="sprung", spring=45.0, back=7.0)
    assert round(thinner.box()[1], 2) == 17.27
    ovolo = Member("ovolo", 18.0, 18.0, "grecian")
    assert (len(ovolo.trace().steps), round(ovolo.deviation, 4)) == (6, 0.0197)
