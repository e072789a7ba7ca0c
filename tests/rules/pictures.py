"""Small pictures for Help: for the most important rules a boat on which each speaks, and the same
after the first fix that settles it, else its near miss; cut down to what matters, from the rule's
own cases.

`python -m tests.rules.pictures` writes them to the assets; the program draws them.
"""

from __future__ import annotations

import sys
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import assets
from model.diagram import Diagram, Size
from model.edits import apply, changed, setting
from model.storage import dumps
from rules.book import BookRule, find
from rules.engine import check, fixes_of
from tests.rules.test_cases import cases, diagram_of

FOLDER = Path(assets.__file__).parent / "help" / "pictures"
# The twenty whose faults burn, flatten or strand a boat most often: the program's own choice.
PICTURED = ("1.1", "1.2", "1.3", "1.4", "1.7", "1.8", "1.10", "1.12", "1.13", "1.14", "1.16",
            "2.1", "2.3", "2.4", "2.6", "2.8", "2.9", "4.2", "4.4", "8.1")  # fmt: skip
MOST_NAMED = 4
# The cases' heavy cables keep other rules quiet; a picture shows what one would fit there.
FITTED = {"2.3": ("W41", Size(standard="mm2", text="16")),
          "2.4": ("W99", Size(standard="mm2", text="10")),
          "2.6": ("W99", Size(standard="mm2", text="70"))}


def pictures() -> Iterator[tuple[str, str]]:
    """Yield the name and the text of every picture's diagram."""
    for number in PICTURED:
        rule = find(number)
        assert rule is not None, number
        slug = rule.record.slug
        case = cases(slug)["fires"][0]
        wrong, right = (fitted(number, diagram_of(slug, case, key))
                        for key in ("edits", "near_miss"))
        report = check(wrong, case.get("profile"), rules=(rule,))
        assert report is not None and report.findings, number
        keep = core(wrong, report.findings[0].where)

        def mended(diagram: Diagram, rule: BookRule = rule) -> Diagram | None:
            return settled(rule, diagram)

        def near(diagram: Diagram, right: Diagram = right) -> Diagram:
            return cut(right, set(diagram.components))

        after = mended if mended(wrong) is not None else near
        shown = smallest(rule, wrong, after, keep)
        yield f"{slug}-wrong", dumps(shown)
        quiet = after(shown)
        assert quiet is not None
        yield f"{slug}-right", dumps(quiet)


def fitted(number: str, diagram: Diagram) -> Diagram:
    """Return a picture's diagram with a conductor of the size one would fit."""
    if number not in FITTED:
        return diagram
    item, size = FITTED[number]
    wire = changed(diagram.conductors[item], size=size)
    return apply(diagram, setting(diagram, "", wire))


def smallest(
    rule: BookRule, wrong: Diagram, after: Callable[[Diagram], Diagram | None], keep: set[str]
) -> Diagram:
    """Return the diagram with the fewest parts, `keep` among them, on which the rule speaks, and
    no longer on what `after` makes of it.
    """
    kept = set(wrong.components)
    lonely = {item for item in keep if not _beside(wrong, {item})
              or not _beside(cut(wrong, keep), {item})}
    for item in [*sorted(kept - keep, reverse=True), *sorted(lonely)]:
        fewer = cut(wrong, kept - {item})
        if speaks(rule, fewer):
            then = after(fewer)
            if then is not None and not speaks(rule, then):
                kept -= {item}
    return cut(wrong, kept)


def settled(rule: BookRule, diagram: Diagram) -> Diagram | None:
    """Return the diagram after the first fix that leaves the rule quiet; None when none does."""
    report = check(diagram, rules=(rule,))
    assert report is not None
    for finding in report.findings[:1]:
        for fix in fixes_of(finding, diagram):
            then = apply(diagram, fix.edit)
            if not speaks(rule, then):
                return then
    return None


def core(diagram: Diagram, where: Iterable[str]) -> set[str]:
    """Return the parts a finding is about, and the way from the first to a battery."""
    ids = [item.partition(".")[0] for item in where]
    parts = [end.component for item in ids[:2] if item in diagram.conductors
             for end in diagram.conductors[item].ends()]
    parts += [item for item in ids if item in diagram.components]
    return {*parts[:MOST_NAMED], *_way_to_battery(diagram, parts[0])}


def speaks(rule: BookRule, diagram: Diagram) -> bool:
    """Say whether a rule has a finding on a diagram."""
    report = check(diagram, rules=(rule,))
    return report is not None and bool(report.findings)


def _beside(diagram: Diagram, parts: set[str]) -> set[str]:
    ends = [{end.component for end in wire.ends()} for wire in diagram.conductors.values()]
    return {item for pair in ends if pair & parts for item in pair} - parts


def _way_to_battery(diagram: Diagram, start: str) -> list[str]:
    came: dict[str, str] = {start: ""}
    queue = deque([start])
    while queue:
        here = queue.popleft()
        if diagram.components[here].kind == "battery_bank":
            way = [here]
            while came[way[-1]]:
                way.append(came[way[-1]])
            return way
        for item in sorted(_beside(diagram, {here})):
            if item not in came:
                came[item] = here
                queue.append(item)
    return [start]


def cut(diagram: Diagram, parts: set[str]) -> Diagram:
    """Return the diagram with these parts alone and the conductors between them."""
    components = {item: part for item, part in diagram.components.items() if item in parts}
    conductors = {item: wire for item, wire in diagram.conductors.items()
                  if {end.component for end in wire.ends()} <= set(components)}
    systems = {
        item: system if (system.negative_datum or "").partition(".")[0] in components
        else system.replaced(negative_datum=None) for item, system in diagram.systems.items()}
    used = {part.place for part in components.values()}
    places = {item: place for item, place in diagram.places.items() if item in used}
    return diagram.replaced(systems=systems, components=components, conductors=conductors,
                            places=places, modes={})


def main() -> int:
    """Write all pictures' diagrams."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, text in pictures():
        (FOLDER / f"{name}.loom").write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
