"""What is noted of a print, the sheets that are chosen, and what the papers say of themselves."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pypdf
import pytest

from app.cli import main
from app.pack.book import SHEETS, papers_of, printing_edit
from model.diagram import Diagram
from model.edits import apply, changed, setting
from model.storage import load
from rules.engine import check

DEMO = str(files("assets").joinpath("demo", "steel_cutter.loom"))


def spoken(diagram: Diagram, leave_out: str) -> list[str]:
    report = check(diagram, papers=papers_of(diagram, set(SHEETS) - {leave_out}))
    assert report is not None
    return [f.rule for f in report.findings if f.topic == "papers"]


def test_a_sheet_left_out_is_old_only_when_the_drawing_has_changed_what_it_says() -> None:
    diagram = load(DEMO)
    printed = apply(diagram, printing_edit(diagram))
    assert "page_older_than_change" not in spoken(printed, "protection")
    fuse = next(part for part in printed.components.values() if part.kind == "fuse")
    renamed = apply(printed, setting(printed, "rename", changed(fuse, name="Quite another")))
    assert "page_older_than_change" in spoken(renamed, "protection")
    assert "page_older_than_change" in spoken(renamed, "diagram")
    assert "page_older_than_change" not in spoken(renamed, "alternating")


def test_printing_twice_notes_the_same() -> None:
    diagram = load(DEMO)
    once = apply(diagram, printing_edit(diagram))
    assert printing_edit(once).is_empty() or apply(once, printing_edit(once)) == once


def test_only_the_sheets_asked_for_are_written(tmp_path: Path) -> None:
    path = tmp_path / "card.pdf"
    assert main(["print", DEMO, "-o", str(path), "--sheets", "isolation"]) == 0
    text = "\n".join(page.extract_text() for page in pypdf.PdfReader(path).pages)
    assert "Isolation card" in text and "Conductor schedule" not in text


def test_a_sheet_that_does_not_exist_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["print", DEMO, "--sheets", "poster"]) == 2
    assert "poster" in capsys.readouterr().err


def test_the_pack_has_the_card_and_the_ac_page(tmp_path: Path) -> None:
    path = tmp_path / "pack.pdf"
    assert main(["print", DEMO, "-o", str(path)]) == 0
    titles = [entry.title for entry in pypdf.PdfReader(path).outline
              if not isinstance(entry, list)]
    assert {"Isolation card", "Alternating current", "Look aboard"} <= set(titles)
