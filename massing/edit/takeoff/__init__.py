"""Sizes taken off a builder's drawing, by pure functions: no page, no file, no scene is held here.

``opening``      what was given (PNG, JPEG, a page of a PDF, a DXF) as one picture
``scale``        how long a pixel is, from known lengths
``straighten``   a photograph made square to the front by four points
``snapping``     the line or corner that a click meant, and others like what was drawn
``likely``       the size that a builder will have meant
``questions``    what is asked for, in order
``takeoff``      a take-off under way: the answers so far, one click after another
``sizes``        fields of the scene from the answers
``deviations``   how far the model's lines stand from those that were clicked
"""
