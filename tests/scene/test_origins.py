"""Where a value came from, as data."""

import pickle

from massing.design.origin import Given, Origin
from massing.scene.origins import Origins


def test_what_the_scene_gives_is_known_without_reading_its_words():
    origins = Origins({("porch", "depth"): 7}, "feet")
    origins.choose(("porch", "depth"), 2.4, 2.0, "by rule")
    origins.choose(("porch", "height"), None, 3.0, "given to no one")  # a rule's own words
    depth, height = origins.notes["porch.depth"], origins.notes["porch.height"]
    assert depth.given
    assert depth.source.line == 7
    assert not height.given


def test_it_goes_to_other_processes_as_it_is():
    sent = pickle.loads(pickle.dumps(Origin(1.0, "1 m", Given(12))))
    assert sent == Origin(1.0, "1 m", Given(12))
    assert sent.source.line == 12
