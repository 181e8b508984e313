"""The hour that is looked at: day and clock of the panel, and the light that follows them."""

from __future__ import annotations

import re

import bpy

from massing.edit.reading import Reading
from massing.present.words import sun_text
from massing.sun.position import SunTime
from massing.sun.written_times import read_time

from . import light
from .held import read_of
from .rows import filled

_CLOCK = re.compile(
    r"[\s,]+(solar noon|\d{1,2}:\d{2}\s*(am|pm)?(\s*(utc)?[+−-]\d{2}:?\d{2})?)\s*$", re.IGNORECASE
)


def pick_time(scene: bpy.types.Scene, index: int) -> None:
    """Show one of the scene file's times."""
    state = scene.massing
    read = read_of(state)
    text = read.loaded.scene.times[index]
    when = read.sun(state.shown, text).when
    with filled():
        state.time = str(index)
        state.time_text, state.day = text, day_of(text)
        if when is not None:
            state.hour, state.minute = when.hour, when.minute
    relight(scene, read)


def look_at_hour(scene: bpy.types.Scene) -> None:
    """Turn the light to the day and the clock of the panel; the file's times stay.

    Raises:
        SceneError: no such time; the light stands as it was.
    """
    state = scene.massing
    text = time_of(state.day, state.hour, state.minute)
    read = read_of(state)
    sun_time_of(read, state.shown, text)
    with filled():
        state.time_text = text
    relight(scene, read)


def step_hour(scene: bpy.types.Scene, minutes: int) -> None:
    """Move the clock of the panel on or back, within the day."""
    state = scene.massing
    at = min(max(state.hour * 60 + state.minute + minutes, 0), 24 * 60 - 1)
    with filled():
        state.hour, state.minute = divmod(at, 60)
    look_at_hour(scene)


def sun_time_of(read: Reading, name: str, time: str) -> SunTime:
    """The sun at a time that is looked at."""
    return read.sun(name, time or read.loaded.scene.times[0])


def shown_sun(state: bpy.types.PropertyGroup) -> SunTime:
    """The sun that is shown."""
    return sun_time_of(read_of(state), state.shown, state.time_text)


def relight(scene: bpy.types.Scene, read: Reading) -> None:
    state = scene.massing
    sun = sun_time_of(read, state.shown, state.time_text)
    light.show(scene, sun)
    with filled():
        state.time_fault = ""
        state.sun_words = sun_text(sun)
        state.sun_note = sun.note.partition(": ")[2]


def day_of(text: str) -> str:
    """The day of a written time, in its own words: ``summer solstice`` of ``... 10:00``."""
    return _CLOCK.sub("", text.strip())


def time_of(day: str, hour: int, minute: int) -> str:
    """A written time from a day's words and the clock."""
    try:
        if read_time(day).conventional:
            return day
    except ValueError:
        pass  # a day alone is no time yet
    return f"{day} {hour}:{minute:02d}"
