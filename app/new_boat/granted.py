"""What a new boat takes for granted until its owner has looked: one list, shown beside the sheet.

Nothing of it can be asked at a table: it is measured aboard, or read on a plate.
"""

from __future__ import annotations

GRANTED = (
    "Lengths of cable are estimated from the boat's length: measure them aboard.",
    "Currents and ratings are usual ones of the kind: read the plates of your own.",
    "Batteries are held down, covered and vented, with no fuel gear over or under them.",
    "Cables are stranded, made for 105 °C, and keep out of the bilge and away from fuel.",
    "The engine stops by hand and runs on without current.",
    "A jump pack and a handheld radio are aboard.",
)
