"""Sixteen invented boats and what the rule book is expected to say of each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from model.diagram import Diagram
from tests.boats.brantelle import brantelle
from tests.boats.corrowind import corrowind
from tests.boats.dabbersley import dabbersley
from tests.boats.dualcove import dualcove
from tests.boats.harrowmere import harrowmere
from tests.boats.ionetta import ionetta
from tests.boats.marrowby import marrowby
from tests.boats.oldenmere import oldenmere
from tests.boats.patchwick import patchwick
from tests.boats.plimsey import plimsey
from tests.boats.refitta import refitta
from tests.boats.skimmel import skimmel
from tests.boats.steenvaart import steenvaart
from tests.boats.tessavane import tessavane
from tests.boats.tidewright import tidewright
from tests.boats.voltrane import voltrane
from tests.papered import papered

MADE = (
    marrowby, tessavane, plimsey, corrowind, brantelle, oldenmere, ionetta, dabbersley,
    harrowmere, voltrane, refitta, steenvaart, skimmel, dualcove, patchwick, tidewright,
)


def _with_papers(make: Callable[[], Diagram]) -> Diagram:
    """Return a boat whose papers are in order: they are not what it is about."""
    return papered(make())


BOATS: Mapping[str, Callable[[], Diagram]] = {
    make.__name__: partial(_with_papers, make) for make in MADE}
