"""The scene file: its fields, reading it, and resolving it to a design."""
