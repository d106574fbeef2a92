"""The bench screen: choosing plants, the evening plan, and the full-screen wet-hands mode."""
