"""How a form asks what an own word for a pest or disease names; on every screen in the same words."""

from __future__ import annotations

from typing import Any

from greenhouse_desk.domain.own_words import OwnKind
from greenhouse_desk.ui.forms import Field, Input

OWN = "own"
OWN_CHOICES: tuple[tuple[str, Any], ...] = (("not told", None), *((kind.value, kind) for kind in OwnKind))
OWN_FIELD = Field(OWN, Input.CHOICE, "Your own word names", "Asked once for each word that is not in the list.",
                  choices=OWN_CHOICES)
