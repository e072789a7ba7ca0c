"""The command line: everything the program does that needs no display.

Each command prints text or JSON and returns an exit code: 0 when all is well, 1 when the check
found something at or above `--fail-on`, 2 when the input cannot be used.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from model.errors import ModelError

EXIT_CLEAN, EXIT_FINDINGS, EXIT_UNUSABLE = 0, 1, 2
SEVERITIES = ("danger", "fault", "caution", "note")
Command = Callable[[argparse.Namespace], int]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    parser = build_parser()
    options = parser.parse_args(arguments)
    command: Command = options.command
    try:
        return command(options)
    except ModelError as error:
        print(f"loomwright: {error.sentence}", file=sys.stderr)
        return EXIT_UNUSABLE
    except BrokenPipeError:
        return EXIT_CLEAN


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of all commands."""
    parser = argparse.ArgumentParser(
        prog="loomwright",
        description="Draw, check and print the electrical diagram of a boat. "
        "Without a command the window opens. The program informs; it does not certify.",
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    _add_check(commands)
    look = _on_file(commands, "look", "what to look at aboard, place by place", run_look)
    _add_format(look, "text")
    walk = _on_file(commands, "walk", "what to trace and measure, place by place", run_walk)
    _add_format(walk, "text")
    _add_paper(commands)
    _add_live(commands)
    _add_isolate(commands)
    _add_solving(commands)
    kinds = commands.add_parser("kinds", help="list the kinds of part, their terminals and fields")
    _add_format(kinds, "text")
    kinds.set_defaults(command=run_kinds)
    explain = commands.add_parser("explain", help="explain one rule, or list all")
    explain.add_argument("rule", nargs="?", help="slug or catalogue number")
    explain.set_defaults(command=run_explain)
    _add_import(commands)
    new = _on_file(commands, "new", "write an empty diagram", run_new)
    new.add_argument("--name", default="", help="name of the boat")
    new.add_argument("--profile", choices=("us", "iso"), default="iso")
    return parser


def _on_file(commands: Any, name: str, told: str, run: Command) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = commands.add_parser(name, help=told)
    parser.add_argument("file", type=Path)
    parser.set_defaults(command=run)
    return parser


def _add_format(parser: argparse.ArgumentParser, usual: str) -> None:
    parser.add_argument("--format", choices=("text", "json"), default=usual)


def _add_check(commands: Any) -> None:
    check = _on_file(commands, "check", "check a diagram by the rule book", run_check)
    check.add_argument("--format", choices=("text", "json", "sarif"), default="text")
    check.add_argument("--fail-on", choices=SEVERITIES, default="note",
                       help="exit 1 from this severity up (default: note)")
    check.add_argument("--profile", choices=("us", "iso"), help="instead of the boat's own")


def _add_paper(commands: Any) -> None:
    printing = _on_file(commands, "print", "write the diagram and its schedules as PDF", run_print)
    printing.add_argument("-o", "--output", type=Path)
    printing.add_argument("--paper", choices=("A4", "A3", "A2", "Letter", "Tabloid"))
    printing.add_argument("--grey", action="store_true", help="black, white and grey only")
    printing.add_argument("--sheets", metavar="NAME,NAME",
                          help="only these: diagram, conductors, protection, isolation, "
                          "alternating, lithium, findings, walk, looking, checks")
    export = _on_file(commands, "export", "write the drawing alone", run_export)
    export.add_argument("--to", choices=("svg", "png", "csv"), default="svg",
                        help="csv: two tables that `import` reads")
    export.add_argument("-o", "--output", type=Path)
    export.add_argument("--palette", choices=("day", "grey"), default="day")


def _add_import(commands: Any) -> None:
    taking = commands.add_parser(
        "import", help="make a diagram from two tables: parts and conductors (CSV)")
    taking.add_argument("components", type=Path, metavar="COMPONENTS.csv")
    taking.add_argument("conductors", type=Path, metavar="CONDUCTORS.csv")
    taking.add_argument("-o", "--output", type=Path, metavar="BOAT.loom",
                        help="where to write it; without it only the preview is shown")
    taking.add_argument("--accept", action="store_true",
                        help="write although rows or cells were refused; they are left out")
    taking.add_argument("--name", default="", help="name of the boat")
    taking.add_argument("--profile", choices=("us", "iso"), default="iso")
    taking.set_defaults(command=run_import)


def _add_live(commands: Any) -> None:
    live = _on_file(commands, "live",
        "say what is live, and from what; without a mode every source gives", run_live)
    live.add_argument("--set", action="append", default=[], metavar="ID=POSITION",
                      help="position of a switch, breaker, fuse or panel way")
    live.add_argument("--off", action="append", default=[], metavar="ID",
                      help="the same as --set with the off position of ID")
    live.add_argument("--source", action="append", default=[], metavar="ID=on|off",
                      help="whether a source is giving")
    live.add_argument("--mode", help="id of the mode to start from")
    _add_format(live, "json")


def _add_isolate(commands: Any) -> None:
    isolate = _on_file(commands, "isolate", "how to make something dead, step by step", run_isolate)
    isolate.add_argument("target", help="id of a part or conductor, or a panel's way: P1.w3")
    _add_format(isolate, "json")


def _add_solving(commands: Any) -> None:
    solve = _on_file(commands, "solve",
        "volts and amperes with the switches as they stand", run_solve)
    solve.add_argument("--mode", help="id of the mode")
    solve.add_argument("--set", action="append", default=[], metavar="ID=POSITION")
    solve.add_argument("--absent", action="append", default=[], metavar="ID")
    solve.add_argument("--load", action="append", default=[], metavar="ID=A")
    _add_format(solve, "json")
    charging = _on_file(commands, "charging",
        "whether each bank gets the volts it needs", run_charging)
    charging.add_argument("--mode", help="id of the mode")
    fault = _on_file(commands, "fault",
        "largest and smallest fault current at a terminal", run_fault)
    fault.add_argument("--at", required=True, metavar="TERMINAL", help="such as P1.in+")
    fault.add_argument("--return", dest="back", metavar="TERMINAL")
    sizes = _on_file(commands, "sizes",
        "design current, ampacity, drop, protection window", run_sizes)
    sizes.add_argument("--profile", choices=("us", "iso"))
    _add_format(sizes, "text")


def run_check(options: argparse.Namespace) -> int:
    """Check a diagram and print the report."""
    from app.reports import check_json, check_text
    from model.storage import load
    from rules.engine import report_on

    diagram = load(options.file)
    report = report_on(diagram, options.profile)
    if options.format == "json":
        _print_json(check_json(report, options.file))
    elif options.format == "sarif":
        from app.sarif import check_sarif

        _print_json(check_sarif(report, options.file))
    else:
        print(check_text(report, diagram, options.file))
    worst = SEVERITIES.index(options.fail_on)
    failing = any(SEVERITIES.index(finding.severity) <= worst for finding in report.findings)
    return EXIT_FINDINGS if failing else EXIT_CLEAN


def run_look(options: argparse.Namespace) -> int:
    """List what only eyes can tell."""
    from app.reports import look_json, look_text
    from model.storage import load
    from rules.engine import report_on

    diagram = load(options.file)
    report = report_on(diagram)
    if options.format == "json":
        _print_json(look_json(report))
    else:
        print(look_text(report, diagram))
    return EXIT_CLEAN


def run_walk(options: argparse.Namespace) -> int:
    """List what is to be traced and measured."""
    from app.reports import walk_json, walk_text
    from model.storage import load
    from rules.engine import report_on
    from rules.walk_list import walk_list

    diagram = load(options.file)
    errands = walk_list(report_on(diagram), diagram)
    if options.format == "json":
        _print_json(walk_json(errands))
    else:
        print(walk_text(errands, diagram))
    return EXIT_CLEAN


def run_print(options: argparse.Namespace) -> int:
    """Write the printed pack."""
    from app.pack.book import SHEETS, write_pack
    from model.storage import load

    sheets = options.sheets.split(",") if options.sheets else SHEETS
    unknown = [name for name in sheets if name not in SHEETS]
    if unknown:
        raise ModelError(f"--sheets {unknown[0]}: there is no such sheet. The sheets are: "
                         f"{', '.join(SHEETS)}.")
    diagram = load(options.file)
    output = options.output or options.file.with_suffix(".pdf")
    pages = write_pack(diagram, output, options.paper, options.grey, sheets)
    print(f"{output}: {pages} pages")
    return EXIT_CLEAN


def run_export(options: argparse.Namespace) -> int:
    """Write the drawing as SVG or PNG, or the boat as two tables."""
    from app.drawing.export import write_drawing
    from model.storage import load

    diagram = load(options.file)
    if options.to == "csv":
        from app.exchange.outgoing import write_tables

        print(*write_tables(diagram, options.output or options.file.with_suffix("")), sep="\n")
        return EXIT_CLEAN
    output = options.output or options.file.with_suffix(f".{options.to}")
    write_drawing(diagram, output, options.to, options.palette)
    print(output)
    return EXIT_CLEAN


def run_import(options: argparse.Namespace) -> int:
    """Show what two tables give; write it when nothing was refused, or when that is accepted."""
    from app.drawing.laid_out import laid_out
    from app.exchange.incoming import preview, preview_text, read_table
    from model.storage import save

    found = preview(read_table(options.components), read_table(options.conductors),
                    options.name, options.profile)
    print(preview_text(found))
    if options.output is None:
        return EXIT_CLEAN
    if options.output.exists():
        raise ModelError(f"{options.output} exists already; nothing was written.")
    if found.of("refused") and not options.accept:
        raise ModelError("nothing was written: see what was refused, mend the tables, or take "
                         "the rest with --accept.")
    save(laid_out(found.diagram), options.output)
    print(options.output)
    return EXIT_CLEAN


def run_live(options: argparse.Namespace) -> int:
    """Say what is live."""
    from app.isolating import still_live_text
    from app.reports import live_json, live_text
    from model.analysis.still_live import off_positions, still_live
    from model.storage import load
    from model.survey import Survey

    diagram = load(options.file)
    survey = Survey(diagram)
    positions = {**off_positions(survey.graph, options.off),
                 **dict(_pair(text) for text in options.set)}
    sources = {item: state == "on" for item, state in map(_pair, options.source)}
    for item, state in map(_pair, options.source):
        if state not in ("on", "off") or item not in diagram.components:
            raise ModelError(f"--source {item}={state}: the id of a part and on or off expected.")
    found = still_live(survey, positions, sources, options.mode)
    answer = live_json(found, options.mode, survey.graph.terminal_of_port)
    if options.format == "json":
        _print_json(answer)
    else:
        print(live_text(answer) + still_live_text(diagram, found))
    return EXIT_CLEAN


def run_isolate(options: argparse.Namespace) -> int:
    """Say how to make something dead."""
    from app.isolating import isolate_json, isolate_text
    from model.storage import load

    diagram = load(options.file)
    answer = isolate_json(diagram, options.target)
    if options.format == "json":
        _print_json(answer)
    else:
        print(isolate_text(diagram, answer))
    return EXIT_CLEAN


def run_solve(options: argparse.Namespace) -> int:
    """Solve the operating point."""
    from app.solving import solve_json, solve_text
    from model.storage import load
    from model.units import parse_quantity

    diagram = load(options.file)
    loads = {item: parse_quantity(text, "A") for item, text in map(_pair, options.load)}
    answer = solve_json(diagram, options.mode, dict(map(_pair, options.set)), options.absent, loads)
    if options.format == "json":
        _print_json(answer)
    else:
        print(solve_text(answer))
    return EXIT_CLEAN


def run_charging(options: argparse.Namespace) -> int:
    """Say what each bank receives, and what takes the volts that are missing."""
    from app.solving import charging_json
    from model.storage import load

    _print_json(charging_json(load(options.file), options.mode))
    return EXIT_CLEAN


def run_fault(options: argparse.Namespace) -> int:
    """Say what a short would do."""
    from app.solving import fault_json
    from model.storage import load

    _print_json(fault_json(load(options.file), options.at, options.back))
    return EXIT_CLEAN


def run_sizes(options: argparse.Namespace) -> int:
    """Size every conductor."""
    from app.solving import sizes_json, sizes_text
    from model.storage import load

    answer = sizes_json(load(options.file), options.profile)
    if options.format == "json":
        _print_json(answer)
    else:
        print(sizes_text(answer))
    return EXIT_CLEAN


def run_kinds(options: argparse.Namespace) -> int:
    """List the kinds of part."""
    from app.reports import kinds_json
    from model.kinds import catalogue

    if options.format == "json":
        _print_json(kinds_json())
        return EXIT_CLEAN
    for kind in catalogue().values():
        terminals = " ".join(port.id for port in kind.ports({}))
        print(f"{kind.slug:26} {kind.letter}  {kind.title}: {terminals}")
    return EXIT_CLEAN


def run_explain(options: argparse.Namespace) -> int:
    """Explain a rule."""
    from rules.describe import explain, listing

    if options.rule is None:
        print(listing())
        return EXIT_CLEAN
    text = explain(options.rule)
    if text is None:
        raise ModelError(f"There is no rule '{options.rule}'. `explain` alone lists them.")
    print(text)
    return EXIT_CLEAN


def run_new(options: argparse.Namespace) -> int:
    """Write an empty diagram; an existing file is never overwritten."""
    from app.new_boat import new_diagram
    from model.storage import save

    if options.file.exists():
        raise ModelError(f"{options.file} exists already; nothing was written.")
    save(new_diagram(options.name, options.profile), options.file)
    print(options.file)
    return EXIT_CLEAN


def _pair(text: str) -> tuple[str, str]:
    item, equals, value = text.partition("=")
    if not equals or not item or not value:
        raise ModelError(f"'{text}': ID=VALUE expected.")
    return item, value


def _print_json(value: Mapping[str, Any]) -> None:
    print(json.dumps(value, ensure_ascii=False, indent=1))
