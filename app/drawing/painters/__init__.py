"""Painters: each turns marks into one medium and knows no components."""
