"""What `python3 app` does with its arguments, with and without a screen."""

from __future__ import annotations

import sys
import types

import pytest

from app import __main__ as start
from app import bootstrap, preflight


@pytest.fixture
def cli_calls(monkeypatch):
    calls: list[list[str]] = []
    module = types.ModuleType("app.cli")
    module.main = lambda arguments: calls.append(arguments) or 0  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "app.cli", module)
    monkeypatch.setattr(preflight, "require_libraries", lambda _group: None)
    return calls


@pytest.fixture
def windows(monkeypatch):
    opened: list[str | None] = []
    module = types.ModuleType("app.main_window")
    module.run = lambda path: opened.append(path) or 0  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "app.main_window", module)
    return opened


@pytest.mark.parametrize("arguments", [["check", "a.loom"], ["--help"], ["kinds"]])
def test_a_command_goes_to_the_command_line_without_asking_for_a_screen(
    arguments, cli_calls, monkeypatch
):
    monkeypatch.setattr(preflight, "prepare_screen", lambda: pytest.fail("asked for a screen"))
    assert start.run(arguments) == 0
    assert cli_calls == [arguments]


@pytest.mark.parametrize(("arguments", "path"), [([], None), (["a.loom"], "a.loom")])
def test_nothing_or_one_diagram_opens_the_window(arguments, path, windows, monkeypatch):
    monkeypatch.setattr(preflight, "prepare_screen", lambda: True)
    assert start.run(arguments) == 0
    assert windows == [path]


def test_without_a_screen_the_demo_is_checked_and_printed_here(
    cli_calls, monkeypatch, tmp_path, capsys
):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(preflight, "prepare_screen", lambda: False)
    monkeypatch.setattr(start, "demo_boat", lambda: "demo.loom")
    assert start.run([]) == 0
    assert [call[0] for call in cli_calls] == ["check", "print", "export"]
    assert cli_calls[1][-1] == "loomwright-demo.pdf"
    assert cli_calls[2][-1] == "loomwright-demo.png"
    told = capsys.readouterr()
    assert "There is no screen here" in told.err
    assert str(tmp_path / "loomwright-demo.pdf") in told.out


def test_the_picture_alone_is_left_out_when_qt_lacks_a_library(
    cli_calls, monkeypatch, tmp_path, capsys
):
    def lacking(_group):
        raise bootstrap.SetupError("Qt lacks the system library libGL.so.1.")

    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(preflight, "prepare_screen", lambda: False)
    monkeypatch.setattr(preflight, "require_libraries", lacking)
    monkeypatch.setattr(start, "demo_boat", lambda: "demo.loom")
    assert start.run([]) == 0
    assert [call[0] for call in cli_calls] == ["check", "print"]
    told = capsys.readouterr()
    assert "The picture is left out. Qt lacks the system library libGL.so.1." in told.err
    assert "loomwright-demo.pdf" in told.out
    assert "loomwright-demo.png" not in told.out


def test_what_set_up_cannot_do_is_told_in_one_sentence(monkeypatch, capsys):
    def refuse(*_arguments):
        raise bootstrap.SetupError("The reason.")

    monkeypatch.setattr(bootstrap, "enter_environment", refuse)
    monkeypatch.setattr(sys, "argv", ["app"])
    assert start.main() == start.EXIT_UNUSABLE
    assert capsys.readouterr().err == "loomwright: The reason.\n"
