"""Asks by which kind a part is to be replaced, and tells beforehand what is kept."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.drafting.replacing import Plan
from app.drawing.theme import Palette
from app.panels.badge_picture import whole_icon
from app.panels.lettering import scaled
from app.panels.locker import kind_picture
from app.words import N_, _, ngettext
from model.diagram import Diagram
from model.kinds import catalogue, kind_of

REGULATOR = Plan("regulator", {}, (), 0, ())
REGULATOR_TITLE = N_("Alternator with external regulator")
REGULATOR_WORDS = N_("The alternator stays with its conductors. A regulator is placed beside it "
                     "and joined to its field; lead its supply, negative and sense yourself.")
ICON_W, ICON_H = 44, 34
WIDTH_PX, LEAST_ROWS, MOST_ROWS = 480, 4, 12


class ReplaceDialog(QDialog):
    """A list of kinds that fit; below it what the chosen one keeps and what it cannot."""

    def __init__(
        self, parent: QWidget, diagram: Diagram, part: str, plans: Sequence[Plan],
        palette: Palette = "day",
    ) -> None:
        super().__init__(parent)
        component = diagram.components[part]
        self.setWindowTitle(
            _("Replace {part} by").format(part=component.designation or part))
        self._plans = list(plans)
        if component.kind == "alternator" and component.parameters.get("regulation") != "external":
            self._plans.insert(0, REGULATOR)
        self.kinds = QListWidget()
        self.kinds.setAccessibleName(_("Kinds that fit"))
        self.kinds.setIconSize(QSize(ICON_W, ICON_H))
        for plan in self._plans:
            self.kinds.addItem(QListWidgetItem(
                whole_icon(kind_picture(plan.kind, ICON_W, ICON_H, palette)), _title(plan)))
        rows = min(max(len(self._plans), LEAST_ROWS), MOST_ROWS)
        self.kinds.setMinimumHeight(rows * (ICON_H + 2) + 4)
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setMinimumHeight(scaled(72))
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
        buttons = QDialogButtonBox()
        replace = buttons.addButton(_("Replace"), QDialogButtonBox.ButtonRole.AcceptRole)
        buttons.addButton(QDialogButtonBox.StandardButton.Cancel)
        replace.setEnabled(bool(self._plans))
        replace.setDefault(True)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        lead = QLabel(", ".join(filter(None, (_(kind_of(component).title), component.name))))
        lead.setObjectName("sectionName")
        lead.setWordWrap(True)
        column.addWidget(lead)
        column.addWidget(self.kinds, 1)
        column.addWidget(self.words)
        column.addWidget(buttons)
        self.kinds.currentRowChanged.connect(self._tell)
        self.kinds.itemActivated.connect(self.accept)
        self.kinds.setCurrentRow(0)
        self.resize(scaled(WIDTH_PX), column.totalHeightForWidth(scaled(WIDTH_PX)))
        if not self._plans:
            self.words.setText(_("No other kind takes these conductors."))

    def plan(self) -> Plan | None:
        """Return the chosen plan."""
        row = self.kinds.currentRow()
        return self._plans[row] if 0 <= row < len(self._plans) else None

    def _tell(self, _row: int) -> None:
        plan = self.plan()
        if plan is not None:
            self.words.setText(_(REGULATOR_WORDS) if plan is REGULATOR else plan.words())


def _title(plan: Plan) -> str:
    if plan is REGULATOR:
        return _(REGULATOR_TITLE)
    loose = len(plan.loose)
    title = _(catalogue()[plan.kind].title)
    if not loose:
        return title
    return f"{title}   " + ngettext("{loose} loose end", "{loose} loose ends", loose).format(
        loose=loose)


def chosen_plan(
    parent: QWidget, diagram: Diagram, part: str, plans: Sequence[Plan], palette: Palette
) -> Plan | None:
    """Return the plan the owner chose, or None."""
    dialog = ReplaceDialog(parent, diagram, part, plans, palette)
    accepted = dialog.exec() == QDialog.DialogCode.Accepted
    plan = dialog.plan() if accepted else None
    dialog.deleteLater()
    return plan
