"""Data shipped with the program: tables, profiles, fonts, schema, demo boats."""
