"""Whatever fails while saving: the old file or the new one, whole, never another."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path as FilePath

import pytest

from profilestack.errors import FileError
from profilestack.files.saving import DISK, FileLayer, save_text
from tests.unit.files.failing_layer import CALLS, FailingLayer, Killed

OLD, NEW, FORMER = "old\n" * 500, "new ½\n" * 700, "former\n"
HOWS = [errno.ENOSPC, errno.EIO, errno.EACCES, errno.EROFS, errno.EPERM, "short", "lie", "kill"]
MOST_CALLS = 24


def folder_with(tmp_path: FilePath, *, old: bool) -> FilePath:
    path = tmp_path / "a.stack.toml"
    if old:
        path.write_text(OLD, "utf-8")
        (tmp_path / "a.stack.toml.bak").write_text(FORMER, "utf-8")
    return path


def text_of(path: FilePath) -> str | None:
    return path.read_text("utf-8") if path.exists() else None


def leftovers(tmp_path: FilePath) -> list[str]:
    return [item.name for item in tmp_path.iterdir() if item.name.endswith((".tmp", ".tmp.bak"))]


def calls_of_a_good_save(path: FilePath) -> list[str]:
    layer = FailingLayer(at=0, how="kill")
    save_text(path, NEW, layer)
    return layer.calls


def test_the_trial_disk_fails_every_call_that_saving_makes(tmp_path: FilePath) -> None:
    calls = calls_of_a_good_save(folder_with(tmp_path, old=True))
    assert calls == [
        "create", "write", "sync", "size", "close",
        "link", "replace", "replace", "sync_folder",
    ]  # fmt: skip
    assert len(calls) < MOST_CALLS
    assert set(calls) <= set(CALLS)


@pytest.mark.parametrize("how", HOWS)
@pytest.mark.parametrize("old", [True, False], ids=["old", "none"])
def test_the_old_file_or_the_new_one_whatever_call_fails(
    tmp_path: FilePath, how: int | str, old: bool
) -> None:
    failed = 0
    for at in range(1, MOST_CALLS):
        path = folder_with(tmp_path, old=old)
        before = text_of(path)
        layer = FailingLayer(at, how)
        message = ""
        try:
            save_text(path, NEW, layer)
            outcome = "saved"
        except FileError as error:
            outcome, message = "told", str(error)
        except Killed:
            outcome = "killed"
        if outcome == "saved":
            assert text_of(path) == NEW
        elif outcome == "told":
            assert text_of(path) == before
            assert message.startswith(f"{path}: was not saved: ")
            assert ("former version is untouched" in message) == old
        else:
            assert text_of(path) in (before, NEW)
        if old:
            assert text_of(tmp_path / "a.stack.toml.bak") in (FORMER, OLD)
        if outcome != "killed":
            assert leftovers(tmp_path) == []
        failed += outcome != "saved"
        for item in tmp_path.iterdir():
            item.unlink()
    # a disk that takes less than it is given is asked again
    assert (failed == 0) == (how == "short")


def test_a_disk_without_second_names_gets_a_copy(tmp_path: FilePath) -> None:
    good_calls = ["create", "write", "sync", "size", "close"]
    for at in range(1, MOST_CALLS):
        for how in (errno.ENOSPC, "kill", "lie"):
            path = folder_with(tmp_path, old=True)
            layer = NoLinks(at, how)
            try:
                save_text(path, NEW, layer)
                assert text_of(path) == NEW
                assert text_of(tmp_path / "a.stack.toml.bak") == OLD
                assert layer.calls[5:12] == ["link", "read", *good_calls]
            except FileError:
                assert text_of(path) == OLD
                assert leftovers(tmp_path) == []
            except Killed:
                assert text_of(path) in (OLD, NEW)
            assert text_of(tmp_path / "a.stack.toml.bak") in (FORMER, OLD)
            for item in tmp_path.iterdir():
                item.unlink()


class NoLinks(FailingLayer):
    """A disk such as a memory stick's: a file has one name only."""

    def link(self, source: str, target: str) -> None:
        self._call("link", _refuse_link, source, target)


def _refuse_link(source: str, target: str) -> None:
    raise OSError(errno.EPERM, os.strerror(errno.EPERM))


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full; make room or save elsewhere"),
        (errno.EACCES, "the folder may not be written to; save elsewhere"),
        (errno.EROFS, "the disk is read-only; save elsewhere"),
        (errno.EIO, "Input/output error; try again or save elsewhere"),
    ],
)
def test_the_reason_and_a_way_out_are_told(tmp_path: FilePath, number: int, words: str) -> None:
    path = folder_with(tmp_path, old=True)
    with pytest.raises(FileError) as caught:
        save_text(path, NEW, FailingLayer(1, number))
    assert str(caught.value) == f"{path}: was not saved: {words}; the former version is untouched"


def test_a_disk_that_takes_nothing_does_not_hang(tmp_path: FilePath) -> None:
    class Full(FailingLayer):
        def write(self, descriptor: int, data: bytes) -> int:
            return 0

    with pytest.raises(FileError, match="the disk is full"):
        save_text(folder_with(tmp_path, old=True), NEW, Full(0, "kill"))


def test_a_folder_that_is_gone_is_told(tmp_path: FilePath) -> None:
    with pytest.raises(FileError, match="its folder is not there"):
        save_text(tmp_path / "gone" / "a.toml", NEW)
    with pytest.raises(FileError, match="it is a folder; choose a name inside it"):
        save_text(tmp_path, NEW)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no special files here")
def test_what_is_no_file_is_not_replaced_by_one(tmp_path: FilePath) -> None:
    path = tmp_path / "queue"
    os.mkfifo(path)
    with pytest.raises(FileError, match="it is a device, not a file; save elsewhere"):
        save_text(path, "new")
    assert stat.S_ISFIFO(path.stat().st_mode)
    assert os.listdir(tmp_path) == ["queue"]


def test_a_write_protected_file_is_left_alone(tmp_path: FilePath) -> None:
    path = folder_with(tmp_path, old=True)
    path.chmod(0o444)
    with pytest.raises(FileError, match="write-protected; save under another name"):
        save_text(path, NEW)
    assert text_of(path) == OLD


def test_permissions_are_kept(tmp_path: FilePath) -> None:
    path = folder_with(tmp_path, old=True)
    path.chmod(0o660)
    save_text(path, NEW)
    assert stat.S_IMODE(path.stat().st_mode) == 0o660


def test_a_link_is_followed(tmp_path: FilePath) -> None:
    path = folder_with(tmp_path, old=True)
    link = tmp_path / "link.toml"
    link.symlink_to(path)
    save_text(link, NEW)
    assert link.is_symlink()
    assert text_of(path) == NEW


def test_a_name_as_long_as_the_disk_allows(tmp_path: FilePath) -> None:
    path = tmp_path / ("x" * 240 + ".toml")
    save_text(path, OLD)
    save_text(path, NEW)
    assert text_of(path) == NEW


def test_the_real_disk_has_every_call() -> None:
    for name in vars(FileLayer):
        if not name.startswith("_"):
            assert callable(getattr(DISK, name))
