"""The Timeline screen: one time axis from ten years to one evening, a lane a plant."""
