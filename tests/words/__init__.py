"""The catalogues of words: collected from sources and records, kept in step, checked."""
