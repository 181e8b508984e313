"""Pictures with Blender's Cycles. The only package that imports ``bpy``.

Without bpy, and so free to be called from anywhere:

``run``        shots in, finished files out, by a worker process; films from frames
``shots``      what one picture is
``exposure``   how long to expose, by hour and view
``sky_table``  colour and strength of sun and sky by altitude
``labels``     words inside picture files

In the worker:

``worker``     the process that takes a job
``studio``     one model built once, photographed many times
``scene``      a model as Blender meshes and instances
``materials``  the looks
``setting``    far ground, the sheet behind an elevation, the wash of a section
``light``      lamp and sky
``camera``     a :class:`massing.view.cameras.Camera` as Blender's
``settings``   engine, quality, device, tone, file types
``film``       frames into an MP4
"""
