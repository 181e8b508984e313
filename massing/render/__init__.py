"""Pictures with Blender's Cycles: ``driver`` asks for them, ``blender`` makes them."""
