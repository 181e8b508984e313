"""The page that a client opens: pictures, the model in three dimensions, figures in words."""
