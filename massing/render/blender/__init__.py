"""What runs inside Blender; the only rooms of the package that import ``bpy``.

``worker``     the process that takes a job
``studio``     one model built once, photographed many times
``objects``    a model as Blender meshes and instances
``materials``  the looks
``backdrop``   far ground, the sheet behind an elevation, the wash of a section
``light``      lamp and sky
``camera``     a :class:`massing.view.camera.Camera` as Blender's
``quality``    engine, quality, device, tone, file types
``film``       frames into an MP4
"""
