"""Tests, one folder for each room."""
