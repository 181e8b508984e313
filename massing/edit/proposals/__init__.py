"""Better porches for a scene in hand: a space of them, measured, the best of each kind.

``limits`` says what is allowed, ``space`` sets out every porch by columns of numbers and leaves
out what no canon bears, ``search`` resolves and measures the rest, ``front`` keeps what nothing
betters, ``kinds`` picks of it a few that differ in kind, ``sayings`` says why, ``writing`` puts
them into the scene, and ``shadow_wanted`` goes the other way round, from a shadow to the sizes
that throw it.
"""
