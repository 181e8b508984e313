"""Proposals shown: small line elevations with their shadows, a sheet of them, the front."""
