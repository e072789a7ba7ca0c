"""Walks every action of the table: one test for each thing that could be forgotten."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

import pytest
from PySide6.QtGui import QKeySequence

from app.actions import ACTIONS, CONDITIONS, MENUS, Action, by_id, of_menu
from app.window.commands import WindowCommands

EVERY = pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.id)


def test_no_id_is_given_twice():
    counts = Counter(action.id for action in ACTIONS)
    assert [item for item, count in counts.items() if count > 1] == []


def test_no_shortcut_is_given_twice():
    counts = Counter(QKeySequence(a.shortcut).toString() for a in ACTIONS if a.shortcut)
    assert [key for key, count in counts.items() if count > 1] == []


def test_no_title_is_given_twice():
    counts = Counter(action.title for action in ACTIONS)
    assert [title for title, count in counts.items() if count > 1] == []


@EVERY
def test_a_shortcut_is_one_that_can_be_pressed(action: Action):
    if action.shortcut:
        assert QKeySequence(action.shortcut).toString() != ""


@EVERY
def test_the_function_is_a_command_of_the_window(action: Action):
    assert isinstance(getattr(WindowCommands, action.function), Callable)


@EVERY
def test_the_condition_is_known(action: Action):
    assert action.condition in CONDITIONS


@EVERY
def test_the_sentence_is_a_sentence(action: Action):
    assert action.sentence.endswith(".")
    assert action.sentence[0].isupper()


@EVERY
def test_the_menu_is_known_and_lists_the_action(action: Action):
    assert action.menu in MENUS
    assert action in of_menu(action.menu)


@EVERY
def test_the_id_names_a_group_and_finds_the_action(action: Action):
    group, _, name = action.id.partition(".")
    assert group.isidentifier() and name.isidentifier()
    assert by_id(action.id) is action


def test_every_condition_is_used():
    assert {action.condition for action in ACTIONS} == set(CONDITIONS)


def test_an_unknown_id_is_an_error():
    with pytest.raises(KeyError):
        by_id("file.nothing")


@EVERY
def test_a_key_that_fields_use_too_is_the_sheets_alone(action: Action):
    """A key without Ctrl, function keys apart, would be taken from who types or chooses."""
    is_plain = bool(action.shortcut) and "Ctrl" not in action.shortcut and not (
        action.shortcut[0] == "F" and action.shortcut[1:].isdigit())
    assert action.is_for_the_sheet == is_plain
