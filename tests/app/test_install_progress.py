"""What is seen while pip works."""

from __future__ import annotations

import sys

import pytest

from app.install_progress import Progress, fetched_package, run_pip


@pytest.mark.parametrize(
    ("line", "package"),
    [
        ("Downloading networkx-3.6.1-py3-none-any.whl (2.1 MB)\n", ("networkx", "3.6.1", 2.1)),
        ("Using cached idna-3.4-py3-none-any.whl (61 kB)", ("idna", "3.4", pytest.approx(0.061))),
        ("Downloading networkx-3.6.1-py3-none-any.whl.metadata (6.8 kB)", None),
        ("Collecting networkx<4,>=3.2", None),
    ],
)
def test_a_fetched_package_is_known_by_name_version_and_size(line, package):
    assert fetched_package(line) == package


def test_a_package_taken_from_disk_has_its_files_size(tmp_path):
    wheel = tmp_path / "thing-1.2-py3-none-any.whl"
    wheel.write_bytes(b"x" * 500_000)
    assert fetched_package(f"Processing {wheel}") == ("thing", "1.2", 0.5)


def test_packages_fetched_and_unpacked_are_told_one_by_one(tmp_path, capsys):
    packages = tmp_path / "lib" / "python3" / "site-packages"
    packages.mkdir(parents=True)
    progress = Progress(str(tmp_path))
    progress.hear("Downloading one-1.0-py3-none-any.whl (2.0 MB)\n")
    progress.look()
    progress.hear("Installing collected packages: one, two\n")
    (packages / "one-1.0.dist-info").mkdir()
    progress.look()
    progress.look()
    told = capsys.readouterr().err.splitlines()
    assert told == [
        "  fetched one 1.0, 2.0 MB",
        "  2 MB in all; unpacking 2 packages",
        "  unpacked one 1.0 (1 of 2)",
    ]


def test_pips_exit_code_comes_through(tmp_path):
    command = [sys.executable, "-c", "print('hello'); raise SystemExit(3)"]
    assert run_pip(command, str(tmp_path)) == 3
