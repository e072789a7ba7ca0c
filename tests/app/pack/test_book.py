"""The pack: pages, embedded searchable lettering, bookmarks, links, the same bytes every time."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pypdf
import pytest

from app.pack.book import write_pack
from model.diagram import Diagram
from model.storage import load

DEMO = str(files("assets").joinpath("demo", "steel_cutter.loom"))


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> pypdf.PdfReader:
    path = tmp_path_factory.mktemp("pack") / "cutter.pdf"
    write_pack(load(DEMO), path)
    return pypdf.PdfReader(path)


def words(reader: pypdf.PdfReader) -> str:
    return "\n".join(page.extract_text() for page in reader.pages)


def test_every_part_and_conductor_can_be_found_in_the_text(pack):
    diagram, text = load(DEMO), words(pack)
    missing = [item for item in (*diagram.conductors, *diagram.components)
               if item not in text and not item.startswith("E")]
    assert missing == []
    for component in diagram.components.values():
        if component.row_of is not None:
            assert component.name in text


def test_the_sheets_asked_for_are_there_in_order(pack):
    titles = [entry.title for entry in pack.outline if not isinstance(entry, list)]
    wanted = ["Diagram", "Conductor schedule", "Protection schedule", "Findings"]
    assert [title for title in titles if title in wanted] == wanted


def test_all_faces_are_embedded(pack):
    for page in pack.pages:
        for font in page["/Resources"].get("/Font", {}).values():
            descriptor = font.get_object().get("/FontDescriptor")
            if descriptor is not None:
                assert "/FontFile2" in descriptor.get_object()


def test_marks_link_to_their_rows_and_back(pack):
    def pages_linked_from(number: int) -> list[int]:
        annotations = pack.pages[number].get("/Annots", [])
        ends = [a.get_object()["/Dest"][0].get_object() for a in annotations]
        return [next(i for i, page in enumerate(pack.pages) if page == end) for end in ends]

    away = pages_linked_from(0)
    assert len(away) > 60 and 0 not in away
    for number in set(away):
        assert set(pages_linked_from(number)) == {0}


def test_the_caution_stands_on_the_diagram_and_under_the_findings(pack):
    assert "certify" in pack.pages[0].extract_text()
    assert "informs; it does not certify" in pack.pages[-1].extract_text().replace("\n", " ")


def test_the_same_diagram_gives_the_same_bytes(tmp_path: Path):
    for name in ("a.pdf", "b.pdf"):
        write_pack(load(DEMO), tmp_path / name)
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


@pytest.mark.parametrize("paper", ["A4", "A3", "A2", "Letter", "Tabloid"])
def test_every_paper_prints_on_its_own_size(tmp_path: Path, paper: str):
    from app.drawing.frame import sheet_size_mm

    pages = write_pack(load(DEMO), tmp_path / "x.pdf", paper=paper, grey=True)
    reader = pypdf.PdfReader(tmp_path / "x.pdf")
    width, height = (float(reader.pages[0].mediabox[i]) / 72 * 25.4 for i in (2, 3))
    assert len(reader.pages) == pages
    assert sorted((width, height)) == pytest.approx(sorted(sheet_size_mm(paper)), abs=0.1)


def test_a_large_diagram_goes_over_two_standing_sheets_of_a4_that_join(tmp_path: Path):
    write_pack(load(DEMO), tmp_path / "x.pdf", paper="A4")
    reader = pypdf.PdfReader(tmp_path / "x.pdf")
    left, right = (reader.pages[number].extract_text() for number in (0, 1))
    assert "joins sheet 2 here" in left and "joins sheet 1 here" in right
    assert "CAUTION" in reader.pages[2].extract_text()
    diagram = load(DEMO)
    drawn = [item for item, part in diagram.components.items()
             if part.row_of is None and part.kind != "stud"]
    assert [item for item in drawn if item not in left + right] == []


def test_an_empty_diagram_prints_too(tmp_path: Path):
    assert write_pack(Diagram(), tmp_path / "empty.pdf") >= 4
