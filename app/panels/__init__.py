"""The panels round the sheet. Each knows the workspace it is given, none knows another."""
