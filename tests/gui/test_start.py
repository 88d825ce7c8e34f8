"""Starting and ending the app as a process of its own."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from profilestack.files.stack_file import write_stack
from profilestack.session.journal import left_behind
from profilestack.session.new_board import new_board
from profilestack.session.places import Places
from profilestack.session.running import Running

START = """
import json, sys
from pathlib import Path
from PySide6.QtCore import QTimer
from profilestack.desktop import main
from profilestack.desktop.desk import Desk
from profilestack.session.places import Places

app = main.application()
desk = Desk(app, "light", Places(Path(sys.argv[1]), Path(sys.argv[2])))
main.end_when_told(desk)
main.begin(desk, [Path(name) for name in sys.argv[3:]])
"""

SHOWN = """
for _ in range(10):
    app.processEvents()
window = desk.windows[0]
heavy = ("matplotlib", "reportlab", "ezdxf", "PIL", "scipy.optimize")
print(json.dumps({
    "passes": len(window.document.stack.passes), "visible": window.isVisible(),
    "heavy": [name for name in heavy if name in sys.modules],
}))
window.close()
"""

EDITED = """
from dataclasses import replace
document = desk.windows[0].document
document.edit(replace(document.stack, title="Not saved"), "Name it")
QTimer.singleShot(0, lambda: print("ready", flush=True))
sys.exit(app.exec())
"""


def start(code: str, places: Places, *paths: Path) -> subprocess.Popen[str]:
    words = [sys.executable, "-c", START + code, str(places.config), str(places.state)]
    return subprocess.Popen(
        [*words, *map(str, paths)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=os.environ.copy(),
    )


def test_the_example_is_shown_and_nothing_heavy_is_loaded_for_it(places: Places) -> None:
    child = start(SHOWN, places)
    out, err = child.communicate(timeout=120)
    assert child.returncode == 0, err
    assert json.loads(out) == {"passes": 11, "visible": True, "heavy": []}


@pytest.mark.parametrize("name", ["SIGTERM", "SIGINT", "SIGHUP"])
@pytest.mark.skipif(sys.platform == "win32", reason="has no such signals")
def test_unsaved_work_is_kept_when_the_system_ends_the_app(
    places: Places, tmp_path: Path, name: str
) -> None:
    path = tmp_path / "crown.stack.toml"
    write_stack(new_board("mm"), path)
    number = getattr(signal, name)
    child = start(EDITED, places, path)
    try:
        assert child.stdout is not None
        assert child.stdout.readline() == "ready\n"
        child.send_signal(number)
        _, err = child.communicate(timeout=60)
    finally:
        child.kill()
        child.communicate()
    assert child.returncode == 128 + number, err
    (kept,), messages = left_behind(Running(places.journals))
    assert messages == ()
    assert kept.stack.title == "Not saved"
    assert kept.path == path


FAULTY = """
from dataclasses import replace
from profilestack.desktop.faults import Faults

faults = Faults(desk.keep_all, app)
faults.install()
window = desk.windows[0]
document = window.document
document.edit(replace(document.stack, title="Not saved"), "Name it")

def tell():
    print(json.dumps({
        "shown": faults.dialog is not None and faults.dialog.isVisible(),
        "kept": window.keeping.journal.place.exists(),
        "alive": window.actions_by_name["undo"].isEnabled(),
    }))
    app.exit(0)

QTimer.singleShot(0, lambda: [][1])
QTimer.singleShot(300, tell)
sys.exit(app.exec())
"""


def test_an_exception_in_a_slot_is_shown_and_the_app_goes_on(places: Places) -> None:
    child = start(FAULTY, places)
    out, err = child.communicate(timeout=120)
    assert child.returncode == 0, err
    assert json.loads(out) == {"shown": True, "kept": True, "alive": True}
    assert "IndexError" in err
