"""Running ngspice on a netlist, and keeping its answers so that the check runs without it.

`python -m tests.reference.spice.run` computes the stored answers again.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import tempfile
from importlib.resources import files
from pathlib import Path

from tests.reference.spice.generated import COUNT, full_engine_battery, generated
from tests.reference.spice.netlist import Boat, Spice

DEMOS: dict[str, dict[str, str]] = {"steel_cutter": {}, "weekend_sloop": {"Q1": "1"}}
STORED = Path(__file__).with_name("answers.json")


def pinned(spice: Spice) -> dict[str, str]:
    """Return, for each node, the node of its island that is held at zero."""
    parent = {node: node for node in spice.nodes}

    def root(node: str) -> str:
        while parent[node] != node:
            parent[node] = parent[parent[node]]
            node = parent[node]
        return node

    for a, b in spice.joined:
        parent[root(a)] = root(b)
    return {node: root(node) for node in spice.nodes}


OPTIONS = ".options reltol=1e-9 abstol=1e-12 vntol=1e-12 gmin=1e-15 itl1=5000"
TRANSIENT = ".options reltol=1e-7 abstol=1e-9 vntol=1e-9 gmin=1e-15 method=gear"
NODE_FARAD, SETTLED_S = 1e-2, 20


def circuit(spice: Spice) -> list[str]:
    """Return the elements, with one node of each island held at zero."""
    home = pinned(spice)
    pins = [f"v_pin{n} {node} 0 0" for n, node in enumerate(sorted(set(home.values())))]
    return ["* a boat", *spice.lines, *pins]


def operating_point_text(spice: Spice, start: dict[str, float]) -> str:
    """Return the netlist whose operating point is wanted."""
    lines = circuit(spice)
    lines += [f".nodeset v({node})={value:.12g}" for node, value in start.items()]
    lines += [OPTIONS, ".control", "set numdgt=12", "op"]
    lines += [f"print v({node})" for node in spice.nodes]
    lines += [f"print @{name}[i]" for name in spice.conductors.values()]
    return "\n".join([*lines, ".endc", ".end", ""])


def settling_text(spice: Spice, start: dict[str, float]) -> str:
    """Return the netlist that lets a capacitor on every node settle, for a better start."""
    home = pinned(spice)
    lines = circuit(spice)
    lines += [f"c_{n} {node} 0 {NODE_FARAD}" for n, node in enumerate(spice.nodes)
              if node != home[node]]
    lines += [f".ic v({node})={value:.12g}" for node, value in start.items()]
    lines += [TRANSIENT, f".tran {SETTLED_S / 50} {SETTLED_S} uic",
              ".control", "set numdgt=12", "run"]
    lines += [f"print v({node})[length(time)-1]" for node in spice.nodes]
    return "\n".join([*lines, ".endc", ".end", ""])


def starts(spice: Spice) -> dict[str, float]:
    """Return volts to start from: those of the source each node hangs on, the EMF side."""
    near: dict[str, list[str]] = {node: [] for node in spice.nodes}
    for line in spice.lines:
        if line.startswith("r_"):
            _, a, b, _ = line.split()
            near[a].append(b)
            near[b].append(a)
    volts = dict.fromkeys(spice.nodes, 0.0)
    for node, emf in [*spice.nodes.items(), *spice.held.items()]:
        stack = [node] if emf else []
        while stack:
            here = stack.pop()
            if not volts[here]:
                volts[here] = emf
                stack += near[here]
    return volts


def answer(spice: Spice) -> dict[str, float]:
    """Return ngspice's volts by node and amperes by conductor ("a:W1").

    Where its plain operating point does not converge, every node is given a capacitor, a
    transient run settles, and the operating point starts from there: first with what hangs on a
    converter at its EMF again, since a constant-power load has a collapsed answer too, which the
    transient may have fallen into.
    """
    first = starts(spice)
    found = _read(operating_point_text(spice, first), spice)
    if _is_whole(found, spice):
        return found
    settled = _read(settling_text(spice, first), spice)
    lifted = {node: first[node] if first[node] and value < 0.7 * first[node] else value
              for node, value in settled.items() if node in first}
    for start in (lifted, settled):
        found = _read(operating_point_text(spice, start), spice)
        if _is_whole(found, spice):
            return found
    return {}


def _is_whole(found: dict[str, float], spice: Spice) -> bool:
    return all(node in found for node in spice.nodes)


def _read(text: str, spice: Spice) -> dict[str, float]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "boat.cir"
        path.write_text(text)
        said = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True,
                              timeout=120, check=False).stdout
    found: dict[str, float] = {}
    wires = {f"@{name}[i]".lower(): wire for wire, name in spice.conductors.items()}
    for line in said.splitlines():
        left, equals, right = line.partition(" = ")
        key = left.strip().lower()
        if not equals:
            continue
        if key.startswith("v("):
            found[key[2:key.index(")")]] = float(right)
        elif key in wires:
            found[f"a:{wires[key]}"] = float(right)
    return found


def is_installed() -> bool:
    """Say whether ngspice can be run here."""
    return shutil.which("ngspice") is not None


def stored() -> dict[str, dict[str, float]]:
    """Return the stored answers by the seed of their boat."""
    answers: dict[str, dict[str, float]] = json.loads(STORED.read_text("utf-8"))
    return answers


def demo_text(name: str) -> str:
    """Return the text of a demo boat."""
    return files("assets").joinpath("demo", f"{name}.loom").read_text("utf-8")


def demo_netlist(name: str) -> Spice:
    """Return a demo's netlist at anchor: engines stopped, no shore power, sun and wind."""
    return Boat(demo_text(name), DEMOS[name], engines_run=False).write()


def main() -> None:
    """Compute all answers and store them."""
    answers = {str(seed): answer(Boat(generated(seed)).write()) for seed in range(COUNT)}
    answers |= {name: answer(demo_netlist(name)) for name in DEMOS}
    answers["full_engine_battery"] = answer(Boat(full_engine_battery()).write())
    rounded = {seed: {k: float(f"{v:.9g}") for k, v in found.items()}
               for seed, found in answers.items()}
    STORED.write_text(json.dumps(rounded, separators=(",", ":")) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
