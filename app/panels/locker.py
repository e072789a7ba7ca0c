"""The Locker: the parts, by family, with search; click one to take it in hand, or drag it."""

from __future__ import annotations

from functools import cache
from itertools import combinations, pairwise

from PySide6.QtCore import QMimeData, QPoint, QSize, Qt, Signal
from PySide6.QtGui import (
    QDrag,
    QFont,
    QFontMetricsF,
    QIcon,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPixmap,
    QShowEvent,
)
from PySide6.QtWidgets import (
    QApplication,
    QGridLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.drawing.marks import bounds
from app.drawing.painters.qt import paint, prepared
from app.drawing.symbols import KIND_MIME, Symbol, symbol
from app.drawing.theme import Palette
from app.panels.heading import Heading
from app.panels.lettering import scaled
from app.words import SOFT_HYPHEN, _, hyphenated
from model.kinds import FAMILIES, Kind, catalogue

TILE_W, TILE_H, ICON_W, ICON_H = 73, 74, 56, 36
LOW_ICON_H, TEXT_PX = 25, 11
COLUMNS = 3
FOLDED_W = 124
MOST_WIDENED = 1.25  # however large the lettering, for the sheet needs the room too
STANDS_FOR_ANYTHING = ("load", "box")  # offered where no part has the name


@cache
def kind_picture(slug: str, width: int, height: int, palette: Palette = "day") -> QPixmap:
    """Return a kind's symbol fitted into a picture of this many pixels."""
    return picture_of(symbol(slug, {}, {}), width, height, palette)


def picture_of(drawn: Symbol, width: int, height: int, palette: Palette) -> QPixmap:
    """Return a symbol fitted into a picture of this many pixels."""
    ratio = 2.0
    image = QImage(QSize(int(width * ratio), int(height * ratio)),
                   QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    box = bounds(drawn.marks) or drawn.body
    box = box.joined(drawn.body).grown(0.6)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    scale = min(image.width() / box.w, image.height() / box.h, 3.4 * ratio)
    painter.translate(image.width() / 2, image.height() / 2)
    painter.scale(scale, scale)
    painter.translate(-(box.x0 + box.x1) / 2, -(box.y0 + box.y1) / 2)
    paint(painter, prepared(drawn.marks), palette)
    painter.end()
    picture = QPixmap.fromImage(image)
    picture.setDevicePixelRatio(ratio)
    return picture


class Tile(QToolButton):
    """One kind: its symbol over its name."""

    def __init__(self, kind: Kind, palette: Palette) -> None:
        super().__init__()
        self.kind = kind
        self._pressed_at: QPoint | None = None
        self.setObjectName("tile")
        self.setToolTip(f"{_(kind.title)}. {_(kind.sentence)}")
        self.setAccessibleName(_("Part: {title}").format(title=_(kind.title)))
        self.setAccessibleDescription(_(kind.sentence))
        self._palette: Palette = palette
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
        self._fit()

    def set_palette(self, palette: Palette) -> None:
        """Draw the symbol in a palette's colours."""
        self._palette = palette
        self._fit()
        self._dress_if_seen()

    def _fit(self) -> None:
        self.setFixedSize(scaled(TILE_W, MOST_WIDENED), scaled(TILE_H, MOST_WIDENED))

    def showEvent(self, event: QShowEvent) -> None:
        """Dress the tile: in the families that stay closed at the start none is."""
        self._dress()
        super().showEvent(event)

    def _dress_if_seen(self) -> None:
        if self.isVisible():
            self._dress()

    def _dress(self) -> None:
        """Set the name in its lines, and draw the symbol in what height they leave."""
        text = _wrapped(hyphenated(self.kind.title))
        height = LOW_ICON_H if text.count("\n") > 1 else ICON_H
        self.setText(text)
        self.setIconSize(QSize(ICON_W, height))
        self.setIcon(QIcon(kind_picture(self.kind.slug, ICON_W, height, self._palette)))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a drag would begin."""
        self._pressed_at = event.position().toPoint()
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Begin dragging the part to the sheet."""
        if self._pressed_at is None or not event.buttons() & Qt.MouseButton.LeftButton:
            return
        moved = (event.position().toPoint() - self._pressed_at).manhattanLength()
        if moved < QApplication.startDragDistance():
            return
        self._pressed_at = None
        self.setDown(False)
        drag, mime = QDrag(self), QMimeData()
        mime.setData(KIND_MIME, self.kind.slug.encode())
        drag.setMimeData(mime)
        drag.setPixmap(kind_picture(self.kind.slug, ICON_W, ICON_H, self._palette))
        drag.exec(Qt.DropAction.CopyAction)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter takes the part in hand, as a click does."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
            return
        super().keyPressEvent(event)


def _wrapped(title: str) -> str:
    """Return the title in as few lines as fit a tile, each as short as can be."""
    font = QFont("DejaVu Sans Condensed")
    font.setPixelSize(scaled(TEXT_PX, MOST_WIDENED))
    metrics = QFontMetricsF(font)
    cuts = [i + 1 for i, sign in enumerate(title) if sign in f" -{SOFT_HYPHEN}"]
    best = title
    for count in range(min(len(cuts), 2) + 1):
        ways = [_cut(title, at) for at in combinations(cuts, count)]
        best = min(ways, key=lambda way: _widest(metrics, way))
        if _widest(metrics, best) <= scaled(TILE_W, MOST_WIDENED) - 8:
            break
    return best


def _cut(title: str, at: tuple[int, ...]) -> str:
    edges = (0, *at, len(title))
    lines = (title[a:b].strip() for a, b in pairwise(edges))
    return "\n".join(
        line[:-1].replace(SOFT_HYPHEN, "") + line[-1:].replace(SOFT_HYPHEN, "-") for line in lines)


def _widest(metrics: QFontMetricsF, text: str) -> float:
    return max(metrics.horizontalAdvance(part) for part in text.split("\n"))


class Locker(QWidget):
    """The parts list. `chosen` brings the slug of the kind to place."""

    chosen = Signal(str)

    def __init__(self, palette: Palette = "day") -> None:
        super().__init__()
        self.setObjectName("side")
        self.is_folded = False
        self.tiles: dict[str, Tile] = {}
        self._families: list[tuple[QToolButton, QWidget, list[Tile]]] = []
        self._grids: list[QGridLayout] = []
        self._were_open: list[bool] = []  # families, while a search opens and closes them
        self.search = QLineEdit()
        self.search.setAccessibleName(_("Search parts"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._filter)
        self.search.returnPressed.connect(self._choose_first)
        self._nothing = QLabel(_("No part of that name. One of these can stand for it:"))
        self._nothing.setWordWrap(True)
        self._nothing.setObjectName("plainWord")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self._heading = Heading(_("Locker"), _("parts"))
        column.addWidget(self._heading)
        body = QVBoxLayout()
        body.setContentsMargins(12, 10, 4, 0)
        search = QVBoxLayout()
        search.setContentsMargins(0, 0, 8, 0)
        search.addWidget(self.search)
        body.addLayout(search)
        body.addWidget(self._scroll(palette), 1)
        column.addLayout(body, 1)
        self._show_width()

    def set_folded(self, is_folded: bool) -> None:
        """Fold to one column of parts, so that the sheet has room, or unfold."""
        if is_folded == self.is_folded:
            return
        self.is_folded = is_folded
        self._filter(self.search.text())
        for head, _holder, _tiles in self._families:
            head.setObjectName("foldedFamily" if is_folded else "family")
            head.style().polish(head)
        self._show_width()

    def _show_width(self) -> None:
        self.setFixedWidth(scaled(FOLDED_W, MOST_WIDENED) if self.is_folded
                           else COLUMNS * (scaled(TILE_W, MOST_WIDENED) + 6) + 30)
        self._heading.plain.setVisible(not self.is_folded)
        self.search.setPlaceholderText(
            _("Search") if self.is_folded
            else _("Search {count} parts").format(count=len(catalogue())))

    def _set_tiles(self, head: QToolButton, grid: QGridLayout, tiles: list[Tile]) -> None:
        """Put some tiles of a family in rows, and say how many they are."""
        title = head.property("title")
        head.setText(title.split()[0] if self.is_folded else f"{title}   {len(tiles)}")
        columns = 1 if self.is_folded else COLUMNS
        for number, tile in enumerate(tiles):
            grid.addWidget(tile, number // columns, number % columns, Qt.AlignmentFlag.AlignLeft)

    def set_palette(self, palette: Palette) -> None:
        """Draw every symbol in a palette's colours."""
        for tile in self.tiles.values():
            tile.set_palette(palette)
        self._show_width()

    def _scroll(self, palette: Palette) -> QScrollArea:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 6, 8, 6)
        column.setSpacing(4)
        column.addWidget(self._nothing)
        self._nothing.hide()
        for number, (family, title) in enumerate(FAMILIES):
            kinds = [kind for kind in catalogue().values() if kind.family == family]
            column.addWidget(self._family(_(title), kinds, palette, is_open=number < 2))
        column.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # its tiles have it
        area.setWidget(inside)
        return area

    def _family(self, title: str, kinds: list[Kind], palette: Palette, is_open: bool) -> QWidget:
        holder, grid_holder = QWidget(), QWidget()
        head = QToolButton()
        head.setObjectName("family")
        head.setProperty("title", title)
        head.setAccessibleName(_("{title}, {count} parts").format(title=title, count=len(kinds)))
        head.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        head.setCheckable(True)
        grid = QGridLayout(grid_holder)
        grid.setContentsMargins(0, 0, 0, 4)
        grid.setSpacing(5)
        tiles = []
        for kind in kinds:
            tile = Tile(kind, palette)
            tile.clicked.connect(lambda _=False, slug=kind.slug: self.chosen.emit(slug))
            self.tiles[kind.slug] = tile
            tiles.append(tile)
        self._set_tiles(head, grid, tiles)
        self._grids.append(grid)
        grid.setColumnStretch(COLUMNS, 1)
        head.toggled.connect(grid_holder.setVisible)
        head.toggled.connect(lambda on: head.setArrowType(
            Qt.ArrowType.DownArrow if on else Qt.ArrowType.RightArrow))
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(head)
        column.addWidget(grid_holder)
        grid_holder.setVisible(is_open)
        head.setArrowType(Qt.ArrowType.RightArrow)
        head.setChecked(is_open)
        self._families.append((head, holder, tiles))
        return holder

    def _filter(self, text: str) -> None:
        """Show the parts whose name or purpose has the text; all when it is empty."""
        wanted = text.strip().lower()
        found = {slug for slug, tile in self.tiles.items() if _matches(tile.kind, wanted)}
        self._nothing.setVisible(not found)
        shown = found or set(STANDS_FOR_ANYTHING)
        if wanted and not self._were_open:
            self._were_open = [head.isChecked() for head, _holder, _tiles in self._families]
        for (head, holder, tiles), grid in zip(self._families, self._grids, strict=True):
            of_family = [tile for tile in tiles if tile.kind.slug in shown]
            self._set_tiles(head, grid, of_family)
            for tile in tiles:
                tile.setVisible(tile.kind.slug in shown)
            holder.setVisible(bool(of_family))
            if wanted:
                head.setChecked(bool(of_family))
        if not wanted and self._were_open:
            for (head, _holder, _tiles), was in zip(self._families, self._were_open, strict=True):
                head.setChecked(was)
            self._were_open = []

    def _choose_first(self) -> None:
        """Take the first part found in hand."""
        best = best_kind(self.search.text())
        if best is not None:
            self.chosen.emit(best.slug)


def best_kind(words: str) -> Kind | None:
    """Return the kind that words mean: whose name begins with them, else the shortest that fits."""
    wanted = words.strip().lower()
    found = [kind for kind in catalogue().values() if wanted and _matches(kind, wanted)]
    return min(found, key=lambda kind: (not _(kind.title).lower().startswith(wanted),
                                        len(_(kind.title))), default=None)


def _matches(kind: Kind, wanted: str) -> bool:
    return not wanted or wanted in " ".join(
        (_(kind.title), kind.title, kind.sentence, kind.slug)).lower()
