"""From lights that misbehave to the places that could be at fault.

suspect   one place that could be at fault, what it would do, and how likely it is
opening   a contact, foot or strip that does not conduct although it is drawn so
bridging  two things that conduct although they are drawn apart
"""

from __future__ import annotations

from .suspects import Suspect, Symptoms, find_suspects
from .wiring import Wiring

__all__ = ["Suspect", "Symptoms", "Wiring", "find_suspects"]
