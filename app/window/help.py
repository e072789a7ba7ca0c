"""The Help window: articles and the page of every check, found by any word in them."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from pathlib import Path

from msgspec import Struct
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QColor, QTextCursor, QTextDocument, QTextFrameFormat, QTextTable
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

import assets
from app.drawing.help_pictures import HelpPicture, help_pictures
from app.drawing.painters.qt import picture
from app.drawing.theme import Palette, colour
from app.words import _
from rules.book import find
from rules.describe import as_html, as_text, pages
from rules.describe import page as page_of

FOLDER = Path(assets.__file__).parent / "help"
ARTICLES = ("notices", "drawing", "charging_sources", "importing")
PICTURE, PARAGRAPH_PX = "picture:", 7
NARROW_PX, WIDE_PX, PX_TO_MM = 250, 530, 2.5  # of pictures; lettering reads well at that scale
SHRINKS_TO = 0.8  # of that scale, to stand beside the other
KEY_ROLE = Qt.ItemDataRole.UserRole
STYLE = """
h1 { font-size: 20px; } h2 { font-size: 18px; margin-bottom: 2px; }
h3 { font-size: 13px; margin-bottom: 0; } p, li { line-height: 135%; } p { margin-top: 3px; }
"""


class HelpPage(Struct, frozen=True):
    """A page of Help: its key, how the list names it, its words; an article as Markdown."""

    key: str
    title: str
    words: str
    markdown: str = ""


def help_pages() -> tuple[HelpPage, ...]:
    """Return the articles and then the page of every check, by number."""
    articles = []
    for name in ARTICLES:
        text = (FOLDER / f"{name}.md").read_text("utf-8")
        title = text.partition("\n")[0].removeprefix("# ")
        articles.append(HelpPage(name, title, text.casefold(), markdown=text))
    checks = [
        HelpPage(told.slug, f"{told.number}  {_(told.title)}",
                 f"{as_text(told)} {_(told.title)}".casefold())
        for told in pages()
    ]
    return (*articles, *checks)


def pictures_html(pictures: Sequence[HelpPicture]) -> str:
    """Return the pictures of a check as the document's own images: narrow ones side by side, wide
    ones one below the other.
    """
    cells = [
        f'<td width="{width_px(shown)}"><i>{shown.words}</i><br>'
        f'<img src="{PICTURE}{number}" width="{width_px(shown)}"><br>{escape(shown.told)}</td>'
        for number, shown in enumerate(pictures)]
    is_wide = sum(map(width_px, pictures)) > WIDE_PX
    rows = "</tr><tr>".join(cells) if is_wide else "".join(cells)
    return f'<table cellspacing="8"><tr>{rows}</tr></table>' if cells else ""


def width_px(shown: HelpPicture) -> int:
    """Return how wide a picture stands in a page."""
    wanted = PX_TO_MM * shown.size_mm[0]
    return NARROW_PX if SHRINKS_TO * wanted <= NARROW_PX else round(min(wanted, WIDE_PX))


class HelpWindow(QDialog):
    """Search and read. Typing filters the list; the arrow keys go through it."""

    def __init__(self, parent: QWidget | None = None, palette: Palette = "day") -> None:
        super().__init__(parent)
        self._palette = palette
        self.setWindowTitle(_("Help"))
        self.resize(1040, 720)
        self.pages = help_pages()
        self.words = QLineEdit()
        self.words.setPlaceholderText(_("Search: a word, a number, a part"))
        self.words.setAccessibleName(_("Search in Help"))
        self.words.setClearButtonEnabled(True)
        self.words.textChanged.connect(self._filter)
        self.list = QListWidget()
        self.list.setAccessibleName(_("Pages of Help"))
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.currentItemChanged.connect(lambda now, _before: self._show(now))
        self.count = QLabel()
        self.count.setObjectName("plainWord")
        self.text = QTextBrowser()
        self.text.setAccessibleName(_("The page"))
        self.text.setOpenExternalLinks(False)
        self.text.document().setDocumentMargin(16)
        left = QVBoxLayout()
        left.addWidget(self.words)
        left.addWidget(self.list, 1)
        left.addWidget(self.count)
        whole = QHBoxLayout(self)
        whole.addLayout(left, 2)
        whole.addWidget(self.text, 3)
        self._filter("")

    def _filter(self, text: str) -> None:
        wanted = text.casefold().split()
        found = [page for page in self.pages if all(word in page.words for word in wanted)]
        found.sort(key=lambda page: not all(word in page.title.casefold() for word in wanted))
        self.list.clear()
        for page in found:
            item = QListWidgetItem(page.title)
            item.setData(KEY_ROLE, page.key)
            item.setToolTip(page.title)
            self.list.addItem(item)
        self.count.setText(_("{found} of {all} pages").format(
            found=len(found), all=len(self.pages)))
        if found:
            self.list.setCurrentRow(0)
        else:
            self.text.setPlainText(_("No page has these words."))

    def set_palette(self, palette: Palette) -> None:
        """Show the page, its links and its pictures in a palette's colours."""
        self._palette = palette
        self._show(self.list.currentItem())

    def show_page(self, key: str) -> None:
        """Show a page by its key: an article's name or a check's slug."""
        self.words.clear()
        for row in range(self.list.count()):
            if self.list.item(row).data(KEY_ROLE) == key:
                self.list.setCurrentRow(row)
                return

    def _show(self, item: QListWidgetItem | None) -> None:
        if item is None:
            return
        links = f"a {{ color: {colour('selection', self._palette)}; }}"
        self.text.document().setDefaultStyleSheet(STYLE + links)
        chosen = next(one for one in self.pages if one.key == item.data(KEY_ROLE))
        if chosen.markdown:
            self.text.setMarkdown(chosen.markdown)
            self._dress_article()
        else:
            self._show_check(chosen.key)

    def _dress_article(self) -> None:
        """Part the paragraphs, and draw tables in the palette: no style sheet reaches Markdown."""
        document = self.text.document()
        for frame in document.rootFrame().childFrames():
            if isinstance(frame, QTextTable):
                table = frame.format()
                table.setBorderStyle(QTextFrameFormat.BorderStyle.BorderStyle_Solid)
                table.setBorderBrush(QColor(colour("rule", self._palette)))
                frame.setFormat(table)
        cursor = QTextCursor(document)
        block = document.begin()
        while block.isValid():
            cursor.setPosition(block.position())
            if cursor.currentTable() is None:
                parted = block.blockFormat()
                parted.setBottomMargin(PARAGRAPH_PX)
                cursor.setBlockFormat(parted)
            block = block.next()

    def _show_check(self, slug: str) -> None:
        rule = find(slug)
        assert rule is not None
        pictures = help_pictures(rule)
        for number, shown in enumerate(pictures):
            sharp = 2 * width_px(shown) / shown.size_mm[0]
            self.text.document().addResource(
                QTextDocument.ResourceType.ImageResource, QUrl(f"{PICTURE}{number}"),
                picture(shown.marks, shown.size_mm, sharp, self._palette))
        self.text.setHtml(as_html(page_of(rule), pictures_html(pictures)))
