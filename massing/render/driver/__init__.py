"""Shots in, finished files out, by worker processes; never imports ``bpy``.

``run``              starts a worker and sees its shots home; films from frames
``process``          how such a process is started and how it ended
``requirements``     what Blender's module needs of this machine
``shots``            what one picture is
``modelfile``        a model handed over as a file
``camera_exposure``  how long to expose, by hour and view
``sky_table``        colour and strength of sun and sky by altitude
``labels``           words inside picture files
"""
