from pypdf import PdfReader

from app.drawing.marks import Box, bounds
from app.drawing.symbol_chart import SIZE_MM, chart_sheets, main
from model.kinds import catalogue


def test_the_chart_shows_every_kind_on_its_paper():
    words = " ".join(mark.text for marks in chart_sheets() for mark in marks
                     if hasattr(mark, "text"))
    assert all(kind.title in words for kind in catalogue().values())
    paper = Box(0, 0, *SIZE_MM)
    for marks in chart_sheets():
        drawn = bounds(marks)
        assert drawn is not None and paper.joined(drawn) == paper


def test_the_chart_is_written_as_a_pdf(tmp_path):
    path = tmp_path / "chart.pdf"
    assert main([str(path), "grey"]) == 0
    assert "SYMBOL CHART" in PdfReader(path).pages[0].extract_text()


def test_without_a_file_name_the_command_says_how_it_is_used(capsys):
    assert main([]) == 2
    assert "usage" in capsys.readouterr().out
