"""A scene in hand: its text is the state; a change of a field is a change in the text.

:mod:`massing.edit.session` holds a scene with undo; the rest are the pure steps it is made of.
"""
