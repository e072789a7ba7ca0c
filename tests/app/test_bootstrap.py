"""The private environment: stamp, half-made environments, versions. Nothing is installed here."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

from app import bootstrap

DEV = frozenset(["dev"])
NONE: frozenset[str] = frozenset()
ROOT = Path(bootstrap.ROOT)


@pytest.fixture
def tree(tmp_path, monkeypatch):
    """A tree whose set-up is pretended: creating clears, installing leaves one file."""
    (tmp_path / "pyproject.toml").write_text(
        '[project]\ndependencies = ["one>=1,<2"]\n'
        '[project.optional-dependencies]\ndev = ["two<3"]\n'
    )
    made: list[str] = []

    def create(root, with_pip):
        environment = Path(bootstrap.environment_dir(root))
        if environment.exists():
            for item in environment.iterdir():
                item.unlink()
        environment.mkdir(exist_ok=True)
        made.append("create")

    def install(root, wanted, uv):
        Path(bootstrap.environment_dir(root), "installed").write_text(" ".join(wanted))
        made.append("install " + " ".join(wanted))

    monkeypatch.setattr(bootstrap, "create_environment", create)
    monkeypatch.setattr(bootstrap, "install", install)
    return str(tmp_path), made


def test_an_environment_is_ready_only_after_a_whole_set_up(tree):
    root, made = tree
    assert not bootstrap.is_ready(NONE, root)
    bootstrap.make_environment(root, NONE)
    assert made == ["create", "install one>=1,<2"]
    assert bootstrap.is_ready(NONE, root)
    assert not bootstrap.is_ready(DEV, root)


def test_the_tools_are_added_to_a_whole_environment_without_making_it_anew(tree):
    root, made = tree
    bootstrap.make_environment(root, NONE)
    bootstrap.make_environment(root, DEV)
    assert made == ["create", "install one>=1,<2", "install one>=1,<2 two<3"]
    assert bootstrap.is_ready(DEV, root)
    assert bootstrap.is_ready(NONE, root)


def test_a_half_made_environment_is_made_anew(tree):
    root, made = tree
    environment = Path(bootstrap.environment_dir(root))
    environment.mkdir()
    (environment / "python").write_text("left behind by a killed set-up")
    assert not bootstrap.is_ready(NONE, root)
    bootstrap.make_environment(root, NONE)
    assert made[0] == "create"
    assert not (environment / "python").exists()
    assert bootstrap.is_ready(NONE, root)


@pytest.mark.parametrize("first", [NONE, DEV])
def test_a_set_up_that_fails_leaves_no_stamp(tree, monkeypatch, first):
    root, _made = tree
    bootstrap.make_environment(root, NONE)

    def killed(*_arguments):
        raise KeyboardInterrupt

    monkeypatch.setattr(bootstrap, "install", killed)
    with pytest.raises(KeyboardInterrupt):
        bootstrap.make_environment(root, DEV)
    assert not bootstrap.is_ready(first, root)
    assert bootstrap.read_stamp(root) == ("", NONE)


def test_another_description_or_folder_asks_for_another_environment(tree, tmp_path):
    root, _made = tree
    bootstrap.make_environment(root, NONE)
    moved = tmp_path.parent / (tmp_path.name + "-moved")
    os.rename(root, moved)
    assert not bootstrap.is_ready(NONE, str(moved))
    os.rename(moved, root)
    assert bootstrap.is_ready(NONE, root)
    with open(os.path.join(root, "pyproject.toml"), "a") as description:
        description.write("# changed\n")
    assert not bootstrap.is_ready(NONE, root)


def test_a_spoilt_stamp_counts_as_none(tree):
    root, _made = tree
    bootstrap.make_environment(root, NONE)
    stamp = Path(bootstrap.environment_dir(root), bootstrap.STAMP_NAME)
    for spoilt in (b"", b"\xff\xfe", b"0123\n"):
        stamp.write_bytes(spoilt)
        assert not bootstrap.is_ready(NONE, root)


def test_a_folder_that_cannot_be_written_is_told_in_a_sentence(tree, monkeypatch):
    root, _made = tree

    def refused(*_arguments, **_named):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(bootstrap, "create_environment", refused)
    with pytest.raises(bootstrap.SetupError, match="cannot be made: Permission denied"):
        bootstrap.make_environment(root, NONE)


def test_an_old_python_is_told_what_is_needed_and_what_the_machine_has(monkeypatch):
    monkeypatch.setattr(bootstrap, "newer_python", lambda: "python3.12")
    with pytest.raises(bootstrap.SetupError) as caught:
        bootstrap.require_python((3, 8, 10))
    assert "Python 3.11 or newer is needed; this is 3.8.10." in str(caught.value)
    assert "python3.12" in str(caught.value)
    bootstrap.require_python((3, 11, 0))


def test_a_python_without_ensurepip_gets_the_apt_line(monkeypatch):
    import importlib.util

    from app import preflight

    monkeypatch.setattr(importlib.util, "find_spec", lambda _name: None)
    monkeypatch.setattr(preflight, "install_packages", lambda _packages: False)
    with pytest.raises(bootstrap.SetupError, match="sudo apt-get install python3-venv"):
        bootstrap.require_ensurepip()


def test_uv_is_used_when_found_and_pip_when_it_does_not_manage(monkeypatch, tmp_path):
    calls: list[list[str]] = []

    def call(command):
        calls.append(command)
        return 1 if command[0] == "uv" else 0

    monkeypatch.setattr(bootstrap.subprocess, "call", call)
    monkeypatch.setattr(bootstrap, "create_environment", lambda *_a, **named: calls.append(named))
    monkeypatch.setattr("app.install_progress.run_pip", lambda command, _dir: call(command))
    bootstrap.install(str(tmp_path), ["one"], "uv")
    assert calls[0][:3] == ["uv", "pip", "install"]
    assert calls[1] == {"with_pip": True}
    assert calls[2][1:4] == ["-m", "pip", "install"]
    assert calls[2][-1] == "one"


def test_the_real_description_names_what_both_commands_install():
    plain = bootstrap.requirements(str(ROOT), NONE)
    assert "PySide6-Essentials>=6.11,<6.12" in plain
    assert all("<" in requirement for requirement in bootstrap.requirements(str(ROOT), DEV))


EARLY = ("app/__init__.py", "app/__main__.py", "app/bootstrap.py", "app/preflight.py",
         "app/install_progress.py", "tests/__main__.py")  # fmt: skip


@pytest.mark.parametrize("name", EARLY)
def test_what_runs_first_can_be_read_by_python_3_8(name):
    ast.parse((ROOT / name).read_text(), feature_version=(3, 8))


@pytest.mark.parametrize("name", ["bootstrap", "preflight", "install_progress"])
def test_what_runs_first_needs_the_standard_library_alone(name):
    code = f"import sys; sys.path.insert(0, {str(ROOT)!r}); import app.{name}"
    subprocess.run([sys.executable, "-I", "-S", "-c", code], check=True)


def test_a_start_inside_a_whole_environment_goes_straight_on(monkeypatch):
    monkeypatch.setattr(bootstrap, "is_inside", lambda: True)
    monkeypatch.setattr(bootstrap, "is_ready", lambda _extras: True)
    monkeypatch.setattr(bootstrap, "run_instead", lambda *_arguments: pytest.fail("started again"))
    bootstrap.enter_environment("app", [], NONE)


def test_a_stale_environment_is_left_before_it_is_made_anew(monkeypatch):
    class StartedAgainError(Exception):
        pass

    def run_instead(python, *_arguments):
        raise StartedAgainError(python)

    monkeypatch.setattr(bootstrap, "is_inside", lambda: True)
    monkeypatch.setattr(bootstrap, "is_ready", lambda _extras: False)
    monkeypatch.setattr(bootstrap, "run_instead", run_instead)
    monkeypatch.setattr(sys, "_base_executable", "/base/python3", raising=False)
    with pytest.raises(StartedAgainError, match="/base/python3"):
        bootstrap.enter_environment("app", [], NONE)


def test_an_environment_that_is_a_link_is_left_alone_and_told(tmp_path):
    root, other = tmp_path / "copy", tmp_path / "other"
    root.mkdir()
    other.mkdir()
    (other / "kept").write_text("kept")
    os.symlink(other, bootstrap.environment_dir(str(root)))
    with pytest.raises(bootstrap.SetupError, match="is a link to another folder"):
        bootstrap.create_environment(str(root), False)
    assert (other / "kept").read_text() == "kept"
