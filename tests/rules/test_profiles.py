"""Profiles that cannot be are refused by file, key and reason; what is from memory is weighed."""

from __future__ import annotations

from pathlib import Path

import pytest

from rules.profiles import RULE_SETS, BadProfile, profile, read_profile

GOOD = '[a_max_mm]\nvalue = 5\nunit = "mm"\nsentence = "A."\nsource = "S"\nstanding = "read"\n'
ABOUT = 'id = "us"\ntitle = "Test"\nampacity_table = "us"\n'


def written(folder: Path, figures: str, about: str = ABOUT) -> Path:
    (folder / "profile.toml").write_text(about)
    (folder / "topic.toml").write_text(figures)
    return folder


def test_a_good_profile_is_read(tmp_path):
    found = read_profile(written(tmp_path, GOOD))
    assert found.value("a_max_mm") == 5 and found["a_max_mm"].confirmed


@pytest.mark.parametrize(
    ("figures", "key", "reason"),
    [
        (GOOD.replace("value = 5\n", ""), "a_max_mm.value", "missing"),
        (GOOD.replace("value = 5", 'value = "five"'), "a_max_mm.value", "no number"),
        (GOOD.replace("value = 5", "value = true"), "a_max_mm.value", "no number"),
        (GOOD.replace("value = 5", "value = nan"), "a_max_mm.value", "no number"),
        (GOOD.replace("value = 5", "value = 0"), "a_max_mm", "above 0"),
        (GOOD.replace("value = 5", "value = -5"), "a_max_mm", "above 0"),
        (GOOD.replace("value = 5", "value = 100000"), "a_max_mm", "at most"),
        (GOOD.replace('unit = "mm"\n', ""), "a_max_mm.unit", "missing"),
        (GOOD.replace('"read"', '"guessed"'), "a_max_mm.standing", "one of"),
        (GOOD.replace("a_max_mm", "a_max_parsec"), "a_max_parsec", "its name ends"),
        ("a_max_mm = 5\n", "a_max_mm", "a figure has"),
        ("not toml at all", "the whole file", "cannot be read"),
    ],
)
def test_an_absurd_figure_is_refused_with_file_key_and_reason(tmp_path, figures, key, reason):
    with pytest.raises(BadProfile) as caught:
        read_profile(written(tmp_path, figures))
    assert caught.value.file == "topic.toml"
    assert caught.value.key == key
    assert reason in caught.value.reason
    assert str(caught.value).startswith(f"topic.toml, {key}: ")


def test_a_profile_without_its_name_is_refused(tmp_path):
    with pytest.raises(BadProfile, match=r"profile\.toml, title"):
        read_profile(written(tmp_path, GOOD, 'id = "us"\nampacity_table = "us"\n'))


def test_a_figure_in_two_files_is_refused(tmp_path):
    written(tmp_path, GOOD)
    (tmp_path / "zother.toml").write_text(GOOD)
    with pytest.raises(BadProfile, match="another file"):
        read_profile(tmp_path)


@pytest.mark.parametrize("rule_set", RULE_SETS)
def test_what_stands_from_memory_is_weighed_by_what_was_read(rule_set):
    own = profile(rule_set)
    weighed = own.confirmed()
    assert weighed.id == own.id
    assert weighed.ampacity_table == "us"
    for name, figure in own.figures.items():
        if figure.confirmed:
            assert weighed[name] is figure
