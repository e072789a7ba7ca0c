"""Checks of the alternating-current side: shore, generating set, inverter."""
