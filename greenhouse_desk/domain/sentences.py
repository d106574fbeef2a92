"""Words put together as sentences."""

from __future__ import annotations


def capital(words: str) -> str:
    """Words as a sentence begins; the rest stays as it is, names and numbers included."""
    return words[:1].upper() + words[1:]
