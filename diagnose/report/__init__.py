"""A diagnosis as text for people: no calculation, no printing."""
