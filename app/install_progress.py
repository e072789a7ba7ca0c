"""What is seen while pip works: a line for each package fetched and each one unpacked.

Standard library alone, and readable for Python 3.8, like all that runs before the set-up.
"""

from __future__ import annotations

import os
import queue
import re
import subprocess
import threading
from typing import IO

from app.bootstrap import say

FETCHED = re.compile(r"^(?:Downloading|Using cached) (\S+?)-(\d[^-]*)-\S+\.whl"
                     r" \(([\d.]+) (\w+)\)$")
TAKEN_FROM_DISK = re.compile(r"^Processing ((?:.*/)?([^/]+?)-(\d[^-/]*)-[^/]+\.whl)$")
MEGABYTES = {"bytes": 1e-6, "B": 1e-6, "kB": 1e-3, "MB": 1.0, "GB": 1e3}
LOOK_EVERY_S = 0.5


def fetched_package(line: str) -> tuple[str, str, float] | None:
    """Return name, version and size [MB] when pip's line says that a package is fetched."""
    match = FETCHED.match(line.strip())
    if match is not None:
        name, version, number, unit = match.groups()
        return name, version, float(number) * MEGABYTES.get(unit, 0.0)
    match = TAKEN_FROM_DISK.match(line.strip())
    if match is not None and os.path.exists(match.group(1)):
        return match.group(2), match.group(3), os.path.getsize(match.group(1)) * 1e-6
    return None


def unpacked_packages(environment: str) -> set[str]:
    """Return "name version" of every package that stands in the environment by now."""
    names: set[str] = set()
    for folder, folders, _files in os.walk(environment):
        if os.path.basename(folder) == "site-packages":
            names.update(item[:-len(".dist-info")].replace("-", " ")
                         for item in folders if item.endswith(".dist-info"))
            folders.clear()
    return names


class Progress:
    """Turns pip's lines, and what appears on disk, into lines for a person."""

    def __init__(self, environment: str) -> None:
        self.environment = environment
        self.total_mb = 0.0
        self.expected = 0
        self.done = 0
        self.seen = unpacked_packages(environment)

    def hear(self, line: str) -> None:
        """Take one line of pip's output."""
        package = fetched_package(line)
        if package is not None:
            name, version, size_mb = package
            self.total_mb += size_mb
            say(f"  fetched {name} {version}, {size_mb:.1f} MB")
        elif line.startswith("Installing collected packages:"):
            self.expected = line.count(",") + 1
            say(f"  {self.total_mb:.0f} MB in all; unpacking {self.expected} packages")

    def look(self) -> None:
        """Say what has been unpacked since the last look."""
        if not self.expected:
            return
        present = unpacked_packages(self.environment)
        for name in sorted(present - self.seen):
            self.done += 1
            say(f"  unpacked {name} ({self.done} of {self.expected})")
        self.seen |= present


def run_pip(command: list[str], environment: str) -> int:
    """Run pip, telling its progress; return its exit code. Its complaints go straight through."""
    progress = Progress(environment)
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, errors="replace") as pip:
        assert pip.stdout is not None
        lines: queue.Queue[str | None] = queue.Queue()
        threading.Thread(target=_pass_on, args=(pip.stdout, lines), daemon=True).start()
        while True:
            try:
                line = lines.get(timeout=LOOK_EVERY_S)
            except queue.Empty:
                progress.look()
                continue
            if line is None:
                break
            progress.hear(line)
    progress.look()
    return pip.returncode


def _pass_on(stream: IO[str], lines: queue.Queue[str | None]) -> None:
    """Move lines from a pipe to a queue, which can be waited for with a limit; then None."""
    for line in stream:
        lines.put(line)
    lines.put(None)
