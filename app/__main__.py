"""Start Loomwright: `python3 app` in the source tree, or `loomwright` once installed.

Without arguments, or with a diagram's file, the window opens; any other argument is a command
that needs no screen. Readable for Python 3.8, which must get as far as the sentence that says
which Python is needed.
"""

from __future__ import annotations

import os
import sys

if not __package__:
    # `python3 app` puts this folder first on the path, where its modules would hide the
    # standard library's and each other's.
    sys.path[0] = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))

from app import bootstrap

EXIT_UNUSABLE = 2
DEMO_OUTPUT = "loomwright-demo"


def main() -> int:
    """Set up if need be, then run what the arguments ask for; return the exit code."""
    arguments = sys.argv[1:]
    try:
        if bootstrap.runs_from_tree():
            bootstrap.enter_environment(os.path.dirname(os.path.abspath(__file__)), arguments,
                                        frozenset())
        return run(arguments)
    except bootstrap.SetupError as error:
        bootstrap.say("loomwright: {}".format(error))
        return EXIT_UNUSABLE
    except KeyboardInterrupt:
        bootstrap.say("loomwright: stopped.")
        return 130


def run(arguments: list[str]) -> int:
    """Open the window, or run the command."""
    if is_command(arguments):
        return run_command(arguments)
    from app.preflight import prepare_screen

    path = arguments[0] if arguments else None
    if prepare_screen():
        from app.quick_start import quick_start

        with quick_start():
            from app.main_window import run as run_window
        return run_window(path)
    bootstrap.say("There is no screen here, so no window can open. Commands need none: "
                  "see --help.")
    return run_without_screen(path)


def is_command(arguments: list[str]) -> bool:
    """Say whether the arguments are a command, rather than nothing or one diagram to open."""
    return len(arguments) > 1 or (len(arguments) == 1 and not arguments[0].endswith(".loom"))


def run_command(arguments: list[str]) -> int:
    """Run one command of the command line."""
    from app.cli import main as run_cli
    from app.preflight import require_libraries

    if "png" in arguments:
        # Pictures are painted by Qt, which needs its libraries though no screen.
        require_libraries("import")
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    return run_cli(arguments)


def run_without_screen(path: str | None) -> int:
    """Do the main job on paper: check a diagram, write its pack and its picture here."""
    if path is None:
        path, output = demo_boat(), DEMO_OUTPUT
        bootstrap.say("Instead, the demo boat is checked and printed into this folder.\n")
    else:
        output = os.path.splitext(os.path.basename(path))[0]
    found = run_command(["check", path, "--fail-on", "danger"])
    if found == EXIT_UNUSABLE:
        return found
    printed = run_command(["print", path, "-o", output + ".pdf"])
    if printed != 0:
        return printed
    written = [output + ".pdf"]
    try:
        if run_command(["export", path, "--to", "png", "-o", output + ".png"]) == 0:
            written.append(output + ".png")
    except bootstrap.SetupError as error:
        bootstrap.say("The picture is left out. {}".format(error))
    for name in written:
        print("Written: {}".format(os.path.abspath(name)))
    # The demo keeps a few honest findings, and showing them is not a failure.
    return 0 if output == DEMO_OUTPUT else found


def demo_boat() -> str:
    """Return the file of the larger demo boat, which stands first by name."""
    from glob import glob

    import assets

    folder = os.path.join(os.path.dirname(os.path.abspath(assets.__file__)), "demo")
    boats = sorted(glob(os.path.join(folder, "*.loom")))
    if not boats:
        raise bootstrap.SetupError("The demo boats are missing from {}.".format(folder))
    return boats[0]


if __name__ == "__main__":
    sys.exit(main())
