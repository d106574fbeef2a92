"""Greenhouse Desk: a desktop manager for a numbered orchid collection."""

__version__ = "0.1.0"
