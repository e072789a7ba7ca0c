"""The Help window: articles and the page of every check, found by any word in them."""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct
from PySide6.QtCore import Qt
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
from rules.describe import as_html, as_text, pages

FOLDER = Path(assets.__file__).parent / "help"
ARTICLES = ("notices", "charging_sources", "importing")
KEY_ROLE = Qt.ItemDataRole.UserRole
STYLE = """
h1 { font-size: 20px; } h2 { font-size: 18px; margin-bottom: 2px; }
h3 { font-size: 13px; margin-bottom: 0; } p, li { line-height: 135%; } p { margin-top: 3px; }
"""


class HelpPage(Struct, frozen=True):
    """A page of Help: its key, how the list names it, its words and how it is shown."""

    key: str
    title: str
    words: str
    html: str = ""
    markdown: str = ""


def help_pages() -> tuple[HelpPage, ...]:
    """Return the articles and then the page of every check, by number."""
    articles = []
    for name in ARTICLES:
        text = (FOLDER / f"{name}.md").read_text("utf-8")
        title = text.partition("\n")[0].removeprefix("# ")
        articles.append(HelpPage(name, title, text.casefold(), markdown=text))
    checks = [
        HelpPage(told.slug, f"{told.number}  {told.title}", as_text(told).casefold(),
                 html=as_html(told, pictures_html(told.slug)))
        for told in pages()
    ]
    return (*articles, *checks)


def pictures_html(slug: str) -> str:
    """Return the good and the bad picture of a check side by side, or nothing."""
    wrong, right = (FOLDER / f"{slug}-{which}.png" for which in ("wrong", "right"))
    if not (wrong.is_file() and right.is_file()):
        return ""
    return (f'<table width="100%"><tr><td><img src="{wrong.as_posix()}" width="300"></td>'
            f'<td><img src="{right.as_posix()}" width="300"></td></tr>'
            "<tr><td><i>It speaks</i></td><td><i>It is quiet</i></td></tr></table>")


class HelpWindow(QDialog):
    """Search and read. Typing filters the list; the arrow keys go through it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Help")
        self.resize(1040, 720)
        self.pages = help_pages()
        self.words = QLineEdit()
        self.words.setPlaceholderText("Search: a word, a number, a part")
        self.words.setAccessibleName("Search in Help")
        self.words.setClearButtonEnabled(True)
        self.words.textChanged.connect(self._filter)
        self.list = QListWidget()
        self.list.setAccessibleName("Pages of Help")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.currentItemChanged.connect(lambda now, _before: self._show(now))
        self.count = QLabel()
        self.count.setObjectName("plainWord")
        self.text = QTextBrowser()
        self.text.setAccessibleName("The page")
        self.text.setOpenExternalLinks(False)
        self.text.document().setDefaultStyleSheet(STYLE)
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
            self.list.addItem(item)
        self.count.setText(f"{len(found)} of {len(self.pages)} pages")
        if found:
            self.list.setCurrentRow(0)
        else:
            self.text.setPlainText("No page has these words.")

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
        page = next(page for page in self.pages if page.key == item.data(KEY_ROLE))
        if page.markdown:
            self.text.setMarkdown(page.markdown)
        else:
            self.text.setHtml(page.html)
