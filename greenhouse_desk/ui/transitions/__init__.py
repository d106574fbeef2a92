"""The Transitions screen: courses on a calendar, verdicts, forecasts, what is coming."""
