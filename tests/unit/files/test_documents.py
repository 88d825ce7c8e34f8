"""From a file's bytes to the tables of a document, and what cannot be one."""

from __future__ import annotations

from pathlib import Path as FilePath

import pytest

from profilestack.errors import FileError, InputError
from profilestack.files.documents import DEEPEST, MOST_BYTES, document_from, read_text
from profilestack.files.versions import STACK

HEAD = 'format = "profilestack-stack/1"\n'


def problem(text: str, file: str = "") -> str:
    with pytest.raises(InputError) as caught:
        document_from(text, STACK, file)
    (only,) = caught.value.problems
    return str(only)


def test_a_text_is_utf_8_with_or_without_a_mark_in_front(tmp_path: FilePath) -> None:
    path = tmp_path / "a.toml"
    path.write_bytes("title = '½ — größer'".encode())
    assert read_text(path) == "title = '½ — größer'"
    path.write_bytes(b"\xef\xbb\xbfa = 1")
    assert read_text(str(path)) == "a = 1"


def test_what_is_no_text_is_told_with_its_line(tmp_path: FilePath) -> None:
    path = tmp_path / "a.toml"
    path.write_bytes("a = 1\nb = 'größer'".encode("latin-1"))
    with pytest.raises(FileError, match=r"a\.toml:2: is no UTF-8 text at byte 14$"):
        read_text(path)


def test_folders_and_impossible_names_are_refused(tmp_path: FilePath) -> None:
    with pytest.raises(FileError, match="is a folder, not a file"):
        read_text(tmp_path)
    with pytest.raises(FileError, match="there is no such file"):
        read_text(tmp_path / "none.toml")
    with pytest.raises(FileError, match="cannot be read"):
        read_text(tmp_path / "null\0byte")
    with pytest.raises(FileError, match="cannot be read"):
        read_text(tmp_path / ("x" * 300))


def test_a_file_above_20_mib_is_refused_by_its_size(tmp_path: FilePath) -> None:
    path = tmp_path / "a.toml"
    with path.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    with pytest.raises(FileError, match="larger than 20 MiB"):
        read_text(path)


@pytest.mark.parametrize("bomb", [
    "a = " + "[" * 100_000,
    "a = " + "[" * 100_000 + "]" * 100_000,
    "a = " + "{ a = " * 5_000,
    "a = [" + "[" * DEEPEST + "]" * DEEPEST + "]",
    "a." * 200_000 + "a = 1",
    "[" + "a." * 200_000 + "a]",
    "x = { " + "a." * 200_000 + "a = 1 }",
    '"a"."b".' * 100_000 + "a = 1",
])  # fmt: skip
def test_absurd_nesting_is_refused_at_once_with_its_line(bomb: str) -> None:
    told = problem(HEAD + "\n" + bomb + "\n", "a.toml")
    assert told == f"a.toml:3: is nested deeper than {DEEPEST} levels"


def test_dots_in_texts_and_comments_are_no_nesting() -> None:
    dots = "." * 500
    assert document_from(f'{HEAD}title = "{dots}" # {dots}\nnote = """{dots}"""', STACK)


def test_a_document_that_is_cut_off_offers_the_last_good_copy(tmp_path: FilePath) -> None:
    path = tmp_path / "a.stack.toml"
    text = HEAD + "blank = { width = 62, thickness ="
    assert problem(text, str(path)) == (
        f"{path}:2: the file ends in the middle of a value: it seems to be cut off; expected TOML"
    )
    copy = tmp_path / "a.stack.toml.bak"
    copy.write_text("x", "utf-8")
    assert problem(text, str(path)).endswith(f"(the last good copy is {copy})")
    with pytest.raises(FileError, match=r"no such file \(the last good copy is"):
        read_text(path)


def test_wrong_toml_is_told_with_line_and_column() -> None:
    told = problem(HEAD + "width = = 3\n", "a.toml")
    assert told == "a.toml:2: is no TOML at column 9: invalid value; expected TOML"


def test_a_key_that_is_there_twice_is_told() -> None:
    assert "a.toml:3: is no TOML at column" in problem(HEAD + "a = 1\na = 2\n", "a.toml")


def test_a_number_of_thousands_of_digits_is_refused() -> None:
    told = problem(HEAD + "a = " + "9" * 5000, "a.toml")
    assert told == "a.toml: has a whole number of thousands of digits"
