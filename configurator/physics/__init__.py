"""Pure computation of masses, road load, range, charging and performance."""
