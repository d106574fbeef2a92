"""Tests of the invented collection."""
