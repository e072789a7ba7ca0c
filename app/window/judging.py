"""What the window does about notices: fixes shown and done, acceptances, what a check says."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from app.drawing.sheet import sheet_drawing
from app.words import _
from model.edits import apply, setting
from model.errors import ModelError

if TYPE_CHECKING:
    from app.window.main_window import MainWindow
    from model.diagram import Diagram, Override
    from model.survey import Survey
    from rules.rule import Finding, Fix



class Judging:
    """Joins the notices to the diagram of one window."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self._surveyed: tuple[Diagram, Survey] | None = None
        notices = window.foot.notices
        notices.offers = self.offers
        window.particulars.notice_wanted.connect(self.show_notice)
        notices.page.fix_wanted.connect(self.fix)
        notices.page.fix_pointed.connect(self.show_fix)
        notices.page.explain_wanted.connect(window.commands.explain)
        notices.page.accept_wanted.connect(self.ask_reason)
        notices.page.withdraw_wanted.connect(self.withdraw)
        notices.page.figure_wanted.connect(self.ask_figure)

    def show_notice(self, finding: Finding) -> None:
        """Show a finding in the notices, in full."""
        foot = self._window.foot
        foot.show()
        foot.setCurrentWidget(foot.notices)
        foot.notices.choose(finding)

    def offers(self, finding: Finding) -> Sequence[Fix]:
        """Return the fixes for a finding of the present diagram."""
        from rules.engine import fixes_of

        return fixes_of(finding, self._survey())

    def _survey(self) -> Survey:
        """Return the survey of the present diagram, kept while several notices are looked at."""
        from model.survey import Survey

        diagram = self._window.workspace.diagram
        if self._surveyed is None or self._surveyed[0] is not diagram:
            self._surveyed = (diagram, Survey(diagram))
        return self._surveyed[1]

    def fix(self, fix: Fix) -> None:
        """Do a fix as one step."""
        from app.drafting.fixes import drawn_edit

        self.show_fix(None)
        try:
            edit = drawn_edit(self._window.workspace.diagram, fix.edit)
        except ModelError as error:
            self._window.say(error.sentence)
            return
        if self._window.desk.do(edit):
            self._window.say(_("Done: {step}. Undo takes it back.").format(step=fix.title))
        self._window.foot.notices.table.setFocus()  # the button that was pressed is gone

    def show_fix(self, fix: Fix | None) -> None:
        """Show on the sheet what a fix would do, or nothing more."""
        scene, diagram = self._window.scene, self._window.workspace.diagram
        if fix is None or self._window.view.is_operating:
            scene.preview(())
            return
        from app.drafting.fixes import drawn_edit

        try:
            after = sheet_drawing(apply(diagram, drawn_edit(diagram, fix.edit)))
        except ModelError:
            return
        changed = [item for key, item in after.items.items()
                   if scene.drawing.items.get(key) != item and not key.startswith("badge:")]
        scene.preview([mark for item in changed for mark in item.marks],
                      {item.item for item in changed})

    def ask_reason(self, finding: Finding) -> None:
        """Ask why a finding is accepted, and accept it for that reason."""
        from app.window.accepting import AcceptDialog

        asking = AcceptDialog(finding.message, self._window)
        is_given, reason = bool(asking.exec()), asking.reason
        asking.deleteLater()
        if is_given and reason:
            self.accept(finding, reason)
        elif is_given:
            self._window.say(_("Nothing was accepted: a reason is needed."))

    def accept(self, finding: Finding, reason: str) -> None:
        """Accept a finding for a reason, today, by whoever draws."""
        from app.drafting.acceptances import accept_edit

        diagram = self._window.workspace.diagram
        today = date.today().isoformat()
        self._window.desk.do(accept_edit(diagram, finding, reason, diagram.boat.drawn_by, today))

    def ask_figure(self, rule: str) -> None:
        """Ask for the owner's own figure in place of one that a check reads."""
        from app.window.own_figure import OwnFigureDialog
        from rules.book import find
        from rules.profiles import profile_of

        found = find(rule)
        figures = profile_of(self._window.workspace.diagram.boat)
        if found is None or not found.record.figures:
            self._window.say(_("This check reads no figure of the rule set."))
            return
        dialog = OwnFigureDialog([figures[name] for name in found.record.figures], self._window)
        if dialog.exec() and dialog.own is not None:
            self.use_figure(*dialog.own)

    def use_figure(self, name: str, own: Override) -> None:
        """Put the owner's figure in place of the rule set's."""
        diagram = self._window.workspace.diagram
        boat = diagram.boat.changed(overrides=diagram.boat.overrides.with_item(name, own))
        self._window.desk.do(setting(diagram, "Use another figure", boat))

    def withdraw(self, acceptance: str) -> None:
        """Take an acceptance back."""
        from app.drafting.acceptances import withdraw_edit

        self._window.desk.do(withdraw_edit(self._window.workspace.diagram, acceptance))
