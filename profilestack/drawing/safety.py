"""The usual cautions that stand on every printed sheet.

Common practice, and OSHA 3157 (router section: kickback from feeding too fast or the wrong way,
poor fixing, speed too high), 29 CFR 1910.213(a) and 1910.95, HSE Woodworking Information Sheet 18
(guards, pressure pads, less depth per cut gives fewer kickbacks).
"""

from __future__ import annotations

USUAL_CAUTIONS: tuple[str, ...] = (
    "Local rules, the maker's marked limits and a qualified operator come first.",
    "Feed against the rotation.",
    "Take two or more passes with a large bit, and slow large bits down.",
    "Test the cut in scrap, well held.",
    "Back the shank 1/16 in off the collet's bottom.",
    "Guard the bit; stop it before touching.",
    "Protect eyes, ears and lungs.",
)
