"""The owner's own figure in place of a rule set's: which, how much, and why."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QWidget,
)

from app.panels.lettering import scaled
from app.typed import read_quantity
from app.words import _, decimal
from model.diagram import Override
from model.units import QuantityError
from rules.profiles import MOST, Figure

WIDTH_PX = 680
UNITS = {"": "", "°C": "C", "mm²": "mm2"}  # as a profile writes them, and as they are typed


class OwnFigureDialog(QDialog):
    """Asks for a figure, its value and the reason; `own` holds them once accepted."""

    def __init__(self, figures: Sequence[Figure], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(_("Use another figure"))
        self.resize(scaled(WIDTH_PX), 0)
        self._figures = figures
        self.own: tuple[str, Override] | None = None
        self.which = QComboBox()
        self.which.setAccessibleName(_("The figure"))
        self.which.addItems([" ".join((
            _(figure.sentence), decimal(f"{figure.value:g}"), figure.unit)).strip()
            for figure in figures])
        self.which.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.value = QLineEdit()
        self.value.setAccessibleName(_("Your value"))
        self.reason = QLineEdit()
        self.reason.setAccessibleName(_("Why"))
        self.reason.setPlaceholderText(_("A maker's sheet, a surveyor's word, a local rule"))
        self.wrong = QLabel()
        self.wrong.setObjectName("wrong")
        self.wrong.setWordWrap(True)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok
                                   | QDialogButtonBox.StandardButton.Cancel)
        buttons.accepted.connect(self._take)
        buttons.rejected.connect(self.reject)
        form = QFormLayout(self)
        form.addRow(_("Figure"), self.which)
        form.addRow(_("Your value"), self.value)
        form.addRow(_("Why"), self.reason)
        form.addRow(self.wrong)
        form.addRow(buttons)

    def _take(self) -> None:
        """Take what was typed, or say what is wrong with it and keep the dialog open."""
        figure = self._figures[self.which.currentIndex()]
        try:
            value = read_quantity(self.value.text(), UNITS.get(figure.unit, figure.unit))
        except QuantityError as error:
            self.wrong.setText(str(error))
            return
        most = MOST[figure.name.rpartition("_")[2]]
        if not 0 < value <= most:
            self.wrong.setText(_("A value above 0 and at most {most} is expected.").format(
                most=f"{most:g}"))
        elif not self.reason.text().strip():
            self.wrong.setText(_("A reason is needed: it stands beside every finding it decides."))
        else:
            self.own = (figure.name, Override(value=value, reason=self.reason.text().strip()))
            self.accept()
