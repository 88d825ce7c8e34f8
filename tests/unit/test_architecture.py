"""The house keeps its plan: layers, sizes, style, types, and what importing costs."""

from __future__ import annotations

import ast
import importlib
import pathlib
import subprocess
import sys

import pytest

ROOT = pathlib.Path(__file__).parents[2]
PACKAGE = ROOT / "profilestack"
FILES = sorted(PACKAGE.rglob("*.py"))

LONGEST_FILE = 400
LONGEST_CLASS = 200
LONGEST_FUNCTION = 50
HEAVY = ("scipy", "matplotlib", "PySide6")
Function = ast.FunctionDef | ast.AsyncFunctionDef


def run(*words: str) -> subprocess.CompletedProcess[str]:
    """One of the project's checkers, as on a command line at the project's root."""
    return subprocess.run(
        [sys.executable, *words], cwd=ROOT, capture_output=True, text=True, check=False
    )


def name_of(path: pathlib.Path) -> str:
    return str(path.relative_to(ROOT))


def test_imports_keep_to_the_layers() -> None:
    code = "from importlinter.cli import lint_imports; raise SystemExit(lint_imports())"
    done = run("-c", code)
    assert done.returncode == 0, done.stdout + done.stderr
    assert " 0 broken" in done.stdout


def test_ruff_has_nothing_to_say() -> None:
    done = run("-m", "ruff", "check", "profilestack", "tests")
    assert done.returncode == 0, done.stdout


def test_the_types_hold() -> None:
    done = run("-m", "mypy", "--strict", "-p", "profilestack")
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_files_classes_and_functions_stay_small(path: pathlib.Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= LONGEST_FILE
    tree = ast.parse(text)
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef):
            assert lines_of(node) < LONGEST_CLASS, node.name
        elif isinstance(node, Function):
            assert lines_of(node) - docstring_lines(node) < LONGEST_FUNCTION, node.name


def lines_of(node: ast.ClassDef | Function) -> int:
    assert node.end_lineno is not None
    return node.end_lineno - node.lineno + 1


def docstring_lines(node: Function) -> int:
    first = node.body[0]
    if ast.get_docstring(node) is None or first.end_lineno is None:
        return 0
    return first.end_lineno - first.lineno + 1


def test_the_size_rule_can_fail() -> None:
    """The counters see a long function, and do not count its docstring."""
    body = "\n".join("    x = 1" for _ in range(LONGEST_FUNCTION))
    (long,) = ast.parse(f"def f():\n{body}\n").body
    told = "\n".join("    word" for _ in range(60))
    (short,) = ast.parse(f'def f():\n    """Say.\n\n{told}\n    """\n    x = 1\n').body
    assert isinstance(long, Function)
    assert isinstance(short, Function)
    assert lines_of(long) - docstring_lines(long) >= LONGEST_FUNCTION
    assert lines_of(short) - docstring_lines(short) < 5


@pytest.mark.parametrize("words", [("-c", "import profilestack"), ("-m", "profilestack", "--help")])
def test_starting_loads_nothing_heavy(words: tuple[str, ...]) -> None:
    done = run("-X", "importtime", *words)
    assert done.returncode == 0, done.stderr
    loaded = {line.rpartition("|")[2].strip() for line in done.stderr.splitlines()}
    assert "profilestack" in loaded
    assert {name for name in loaded if name.split(".")[0] in HEAVY} == set()


def test_only_units_knows_the_inch() -> None:
    found = {
        name_of(path)
        for path in FILES
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and node.value in (25.4, 254)
    }
    assert found == {"profilestack/units.py"}


PUBLIC = {
    "profilestack.bits": (
        "SHAPES Bit BitShape edge_height edge_path has_undercut largest_radius radius_at "
        "silhouette_path"
    ),
    "profilestack.files.targets": "READERS PictureWishes ReadingWishes",
    "profilestack.stack": (
        "FACE Blank CurvedRun FileTarget MemberTarget OutlineStock Pass PathTarget Rectangle "
        "Round Run Setup Stack StraightRun Target Tolerance TurnedRun"
    ),
    "profilestack.targets.member_shapes": "MEMBERS Measures MemberShape",
}
"""What each package offers; a new public name is added here on purpose."""


def test_the_list_of_public_names_is_whole() -> None:
    said = {
        ".".join(path.relative_to(ROOT).parent.parts)
        for path in FILES
        if path.name == "__init__.py" and "__all__" in path.read_text(encoding="utf-8")
    }
    assert said == set(PUBLIC)


@pytest.mark.parametrize("module", PUBLIC)
def test_public_names_are_these(module: str) -> None:
    found = importlib.import_module(module)
    assert sorted(found.__all__) == sorted(PUBLIC[module].split())
    for name in found.__all__:
        assert hasattr(found, name)
