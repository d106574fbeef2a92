"""The Quarantine screen: how plants stand, traces over time, rounds of looks, outbreaks, buying and trading."""
