"""The catalogues: in step with the program, whole where titles stand, and true to their places."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterator

import pytest
from babel.messages.pofile import read_po

from app import words
from app.words import _, decimal, decimal_mark, hyphenated, in_words, ngettext, pgettext, speak
from tests.words.__main__ import po_path, stale
from tests.words.collecting import MARKS, ROOT, texts

PLACE = re.compile(r"\{[^}]*\}")
OTHERS = [language for language in words.LANGUAGES if language != words.ENGLISH]
EVERY_OTHER = pytest.mark.parametrize("language", OTHERS)


@pytest.fixture
def german() -> Iterator[None]:
    speak("de")
    yield
    speak("en")


def catalogue(language: str):
    with po_path(language).open("rb") as file:
        return read_po(file, locale=language)


def test_the_catalogues_are_in_step_with_the_program():
    assert stale() == [], "run `python -m tests.words`"


@EVERY_OTHER
def test_every_title_is_translated(language):
    known = catalogue(language)
    missing = sorted({
        text.one for text in texts() if not text.sort.endswith("sentence")
        and not known.get(text.one, text.context or None).string})
    assert missing == []


@EVERY_OTHER
def test_a_translation_keeps_what_is_filled_in(language):
    for message in catalogue(language):
        source = message.id if isinstance(message.id, str) else message.id[-1]
        told = [message.string] if isinstance(message.string, str) else message.string[-1:]
        for string in filter(None, told if message.id else ()):
            assert set(PLACE.findall(string)) == set(PLACE.findall(source)), source


@EVERY_OTHER
def test_a_translation_begins_and_ends_as_its_text(language):
    for message in catalogue(language):
        if isinstance(message.string, str) and message.id and message.string:
            for sign in (" ", "\n", "…"):
                assert message.string.endswith(sign) == message.id.endswith(sign), message.id
            assert message.string.startswith(" ") == message.id.startswith(" "), message.id


def test_english_reads_no_catalogue():
    done = subprocess.run([sys.executable, "-c", (
        f"import sys; sys.path.insert(0, {str(ROOT)!r}); from app.words import _, speak; "
        "speak('en_GB'); assert _('Fuse') == 'Fuse'; print('gettext' in sys.modules)")],
        capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_what_cannot_be_spoken_is_english():
    for language in ("xx", "", "C", "eo_EO.UTF-8"):
        assert speak(language) == "en"
        assert _("Fuse") == "Fuse"


@pytest.mark.parametrize("name", ["de", "de_AT.UTF-8", "de-CH", "DE"])
def test_a_language_is_known_by_any_of_its_names(name):
    assert speak(name) == "de"
    assert _("Fuse") == "Sicherung"
    speak("en")


def test_german_counts_and_tells_homonyms_apart(german):
    assert ngettext("1 notice", "{count} notices", 1) == "1 Befund"
    assert ngettext("1 notice", "{count} notices", 3) == "{count} Befunde"
    assert (_("Place"), pgettext("verb", "Place")) == ("Ort", "Setzen")
    assert in_words("cannot_tell") == "nicht zu beurteilen"


def test_soft_hyphens_stand_only_where_they_are_asked_for(german):
    assert _("Rated voltage") == "Bemessungsspannung"
    assert hyphenated("Rated voltage").replace("\u00ad", "-") == "Bemessungs-spannung"


def test_the_decimal_mark_is_the_languages(german):
    assert (decimal_mark(), decimal("2.5 mm²")) == (",", "2,5 mm²")
    speak("en")
    assert (decimal_mark(), decimal("2.5 mm²")) == (".", "2.5 mm²")


SHOWS = {
    "QLabel", "QPushButton", "QCheckBox", "QAction", "Heading", "Way", "addAction", "addMenu",
    "addRow", "addTab", "say", "_say", "tell", "section", "plain", "setAccessibleDescription",
    "setAccessibleName", "setPlaceholderText", "setStatusTip", "setTabToolTip", "setText",
    "setToolTip", "setWindowTitle", "setHorizontalHeaderLabels",
}  # fmt: skip
OWN_NAMES = {"LOOMWRIGHT", "Loomwright", "[*] - Loomwright"}


def bare_words(node: ast.AST) -> Iterator[str]:
    """Yield literal words that are shown without a translation, those of f-strings too."""
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in MARKS:
        return
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        if re.search("[A-Za-z]{3}", node.value) and node.value not in OWN_NAMES:
            yield node.value
        return
    if isinstance(node, ast.JoinedStr | ast.BinOp | ast.IfExp | ast.List | ast.FormattedValue):
        for child in ast.iter_child_nodes(node):
            yield from bare_words(child)


@pytest.mark.parametrize("folder", ["window", "panels", "canvas"])
def test_no_text_is_shown_that_cannot_be_translated(folder):
    bare = []
    for path in sorted((ROOT / "app" / folder).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            if name in SHOWS:
                bare += [f"{path.name}:{node.lineno} {words}" for argument in node.args
                         for words in bare_words(argument)]
    assert bare == []
