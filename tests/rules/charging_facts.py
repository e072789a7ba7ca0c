"""What is recorded of the chargers and alternators of the tidy boats."""

from __future__ import annotations

from typing import Any

CHARGER: dict[str, Any] = {
    "output_v": 12, "absorption_v": 14.4, "float_v": 13.3, "sense": "own_terminal",
    "temperature_compensation": False}
CHARGER_24 = {**CHARGER, "output_v": 24, "absorption_v": 28.8, "float_v": 26.6}
CHARGER_48 = {**CHARGER, "output_v": 48, "absorption_v": 56.8, "float_v": 54}
SHORE: dict[str, Any] = {**CHARGER, "case_terminal": False}
SHORE_48 = {**CHARGER_48, "case_terminal": False}
ALTERNATOR: dict[str, Any] = {
    "nominal_v": 12, "set_v": 14.4, "regulation": "internal", "sense": "machine"}
RELAY: dict[str, Any] = {"close_delay_s": 30}
MANAGED: dict[str, Any] = {
    "management": "internal", "alarm": "sounder", "reports_state_of_charge": True,
    "cold_charge_cutoff": True}
