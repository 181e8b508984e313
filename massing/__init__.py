"""Parametric porches and houses in true daylight: meshes, proportions, shadows, pictures."""

__version__ = "0.1.0"
