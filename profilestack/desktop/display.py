"""Whether there is a screen: where there is none, Qt would abort the process."""

from __future__ import annotations

import ctypes
import os
import re
import socket
import sys
from collections.abc import Mapping

_NO_SCREEN = ("offscreen", "minimal", "vnc", "linuxfb", "eglfs", "vkkhrdisplay")


def display_trouble(environment: Mapping[str, str] = os.environ) -> str:
    """Why no window can be shown, in one line; "" where nothing speaks against it."""
    if not sys.platform.startswith("linux"):
        return ""
    wanted = environment.get("QT_QPA_PLATFORM", "")
    if wanted.partition(":")[0].partition(";")[0] in _NO_SCREEN:
        return ""
    wayland, x_server = environment.get("WAYLAND_DISPLAY"), environment.get("DISPLAY")
    if not wayland and not x_server:
        return "there is no screen (neither DISPLAY nor WAYLAND_DISPLAY is set)"
    if wayland and _answers(_wayland_socket(wayland, environment)):
        return ""
    if x_server:
        return _x_trouble(x_server)
    return f"the screen WAYLAND_DISPLAY={wayland} does not answer"


def _x_trouble(display: str) -> str:
    match = re.fullmatch(r"(?P<host>[^:]*|\[.*\]):(?P<number>\d+)(\.\d+)?", display)
    if match is None:
        return f"DISPLAY={display} names no screen"
    number = int(match["number"])
    local = match["host"] in ("", "unix")
    answers = (
        _answers(f"/tmp/.X11-unix/X{number}") or _answers(f"\0/tmp/.X11-unix/X{number}")
        if local
        else _answers_over_net(match["host"], 6000 + number)
    )
    if not answers:
        return f"the screen DISPLAY={display} does not answer"
    try:
        ctypes.CDLL("libxcb-cursor.so.0")
    except OSError:
        return "the system's library libxcb-cursor is missing (package libxcb-cursor0)"
    return ""


def _wayland_socket(name: str, environment: Mapping[str, str]) -> str:
    return os.path.join(environment.get("XDG_RUNTIME_DIR", ""), name)


def _answers(address: str) -> bool:
    try:
        with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as single:
            single.settimeout(2.0)
            single.connect(address)
    except OSError:
        return False
    return True


def _answers_over_net(host: str, port: int) -> bool:
    try:
        socket.create_connection((host, port), timeout=5.0).close()
    except OSError:
        return False
    return True
