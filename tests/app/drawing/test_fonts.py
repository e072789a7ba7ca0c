import pytest

from app.drawing.fonts import (
    FACE_FILES,
    font_path,
    shortened,
    text_box,
    text_width_mm,
    wrapped,
)
from app.drawing.marks import Text


@pytest.mark.parametrize("face", FACE_FILES)
def test_every_face_is_shipped_with_its_licence(face):
    assert font_path(face).is_file()
    assert (font_path(face).parent / "LICENCE-DejaVu.txt").is_file()


@pytest.mark.parametrize("face", FACE_FILES)
def test_widths_are_those_of_the_font_files(face):
    from reportlab.pdfbase.ttfonts import TTFontFile

    found = TTFontFile(str(font_path(face))).charWidths
    for character in "A1mé°Ωµ²≤→–₄":
        expected = found[ord(character)] / 1000 * 2.5
        assert text_width_mm(character, 2.5, face) == pytest.approx(expected, abs=1e-3)


def test_a_letter_the_data_lack_counts_as_wide_as_an_m():
    assert text_width_mm("⚓", 2.0) == text_width_mm("m", 2.0)


def test_spacing_widens_by_the_letter():
    assert text_width_mm("BOW", 2.0, spacing_mm=0.5) == pytest.approx(text_width_mm("BOW", 2) + 1.5)


def test_the_box_of_lettering_follows_its_anchor():
    width = text_width_mm("W18", 2.0)
    start, middle, end = (text_box(Text(10, 5, "W18", 2.0, anchor=anchor))
                          for anchor in ("start", "middle", "end"))
    assert (start.x0, middle.x0, end.x0) == pytest.approx((10, 10 - width / 2, 10 - width))
    assert start.y0 < 5 < start.y1


def test_the_box_of_upward_lettering_stands():
    box = text_box(Text(10, 50, "W18 95", 2.0, upward=True))
    assert box.h > box.w and box.y1 == 50


def test_lettering_breaks_at_spaces_and_loses_no_word():
    text = "Cabin lights forward and aft, chart table"
    lines = wrapped(text, 20, 2.4)
    assert " ".join(lines) == text and len(lines) > 1
    assert all(text_width_mm(line, 2.4) <= 20 for line in lines)
    assert wrapped("", 20, 2.4) == []


def test_a_text_that_is_too_wide_ends_in_dots_and_another_stays():
    assert shortened("Bilge pump", 48.0, 2.4) == "Bilge pump"
    cut = shortened("Emergency bilge pump of the forward watertight compartment", 48.0, 2.4)
    assert cut.startswith("Emergency bilge pump") and cut.endswith("…")
    assert 44.0 < text_width_mm(cut, 2.4) <= 48.0
    assert shortened("Bilge", 0.5, 2.4) == "…"
