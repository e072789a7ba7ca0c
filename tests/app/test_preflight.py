"""System libraries and the screen, asked before Qt is imported."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from app import preflight
from app.bootstrap import ROOT, SetupError


def test_the_loaders_text_names_the_missing_library():
    text = "libEGL.so.1: cannot open shared object file: No such file or directory"
    assert preflight.missing_name(text) == "libEGL.so.1"
    assert preflight.missing_name("invalid ELF header") is None


def test_the_library_table_and_the_groups_speak_of_the_same_packages():
    grouped = {name for _file, names in preflight.NEEDED_BY.values() for name in names}
    assert grouped <= set(preflight.PACKAGE_OF.values())
    assert all(".so" in library for library in preflight.PACKAGE_OF)


def test_a_missing_library_brings_its_whole_group_and_its_own_package():
    wanted = preflight.packages_for("xcb", "libxcb-icccm.so.4")
    assert wanted == list(preflight.X11_PACKAGES)
    assert preflight.packages_for("xcb", "libxcb-shm.so.0")[-1] == "libxcb-shm0"
    assert preflight.packages_for("xcb", "libunheard.so.9") == list(preflight.X11_PACKAGES)


def test_a_missing_library_is_named_with_the_whole_apt_line(monkeypatch):
    monkeypatch.setattr(preflight, "missing_library", lambda _group: "libGL.so.1")
    monkeypatch.setattr(preflight, "install_packages", lambda _packages: False)
    with pytest.raises(SetupError) as caught:
        preflight.require_libraries("import")
    assert "libGL.so.1 (package libgl1)" in str(caught.value)
    assert "sudo apt-get install --no-install-recommends libglib2.0-0 libgl1" in str(caught.value)


def test_root_on_debian_has_the_packages_installed(monkeypatch):
    answers = iter(["libGL.so.1", None])
    installed: list[list[str]] = []
    monkeypatch.setattr(preflight, "missing_library", lambda _group: next(answers))
    monkeypatch.setattr(
        preflight, "install_packages", lambda packages: installed.append(packages) or True
    )
    preflight.require_libraries("import")
    assert installed == [list(preflight.IMPORT_PACKAGES)]


def test_nobody_but_root_installs_system_packages(monkeypatch):
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    monkeypatch.setattr(subprocess, "call", lambda *_a, **_k: pytest.fail("ran apt-get"))
    assert not preflight.install_packages(["libgl1"])


def test_the_chosen_platform_is_honoured(monkeypatch):
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen:size=800x600;xcb")
    assert preflight.screens() == ["offscreen", "xcb"]


@pytest.fixture
def bare_session(monkeypatch):
    for name in ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY", "XDG_SESSION_TYPE"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(preflight, "x11_answers", lambda: True)
    monkeypatch.setattr(preflight, "wayland_answers", lambda: True)
    monkeypatch.setattr(preflight, "require_libraries", lambda _group: None)
    monkeypatch.setattr(preflight, "missing_library", lambda _group: None)
    return monkeypatch


def test_without_a_display_there_is_no_screen(bare_session):
    assert not preflight.prepare_screen()
    assert "QT_QPA_PLATFORM" not in os.environ


def test_a_display_that_does_not_answer_is_no_screen(bare_session):
    bare_session.setenv("DISPLAY", ":7")
    bare_session.setattr(preflight, "x11_answers", lambda: False)
    assert not preflight.prepare_screen()


def test_the_sessions_own_platform_comes_first(bare_session):
    bare_session.setenv("DISPLAY", ":0")
    bare_session.setenv("WAYLAND_DISPLAY", "wayland-0")
    assert preflight.screens() == ["xcb", "wayland"]
    bare_session.setenv("XDG_SESSION_TYPE", "wayland")
    assert preflight.screens() == ["wayland", "xcb"]


def test_qt_is_told_only_of_platforms_whose_libraries_are_here(bare_session):
    bare_session.setenv("DISPLAY", ":0")
    bare_session.setenv("WAYLAND_DISPLAY", "wayland-0")
    bare_session.setattr(
        preflight, "missing_library", lambda group: "libxcb.so.1" if group == "xcb" else None
    )
    bare_session.setenv("QT_QPA_PLATFORM", "")
    assert preflight.prepare_screen()
    assert os.environ["QT_QPA_PLATFORM"] == "wayland"


def test_a_display_without_server_is_found_out_without_an_abort():
    code = "from app.preflight import x11_answers; raise SystemExit(x11_answers())"
    environment = dict(os.environ, DISPLAY=":4093")
    done = subprocess.run([sys.executable, "-c", code], env=environment, cwd=ROOT)
    assert done.returncode == 0
