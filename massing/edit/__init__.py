"""A scene in hand: its text is the state; a change of a field is a change in the text.

:mod:`massing.edit.session` holds a scene with undo; the rest are the pure steps it is made of.
:mod:`massing.edit.begin` writes a new scene, :mod:`massing.edit.handles` says what a hand can move.
"""
