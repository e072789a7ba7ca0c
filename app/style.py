"""The window's look as a style sheet, made from the table of roles."""

from __future__ import annotations

import re
from string import Template

from app.drawing.theme import Palette, colour, roles

TILE_PX, TILE_SCALE = 11, 1.25  # tiles have little room to grow
_SHEET = Template("""
* { font-family: "DejaVu Sans Condensed"; font-size: 13px; color: $ink; }
QMainWindow, QDialog, QMessageBox { background: $panel; }
QMainWindow::separator { background: $rule; width: 1px; height: 1px; }
#bar { background: $bar; }
#bar QLabel, #bar QToolButton { color: $bar_text; background: transparent; border: none; }
#bar QToolButton { padding: 4px 12px; border-radius: 4px; font-size: 13px; }
#bar QToolButton#barIcon { padding: 6px; }
#bar QToolButton:hover { border: 1px solid $bar_text2; padding: 3px 11px; }
#bar QToolButton#barIcon:hover { padding: 5px; }
#bar QToolButton:checked { background: $bar_text; color: $bar; font-weight: bold; }
#bar QToolButton:focus, #log QToolButton:focus { border: 2px solid $bar_text2; }
#bar QToolButton:focus { padding: 2px 10px; }
#bar QToolButton#barIcon:focus { padding: 4px; }
#log QToolButton:focus { padding: 0 4px; }
#bar QToolButton:disabled { color: $bar_dim; }
#bar QToolButton::menu-indicator { image: none; }
#boatName { font-size: 15px; font-weight: bold; }
#boatEdition { font-style: italic; color: $bar_text2; font-size: 12px; }
#log { background: $bar; }
#log QLabel { color: $bar_text; font-size: 12px; background: transparent; }
#log QLabel#logMode { font-weight: bold; }
#log QToolButton { color: $bar_text; background: transparent; border: none; padding: 0 6px; }
GraduatedRule { color: $rule; background: $panel; }
#desk { background: $desk; }
#side, #foot, QScrollArea, QScrollArea > QWidget > QWidget { background: $panel; }
#panelName { font-size: 15px; font-weight: bold; }
#plainWord { font-style: italic; color: $ink2; font-size: 12px; }
#designation { font-size: 22px; font-weight: bold; }
#sectionName { font-weight: bold; }
#keyName { background: $button; border: 1px solid $rule; border-radius: 3px; padding: 1px 7px;
  font-size: 12px; }
#unit { font-style: italic; color: $ink2; font-size: 12px; }
#wrong { color: $magenta; font-size: 12px; }
#caution { color: $magenta; }
#quickLine { background: $panel; border: 2px solid $selection; border-radius: 4px; }
#quickWords { font-weight: bold; background: transparent; }
#quickMeaning { font-style: italic; color: $ink2; font-size: 12px; background: transparent; }
QLineEdit, QComboBox, QSpinBox, QPlainTextEdit, QTextEdit {
  background: $field; border: 1px solid $rule; border-radius: 3px; padding: 3px 6px;
  min-height: 20px; placeholder-text-color: $hint; }
QLineEdit, QSpinBox, QPlainTextEdit, QTextEdit {
  selection-background-color: $selection; selection-color: $white; }
QLineEdit:focus, QComboBox:focus, QSpinBox:focus, QPlainTextEdit:focus, QTextEdit:focus {
  border: 2px solid $selection; padding: 2px 5px; }
QComboBox { combobox-popup: 0; }  /* a list, of which the chosen line can be seen */
QComboBox::drop-down { border: none; width: 18px; }
QComboBox::down-arrow { width: 0; height: 0; border-left: 4px solid $field;
  border-right: 4px solid $field; border-top: 5px solid $ink2; margin-right: 6px; }
QComboBox QAbstractItemView, #finderList { background: $field; border: 1px solid $rule;
  selection-background-color: $selection_tint; selection-color: $ink; outline: none; }
QComboBox QAbstractItemView::item { min-height: 22px; padding: 0 4px; }
#finderList::item { padding: 3px 6px; }
QComboBox QAbstractItemView::item:selected, #finderList::item:selected {
  background: $selection_tint; color: $ink; }
QPushButton { background: $button; border: 1px solid $rule; border-radius: 4px;
  padding: 4px 12px; min-height: 20px; }
QPushButton:hover { border-color: $ink2; }
QPushButton:focus { border: 2px solid $selection; padding: 3px 11px; }
QPushButton:default, QPushButton#primary { background: $primary; color: $primary_text; }
QPushButton:default:focus, QPushButton#primary:focus { outline: 1px solid $primary_text;
  outline-offset: 2px; }
QPushButton#primary:hover { background: $primary; border: 1px solid $ink2; }
QPushButton:disabled, QPushButton#primary:disabled { background: $button; color: $dead_text; }
QPushButton#choice { padding: 4px 10px; }
QPushButton#choice:checked { background: $selection_tint; border: 1px solid $selection;
  font-weight: bold; }
QPushButton#choice:focus { border: 2px solid $selection; padding: 3px 9px; }
QToolButton#step { border: none; background: transparent; color: $ink2; padding: 3px 5px;
  font-size: 12px; }
QToolButton#step:checked { color: $ink; border-bottom: 3px solid $ink; }
QToolButton#step:focus { border: 2px solid $selection; border-radius: 3px; }
QPushButton#way { min-height: 44px; }
QPushButton#recentWay { padding: 4px; }
QPushButton#way[primary="true"] { background: $primary; border-color: $primary; }
QPushButton#way[primary="true"]:focus { outline: 1px solid $primary_text; outline-offset: 2px; }
QPushButton#way[primary="true"] QLabel { color: $primary_text; }
QLabel#wayTitle { font-weight: bold; font-size: 14px; background: transparent; }
QLabel#wayWords { font-size: 12px; background: transparent; }
QLabel#wayTitle:disabled, QLabel#wayWords:disabled { color: $dead_text; }
QPushButton#quietWay { border: none; background: transparent; color: $ink2; font-style: italic; }
QPushButton#quietWay:focus { border: 2px solid $selection; }
QLabel#chartName { font-size: 24px; font-weight: bold; letter-spacing: 2px; }
QLabel#cautionTitle { color: $magenta; font-size: 18px; font-weight: bold; }
QPushButton#cautionRead { border: 1px solid $magenta; color: $magenta; font-weight: bold; }
QPushButton#cautionRead:focus { border: 2px solid $magenta; background: $magenta_tint; }
#chartLine { background: $rule; }
QToolButton#tile { background: $button; border: 1px solid $rule; border-radius: 4px;
  font-size: 11px; padding: 2px; }
QToolButton#tile:hover { border-color: $ink2; }
QToolButton#tile:focus, QToolButton#tile:checked { border: 2px solid $selection; }
QToolButton#choosing { background: $button; border: 1px solid $rule; border-radius: 4px;
  padding: 3px 8px; min-height: 20px; }
QToolButton#choosing:hover { border-color: $ink2; }
QToolButton#choosing:focus { border: 2px solid $selection; }
QToolButton#family, QToolButton#foldedFamily { border: none; background: transparent;
  font-weight: bold; text-align: left; padding: 2px; }
QToolButton#foldedFamily { font-size: 11px; }
QToolButton#family:focus, QToolButton#foldedFamily:focus {
  border: 2px solid $selection; border-radius: 3px; padding: 0; }
QTabBar { background: $panel; }
QTabBar::tab { background: transparent; border: none; padding: 7px 12px 5px 12px; }
QTabBar::tab:selected { font-weight: bold; border-bottom: 3px solid $ink; }
QTabBar QToolButton { background: $button; border: 1px solid $rule; }
QTabBar::tab:focus { color: $selection; border-bottom: 3px solid $selection; }
QTabWidget::pane { border: none; border-top: 1px solid $rule; background: $panel; }
QTableView, QTableWidget, QListView, QTreeView { background: $panel; border: 1px solid $panel;
  alternate-background-color: $button; gridline-color: $rule;
  selection-background-color: $selection_tint; selection-color: $ink; outline: none; }
QTableView:focus, QListView:focus { border: 1px solid $selection; }
QScrollArea:focus { border: 1px solid $selection; }
QTableView::item:focus { border: 1px solid $selection; }
QTableView::item { padding: 3px 6px; border-bottom: 1px solid $rule; }
QTableView::item:selected { background: $selection_tint; color: $ink; }
QHeaderView { background: $panel; }
QHeaderView::section { background: $panel; border: none; border-bottom: 1px solid $rule;
  color: $ink2; font-style: italic; font-size: 12px; padding: 3px 9px; }
QTableCornerButton::section { background: $panel; border: none;
  border-bottom: 1px solid $rule; }
QMenu { background: $field; border: 1px solid $rule; padding: 4px; }
QMenu::item { padding: 5px 24px 5px 12px; }
QMenu::item:selected { background: $selection_tint; }
QMenu::item:disabled { color: $dead_text; }
QMenu::separator { height: 1px; background: $rule; margin: 4px 8px; }
QToolTip { background: $field; color: $ink; border: 1px solid $rule; padding: 4px; }
QScrollBar:vertical { background: transparent; width: 10px; }
QScrollBar:horizontal { background: transparent; height: 10px; }
QScrollBar::handle { background: $rule; border-radius: 4px; min-height: 24px; min-width: 24px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QSplitter::handle { background: $rule; }
QCheckBox::indicator, QRadioButton::indicator { width: 14px; height: 14px;
  border: 1px solid $ink2; background: $field; }
QCheckBox::indicator { border-radius: 3px; }
QRadioButton::indicator { border-radius: 8px; }
QCheckBox::indicator:checked { background: $ink; background-clip: content; padding: 2px;
  width: 10px; height: 10px; }
QRadioButton::indicator:checked { background: qradialgradient(cx: 0.5, cy: 0.5, radius: 0.5,
  fx: 0.5, fy: 0.5, stop: 0 $ink, stop: 0.55 $ink, stop: 0.65 $field, stop: 1 $field); }
QCheckBox::indicator:focus, QRadioButton::indicator:focus { border: 2px solid $selection; }
""")


def style_sheet(palette: Palette, text_scale: float = 1.0) -> str:
    """Return the style sheet of the window for a palette, its lettering scaled. [unitless]."""
    sheet = _SHEET.substitute({role: colour(role, palette) for role in roles()})
    return re.sub(r"(font-size|min-height): (\d+)px", lambda size: (
        f"{size[1]}: {_scaled_px(int(size[2]), text_scale)}px"), sheet)


def _scaled_px(size_px: int, text_scale: float) -> int:
    """Return a height, of lettering or of what it stands in, scaled; on tiles a little."""
    return round(size_px * (min(text_scale, TILE_SCALE) if size_px == TILE_PX else text_scale))
