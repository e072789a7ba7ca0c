"""Roles and their colours. Painters ask for a role; no other module knows a colour value."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

Palette = Literal["day", "dusk", "night", "grey", "night_80", "night_60", "night_40"]
PALETTES: tuple[Palette, ...] = ("day", "dusk", "night", "grey")
# Night as bright as it is, then dimmed: each role's light multiplied by so much.
DIMMED: Mapping[Palette, float] = {"night_80": 0.8, "night_60": 0.6, "night_40": 0.4}
NIGHTS: tuple[Palette, ...] = ("night", *DIMMED)

# role: day, dusk, night, grey print
_TABLE = """
paper             FCF9F1 1B2730 120505 FFFFFF
desk              CFD3CF 101920 070202 EDEDED
body              FFFFFF 15202A 0C0303 FFFFFF
ink               14212B E6DECB E4634B 000000
ink2              4A5860 A9B2B2 D25640 3A3A3A
hair              9AA3A3 5D6C74 5A2018 8A8A8A
positive          A81E22 F0836F C8452F 000000
busbar            B8474A C9604F 8E2C1C 000000
negative          14212B E6DECB C04A36 000000
ac                7A4310 D9A066 B8541E 222222
control           0F6670 6FC3C9 BA524C 333333
bonding           2F6B2A 8CC27C B05C2C 333333
magenta           A3005A F58CC0 FF8D75 000000
magenta_tint      F6DDE9 3D2433 33100C E8E8E8
violet            5A2A91 BFA0F0 E8758C 000000
selection         0A5A8C 7CC4EE F79A80 3A3A3A
selection_tint    CFE3F0 22455A 3A110B E8E8E8
dead              A4A9A6 56636B 54211A A8A8A8
dead_text         5F6663 85939A A64434 6A6A6A
hint              5F6663 93A1A8 D0553F 6A6A6A
engine_tint       F5E6C0 2F2C22 1F0A07 EBEBEB
engine_edge       9A7B2E A58C4D 8E3A28 333333
engine_name       74591A B89E5E CC523B 222222
dry_tint          F6F1E4 202D36 170706 FFFFFF
dry_edge          8A8675 6F7C82 6A281C 777777
dry_name          676353 9AA6AB CC523B 555555
outdoors_tint     DCEBF3 1A3444 1A0A0C F5F5F5
outdoors_edge     4C7F9C 5D9BBB 8E343A 333333
outdoors_name     2C617F 74B0CE CC523B 222222
bilge_tint        DEE9D2 22352C 1B0B06 F0F0F0
bilge_edge        5E7F49 7BA067 863E1C 333333
bilge_name        44632F 93B880 CC523B 222222
band_H            F0B429 6B4E0C 5A1E0C C8C8C8
band_E            E58A4B 70401C 4E200A D4D4D4
band_P            F7DD4F 55541A 5A300C DDDDDD
band_W            8CC7D9 1F566B 3F1414 E0E0E0
band_S            C9A27A 5B4632 46200F CCCCCC
band_A            E9C46A 6B5A1C 52260E D0D0D0
band_N            B9C6A8 3E4E36 331410 E0E0E0
panel             F1ECDF 18232C 0E0404 FFFFFF
field             FFFDF7 111B22 080202 FFFFFF
button            FAF6EA 22303A 1C0807 FFFFFF
rule              B9B29D 3C4C57 4A1A13 777777
bar               14303F 0C141A 050101 000000
bar_text          F3EEDD E6DECB E4634B FFFFFF
bar_text2         A9BBC2 8FA0A8 D25640 CCCCCC
bar_dim           67808C 586872 A64434 8A8A8A
primary           14303F 2B5670 4A1710 000000
primary_text      F3EEDD E6DECB FF8D75 FFFFFF
white             FFFFFF 15202A 0C0303 FFFFFF
"""


def _parsed() -> Mapping[Palette, Mapping[str, str]]:
    rows = [row.split() for row in _TABLE.strip().splitlines()]
    parsed: dict[Palette, Mapping[str, str]] = {
        palette: {row[0]: f"#{row[1 + column]}" for row in rows}
        for column, palette in enumerate(PALETTES)
    }
    night = parsed["night"]
    for palette, share in DIMMED.items():
        parsed[palette] = {role: _dimmed(shade, share) for role, shade in night.items()}
    return parsed


def _dimmed(shade: str, share: float) -> str:
    channels = (round(share * int(shade[at:at + 2], 16)) for at in (1, 3, 5))
    return "#" + "".join(f"{channel:02X}" for channel in channels)


_COLOURS = _parsed()


def colour(role: str, palette: Palette = "day") -> str:
    """Return the colour of a role as #RRGGBB; raise KeyError for a role that is not there."""
    return _COLOURS[palette][role]


def roles() -> tuple[str, ...]:
    """Return all roles."""
    return tuple(_COLOURS["day"])
