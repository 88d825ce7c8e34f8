"""Reading a document loads nothing slow."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path as FilePath

SLOW = ("scipy", "matplotlib", "reportlab", "platformdirs", "rich", "pydantic", "ezdxf")


def test_reading_a_stack_loads_no_slow_library() -> None:
    frozen = FilePath(__file__).parents[2] / "files" / "version-1.stack.toml"
    code = (
        "import sys\n"
        "from profilestack.files.stack_file import read_stack\n"
        f"read_stack({str(frozen)!r})\n"
        f"print(*[name for name in {SLOW!r} if name in sys.modules])\n"
    )
    root = FilePath(__file__).parents[3]
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == ""
