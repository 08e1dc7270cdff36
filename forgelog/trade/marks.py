"""Heats that have a name in the shop or in the steel, degC."""

from __future__ import annotations

BLACK_DEGC = 480.0
"""No colour in shop light below this. Common practice."""

HAND_WARM_DEGC = 45.0
"""Hand-warm. Common practice; a piece at hand-warm by the sum may still burn."""

HOTTEST_DEGC = 1350.0
"""Curves begin here, at the surface; steel hotter than this burns."""

PEARLITE_DONE_DEGC = 540.0
"""Below this a plain or low-alloy steel has finished its change in still air.

Source: Bain and Davenport, Trans. AIME 90 (1930) 117; Atlas of Isothermal Transformation
Diagrams, 1977 (from memory).
"""
