"""Taking a part out of the line it sits in: its two conductors become one again."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from msgspec import Struct
from msgspec.structs import replace

from app.drafting.cutting import field_words, made_one, path_through
from app.drafting.inserting import pieces_beside
from app.drafting.parts import routed
from app.drafting.removal import remove_edit
from app.drawing.conductors import is_drawn
from app.drawing.placing import placed_parts
from app.words import _
from model.diagram import Conductor, Diagram, SheetPath
from model.edits import Edit, apply, changed, merge, put
from model.errors import SelfJoined
from model.kinds import port_of
from model.storage.plain import natural_key


class Healed(Struct, frozen=True):
    """A conductor made whole again, and its fields that are unknown because the halves differed."""

    conductor: str
    lost: tuple[str, ...]


def remove_and_heal_edit(diagram: Diagram, items: Iterable[str]) -> Edit:
    """Return the edit that removes things; a device in a line leaves the line whole.

    What was healed, and what became unknown by it, is told in the title.
    """
    wanted = set(items)
    after, done, healed = diagram, Edit("", ()), []
    for part in sorted(wanted & set(diagram.components)):
        step = _healing(after, part, wanted)
        if step is not None:
            edit, told = step
            after, done = apply(after, edit), merge(done, edit)
            healed.append(told)
    rest = remove_edit(after, wanted)
    after = apply(after, rest)
    told_words = "".join(_told(told) for told in healed if told.conductor in after.conductors)
    label = remove_edit(diagram, wanted).label + told_words
    return replace(merge(done, rest), label=label)


def _told(healed: Healed) -> str:
    if not healed.lost:
        return _(", {wire} made whole").format(wire=healed.conductor)
    return _(", {wire} made whole; its {fields} now unknown, as the halves differed").format(
        wire=healed.conductor, fields=field_words(healed.lost))


def _healing(
    diagram: Diagram, part: str, wanted: Collection[str]
) -> tuple[Edit, Healed] | None:
    """Return the edit that joins the two conductors of a part that is to go, without the part."""
    pieces = pieces_beside(diagram, part)
    if pieces is None or {piece.id for piece in pieces} & set(wanted):
        return None
    kept, gone = sorted(pieces, key=lambda piece: natural_key(piece.id))
    if kept.cores != gone.cores:
        return None
    made, lost = made_one(kept, gone, part)
    if _is_loop(diagram, made):
        return None
    edit = Edit("", (put(diagram, "conductors", kept.id, made),
                     put(diagram, "conductors", gone.id, None)))
    try:
        after = apply(diagram, edit)
    except SelfJoined:
        return None
    parts = placed_parts(after)
    if is_drawn(made, parts):
        path = path_through(kept, gone, part) or SheetPath(points=routed(after, parts, made))
        made = changed(made, path=path)
        edit = Edit("", (put(diagram, "conductors", kept.id, made), edit.changes[1]))
    return edit, Healed(made.id, lost)


def _is_loop(diagram: Diagram, wire: Conductor) -> bool:
    """Say whether a conductor would lead from a part back to the same terminal of it."""
    first, second = (port_of(diagram.components[end.component], end.terminal)
                     for end in wire.ends())
    return wire.start.component == wire.finish.component and first == second
