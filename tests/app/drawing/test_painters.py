"""One drawing through every painter, and read back."""

import os
import re
import subprocess
import sys
from pathlib import Path as FilePath
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from app.drawing.marks import Arc, Box, Circle, Group, Path, Rect, Target, Text, line
from app.drawing.painters.pdf import Page, write_pdf
from app.drawing.painters.qt import picture, prepared
from app.drawing.painters.svg import svg_text
from app.drawing.symbols import symbol
from app.drawing.theme import PALETTES, colour

SIZE_MM = (100.0, 60.0)
FUSE = symbol("fuse", {"class": "blade"}, {}).marks
DRAWING = (
    Rect(5, 5, 90, 50, 1.25, "ink", 0.5, "body"),
    Path(((10, 10), (30, 10), (30, 30)), "positive", 1.0, corner_mm=2.5),
    Path(((40, 10), (50, 10), (45, 18)), None, closed=True, fill="positive"),
    line(10, 40, 60, 40, 0.3, "control", (1.6, 0.9)),
    Arc(70, 20, 5, 180, 90), Circle(70, 40, 4, "ink", 0.5, "magenta"),
    Group(FUSE, 20, 30), Group(FUSE, 80, 30),
    Text(10, 52, "F8 30 A < Ω µ LiFePO₄", 2.5, "ink", "bold"),
    Text(92, 40, "W61 50 mm²", 2.3, "ink2", "oblique", upward=True),
    Text(50, 52, "BILGE", 2.9, "bilge_name", "oblique", "middle", spacing_mm=0.4),
    Target(Box(15, 25, 25, 35), name="on-sheet-F8", goes_to="row-F8"),
    Target(Box(75, 25, 85, 35), name="row-F8", goes_to="on-sheet-F8"),
)


@pytest.fixture
def pdf(tmp_path):
    def written(name="a.pdf", palette="day", pages=1):
        path = tmp_path / name
        sheets = [Page(SIZE_MM, DRAWING, f"Sheet {i + 1}") for i in range(pages)]
        write_pdf(sheets, path, "A small boat", palette=palette)
        return path
    return written


def test_lettering_in_a_pdf_is_found_by_searching(pdf):
    text = PdfReader(pdf()).pages[0].extract_text()
    for words in ("F8 30 A < Ω µ LiFePO₄", "W61 50 mm²"):
        assert words in text


def test_a_pdf_page_has_the_size_of_the_sheet(pdf):
    box = PdfReader(pdf()).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(
        (SIZE_MM[0] * 72 / 25.4, SIZE_MM[1] * 72 / 25.4), abs=0.01)


def test_a_symbol_on_two_places_and_two_pages_is_in_the_pdf_once(pdf):
    reader = PdfReader(pdf(pages=2))
    forms = {key for page in reader.pages for key in page["/Resources"]["/XObject"]}
    assert len(forms) == 1


def test_every_face_in_a_pdf_is_embedded(pdf):
    fonts = PdfReader(pdf()).pages[0]["/Resources"]["/Font"]
    shipped = [font.get_object() for font in fonts.values()
               if "DejaVu" in font.get_object()["/BaseFont"]]
    assert shipped
    assert all("/FontFile2" in font["/FontDescriptor"] for font in shipped)


def test_a_pdf_has_bookmarks_and_links_that_lead_somewhere(pdf):
    reader = PdfReader(pdf(pages=2))
    assert [entry.title for entry in reader.outline] == ["Sheet 1", "Sheet 2"]
    pages = {page.indirect_reference for page in reader.pages}
    links = [note.get_object() for note in reader.pages[0]["/Annots"]]
    assert len(links) == 2
    assert all(link["/Subtype"] == "/Link" and link["/Dest"][0] in pages for link in links)


def test_a_link_to_what_is_not_printed_is_left_out(tmp_path):
    alone = Target(Box(15, 25, 25, 35), goes_to="row-F8")
    write_pdf([Page(SIZE_MM, (alone,), "Sheet 1")], tmp_path / "a.pdf", "A small boat")
    assert "/Annots" not in PdfReader(tmp_path / "a.pdf").pages[0]


def test_the_same_pages_give_the_same_bytes(pdf):
    assert pdf("a.pdf").read_bytes() == pdf("b.pdf").read_bytes()


def test_a_picture_as_svg_is_well_formed_and_keeps_lettering_as_lettering():
    text = svg_text(DRAWING, SIZE_MM, "Boat & <sheet>")
    root = ElementTree.fromstring(text)
    words = [element.text for element in root.iter("{http://www.w3.org/2000/svg}text")]
    assert "F8 30 A < Ω µ LiFePO₄" in words
    assert root.get("width") == "100mm"


def test_figures_in_an_svg_are_rounded_to_a_hundredth():
    shifted = Group(DRAWING[:6], 1 / 3, 1 / 7)
    text = svg_text([shifted], SIZE_MM, "")
    assert not re.search(r"\d\.\d{3}", text)


def _near(first, second):
    return all(abs(a - b) <= 3 for a, b in zip(first, second, strict=True))


@pytest.mark.parametrize("palette", PALETTES)
def test_a_picture_shows_roles_in_the_colours_of_the_palette(qapp, palette):
    image = picture(DRAWING, SIZE_MM, 10, palette)
    assert (image.width(), image.height()) == (1000, 600)
    for x_mm, y_mm, role in ((2, 2, "paper"), (8, 20, "body"), (20, 10, "positive"),
                             (45, 12, "positive"), (70, 40, "magenta")):
        seen = image.pixelColor(x_mm * 10, y_mm * 10)
        wanted = colour(role, palette)
        rgb = tuple(int(wanted[i:i + 2], 16) for i in (1, 3, 5))
        assert _near((seen.red(), seen.green(), seen.blue()), rgb), role


def test_lettering_on_the_screen_is_as_wide_as_the_data_say(qapp):
    from app.drawing.fonts import text_box

    for face in ("book", "bold", "oblique", "bold_oblique", "title"):
        text = Text(10, 20, "HIMMEL 180", 5.0, face=face)
        drawn = prepared([text])[0].path.boundingRect()
        box = text_box(text)
        assert drawn.left() == pytest.approx(box.x0, abs=0.6)
        assert drawn.right() == pytest.approx(box.x1, abs=0.6)


def test_neighbours_of_one_style_are_joined_into_one_path(qapp):
    many = [line(0, i, 10, i) for i in range(50)]
    assert len(prepared(many)) == 1
    assert len(prepared([*many, Text(0, 0, "x")])) == 2


def test_a_picture_is_written_without_a_screen(tmp_path):
    program = (
        "import sys, pathlib\n"
        "from app.drawing.marks import Circle\n"
        "from app.drawing.painters.qt import write_png\n"
        "sys.exit(not write_png([Circle(5, 5, 3)], (10, 10), pathlib.Path(sys.argv[1]), 100))\n"
    )
    screens = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    bare = {name: value for name, value in os.environ.items() if name not in screens}
    path = tmp_path / "a.png"
    subprocess.run([sys.executable, "-c", program, str(path)], env=bare, check=True,
                   cwd=FilePath(__file__).parents[3])
    assert path.read_bytes().startswith(b"\x89PNG")
