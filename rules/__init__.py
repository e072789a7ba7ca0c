"""The rule book: what is checked, why, and by which source. Knows no screen."""
