"""Which shop is meant, and where its figures come from."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from profilestack.errors import FileError, InputError
from profilestack.files.shop_file import write_shop
from profilestack.planning.figures import FIGURES
from profilestack.planning.machine import KINDS
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS
from profilestack.session.shop_choice import choice_said, figure_rows, shop_chosen, shop_kept

OWN = replace(USUAL_SHOP, name="Own", rate=70.0)


def test_words_mean_usual_shops_and_files(tmp_path: Path) -> None:
    assert shop_chosen("") == USUAL_SHOP
    assert {kind: shop_chosen(kind) for kind in KINDS} == USUAL_SHOPS
    path = tmp_path / "own.shop.toml"
    write_shop(OWN, path)
    assert shop_chosen(str(path)) == OWN
    assert choice_said(str(path), OWN) == "own.shop.toml: Own"
    assert choice_said("", USUAL_SHOP) == "Usual figures: CNC router, bits changed by hand"


def test_what_cannot_be_read_is_told_and_the_usual_one_stands_for_it(tmp_path: Path) -> None:
    gone = str(tmp_path / "gone.shop.toml")
    with pytest.raises(FileError):
        shop_chosen(gone)
    shop, trouble = shop_kept(gone)
    assert shop == USUAL_SHOP
    assert "gone.shop.toml" in trouble
    broken = tmp_path / "broken.shop.toml"
    broken.write_text('format = "profilestack-shop/1"\nunits = "mm"\n[money]\nrate = -1\n')
    with pytest.raises(InputError):
        shop_chosen(str(broken))
    assert shop_kept("") == (USUAL_SHOP, "")


def test_every_figure_is_told_with_its_source() -> None:
    rows = figure_rows(OWN, "sugar-maple", "mm")
    words = {row[0]: row[1:] for row in rows}
    assert {figure.words for figure in FIGURES} <= words.keys()
    assert words["machine and labour"] == ("70 an hour", "your shop file")
    value, source = words["bit change with touch-off"]
    assert value == "3 min"
    assert "common practice" in source
    # 0.63 x 1120 kg/m3, and 32 N/mm2 at 650 kg/m3 by density
    assert words["density of sugar-maple"][0] == f"{0.63 * 1120:.0f} kg/m3"
    assert words["cutting force in sugar-maple"][0] == f"{32 * 0.63 * 1120 / 650:.0f} N/mm2"
    assert all(source for _, _, source in rows)


def test_a_wood_that_nobody_knows_is_left_out() -> None:
    known, unknown = (len(figure_rows(OWN, wood, "in")) for wood in ("sugar-maple", "wax"))
    assert unknown < known
