"""The words of the interface in the language that was chosen; English stands in the sources.

Titles that stand in records (actions, kinds, fields, rules) are translated where they are shown.
Knows no Qt, and in English reads no catalogue and imports nothing for it: a start would wait.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import assets

if TYPE_CHECKING:
    from gettext import GNUTranslations

DOMAIN = "loomwright"
ENGLISH, SYSTEM = "en", "system"
LANGUAGES = ("en", "de")
SOFT_HYPHEN = "\u00ad"
FOLDER = Path(assets.__file__).parent / "words"


class _Spoken:
    """The one catalogue in use; None is English."""

    catalogue: GNUTranslations | None = None


def speak(language: str) -> str:
    """Use a language ("de", "de_CH.UTF-8") from now on; return the one there is a catalogue for."""
    name = language.replace("-", "_").partition(".")[0].partition("_")[0].lower()
    if name == ENGLISH or name not in LANGUAGES:
        _Spoken.catalogue = None
        return ENGLISH
    from gettext import translation  # brings more modules than English should pay for

    _Spoken.catalogue = translation(DOMAIN, FOLDER, [name])
    return name


def speaks_english() -> bool:
    """Say whether texts are shown as they stand in the sources."""
    return _Spoken.catalogue is None


def _(text: str) -> str:
    """Return a text in the language spoken; what has no translation stays English."""
    return hyphenated(text).replace(SOFT_HYPHEN, "")


def hyphenated(text: str) -> str:
    """Return a text with soft hyphens, for a narrow place where a long word may be parted."""
    if _Spoken.catalogue is None or not text:
        return text
    return _Spoken.catalogue.gettext(text)


def pgettext(context: str, text: str) -> str:
    """Return a text that other languages say in several ways, by what it means here."""
    if _Spoken.catalogue is None:
        return text
    return _Spoken.catalogue.pgettext(context, text)


def ngettext(one: str, many: str, count: int) -> str:
    """Return the text for one or for many, by the rule of the language."""
    if _Spoken.catalogue is None:
        return one if count == 1 else many
    return _Spoken.catalogue.ngettext(one, many, count)


def N_(text: str) -> str:  # noqa: N802
    """Mark a text that stands in a table, to be translated where it is shown."""
    return text


def in_words(name: str) -> str:
    """Return a choice's or topic's name ("not_fitted") as words, in the language spoken."""
    return _(name.replace("_", " "))


def within(title: str) -> str:
    """Return a record's title as it stands within a sentence."""
    return title.lower() if speaks_english() else _(title)


def capital(words: str) -> str:
    """Return words with a capital at the beginning, and the others as they are."""
    return words[:1].upper() + words[1:]


def decimal_mark() -> str:
    """Return the mark between whole and part of a number."""
    return _(".")


def decimal(figure: str) -> str:
    """Return a figure written with a point as the language writes it."""
    return figure.replace(".", decimal_mark())
