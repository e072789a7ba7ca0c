"""Run every check: `python3 tests`. Tests, then style, then types, and one closing line.

Arguments go to pytest in place of the usual two workers. Sets up the private environment first,
as `python3 app` does, with the tools the checks need.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from shutil import which

TESTS = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(TESTS)
# `python3 tests` puts this folder first on the path, where its `app` would hide the program's.
sys.path[0] = ROOT

from app import bootstrap

EXTRAS = frozenset(["dev"])


def main() -> int:
    """Set up, run all checks, close with one line; return 0 when all passed."""
    arguments = sys.argv[1:]
    try:
        bootstrap.enter_environment(TESTS, arguments, EXTRAS)
        from app.preflight import install_packages, require_libraries

        require_libraries("import")
        if which("ngspice") is None and not install_packages(["ngspice"]):
            bootstrap.say("tests: ngspice is not here; its stored answers serve instead.")
    except bootstrap.SetupError as error:
        bootstrap.say("tests: {}".format(error))
        return 2
    except KeyboardInterrupt:
        bootstrap.say("tests: stopped.")
        return 130
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    return run_checks([
        ("tests", ["pytest"] + (arguments or ["-q", "-n", "2"])),
        ("style", ["ruff", "check", "--quiet", "."]),
        ("types", ["mypy", "--no-error-summary", "model", "rules", "app"]),
    ])


def run_checks(checks: list[tuple[str, list[str]]]) -> int:
    """Run each module in turn, whatever the others say, and print the closing line."""
    results = []
    for name, command in checks:
        print("== {}: {}".format(name, " ".join(command)), flush=True)
        started = time.monotonic()
        passed = subprocess.call([sys.executable, "-m"] + command, cwd=ROOT) == 0
        results.append((name, passed, time.monotonic() - started))
    print("== " + "; ".join("{} {} ({:.0f} s)".format(name, "passed" if passed else "FAILED", took)
                            for name, passed, took in results))
    good = all(passed for _name, passed, _took in results)
    print("== ALL CHECKS PASSED" if good else "== SOMETHING FAILED; see above", flush=True)
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
