"""What it checks.
Sockets in galley, heads, machinery and on deck: whether a sensitive residual-current device
protects whoever uses them.

Why it matters.
Wet hands, a kettle and a steel sink: a leak that trips nothing else kills.

Fails when.
No device of that sensitivity is in the socket, nor on every way by which a source feeds it.

Passes when.
One is.

Limits.
A socket that nothing feeds is not judged. Figures differ by rule set: 5 mA or 30 mA.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.alternating import ac_sources, terminal, unguarded
from model.diagram import Component
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.places import place_of
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, place_name, quantity

WET = ("galley", "heads", "deck", "machinery")

RULE = Rule(
    slug="wet_socket_unprotected",
    number="9.12",
    title="Sockets in wet places without person protection",
    topic="alternating",
    severity="fault",
    looks_at="each AC socket",
    subjects=lambda survey: [part for part in survey.diagram.components.values()
                             if part.kind == "ac_socket"],
    messages={"bare": "{socket} in {place} has no device that trips at a leak of {limit_ma}."},
    remedy="Fit a protected socket.",
    sources=("abyc_e11_leak", "iso_ac"),
    quiet={"upstream": "a device before it protects it", "own": "the socket has its own"},
    figures=("wet_socket_ma",),
    fix="always",
)


def check(socket: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one socket by each source that feeds it."""
    limit, graph = profile["wet_socket_ma"], survey.graph
    own, place = socket.parameters.get("ground_fault_ma"), place_of(survey.diagram, socket)
    if (own and own <= limit.value) or (place is not None and place.environment not in WET):
        return None
    live = terminal(graph, socket, "L")
    past = [unguarded(graph, source, limit.value) for source in ac_sources(graph)]
    bare = any(live in one.bare for one in past)
    unsaid = in_order({item for one in past if live in one.unsure for item in one.unsaid})
    if not bare and not unsaid:
        return None
    asked = (*((f"{socket.id}.place",) if place is None else ()),
             *((f"{socket.id}.ground_fault_ma",) if own is None else ()),
             *(f"{item}.residual_ma" for item in unsaid if not bare))
    if place is None or asked:
        return Missing(asked, (socket.id,))
    return Fault("bare", (socket.id,), {"limit_ma": limit}, {
        "socket": named(survey.diagram, [socket.id]),
        "place": place_name(survey.diagram, place.id)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a socket with such a device in it."""
    socket, limit_ma = finding.where[0], finding.figures["limit_ma"]
    title = (f"Fit a socket that trips at a leak of {quantity('ma', limit_ma, survey.diagram)} as "
             f"{named(survey.diagram, [socket])}")
    yield Fix(title, "choice", with_fields(
        survey.diagram, title, socket, ground_fault_ma=int(limit_ma)))
