"""Kinds and versions of documents."""

from __future__ import annotations

from typing import Any

import pytest

from profilestack.errors import InputError
from profilestack.files.library_file import read_library_text
from profilestack.files.stack_file import read_stack_text
from profilestack.files.versions import BITS, FORMATS, STACK, Format, up_to_date
from tests.unit.files.examples import GOOD


def told(document: dict[str, Any], wanted: Format = STACK) -> str:
    with pytest.raises(InputError) as caught:
        up_to_date(document, wanted)
    (only,) = caught.value.problems
    return str(only)


def test_a_document_must_say_what_it_is() -> None:
    expected = 'expected format = "profilestack-stack/1"'
    assert told({}) == f"format: is missing: this does not say what it is; {expected}"
    assert told({"format": 1}) == f"format: is the number 1; {expected}"
    assert told({"format": "x"}) == f'format: "x" is unknown; {expected}'
    assert told({"format": "profilestack-stack/0"}).startswith(
        'format: "profilestack-stack/0" is unknown'
    )
    assert told({"format": "profilestak-stack/1"}).endswith(
        "(did you mean 'profilestack-stack/1'?)"
    )


def test_the_other_kind_is_named() -> None:
    assert told({"format": BITS.line}) == (
        'format: this is a bits library, not a stack; expected format = "profilestack-stack/1"'
    )
    assert told({"format": STACK.line}, BITS) == (
        'format: this is a stack, not a bits library; expected format = "profilestack-bits/1"'
    )
    with pytest.raises(InputError, match="lib.toml:2: format: this is a stack, not"):
        read_library_text("# a\n" + GOOD, "lib.toml")


def test_a_newer_version_is_refused_by_name() -> None:
    text = GOOD.replace("profilestack-stack/1", "profilestack-stack/7") + "\nnew_key = 1\n"
    with pytest.raises(InputError) as caught:
        read_stack_text(text, "a.toml")
    assert str(caught.value) == (
        'a.toml:1: format: "profilestack-stack/7" was written by a newer profilestack; expected '
        '"profilestack-stack/1" or older (this one reads a stack up to version 1: update it)'
    )


def test_an_older_version_is_brought_up_one_step_at_a_time() -> None:
    def add_b(document: dict[str, Any]) -> dict[str, Any]:
        return {**document, "b": document["a"] + 1}

    def double_b(document: dict[str, Any]) -> dict[str, Any]:
        return {**document, "b": document["b"] * 2}

    third = Format("profilestack-trial", "a trial", 3, {1: add_b, 2: double_b})
    document = {"format": "profilestack-trial/1", "a": 1}
    assert up_to_date(document, third) == {"format": "profilestack-trial/3", "a": 1, "b": 4}
    document = {"format": "profilestack-trial/2", "a": 1, "b": 5}
    assert up_to_date(document, third) == {"format": "profilestack-trial/3", "a": 1, "b": 10}


@pytest.mark.parametrize("form", FORMATS, ids=lambda form: form.word)
def test_every_older_version_has_its_upgrade(form: Format) -> None:
    assert sorted(form.upgrades) == list(range(1, form.version))
