"""Named errors of the model. Each carries ids; the sentence is made here and nowhere else."""

from __future__ import annotations


class ModelError(Exception):
    """Base of the model's errors: `ids` says which things, `sentence` tells a person."""

    def __init__(self, sentence: str, ids: tuple[str, ...] = ()) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.ids = ids


class UnknownKind(ModelError):
    """The component's kind is not in the catalogue."""

    def __init__(self, component: str, kind: str) -> None:
        super().__init__(f"{component}: there is no kind of part called '{kind}'.", (component,))


class UnknownField(ModelError):
    """A parameter that the kind does not have."""

    def __init__(self, component: str, kind: str, field: str) -> None:
        super().__init__(f"{component}: a {kind} has no field '{field}'.", (component,))


class BadField(ModelError):
    """A field whose value is not of the form the record asks for."""

    def __init__(self, owner: str, field: str, expected: str) -> None:
        super().__init__(f"{owner}: the field '{field}' must be {expected}.", (owner,))


class MissingReference(ModelError):
    """Something names an id that is not in the diagram."""

    def __init__(self, owner: str, field: str, target: str) -> None:
        super().__init__(
            f"{owner}: '{field}' names '{target}', which is not in the diagram.", (owner, target)
        )


class NotDrawn(MissingReference):
    """A question about an id that is not in the diagram."""

    def __init__(self, sort: str, target: str, has: tuple[str, ...] = ()) -> None:
        known = f" It has {', '.join(has)}." if has else ""
        ModelError.__init__(
            self, f"The diagram has no {sort} '{target}'.{known}", (target,))


class MissingTerminal(ModelError):
    """A conductor end names a terminal that its component does not have."""

    def __init__(self, conductor: str, component: str, terminal: str, has: tuple[str, ...]) -> None:
        listed = ", ".join(has[:8])
        super().__init__(
            f"{conductor}: {component} has no terminal '{terminal}' (it has: {listed}).",
            (conductor, component),
        )


class MissingPole(ModelError):
    """A conductor core has no counterpart at the terminal it goes to."""

    def __init__(self, conductor: str, component: str, terminal: str, core: str) -> None:
        super().__init__(
            f"{conductor}: terminal '{terminal}' of {component} takes no '{core}' core.",
            (conductor, component),
        )


class SelfJoined(ModelError):
    """A conductor whose two ends are the same terminal."""

    def __init__(self, conductor: str) -> None:
        super().__init__(f"{conductor}: both ends are on the same terminal.", (conductor,))


class SelfReference(ModelError):
    """Something that is said to be mounted on, or part of, itself."""

    def __init__(self, owner: str, field: str) -> None:
        super().__init__(f"{owner}: '{field}' leads back to itself.", (owner,))


class StaleEdit(ModelError):
    """An edit made for another state of the diagram: its 'before' is not what is there."""

    def __init__(self, collection: str, item: str) -> None:
        super().__init__(
            f"'{item}' in {collection} is not as the change expected; nothing was done.", (item,)
        )


class WrongId(ModelError):
    """A value stored under another id than its own."""

    def __init__(self, key: str, own: str) -> None:
        super().__init__(f"'{own}' stands under the id '{key}'.", (key,))


class UnreadableFile(ModelError):
    """A file that cannot be read as a diagram: says the file, the place and what was expected."""

    def __init__(self, path: str, place: str, expected: str) -> None:
        where = f"{path}, {place}" if place else path
        super().__init__(f"{where}: {expected}")
        self.path = path
        self.place = place


class UnwritableFile(ModelError):
    """A file that could not be saved; the old file stands as it was."""

    def __init__(self, path: str, reason: str) -> None:
        super().__init__(f"{path} could not be saved ({reason}). The old file is as it was.")
        self.path = path


class UnknownPosition(ModelError):
    """A switch that has no such position, or no such switch."""

    def __init__(self, handle: str, position: str, has: tuple[str, ...]) -> None:
        if has:
            sentence = f"{handle} has no position '{position}' (it has: {', '.join(has)})."
        else:
            sentence = f"'{handle}' is not a switch, breaker or fuse of this diagram."
        super().__init__(sentence, (handle,))


class QuantityError(ModelError):
    """Something typed that is not the quantity asked for."""

    def __init__(self, text: str, expected: str) -> None:
        super().__init__(f"'{text.strip()}' was typed; expected is {expected}.")
        self.text = text
        self.expected = expected


class TableRangeError(ModelError):
    """A question outside a table's range: an error, not a guess."""

    def __init__(self, table: str, asked: str, has: str) -> None:
        super().__init__(f"{table} has no figure for {asked}; it has {has}.")
        self.table = table
