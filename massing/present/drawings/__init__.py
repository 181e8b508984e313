"""Drawings to scale for the builder: sheets, profiles at full size, and their writers."""
