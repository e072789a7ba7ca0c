"""Before Qt is imported: are its system libraries here, and is there a screen?

Qt ends the whole process when either is missing, so both are asked beforehand, with the standard
library alone. A library is tried by loading the Qt file that needs it: the loader names the first
one missing and stops there, so the packages are named as a whole group.
"""

from __future__ import annotations

import ctypes
import os
import re
import subprocess
import sys

from app.bootstrap import SetupError, say

IMPORT_PACKAGES = ("libglib2.0-0", "libgl1", "libegl1", "libfontconfig1", "libdbus-1-3",
                   "libxkbcommon0")
X11_PACKAGES = ("libxcb-cursor0", "libxcb-icccm4", "libxcb-keysyms1", "libxcb-xkb1",
                "libxkbcommon-x11-0", "libxcb-image0", "libxcb-render-util0", "libxcb-randr0",
                "libxcb-shape0", "libxcb-sync1", "libxcb-xfixes0")
WAYLAND_PACKAGES = ("libwayland-cursor0", "libwayland-egl1")

# Which Debian package holds a library; those not named here are found in the group's line.
PACKAGE_OF = {
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgthread-2.0.so.0": "libglib2.0-0",
    "libgobject-2.0.so.0": "libglib2.0-0",
    "libGL.so.1": "libgl1",
    "libOpenGL.so.0": "libopengl0",
    "libGLX.so.0": "libglx0",
    "libEGL.so.1": "libegl1",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libdbus-1.so.3": "libdbus-1-3",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libX11.so.6": "libx11-6",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libxcb.so.1": "libxcb1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
    "libwayland-egl.so.1": "libwayland-egl1",
}
# Qt's own file that needs the group, below PySide6/Qt.
NEEDED_BY = {
    "import": ("lib/libQt6Widgets.so.6", IMPORT_PACKAGES),
    "xcb": ("plugins/platforms/libqxcb.so", X11_PACKAGES),
    "wayland": ("plugins/platforms/libqwayland.so", WAYLAND_PACKAGES),
}


def missing_name(loader_text: str) -> str | None:
    """Return the library that the loader's error text says is missing."""
    match = re.match(r"(\S+): cannot open shared object file", loader_text)
    return match.group(1) if match else None


def qt_dir() -> str | None:
    """Return the folder of Qt's own files, without importing Qt."""
    import importlib.util

    spec = importlib.util.find_spec("PySide6")
    if spec is None or not spec.submodule_search_locations:
        return None
    return os.path.join(list(spec.submodule_search_locations)[0], "Qt")


def missing_library(group: str) -> str | None:
    """Return the first system library that Qt's file of that group lacks, or None."""
    folder = qt_dir()
    if not sys.platform.startswith("linux") or folder is None:
        return None
    path = os.path.join(folder, NEEDED_BY[group][0])
    if not os.path.exists(path):
        return None
    try:
        ctypes.CDLL(path)
    except OSError as error:
        return missing_name(str(error)) or str(error)
    return None


def packages_for(group: str, library: str) -> list[str]:
    """Return the Debian packages to install: the group's, and the missing library's own."""
    wanted = list(NEEDED_BY[group][1])
    own = PACKAGE_OF.get(library)
    return wanted if own is None or own in wanted else [*wanted, own]


def require_libraries(group: str) -> None:
    """See that Qt's libraries of that group are here, installing them where that is possible."""
    library = missing_library(group)
    if library is None:
        return
    packages = packages_for(group, library)
    if install_packages(packages) and missing_library(group) is None:
        return
    raise SetupError(
        "Qt lacks the system library {}{}. On Debian and its relatives:\n"
        "    sudo apt-get install --no-install-recommends {}".format(
            missing_library(group) or library,
            " (package {})".format(PACKAGE_OF[library]) if library in PACKAGE_OF else "",
            " ".join(packages)))


def install_packages(packages: list[str]) -> bool:
    """Install Debian packages when this is Debian and we are root; say whether it was done."""
    from shutil import which

    if not hasattr(os, "geteuid") or os.geteuid() != 0 or which("apt-get") is None:
        return False
    command = ["apt-get", "install", "-y", "-q", "--no-install-recommends"] + packages
    say("Installing system packages: {}".format(" ".join(packages)))
    environment = dict(os.environ, DEBIAN_FRONTEND="noninteractive")
    if subprocess.call(command, env=environment, stdout=subprocess.DEVNULL) == 0:
        return True
    subprocess.call(["apt-get", "update", "-q"], env=environment, stdout=subprocess.DEVNULL)
    return subprocess.call(command, env=environment, stdout=subprocess.DEVNULL) == 0


def x11_answers() -> bool:
    """Say whether the X server that DISPLAY names lets us in."""
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        # Its absence is found, and named, when the platform file is tried.
        return True
    xcb.xcb_connect.restype = ctypes.c_void_p
    xcb.xcb_connect.argtypes = [ctypes.c_char_p, ctypes.c_void_p]
    xcb.xcb_connection_has_error.argtypes = [ctypes.c_void_p]
    xcb.xcb_disconnect.argtypes = [ctypes.c_void_p]
    connection = xcb.xcb_connect(None, None)
    failed = xcb.xcb_connection_has_error(connection)
    xcb.xcb_disconnect(connection)
    return not failed


def wayland_answers() -> bool:
    """Say whether the Wayland compositor that WAYLAND_DISPLAY names is there."""
    try:
        wayland = ctypes.CDLL("libwayland-client.so.0")
    except OSError:
        return True
    wayland.wl_display_connect.restype = ctypes.c_void_p
    wayland.wl_display_connect.argtypes = [ctypes.c_char_p]
    wayland.wl_display_disconnect.argtypes = [ctypes.c_void_p]
    display = wayland.wl_display_connect(None)
    if not display:
        return False
    wayland.wl_display_disconnect(display)
    return True


def screens() -> list[str]:
    """Return the platforms that can show a window here, the session's own first."""
    chosen = os.environ.get("QT_QPA_PLATFORM")
    if chosen:
        return [name.split(":")[0] for name in chosen.split(";") if name]
    if not sys.platform.startswith("linux"):
        return ["native"]
    found = []
    if os.environ.get("DISPLAY") and x11_answers():
        found.append("xcb")
    if os.environ.get("WAYLAND_DISPLAY") and wayland_answers():
        found.append("wayland")
    if os.environ.get("XDG_SESSION_TYPE") == "wayland":
        found.reverse()
    return found


def prepare_screen() -> bool:
    """See that a window can open, and tell Qt by which platform; False when there is no screen."""
    found = screens()
    if not found:
        return False
    require_libraries("import")
    usable = [name for name in found if name not in NEEDED_BY or missing_library(name) is None]
    if not usable:
        require_libraries(found[0])
        usable = [found[0]]
    if sys.platform.startswith("linux") and not os.environ.get("QT_QPA_PLATFORM"):
        os.environ["QT_QPA_PLATFORM"] = ";".join(usable)
    return True
