"""Hazard phrases word for word, by their codes, for the agents on a grower's shelf.

Source: Regulation (EC) No 1272/2008 (CLP), annex III part 1 for H codes, annex II for EUH codes.
"""

from __future__ import annotations

PHRASES = {
    "H225": "Highly flammable liquid and vapour.",
    "H226": "Flammable liquid and vapour.",
    "H271": "May cause fire or explosion; strong oxidiser.",
    "H272": "May intensify fire; oxidiser.",
    "H290": "May be corrosive to metals.",
    "H302": "Harmful if swallowed.",
    "H304": "May be fatal if swallowed and enters airways.",
    "H312": "Harmful in contact with skin.",
    "H314": "Causes severe skin burns and eye damage.",
    "H315": "Causes skin irritation.",
    "H317": "May cause an allergic skin reaction.",
    "H318": "Causes serious eye damage.",
    "H319": "Causes serious eye irritation.",
    "H332": "Harmful if inhaled.",
    "H335": "May cause respiratory irritation.",
    "H336": "May cause drowsiness or dizziness.",
    "H400": "Very toxic to aquatic life.",
    "H410": "Very toxic to aquatic life with long lasting effects.",
    "H411": "Toxic to aquatic life with long lasting effects.",
    "H412": "Harmful to aquatic life with long lasting effects.",
    "EUH031": "Contact with acids liberates toxic gas.",
    "EUH206": "Warning! Do not use together with other products. May release dangerous gases (chlorine).",
}


def phrase(code: str) -> str:
    """The code and its phrase, as a label prints them ("H226 Flammable liquid and vapour."). KeyError when unknown."""
    return f"{code} {PHRASES[code]}"
