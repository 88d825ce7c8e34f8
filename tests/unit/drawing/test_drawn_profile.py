"""The profile as it was drawn, shown beside the one that was fitted to the bits."""

from __future__ import annotations

import numpy as np
import pytest

from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.drawing.drawing import Drawing, Lines
from profilestack.drawing.palette import DRAWN_PEN
from profilestack.drawing.placing import Placing
from profilestack.drawing.scene import drawn_chains
from profilestack.drawing.section_picture import section_picture
from profilestack.geometry.path import Path
from tests.unit.drawing.examples import BITS, crown, example
from tests.unit.drawing.sheets import assert_all_on_paper, overlapping_words, texts_of

SMALLER = (
    Path((0.0, 45.0))
    .line((11.0, 45.0))
    .arc((30.0, 26.0), (11.0, 26.0), "cw")
    .line((30.0, 25.0))
    .line((62.0, 25.0))
)
"""The crown's profile with a round of 19 instead of 20; it stands out by up to 0.41 mm."""


def drawn_lines(picture: Drawing) -> list[Lines]:
    return [m for m in picture.marks if isinstance(m, Lines) and m.pen is DRAWN_PEN]


def test_it_is_drawn_and_in_the_key() -> None:
    cut, comparison = example("crown")
    picture = section_picture(cut, comparison, (), "mm", SMALLER)
    assert {"as drawn", "wanted profile, fitted"} <= set(texts_of(picture))
    # once in the section, once in the key
    assert len(drawn_lines(picture)) == 2
    assert_all_on_paper(picture)
    assert overlapping_words(picture) == []


def test_without_one_there_is_no_such_line() -> None:
    picture = section_picture(*example("crown"), (), "mm")
    assert drawn_lines(picture) == []
    assert "as drawn" not in texts_of(picture)


def test_only_where_it_leaves_the_fitted_one() -> None:
    cut = cut_stack(crown(), BITS)
    (chain,) = drawn_chains(SMALLER, compare(cut), Placing(0.0, 0.0))
    # from the end of the level line round to the end of the added upright one
    assert chain[0] == pytest.approx((10.0, 45.0), abs=0.5)
    assert chain[-1] == pytest.approx((30.0, 25.0), abs=0.5)
    on_round = chain[(chain[:, 0] > 11.0) & (chain[:, 1] > 26.0)]
    radii = np.hypot(on_round[:, 0] - 11.0, on_round[:, 1] - 26.0)
    assert radii == pytest.approx(19.0, abs=0.002)


def test_the_same_profile_shows_nothing() -> None:
    cut = cut_stack(crown(), BITS)
    target = cut.stack.target
    assert target is not None
    assert drawn_chains(target.path(), compare(cut), Placing(0.0, 0.0)) == ()
    assert drawn_chains(SMALLER, None, Placing(0.0, 0.0)) == ()
