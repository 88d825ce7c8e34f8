"""A disk that fails its n-th call, in one of several ways."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Any

from profilestack.files.saving import Disk


class Killed(BaseException):
    """The process dies here: nothing that it would do after this reaches the disk."""


class FailingLayer(Disk):
    """The real disk until call number ``at`` (from 1), which goes wrong.

    ``how`` is an error number for an OSError, "short" for a write that takes half of what it is
    given and says so, "lie" for one that takes half and says it took all, or "kill".
    """

    def __init__(self, at: int, how: int | str) -> None:
        self.at = at
        self.how = how
        self.calls: list[str] = []
        self.is_dead = False

    def _call(self, name: str, real: Callable[..., Any], *arguments: Any) -> Any:
        if self.is_dead:
            raise Killed
        self.calls.append(name)
        if len(self.calls) != self.at:
            return real(*arguments)
        if self.how == "kill":
            self.is_dead = True
            raise Killed
        if isinstance(self.how, int):
            raise OSError(self.how, os.strerror(self.how))
        if name != "write":
            return real(*arguments)
        descriptor, data = arguments
        taken: int = real(descriptor, data[: len(data) // 2])
        return taken if self.how == "short" else len(data)


def _wrapped(name: str) -> Callable[..., Any]:
    def call(self: FailingLayer, *arguments: Any) -> Any:
        return self._call(name, getattr(super(FailingLayer, self), name), *arguments)

    return call


CALLS = [name for name in vars(Disk) if not name.startswith("_")]
for _name in CALLS:
    setattr(FailingLayer, _name, _wrapped(_name))
