"""Files are read back as they were written; whatever is wrong is told with its place."""

from __future__ import annotations

import json
import os
import random
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.diagram import Component, Diagram
from model.edits import apply, setting
from model.errors import UnreadableFile, UnwritableFile
from model.storage import dumps, load, loads, save
from model.storage.save import TEMP_MARK
from model.storage.schema import file_schema, main
from tests.model.random_diagrams import grown


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 2**32))
def test_what_is_saved_is_read_back_equal(seed: int) -> None:
    diagram, _ = grown(random.Random(seed), 30)
    text = dumps(diagram)
    assert loads(text) == diagram
    assert dumps(loads(text)) == text


def test_random_files_fit_the_shipped_schema() -> None:
    validator = jsonschema.Draft202012Validator(file_schema())
    for seed in range(20):
        diagram, _ = grown(random.Random(seed), 30)
        validator.validate(json.loads(dumps(diagram)))


def test_the_schema_refuses_what_the_program_refuses() -> None:
    validator = jsonschema.Draft202012Validator(file_schema())
    bad = {"format_version": 1, "components": [
        {"id": "F1", "kind": "fuse", "parameters": {"rated_a": -1}}]}
    assert not validator.is_valid(bad)
    with pytest.raises(UnreadableFile):
        loads(json.dumps(bad))


def test_the_shipped_schema_is_not_stale() -> None:
    assert main(["--check"]) == 0


def test_items_stand_one_a_line_in_natural_order() -> None:
    parts = [Component(id=f"F{i}", kind="fuse") for i in (10, 2, 1)]
    lines = dumps(apply(Diagram(), setting(Diagram(), "x", *parts))).splitlines()
    order = [json.loads(line.strip().rstrip(","))["id"] for line in lines if '"kind"' in line]
    assert order == ["F1", "F2", "F10"]


FUSE = '{"id": "F1", "kind": "fuse"}'


@pytest.mark.parametrize(
    ("text", "place", "expected"),
    [
        ("", "line 1", "JSON"),
        ('{"format_version": 1, "components": [', "line 1", "JSON"),
        ("[1, 2]", "line 1", "one JSON object"),
        ('{"components": []}', "format_version", "whole number"),
        ('{"format_version": true}', "format_version", "whole number"),
        ('{"format_version": 0}', "format_version", "1 or more"),
        ('{"format_version": 99}', "format_version", "newer"),
        ('{"format_version": 1, "colour": 3}', "colour", "no such field"),
        ('{"format_version": 1, "components": {}}', "components", "a list"),
        ('{"format_version": 1, "components": [3]}', "components, item 1", "record"),
        ('{"format_version": 1, "components": [{"id": "F1", "kind": "fuse", "watts": 3}]}',
         "components, F1, watts", "no such field"),
        ('{"format_version": 1, "components": [{"id": "F1", "kind": "cannon"}]}',
         "F1", "cannon"),
        (f'{{"format_version": 1, "components": [{FUSE}, {FUSE}]}}', "F1", "twice"),
        ('{"format_version": 1, "format_version": 1}', "format_version", "twice"),
        ('{"format_version": 1, "boat": {"length_m": NaN}}', "NaN", "finite"),
        ('{"format_version": 1, "boat": {"length_m": 1e999}}', "boat, length_m", "finite"),
        ('{"format_version": 1, "components": [{"id": "F1", "kind": "fuse", "at": [1]}]}',
         "components, F1, at", ""),
        ('{"format_version": 1, "components": [{"id": "a b", "kind": "fuse"}]}',
         "components, a b, id", "letters, digits"),
        (f'{{"format_version": 1, "components": [{FUSE}], "conductors": [{{"id": "W1", "from": '
         '{"component": "F1", "terminal": "a"}, "to": {"component": "F1", "terminal": "a"}}]}',
         "W1", "same terminal"),
        ('{"format_version": 1, "systems": [{"id": "S", "negative_datum": "X9.s1"}]}', "S", "X9"),
        ("[" * 100_000, "", ""),
    ],
)
def test_bad_text_is_told_with_file_place_and_what_was_expected(
    text: str, place: str, expected: str
) -> None:
    with pytest.raises(UnreadableFile) as caught:
        loads(text, "boat.loom")
    assert caught.value.sentence.startswith("boat.loom")
    assert place in caught.value.sentence
    assert expected in caught.value.sentence


def test_a_file_that_is_missing_binary_or_a_folder_is_told(tmp_path: Path) -> None:
    binary = tmp_path / "photo.loom"
    binary.write_bytes(b"\x89PNG\r\n\x1a\n\xff\xfe\x00")
    for path, words in ((tmp_path / "none.loom", "no such file"), (binary, "not text"),
                        (tmp_path, "folder")):
        with pytest.raises(UnreadableFile, match=words):
            load(path)


def test_a_save_that_cannot_be_done_keeps_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "folder" / "boat.loom"
    with pytest.raises(UnwritableFile, match="could not be saved"):
        save(Diagram(), path)
    good = tmp_path / "boat.loom"
    save(Diagram(), good)
    before = good.read_bytes()
    blocked = tmp_path / "blocked"
    blocked.mkdir()
    with pytest.raises(UnwritableFile):
        save(Diagram(), blocked)
    assert good.read_bytes() == before
    assert not list(tmp_path.glob(f"*{TEMP_MARK}*"))


def test_saving_sweeps_what_a_killed_save_left_and_keeps_the_mode(tmp_path: Path) -> None:
    path = tmp_path / "boat.loom"
    save(Diagram(), path)
    os.chmod(path, 0o640)
    (tmp_path / f".boat.loom{TEMP_MARK}abc").write_text("half")
    save(Diagram(), path)
    assert [entry.name for entry in tmp_path.iterdir()] == ["boat.loom"]
    assert path.stat().st_mode & 0o777 == 0o640
