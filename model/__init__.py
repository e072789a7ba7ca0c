"""The diagram, its kinds, edits, storage and electrical analysis. Knows no rule and no screen."""
