"""A quick start leaves the collector and the compiler as it found them."""

from __future__ import annotations

import builtins
import gc
import subprocess
import sys
from pathlib import Path
from types import CodeType

import pytest

from app.quick_start import compiled_once, quick_start

SOURCE = b"answer = 6 * 7"


def test_the_collector_rests_only_while_modules_load(monkeypatch):
    monkeypatch.setattr(gc, "freeze", lambda: None)
    with quick_start():
        assert not gc.isenabled()
    assert gc.isenabled()


def test_a_module_that_fails_to_load_leaves_the_collector_at_work(monkeypatch):
    monkeypatch.setattr(gc, "freeze", lambda: None)
    with pytest.raises(ImportError), quick_start():
        raise ImportError
    assert gc.isenabled()


def test_no_module_s_source_is_looked_through():
    code = ("from app.quick_start import quick_start\n"
            "with quick_start(): import PySide6.QtWidgets, wave\n"
            "from PySide6.support.feature import pyside_feature_dict\n"
            "assert 'wave' not in pyside_feature_dict")
    subprocess.run([sys.executable, "-c", code], cwd=Path(__file__).parents[2], check=True)


def compiled(path: Path, source: bytes = SOURCE) -> CodeType:
    with compiled_once(path):
        code: CodeType = compile(source, "answer.py", "exec")
    return code


def value(code: CodeType) -> object:
    room: dict[str, object] = {}
    exec(code, room)
    return room["answer"]


@pytest.fixture
def kept(tmp_path: Path, monkeypatch) -> Path:
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    return tmp_path / "__pycache__" / "kept.qt"


def test_what_was_compiled_is_not_compiled_again(kept: Path, monkeypatch):
    first = compiled(kept)
    assert value(first) == 42
    monkeypatch.setattr(builtins, "compile", lambda *_a, **_k: pytest.fail("compiled again"))
    again = compiled(kept)
    assert again == first


def test_another_source_is_compiled_anew(kept: Path):
    compiled(kept)
    assert value(compiled(kept, b"answer = 43")) == 43


def test_python_s_own_compiler_stays(kept: Path):
    plain = builtins.compile
    with pytest.raises(SyntaxError):
        compiled(kept, b"answer =")
    assert builtins.compile is plain


@pytest.mark.parametrize("rubbish", [b"", b"rubbish", b"i\x01\x00\x00\x00"])
def test_a_file_that_is_no_such_file_is_replaced(kept: Path, rubbish: bytes):
    kept.parent.mkdir()
    kept.write_bytes(rubbish)
    assert value(compiled(kept)) == 42
    assert kept.read_bytes() != rubbish


def test_where_nothing_can_be_written_it_is_compiled_each_time(tmp_path: Path, monkeypatch):
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    (tmp_path / "file").write_text("no folder")
    assert value(compiled(tmp_path / "file" / "kept.qt")) == 42


def test_nothing_is_written_where_python_writes_nothing(kept: Path, monkeypatch):
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert value(compiled(kept)) == 42
    assert not kept.exists()
