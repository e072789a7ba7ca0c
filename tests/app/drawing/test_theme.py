"""The least ratios are the design's own; the formula is that of WCAG 2 (contrast ratio)."""

import re

import pytest

from app.drawing.theme import PALETTES, colour, roles

GROUNDS = ("paper", "body", "engine_tint", "dry_tint", "outdoors_tint", "bilge_tint")
SORTS = ("engine", "dry", "outdoors", "bilge")
BANDS = tuple(f"band_{letter}" for letter in "HEPWSAN")


def relative_luminance(hex_colour: str) -> float:
    """Return the relative luminance by WCAG 2. [unitless]."""
    channels = [int(hex_colour[i:i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(first: str, second: str) -> float:
    """Return the contrast ratio of two colours by WCAG 2. [unitless]."""
    low, high = sorted((relative_luminance(first), relative_luminance(second)))
    return (high + 0.05) / (low + 0.05)


def ratio(role, ground, palette="day"):
    return contrast(colour(role, palette), colour(ground, palette))


def worst(role, palette="day"):
    return min(ratio(role, ground, palette) for ground in GROUNDS)


def test_black_on_white_has_the_contrast_that_wcag_gives():
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize(("role", "least"), [
    ("ink", 13.0), ("ink2", 5.8), ("positive", 5.8), ("ac", 6.3), ("control", 5.3),
    ("bonding", 5.1), ("magenta", 6.2), ("violet", 7.7), ("selection", 5.8), ("dead_text", 4.7),
])
def test_by_day_lettering_and_lines_stand_out_from_every_ground(role, least):
    assert worst(role) >= least - 0.05


@pytest.mark.parametrize(("sort", "least"), [
    ("engine", 5.3), ("dry", 5.3), ("outdoors", 5.5), ("bilge", 5.4)])
def test_by_day_a_place_is_named_and_edged_legibly_on_its_own_tint(sort, least):
    assert ratio(f"{sort}_name", f"{sort}_tint") >= least - 0.05
    assert ratio(f"{sort}_edge", f"{sort}_tint") >= 3.0


@pytest.mark.parametrize(("role", "ground", "least"), [
    *(("ink", band, 6.3) for band in BANDS),
    ("ink", "panel", 13.9), ("ink2", "panel", 6.0), ("magenta", "panel", 6.6),
    ("bar_text", "bar", 11.9), ("bar_text2", "bar", 6.9),
    ("white", "magenta", 7.4), ("white", "violet", 9.2),
])
def test_by_day_bands_panels_and_badges_are_legible(role, ground, least):
    assert ratio(role, ground) >= least - 0.05


@pytest.mark.parametrize("role", [
    "ink", "ink2", "positive", "ac", "control", "bonding", "magenta", "violet", "selection"])
def test_at_dusk_lettering_stands_out_from_every_ground(role):
    assert worst(role, "dusk") >= 4.55


def test_at_dusk_what_is_dead_is_still_legible():
    assert worst("dead_text", "dusk") >= 4.05


@pytest.mark.parametrize(("role", "least"), [
    ("ink", 5.6), ("ink2", 4.4), ("magenta", 8.4), ("positive", 3.9), ("negative", 3.9)])
def test_at_night_lettering_and_lines_stand_out_from_paper(role, least):
    assert ratio(role, "paper", "night") >= least - 0.05


def test_at_night_nothing_is_bright_and_nothing_is_blue():
    for role in roles():
        shade = colour(role, "night")
        assert relative_luminance(shade) <= 0.45
        assert int(shade[5:7], 16) <= 0x8C


@pytest.mark.parametrize("palette", PALETTES)
def test_every_role_has_a_colour_in_every_palette(palette):
    assert all(re.fullmatch(r"#[0-9A-F]{6}", colour(role, palette)) for role in roles())


def test_grey_print_uses_greys_only():
    for role in roles():
        shade = colour(role, "grey")
        assert shade[1:3] == shade[3:5] == shade[5:7]


def test_a_role_that_is_not_there_is_refused():
    with pytest.raises(KeyError):
        colour("puce")
