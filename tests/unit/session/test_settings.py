"""Settings and the list of recent files."""

from __future__ import annotations

import contextlib
import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as some

from profilestack.errors import FileError
from profilestack.session import recent
from profilestack.session.settings import (
    FORMAT,
    KINDS,
    Settings,
    change_settings,
    read_settings,
    settings_from,
    write_settings,
)

FULL = Settings(
    "in", "dark", ("/a/b.stack.toml",), {"stack": "/a", "drawing": "/c"}, True, "/s/a.shop.toml"
)


def test_no_file_means_the_usual_settings(tmp_path: Path) -> None:
    assert read_settings(tmp_path / "settings.json") == (Settings(), "")
    assert not Settings().started


def test_settings_are_read_as_they_were_written(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "settings.json"
    write_settings(FULL, path)
    assert read_settings(path) == (FULL, "")


def test_a_name_that_is_no_utf8_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "settings.json"
    strange = replace(Settings(), recent=("/a/\udcff.stack.toml",))
    write_settings(strange, path)
    assert read_settings(path) == (strange, "")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "is no JSON"),
        ("{", "is no JSON"),
        ("[" * 100_000, "is no JSON"),
        ("[]", "is not of the format"),
        ("{}", "is not of the format"),
        ('{"format": "profilestack-settings/2"}', "is not of the format"),
        (f'{{"format": "{FORMAT}", "colour": 1}}', "unknown key 'colour'"),
        (f'{{"format": "{FORMAT}", "units": "cm"}}', "units: 'cm' is impossible"),
        (f'{{"format": "{FORMAT}", "theme": 3}}', "theme: 3 is impossible"),
        (f'{{"format": "{FORMAT}", "recent": "x"}}', "recent: 'x' is impossible"),
        (f'{{"format": "{FORMAT}", "recent": [1]}}', "recent: [1] is impossible"),
        (f'{{"format": "{FORMAT}", "folders": {{"x": "y"}}}}', "folders: {'x': 'y'} is impossible"),
        (f'{{"format": "{FORMAT}", "started": 1}}', "started: 1 is impossible"),
    ],
)
def test_broken_settings_are_set_aside_with_one_message(
    tmp_path: Path, text: str, told: str
) -> None:
    path = tmp_path / "settings.json"
    path.write_text(text)
    settings, message = read_settings(path)
    assert settings == Settings()
    assert told in message
    assert not path.exists()
    aside = tmp_path / "settings.json.bad"
    assert aside.read_text() == text
    assert str(aside) in message
    assert read_settings(path) == (Settings(), "")


def test_bytes_that_are_no_text_are_broken(tmp_path: Path) -> None:
    path = tmp_path / "settings.json"
    path.write_bytes(b"\xff\xfe\x00")
    settings, message = read_settings(path)
    assert settings == Settings()
    assert message


def test_a_folder_in_the_place_of_the_file_is_told_and_left(tmp_path: Path) -> None:
    path = tmp_path / "settings.json"
    path.mkdir()
    settings, message = read_settings(path)
    assert settings == Settings()
    assert "cannot be read" in message
    assert path.is_dir()


def test_a_change_is_made_to_what_another_app_wrote(tmp_path: Path) -> None:
    path = tmp_path / "settings.json"
    write_settings(replace(Settings(), theme="dark"), path)
    after = change_settings(path, lambda settings: replace(settings, units="in"))
    assert (after.theme, after.units) == ("dark", "in")
    assert read_settings(path) == (after, "")


def test_settings_that_cannot_be_saved_say_why(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(FileError, match="cannot be made"):
        write_settings(FULL, tmp_path / "file" / "settings.json")


@given(some.recursive(some.none() | some.booleans() | some.integers() | some.text(), some.lists))
def test_any_value_of_any_key_is_taken_as_it_is_or_refused(value: object) -> None:
    for key in ("units", "theme", "recent", "folders", "started"):
        data = json.dumps({"format": FORMAT, key: value}).encode()
        with contextlib.suppress(ValueError):
            settings = settings_from(data)
            assert getattr(settings, key) == (tuple(value) if key == "recent" else value)  # type: ignore[arg-type]


def test_folders_are_kept_for_each_kind_of_file() -> None:
    settings = Settings()
    for kind in KINDS:
        settings = settings.with_folder(kind, f"/{kind}")
    assert [settings.folder(kind) for kind in KINDS] == [f"/{kind}" for kind in KINDS]
    assert Settings().folder("stack") == ""


def test_a_recent_file_stands_in_the_list_once(tmp_path: Path) -> None:
    names: tuple[str, ...] = ()
    for letter in "abca":
        names = recent.with_recent(names, tmp_path / f"{letter}.stack.toml")
    assert [Path(name).name[0] for name in names] == ["a", "c", "b"]
    names = recent.with_recent(names, tmp_path / "sub" / ".." / "b.stack.toml")
    assert [Path(name).name[0] for name in names] == ["b", "a", "c"]


def test_two_names_of_one_file_are_one_recent_file(tmp_path: Path) -> None:
    (tmp_path / "a.stack.toml").write_text("")
    (tmp_path / "link.stack.toml").symlink_to(tmp_path / "a.stack.toml")
    names = recent.with_recent((), tmp_path / "a.stack.toml")
    assert len(recent.with_recent(names, tmp_path / "link.stack.toml")) == 1
    assert recent.without(names, tmp_path / "link.stack.toml") == ()


def test_only_so_many_files_are_kept(tmp_path: Path) -> None:
    names: tuple[str, ...] = ()
    for number in range(2 * recent.MOST):
        names = recent.with_recent(names, tmp_path / f"{number}.stack.toml")
    assert len(names) == recent.MOST
    assert Path(names[0]).name == f"{2 * recent.MOST - 1}.stack.toml"


def test_files_of_one_name_are_told_apart_by_their_folder() -> None:
    names = ("/x/a.stack.toml", "/y/a.stack.toml", "/x/b.stack.toml")
    assert recent.menu_names(names) == ("a.stack.toml in /x", "a.stack.toml in /y", "b.stack.toml")
