"""The list of sizes of a conductor, each with what it would mean, to pick one from."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu, QToolButton, QWidget

from app.drawing.wording import designation
from app.panels.both_systems import nearest
from app.panels.fields import Setter
from app.panels.form_fields import size_shown
from app.words import _, decimal
from model.diagram import Conductor, Diagram, Size

if TYPE_CHECKING:
    from rules.size_choices import SizeChoice

FAR_TOO_MUCH_PERCENT = 50  # beyond this the load draws less, and the figure would say nothing


def sizes_button(diagram: Diagram, wire: Conductor, setter: Setter) -> QToolButton:
    """Return the button beside the size's field that opens the list."""
    button = QToolButton()
    button.setText(_("Sizes"))
    button.setObjectName("choosing")
    button.setToolTip(_("What each size would mean here: amperes, fuse, drop"))
    button.setAccessibleName(_("Choose a size"))

    def show() -> None:
        menu = size_menu(diagram, wire, choices_for(diagram, wire), lambda size: setter(
            size_shown(size), wire.known.get("size")), button)
        menu.exec(button.mapToGlobal(button.rect().bottomLeft()))
        menu.deleteLater()

    button.clicked.connect(show)
    return button


def choices_for(diagram: Diagram, wire: Conductor) -> tuple[SizeChoice, ...]:
    """Return what each size would mean in the diagram as it is."""
    from model.survey import Survey  # asked for by a click; a start can do without
    from rules.profiles import profile_of
    from rules.size_choices import size_choices

    return size_choices(Survey(diagram), wire.id, profile_of(diagram.boat))


def size_menu(
    diagram: Diagram, wire: Conductor, choices: Iterable[SizeChoice],
    take: Callable[[Size], object], parent: QWidget,
) -> QMenu:
    """Return the menu: first what is asked of the conductor, then the sizes that are not
    enough for it and those that are.
    """
    listed = tuple(choices)
    menu = QMenu(parent)
    menu.setAccessibleName(_("Sizes of {wire}").format(wire=designation(wire)))
    menu.addAction(asked(listed)).setEnabled(False)
    for title, suits in ((_("Not enough for that"), False), (_("Enough"), True)):
        group = [choice for choice in listed if choice.suits is suits]
        if group:
            menu.addSeparator()
            menu.addAction(title).setEnabled(False)
        for choice in group:
            action = menu.addAction(
                f"{size_shown(choice.size)}   {nearest(choice.size)}\t{meaning(diagram, choice)}",
                partial(take, choice.size))
            action.setCheckable(True)
            action.setChecked(choice.size == wire.size)
    return menu


def asked(choices: tuple[SizeChoice, ...]) -> str:
    """Return what is asked of a conductor, in words."""
    first = choices[0]
    parts = [_("{amperes} A runs through it").format(amperes=_figure(first.needs_a))
             if first.needs_a is not None
             else _("What runs through it is not known")]
    if first.guard_a is not None:
        parts.append(_("behind {amperes} A").format(amperes=_figure(first.guard_a)))
    if first.unrated:
        parts.append(_("as the rating of {devices} is not known").format(
            devices=", ".join(first.unrated)))
    return ", ".join(parts)


def meaning(diagram: Diagram, choice: SizeChoice) -> str:
    """Return what a size would mean, in words."""
    parts = []
    if choice.carries_a is None:
        parts.append(_("carries ? A"))
    else:
        parts.append(_("carries {amperes} A").format(amperes=_figure(choice.carries_a)))
    if choice.device_a is not None:
        parts.append(_("fuse up to {amperes} A").format(amperes=_figure(choice.device_a)))
    if choice.drop_percent is not None:
        part = diagram.components[choice.item]
        drop = (decimal(f"{choice.drop_percent:.1f} %")
                if choice.drop_percent <= FAR_TOO_MUCH_PERCENT
                else _("over {percent} %").format(percent=FAR_TOO_MUCH_PERCENT))
        parts.append(
            _("drop {drop} at {part} (may be {limit} %)").format(
                drop=drop, part=designation(part), limit=decimal(f"{choice.limit_percent:g}")))
    return " · ".join(parts)


def _figure(value: float) -> str:
    return decimal(f"{value:.3g}" if value < 100 else f"{value:.0f}")
