"""The direction of the house: assets <- model <- rules <- app, held by fresh interpreters.

A late import inside a function counts as an import in the scan; what really comes along is asked
of an interpreter that has imported nothing else.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
MAY_USE = {
    "assets": {"assets"},
    "model": {"assets", "model"},
    "rules": {"assets", "model", "rules"},
    "app": {"assets", "model", "rules", "app"},
}
# Parts of the window that the window alone joins.
APART = ("canvas", "panels", "pack")
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "pyproject.toml",
    "app", "model", "rules", "tests", "assets",
}  # fmt: skip
MOST_LINES = 400
QT, PDF = "PySide6", "reportlab"
# Heavy libraries would double the time until a window or an answer stands.
HEAVY = ("scipy", "numpy", "networkx", "pint", "shapely")


def sources(folder: str) -> list[Path]:
    return sorted((ROOT / folder).rglob("*.py"))


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports(path: Path) -> Iterator[str]:
    """Yield the full name of every module or member that a file imports, late ones too."""
    package = module_name(path).split(".")
    if path.name != "__init__.py":
        package = package[:-1]
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package[: len(package) - node.level + 1] if node.level else []
            base = ".".join([*above, *([node.module] if node.module else [])])
            yield from (f"{base}.{alias.name}" for alias in node.names)


def is_qt_painter(path: Path) -> bool:
    return path.relative_to(ROOT).as_posix() == "app/drawing/painters/qt.py"


@pytest.mark.parametrize("layer", MAY_USE)
def test_a_layer_imports_only_itself_and_what_is_below(layer):
    wrong = [
        f"{path.relative_to(ROOT)}: {name}"
        for path in sources(layer)
        for name in imports(path)
        if name.split(".")[0] in MAY_USE and name.split(".")[0] not in MAY_USE[layer]
    ]
    assert not wrong


def test_canvas_panels_and_pack_do_not_import_each_other():
    wrong = [
        f"{path.relative_to(ROOT)}: {name}"
        for part in APART
        for path in sources(f"app/{part}")
        for name in imports(path)
        for other in APART
        if other != part and f"{name}.".startswith(f"app.{other}.")
    ]
    assert not wrong


def test_qt_stays_out_of_the_model_the_rules_and_the_drawing():
    wrong = [
        f"{path.relative_to(ROOT)}: {name}"
        for folder in ("model", "rules", "app/drawing")
        for path in sources(folder)
        for name in imports(path)
        if name.split(".")[0] == QT and not is_qt_painter(path)
    ]
    # The picture export paints by Qt, asked for late by the one function that needs it.
    assert [line for line in wrong if not line.startswith("app/drawing/export.py")] == []


def test_the_pdf_library_is_used_by_the_pdf_painter_and_the_pack_alone():
    wrong = [
        f"{path.relative_to(ROOT)}: {name}"
        for layer in MAY_USE
        for path in sources(layer)
        for name in imports(path)
        if name.split(".")[0] == PDF
    ]
    assert [line for line in wrong if not line.startswith("app/drawing/painters/")] == []


def drawing_modules() -> list[str]:
    return [
        module_name(path)
        for path in sources("app/drawing")
        if path.parent.name != "painters"
    ]


ALONE = {
    "assets": (["assets"], (QT, PDF, *HEAVY)),
    "model": ([module_name(path) for path in sources("model")], (QT, PDF, "pint", "shapely")),
    "rules": ([module_name(path) for path in sources("rules")], (QT, PDF, "pint", "shapely")),
    "drawing": (drawing_modules(), (QT, PDF)),
    "command line": (["app.cli"], (QT, PDF, *HEAVY)),
    "units and tables": (["model.units", "model.tables"], (QT, PDF, *HEAVY)),
}


@pytest.mark.parametrize("part", ALONE)
def test_a_part_alone_in_a_fresh_interpreter_brings_nothing_forbidden(part):
    modules, forbidden = ALONE[part]
    lines = [f"import sys; sys.path.insert(0, {str(ROOT)!r})"]
    lines += [f"import {name}" for name in modules]
    lines += [f"print(*[name for name in {forbidden!r} if name in sys.modules])"]
    done = subprocess.run(
        [sys.executable, "-c", "\n".join(lines)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == []


def test_no_module_imports_itself_through_others():
    """Only imports at the top of a file are followed: a late one is how a circle is opened."""
    modules = {module_name(path): path for layer in MAY_USE for path in sources(layer)}
    follows = {name: top_imports(path, modules) for name, path in modules.items()}
    done: set[str] = set()

    def walk(name: str, above: tuple[str, ...]) -> None:
        assert name not in above, " -> ".join([*above[above.index(name):], name])
        if name in done:
            return
        for target in sorted(follows[name]):
            walk(target, (*above, name))
        done.add(name)

    for name in modules:
        walk(name, ())


def top_imports(path: Path, modules: dict[str, Path]) -> set[str]:
    own = module_name(path)
    found = set()
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names = [
                full if (full := f"{node.module}.{alias.name}") in modules else node.module
                for alias in node.names
            ]
        else:
            continue
        found.update(name for name in names if name in modules and name != own)
    return found


def test_no_file_is_longer_than_a_person_reads_at_once():
    long = {
        str(path.relative_to(ROOT)): lines
        for folder in (*MAY_USE, "tests")
        for path in sources(folder)
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > MOST_LINES
    }
    assert not long


def test_the_top_of_the_tree_holds_only_what_belongs_there():
    found = {entry.name for entry in ROOT.iterdir() if not entry.name.startswith(".")}
    made_by_running = {"build", "dist", "loomwright-demo.pdf", "loomwright-demo.png"}
    assert found - made_by_running <= TOP_LEVEL


def test_every_folder_of_code_is_a_package():
    missing = [
        str(path.parent.relative_to(ROOT))
        for layer in MAY_USE
        for path in sources(layer)
        if not (path.parent / "__init__.py").exists()
    ]
    assert not missing
