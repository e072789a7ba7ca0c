"""The private environment: made once, checked at every start, with the standard library alone.

Runs on the machine's own Python before anything is installed, and on one that is too old, which
must get as far as the sentence that says so: keep this file readable for Python 3.8. A stamp,
written last, says that the environment is whole. Without it the environment is made anew, so a
set-up killed half way costs one more set-up and nothing else.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from contextlib import contextmanager, suppress
from zlib import adler32, crc32  # hashlib costs a start the loading of OpenSSL

OLDEST_PYTHON = (3, 11)
ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
STAMP_NAME = "loomwright-stamp"
SIZE_NOTE = "about 150 MB to fetch, 560 MB on disk"


class SetupError(Exception):
    """Set-up cannot go on. The text is one or two sentences for the person at the keyboard."""


def say(text: str) -> None:
    """Print a line of progress at once."""
    print(text, file=sys.stderr, flush=True)


def runs_from_tree(root: str = ROOT) -> bool:
    """Say whether this is the source tree; an installed wheel needs no environment of its own."""
    return os.path.isfile(os.path.join(root, "pyproject.toml"))


def require_python(version: tuple[int, ...] = tuple(sys.version_info[:3])) -> None:
    """Refuse a Python that is too old, naming a newer one when the machine has it."""
    if version[:2] >= OLDEST_PYTHON:
        return
    oldest = ".".join(map(str, OLDEST_PYTHON))
    text = "Python {} or newer is needed; this is {}.".format(oldest, ".".join(map(str, version)))
    newer = newer_python()
    if newer:
        text += " This machine has {0}: start with `{0}` in place of `python3`.".format(newer)
    raise SetupError(text)


def newer_python() -> str | None:
    """Return the name of a Python on the search path that is new enough."""
    from shutil import which

    for minor in range(OLDEST_PYTHON[1] + 8, OLDEST_PYTHON[1] - 1, -1):
        name = "python3.{}".format(minor)
        if which(name):
            return name
    return None


def environment_dir(root: str = ROOT) -> str:
    """Return the folder of the private environment."""
    return os.path.join(root, ".venv")


def environment_python(root: str = ROOT) -> str:
    """Return the Python of the private environment."""
    inside = ("Scripts", "python.exe") if os.name == "nt" else ("bin", "python")
    return os.path.join(environment_dir(root), *inside)


def wanted_key(root: str = ROOT) -> str:
    """Return the fingerprint of what the environment must be: description, Python and folder."""
    with open(os.path.join(root, "pyproject.toml"), "rb") as description:
        wanted = description.read()
    wanted += repr(tuple(sys.version_info[:3])).encode() + os.path.realpath(root).encode()
    return "{:08x}{:08x}".format(crc32(wanted), adler32(wanted))


def read_stamp(root: str = ROOT) -> tuple[str, frozenset[str]]:
    """Return the fingerprint and the extras of a whole environment, or ("", nothing)."""
    try:
        with open(os.path.join(environment_dir(root), STAMP_NAME), encoding="ascii") as stamp:
            lines = stamp.read().split()
    except (OSError, UnicodeDecodeError):
        return "", frozenset()
    return (lines[0], frozenset(lines[1:])) if lines else ("", frozenset())


def write_stamp(root: str, key: str, extras: frozenset[str]) -> None:
    """Declare the environment whole. The stamp appears in one step or not at all."""
    path = os.path.join(environment_dir(root), STAMP_NAME)
    with open(path + ".new", "w", encoding="ascii") as stamp:
        stamp.write("\n".join([key] + sorted(extras)) + "\n")
        stamp.flush()
        os.fsync(stamp.fileno())
    os.replace(path + ".new", path)


def remove_stamp(root: str) -> None:
    """Declare the environment unfinished."""
    with suppress(FileNotFoundError):
        os.remove(os.path.join(environment_dir(root), STAMP_NAME))


def is_ready(extras: frozenset[str], root: str = ROOT) -> bool:
    """Say whether the environment is whole, is for this tree and Python, and has the extras."""
    key, present = read_stamp(root)
    return key == wanted_key(root) and extras <= present


def is_inside(root: str = ROOT) -> bool:
    """Say whether the running Python is the environment's own."""
    return os.path.realpath(sys.prefix) == os.path.realpath(environment_dir(root))


def enter_environment(script: str, arguments: list[str], extras: frozenset[str]) -> None:
    """Return inside a whole environment; elsewhere make it if need be and start again in it."""
    require_python()
    if is_inside() and is_ready(extras):
        return
    if is_inside():
        # The environment cannot rebuild the floor it stands on.
        run_instead(getattr(sys, "_base_executable", sys.executable), script, arguments)
    if not is_ready(extras):
        with one_at_a_time(ROOT):
            if not is_ready(extras):
                make_environment(ROOT, extras)
    run_instead(environment_python(), script, arguments)


def run_instead(python: str, script: str, arguments: list[str]) -> None:
    """Continue as another Python; does not return."""
    command = [python, script] + arguments
    if os.name == "nt":
        sys.exit(subprocess.call(command))
    sys.stdout.flush()
    sys.stderr.flush()
    os.execv(python, command)


@contextmanager
def one_at_a_time(root: str):  # type: ignore[no-untyped-def]  # Iterator is slow to import
    """Let a second start wait for the first one's set-up instead of tearing it down."""
    try:
        import fcntl
    except ImportError:
        yield
        return
    with open(os.path.join(root, "pyproject.toml"), "rb") as held:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("Another start is setting up; waiting for it.")
            fcntl.flock(held, fcntl.LOCK_EX)
        except OSError:
            pass  # a file system without locks: go on without
        yield


def make_environment(root: str, extras: frozenset[str]) -> None:
    """Make the environment, or add what is missing to a whole one."""
    from shutil import which

    key, present = read_stamp(root)
    fresh = key != wanted_key(root)
    remove_stamp(root)
    started = time.monotonic()
    uv = which("uv")
    try:
        if fresh:
            present = frozenset()
            say("First start: setting up a private environment in {} ({})."
                .format(environment_dir(root), SIZE_NOTE))
            create_environment(root, with_pip=uv is None)
        install(root, requirements(root, extras), uv)
        write_stamp(root, wanted_key(root), present | extras)
    except OSError as error:
        raise SetupError("{} cannot be made: {}. The next start begins anew."
                         .format(environment_dir(root), error.strerror or error)) from error
    say("Set up in {:.0f} s.".format(time.monotonic() - started))


def create_environment(root: str, with_pip: bool) -> None:
    """Make an empty environment, clearing away whatever a killed set-up has left.

    One that is a link to a folder elsewhere is somebody else's, and is left alone.
    """
    import venv

    if os.path.islink(environment_dir(root)):
        raise SetupError("{} is a link to another folder, made for another copy of the program. "
                         "Remove the link, and an environment is made here.".format(
                             environment_dir(root)))
    if with_pip:
        require_ensurepip()
    try:
        venv.create(environment_dir(root), clear=True, with_pip=with_pip,
                    symlinks=os.name != "nt")
    except subprocess.CalledProcessError as error:
        raise SetupError("The private environment could not be made ({}). The next start begins "
                         "anew.".format(error)) from error


def require_ensurepip() -> None:
    """See that an environment can be given pip, which Debian keeps in a package of its own."""
    import importlib.util

    if importlib.util.find_spec("ensurepip") is not None:
        return
    from app.preflight import install_packages

    if install_packages(["python3-venv"]) and importlib.util.find_spec("ensurepip") is not None:
        return
    raise SetupError("This Python cannot make environments yet. On Debian and its relatives:\n"
                     "    sudo apt-get install python3-venv")


def requirements(root: str, extras: frozenset[str]) -> list[str]:
    """Return the pinned requirements that pyproject.toml names."""
    import tomllib

    with open(os.path.join(root, "pyproject.toml"), "rb") as description:
        project = tomllib.load(description)["project"]
    wanted = list(project["dependencies"])
    for extra in sorted(extras):
        wanted += project["optional-dependencies"][extra]
    return wanted


def install(root: str, wanted: list[str], uv: str | None) -> None:
    """Install the requirements, by uv when the machine has it (many times faster), else by pip."""
    python = environment_python(root)
    if uv:
        if subprocess.call([uv, "pip", "install", "--python", python] + wanted) == 0:
            return
        say("uv did not manage; trying pip.")
        create_environment(root, with_pip=True)
    from app.install_progress import run_pip

    command = [python, "-m", "pip", "install", "--disable-pip-version-check", "--no-input",
               "--progress-bar", "off"] + wanted
    if run_pip(command, environment_dir(root)) != 0:
        raise SetupError("The packages could not be installed; pip's reason stands above. "
                         "The next start begins anew.")
