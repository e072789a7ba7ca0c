"""What it checks.
Sockets in galley, heads, machinery and on deck: whether a sensitive residual-current device
protects whoever uses them.

Why it matters.
Wet hands, a kettle and a steel sink: a leak that trips nothing else kills.

Fails when.
No device of that sensitivity is in the socket or before it.

Passes when.
One is.

Limits.
Sockets whose place is not recorded are not judged. Figures differ by rule set: 5 mA or 30 mA.
"""

from __future__ import annotations

from model.analysis.alternating import ac_sources, protected_by, terminal
from model.diagram import Component
from model.survey import Survey
from rules.ordering import in_order
from rules.places import place_of
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named, place_name

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
)


def check(socket: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one socket."""
    place = place_of(survey.diagram, socket)
    if place is None or place.environment not in WET:
        return None
    limit, graph = profile["wet_socket_ma"], survey.graph
    own = socket.parameters.get("ground_fault_ma")
    ways = [protected_by(graph, source.live).get(terminal(graph, socket, "L"))
            for source in ac_sources(graph)]
    edges = {edge.item: edge.device.get("residual_ma") for way in ways if way for edge in way}
    trips = [own, *edges.values()]
    if any(trip and trip <= limit.value for trip in trips):
        return None
    if own is None:
        return Missing((f"{socket.id}.ground_fault_ma",), (socket.id,))
    unsaid = in_order(item for item, trip in edges.items() if trip is None)
    if unsaid:
        return Missing(tuple(f"{item}.residual_ma" for item in unsaid), (socket.id, *unsaid))
    return Fault("bare", (socket.id,), {"limit_ma": limit}, {
        "socket": named(survey.diagram, [socket.id]),
        "place": place_name(survey.diagram, place.id)})
