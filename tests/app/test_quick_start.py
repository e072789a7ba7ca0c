"""A quick start leaves the collector as it found it."""

from __future__ import annotations

import gc

import pytest

from app.quick_start import quick_start


def test_the_collector_rests_only_while_modules_load(monkeypatch):
    monkeypatch.setattr(gc, "freeze", lambda: None)
    with quick_start():
        assert not gc.isenabled()
    assert gc.isenabled()


def test_a_module_that_fails_to_load_leaves_the_collector_at_work(monkeypatch):
    monkeypatch.setattr(gc, "freeze", lambda: None)
    with pytest.raises(ImportError), quick_start():
        raise ImportError
    assert gc.isenabled()
