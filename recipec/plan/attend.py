"""Whether a task asks for the cook: in a module of its own, since the check of a dish needs no more of the timeline."""

from __future__ import annotations

from enum import StrEnum


class Attend(StrEnum):
    """What a task asks of the cook. HANDS: one pair of hands all through. REACH: no hands, but a cook on site all through. ALONE: nobody;
    it may run through the night where all its gear may."""

    HANDS = "attended"
    REACH = "within reach"
    ALONE = "alone"
