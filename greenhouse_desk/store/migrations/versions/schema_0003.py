"""The third schema: a logger's day may tell no humidity, -1 in its packed columns. Only the number changes: a program
that knows the second would take it for a figure, and refuses the collection now."""

from __future__ import annotations

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """From schema 2: what is there is read as it was."""
