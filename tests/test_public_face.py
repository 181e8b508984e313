"""What ``import massing`` offers: all of it there, documented with an answer, and light."""

from __future__ import annotations

import doctest
import subprocess
import sys

import pytest

import massing

FUNCTIONS = [name for name in massing.__all__ if name[0].islower()]


@pytest.mark.parametrize("name", massing.__all__)
def test_each_name_is_there_and_says_what_it_is(name) -> None:
    assert getattr(massing, name).__doc__.strip()
    assert name in dir(massing)


@pytest.mark.parametrize("name", FUNCTIONS)
def test_each_function_is_documented_with_a_call_and_its_answer(name) -> None:
    examples = doctest.DocTestParser().get_examples(getattr(massing, name).__doc__)
    assert any(f"{name}(" in example.source for example in examples)
    assert any(example.want for example in examples)


def test_the_errors_are_value_errors_that_a_script_can_take_apart() -> None:
    for error in (massing.SceneError, massing.DesignError):
        assert issubclass(error, ValueError)
    with pytest.raises(massing.SceneError) as fault:
        massing.read_study("any.yaml", "title: Any\nhouses: 3\n")
    assert (str(fault.value.file), fault.value.line) == ("any.yaml", 2)


def test_no_other_name_is_there() -> None:
    with pytest.raises(AttributeError, match="no attribute 'roofer'"):
        massing.roofer  # noqa: B018


def test_importing_it_imports_nothing_heavy() -> None:
    code = "import massing, sys; print(*{'numpy', 'pydantic', 'rich', 'PIL'} & set(sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "\n"
