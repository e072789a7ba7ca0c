"""Two tables in and out: the demos survive the way round, plain words are understood."""

from __future__ import annotations

import random
from importlib.resources import files
from pathlib import Path

import pytest

from app.cli import main
from app.drawing.laid_out import laid_out
from app.exchange.incoming import Preview, kind_words, preview, read_table
from app.exchange.outgoing import write_tables
from model.errors import ModelError
from model.kinds import catalogue
from model.storage import load
from tests.model.random_diagrams import grown


def table(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


def taken(tmp_path: Path, components: str, conductors: str = "id,from,to\n") -> Preview:
    return preview(read_table(table(tmp_path / "c.csv", components)),
                   read_table(table(tmp_path / "w.csv", conductors)))


def netlist(diagram):
    """What the tables carry: kinds, parameters and names; ends, cores, sizes and lengths."""
    parts = {item: (part.kind, dict(part.parameters), part.name)
             for item, part in diagram.components.items()}
    wires = {
        item: (wire.cores, wire.start.component, wire.start.terminal, wire.finish.component,
               wire.finish.terminal, wire.size, wire.length_m, wire.insulation_c, wire.colour,
               wire.sheath, wire.purpose)
        for item, wire in diagram.conductors.items()}
    return parts, wires


def without_records(parts):
    """Records that stand in no cell: battery taps, charger outputs and the like, ways apart."""
    kept = {}
    for item, (kind, parameters, name) in parts.items():
        records = {f.name for f in catalogue()[kind].fields if f.type == "records"} - {"ways"}
        kept[item] = (kind, {k: v for k, v in parameters.items()
                             if k not in records and v != ""}, name)
    return kept


@pytest.mark.parametrize("demo", ["weekend_sloop.loom", "steel_cutter.loom"])
def test_a_demo_survives_the_way_out_and_in(demo, tmp_path):
    diagram = load(str(files("assets").joinpath("demo", demo)))
    parts_file, wires_file = write_tables(diagram, tmp_path / "boat")
    found = preview(read_table(parts_file), read_table(wires_file))
    assert found.of("refused") == ()
    parts, wires = netlist(diagram)
    parts_back, wires_back = netlist(found.diagram)
    assert without_records(parts_back) == without_records(parts)
    assert wires_back == wires


@pytest.mark.parametrize("seed", range(25))
def test_a_random_boat_survives_too(seed, tmp_path):
    diagram, _ = grown(random.Random(seed), 60)
    parts_file, wires_file = write_tables(diagram, tmp_path / "boat")
    found = preview(read_table(parts_file), read_table(wires_file))
    parts, wires = netlist(found.diagram)
    assert without_records(parts) == without_records(netlist(diagram)[0])
    assert set(wires) == set(diagram.conductors), found.of("refused")


def test_plain_words_units_and_headings_are_understood(tmp_path):
    found = taken(
        tmp_path,
        "Item;Type;Description;Location;Rating (A);Capacity [Ah]\n"
        "G1;battery;House;port locker;;200\nF1;fuse;;;150;\nP1;switch panel;;;;\n"
        "P1.w1;circuit;Lights;;15 A;\nE1;light;;;1,5;\n",
        "wire,from,to,size (mm2),length (ft),color\nW1,G1 +,F1.a,35,10,red\n"
        "W2,P1.w1,E1 positive,2 AWG,3 m,black\n")
    assert found.of("refused") == ()
    parts, wires = found.diagram.components, found.diagram.conductors
    assert (parts["G1"].kind, parts["G1"].parameters["capacity_ah"]) == ("battery_bank", 200)
    assert parts["F1"].parameters["rated_a"] == 150
    assert parts["P1"].parameters["ways"][0]["rated_a"] == 15
    assert parts["E1"].parameters["current_a"] == 1.5
    assert wires["W1"].length_m == pytest.approx(3.048)  # the foot is 0.3048 m by definition
    assert (wires["W1"].size.standard, wires["W1"].size.text) == ("mm2", "35")
    assert (wires["W2"].size.standard, wires["W2"].length_m) == ("awg", 3)


def test_what_is_guessed_is_told_with_line_and_column(tmp_path):
    found = taken(tmp_path, "id,kind,chemistry\nQ1,isolator,\nG1,battery,LiFePO4\n")
    said = [remark.sentence() for remark in found.of("guessed")]
    assert "components, line 2, kind: 'isolator' was taken for battery switch" in said
    assert "components, line 3, chemistry: 'LiFePO4' was taken for lfp" in said


@pytest.mark.parametrize(
    ("components", "conductors", "words"),
    [
        ("id,kind\nE1,water pumpe\n", "id,from,to\n", "did you mean water pump"),
        ("id,kind\n,fuse\n", "id,from,to\n", "needs an id"),
        ("id,kind,rating\nF1,fuse,many\n", "id,from,to\n", "the field stays unknown"),
        ("id,kind,colour of sky\nF1,fuse,blue\n", "id,from,to\n", "has no such field"),
        ("id,kind\nF1,fuse\nF1,fuse\n", "id,from,to\n", "another part called F1"),
        ("id,kind\nF1,fuse\n", "id,from,to\nW1,F1.a,Z9.+\n", "not among the parts"),
        ("id,kind\nF1,fuse\n", "id,from,to\nW1,F1.a,F1.z\n", "no terminal z"),
        ("id,kind\nF1,fuse\nF2,fuse\n", "id,from,to,size\nW1,F1.b,F2.a,thick\n", "size"),
        ("id,kind\nP1.w1,way\n", "id,from,to\n", "called after its panel"),
    ],
)
def test_what_is_refused_is_told_and_left_out(tmp_path, components, conductors, words):
    found = taken(tmp_path, components, conductors)
    assert any(words in remark.sentence() for remark in found.of("refused")), found.remarks


def test_a_file_that_is_no_table_is_told_in_one_sentence(tmp_path):
    with pytest.raises(ModelError, match="headings"):
        read_table(table(tmp_path / "c.csv", "\n\n"))
    (tmp_path / "b.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(ModelError, match="not UTF-8"):
        read_table(tmp_path / "b.csv")
    with pytest.raises(ModelError, match="cannot be read"):
        read_table(tmp_path / "none.csv")


def test_nothing_is_written_while_something_is_refused_and_not_accepted(tmp_path, capsys):
    parts = table(tmp_path / "c.csv", "id,kind\nF1,fuse\nE1,water pumpe\n")
    wires = table(tmp_path / "w.csv", "id,from,to\n")
    boat = tmp_path / "boat.loom"
    assert main(["import", str(parts), str(wires), "-o", str(boat)]) == 2
    assert not boat.exists()
    assert "nothing was written" in capsys.readouterr().err
    assert main(["import", str(parts), str(wires), "-o", str(boat), "--accept"]) == 0
    assert set(load(boat).components) == {"F1"}
    assert main(["import", str(parts), str(wires), "-o", str(boat), "--accept"]) == 2


def test_every_part_has_a_place_on_the_sheet(tmp_path):
    found = taken(tmp_path, "id,kind\nG1,battery\nF1,fuse\nE1,lamp\n")
    assert all(part.at is not None for part in laid_out(found.diagram).components.values())


def test_every_word_for_a_kind_means_one_there_is():
    assert {slug for slug, _ in kind_words().values()} - {"way"} <= set(catalogue())
