"""Pictures with Blender's Cycles. The only package that imports ``bpy``.

``run``       what the rest of the library calls: shots in, finished files out (no bpy)
``worker``    the process that holds one scene and renders its shots
``scene``     a model as Blender meshes and instances
``materials`` the looks
``light``     sun and sky
``camera``    a :class:`massing.views.Camera` as Blender's
``settings``  engine, quality, colour
"""
