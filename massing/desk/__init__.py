"""The desk: a house changed and looked at in a browser on the designer's own machine.

``guards``   who may ask for what
``desk``     the scene in hand, kept beside its file until it is saved
``parcels``  models and suns as bytes for the page
``jobs``     pictures made meanwhile
``server``   the addresses, and serving them

The page itself is in ``static/``. No rules and no geometry here: what can be changed, and what
comes of it, is :mod:`massing.edit`'s and the library's.
"""
