"""Eight invented boats and what the rule book is expected to say of each."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from model.diagram import Diagram
from tests.boats.brantelle import brantelle
from tests.boats.corrowind import corrowind
from tests.boats.dabbersley import dabbersley
from tests.boats.ionetta import ionetta
from tests.boats.marrowby import marrowby
from tests.boats.oldenmere import oldenmere
from tests.boats.plimsey import plimsey
from tests.boats.tessavane import tessavane

BOATS: Mapping[str, Callable[[], Diagram]] = {
    "marrowby": marrowby,
    "tessavane": tessavane,
    "plimsey": plimsey,
    "corrowind": corrowind,
    "brantelle": brantelle,
    "oldenmere": oldenmere,
    "ionetta": ionetta,
    "dabbersley": dabbersley,
}
