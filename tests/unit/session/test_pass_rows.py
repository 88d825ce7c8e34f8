from __future__ import annotations

import pytest

from profilestack.session.pass_rows import area_number, area_text, volume_text


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("nothing", [0.0, -0.0, -1e-9, 1e-9])
def test_what_rounds_to_nothing_has_no_sign(nothing: float, units: str) -> None:
    assert float(area_number(nothing, units)) == 0.0
    for said in (area_number(nothing, units), volume_text(nothing, units)):
        assert said.startswith("0.0")


def test_areas_and_volumes_in_the_units_shown() -> None:
    assert area_text(645.16, "in") == "1.000 in²"
    assert area_text(80.66, "mm") == "80.7 mm²"
    assert volume_text(16_387.064, "in") == "1.0 in³"
    assert volume_text(184_321.0, "mm") == "184 cm³"
    assert (area_number(None, "mm"), volume_text(None, "mm")) == ("–", "–")
