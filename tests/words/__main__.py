"""Write the catalogues of words anew: `.venv/bin/python -m tests.words`; `--check` only looks.

The template lists every text; the catalogue of each language keeps its translations and gets what
is new empty; what nobody shows any more goes. Compiled catalogues are kept beside them, so that
the program needs no tool at its start.
"""

from __future__ import annotations

import sys
from gettext import GNUTranslations
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from app.words import DOMAIN, ENGLISH, FOLDER, LANGUAGES
from tests.words.collecting import texts

MO_MAGIC = (b"\xde\x12\x04\x95", b"\x95\x04\x12\xde")
COMMENTS = {".": "The decimal mark of figures on screen."}


def template() -> Catalog:
    """Return the template of all catalogues: each text once, with what shows it."""
    made = catalogue("")
    for text in sorted(set(texts())):
        is_file = text.sort.endswith(".py")
        made.add(
            (text.one, text.many) if text.many else text.one, context=text.context or None,
            locations=[(text.sort, None)] if is_file else [],
            auto_comments=[COMMENTS.get(text.one, "")] if is_file else [text.sort])
    return made


class Words(Catalog):
    """A catalogue whose head holds what a reader of it needs, and nothing that changes alone."""

    HEAD = ("Project-Id-Version", "Language", "Plural-Forms", "MIME-Version", "Content-Type",
            "Content-Transfer-Encoding")

    @property
    def mime_headers(self) -> list[tuple[str, str]]:
        return [pair for pair in self._get_mime_headers() if pair[0] in self.HEAD]


def catalogue(language: str) -> Words:
    """Return an empty catalogue."""
    return Words(
        locale=language or None, domain=DOMAIN, project="Loomwright", version="1", fuzzy=False,
        header_comment=f"# The words of Loomwright{f' ({language})' if language else ''}.")


def po_path(language: str) -> Path:
    """Return where the translations of a language are written by people."""
    return FOLDER / language / "LC_MESSAGES" / f"{DOMAIN}.po"


def translated(language: str, wanted: Catalog) -> Catalog:
    """Return a language's catalogue with the texts of the template and its own translations."""
    with po_path(language).open("rb") as file:
        kept = read_po(file, locale=language, domain=DOMAIN)
    made = catalogue(language)
    for message in wanted:
        if not message.id:
            continue
        one = message.id if isinstance(message.id, str) else message.id[0]
        known = kept.get(one, message.context)
        made.add(message.id, known.string if known is not None else None, context=message.context,
                 locations=message.locations, auto_comments=message.auto_comments)
    return made


def files() -> dict[Path, bytes]:
    """Return every file as it should be."""
    wanted = template()
    made = {FOLDER / f"{DOMAIN}.pot": as_po(wanted)}
    for language in LANGUAGES:
        if language == ENGLISH:
            continue
        words = translated(language, wanted)
        compiled = BytesIO()
        write_mo(compiled, words)
        made[po_path(language)] = as_po(words)
        made[po_path(language).with_suffix(".mo")] = compiled.getvalue()
    return made


def as_po(words: Catalog) -> bytes:
    """Return a catalogue as people edit it."""
    written = BytesIO()
    write_po(written, words, width=100, sort_output=True, include_lineno=False)
    return written.getvalue()


def stale() -> list[Path]:
    """Return the files that are not as they should be."""
    return [path for path, content in files().items()
            if not path.exists() or meaning(path.read_bytes()) != meaning(content)]


def meaning(content: bytes) -> object:
    """Return what a file says: another version of the tool may set other flags and line ends."""
    if content[:4] in MO_MAGIC:
        compiled = GNUTranslations(BytesIO(content))._catalog  # type: ignore[attr-defined]
        return {text: string for text, string in compiled.items() if text}
    return {
        (message.id, message.context): (message.string, message.locations, message.auto_comments)
        for message in read_po(BytesIO(content)) if message.id}


def main() -> int:
    """Write the files, or tell which are stale; return the exit code."""
    if "--check" in sys.argv[1:]:
        old = stale()
        for path in old:
            print(f"stale: {path}; run `python -m tests.words`")
        return 1 if old else 0
    for path, content in files().items():
        path.write_bytes(content)
    return 0


if __name__ == "__main__":
    sys.exit(main())
