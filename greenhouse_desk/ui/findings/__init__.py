"""Findings: what the collection teaches, as charts that say what they rest on."""
