"""How diagrams are kept: files, schema, journal and recovery, locks."""

from model.storage.load import load, loads
from model.storage.save import dumps, save

__all__ = ["dumps", "load", "loads", "save"]
