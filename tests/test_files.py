"""Files whole or not there, and folders that are the tool's own and nobody else's."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import textwrap
import time
from pathlib import Path

import pytest

from massing import files
from massing.files import (
    LOCK_NAME,
    MARK_NAME,
    NotOwnFolderError,
    claim,
    open_to_append,
    own_folder,
    read_bounded,
    slug,
    sole_use,
    strangers,
    temporary_folder,
    write_by,
    write_whole,
)
from tests.helpers.hostile import link


def nobody():
    pytest.fail("nobody else holds it")


def files_in(folder):
    own = (LOCK_NAME, MARK_NAME)
    found = (p for p in folder.rglob("*") if p.is_file() and p.name not in own)
    return sorted(p.relative_to(folder).as_posix() for p in found)


def test_a_file_is_whole_or_not_there(tmp_path):
    path = tmp_path / "deep" / "file.txt"
    write_whole(path, "good")

    def half(temporary):
        temporary.write_text("half")
        raise OSError("disc full")

    with pytest.raises(OSError, match="disc full"):
        write_by(path, half)
    assert path.read_text() == "good"
    assert files_in(tmp_path) == ["deep/file.txt"]


def test_a_file_is_on_the_disk_before_it_has_its_name(tmp_path, monkeypatch):
    done = []
    sync, rename = os.fsync, Path.replace
    monkeypatch.setattr(os, "fsync", lambda at: (done.append(os.fstat(at).st_size), sync(at)))
    monkeypatch.setattr(Path, "replace", lambda a, b: (done.append("named"), rename(a, b)))
    write_whole(tmp_path / "five", "5 + 5")
    assert done[:2] == [5, "named"]
    assert len(done) == 3  # and the folder


def test_temporary_names_cannot_be_foreseen(tmp_path):
    seen = []
    for _ in range(2):
        write_by(tmp_path / "a.png", lambda temporary: seen.append(temporary.name))
    assert len(set(seen)) == 2
    for name in seen:
        assert len(name) == len(".png") + 1 + 32
        assert str(os.getpid()) not in name.partition(".png")[0][:8]


def test_a_finished_file_is_readable_as_any_other(tmp_path):
    write_whole(tmp_path / "ours", "")
    (tmp_path / "plain").touch()
    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_folder_that_is_made_is_marked_and_lists_what_is_written(tmp_path):
    folder = tmp_path / "out"
    with sole_use(folder, nobody):
        write_whole(folder / "a" / "b.txt", "b")
    assert strangers(folder) is None
    write_whole(folder / "c.txt", "c")  # by a writer of single files
    assert strangers(folder) is None
    assert files_in(folder) == ["a/b.txt", "c.txt"]
    with sole_use(folder, nobody):
        write_whole(folder / "c.txt", "c again")


def test_a_folder_that_is_there_already_is_not_marked_by_a_single_file(tmp_path):
    write_whole(tmp_path / "a.txt", "a")
    assert [p.name for p in tmp_path.iterdir()] == ["a.txt"]


@pytest.mark.parametrize(
    "name", [".2024-budget.txt", ".note.2024.tmpl", "sub/.2024-07-notes.md", "letter.txt"]
)
def test_a_folder_with_a_user_s_file_is_refused_and_left_alone(tmp_path, name):
    (tmp_path / name).parent.mkdir(exist_ok=True)
    (tmp_path / name).write_text("mine")
    words = rf"{Path(name).name}.* allowed: a new or empty"
    with pytest.raises(NotOwnFolderError, match=words), sole_use(tmp_path, nobody):
        pytest.fail("it was given away")
    assert files_in(tmp_path) == [name]
    assert not (tmp_path / MARK_NAME).exists()
    assert not (tmp_path / LOCK_NAME).exists()


def test_a_user_s_file_in_the_tool_s_folder_is_never_replaced_or_removed(tmp_path):
    folder = tmp_path / "out"
    with sole_use(folder, nobody):
        write_whole(folder / "figures.txt", "ours")
        (folder / "findings.txt").write_text("mine")
        with pytest.raises(NotOwnFolderError, match=r"findings\.txt"):
            write_whole(folder / "findings.txt", "ours")
    assert (folder / "findings.txt").read_text() == "mine"
    assert "findings.txt" in (strangers(folder) or "")


def test_what_file_managers_leave_is_no_stranger(tmp_path):
    (tmp_path / ".DS_Store").touch()
    (tmp_path / "Thumbs.db").touch()
    assert strangers(tmp_path) is None


def test_what_a_killed_run_left_is_swept_and_nothing_else(tmp_path):
    folder = tmp_path / "out"
    script = textwrap.dedent("""
        import os, signal, sys
        from pathlib import Path
        from massing.files import sole_use, temporary_folder, write_by, write_whole
        def die(temporary):
            temporary.write_text("half")
            os.kill(os.getpid(), signal.SIGKILL)
        folder = Path(sys.argv[1])
        with sole_use(folder, lambda: None), temporary_folder(folder / "x") as own:
            (own / "model").write_text("large")
            write_whole(folder / "whole.txt", "whole")
            write_by(folder / "a" / "half.txt", die)
    """)
    done = subprocess.run([sys.executable, "-c", script, str(folder)])
    assert done.returncode == -signal.SIGKILL
    left = files_in(folder)
    assert len(left) == 3  # the whole one, the model, the half one
    assert strangers(folder) is None
    with sole_use(folder, nobody):
        assert files_in(folder) == ["whole.txt"]
    assert sorted(p.name for p in folder.iterdir()) == [LOCK_NAME, MARK_NAME, "a", "whole.txt"]


def test_what_a_killed_writer_of_one_file_left_is_swept_when_it_is_old(tmp_path, monkeypatch):
    folder = tmp_path / "out"
    with sole_use(folder, nobody):
        pass
    monkeypatch.setattr(Path, "unlink", lambda *_, **__: None)
    with pytest.raises(OSError, match="killed"):
        write_by(folder / "a.pdf", lambda temporary: (_ for _ in ()).throw(OSError("killed")))
    monkeypatch.undo()
    (left,) = files_in(folder)
    with sole_use(folder, nobody):
        assert files_in(folder) == [left]  # its writer may be at work
    os.utime(folder / left, (time.time() - 7200.0,) * 2)
    with sole_use(folder, nobody):
        assert files_in(folder) == []


@pytest.mark.parametrize("name", ["../precious", "/precious", "precious", ".massing-0"])
def test_a_mark_from_a_stranger_sweeps_nothing_of_the_user_s(tmp_path, name):
    folder, precious = tmp_path / "out", tmp_path / "precious"
    precious.mkdir()
    (precious / "will.txt").write_text("all to the cat")
    with sole_use(folder, nobody):
        pass
    first = (folder / MARK_NAME).read_text().split("\n")[0]
    lines = [["temporary", name], ["unfinished", f"../precious/.{'0' * 32}"], ["file", name]]
    (folder / MARK_NAME).write_text("\n".join([first, *map(json.dumps, lines)]))
    old = precious / f".{'0' * 32}"
    old.touch()
    os.utime(old, (0, 0))
    with sole_use(folder, nobody):
        pass
    assert files_in(precious) == [old.name, "will.txt"]


@pytest.mark.parametrize("name", [LOCK_NAME, MARK_NAME, "study.json", "render.log", "a/b.png"])
def test_links_in_the_folder_are_not_followed(tmp_path, name):
    folder, target = tmp_path / "out", tmp_path / "precious.txt"
    target.write_text("mine")
    link(folder / name, target)
    with pytest.raises(NotOwnFolderError, match="is a link"), sole_use(folder, nobody):
        pass
    assert target.read_text() == "mine"


def test_a_folder_that_is_a_link_and_one_that_leads_over_a_link_are_refused(tmp_path, monkeypatch):
    precious = tmp_path / "precious"
    precious.mkdir()
    monkeypatch.chdir(tmp_path)
    link(tmp_path / "renders", precious)
    for folder in (tmp_path / "renders", Path("renders"), Path("renders/scene")):
        with pytest.raises(NotOwnFolderError, match="renders is a link"), sole_use(folder, nobody):
            pass
    assert list(precious.iterdir()) == []


def test_a_link_laid_meanwhile_is_not_followed_either(tmp_path):
    folder, precious = tmp_path / "out", tmp_path / "precious"
    precious.mkdir()
    (precious / "log").write_text("mine")
    with sole_use(folder, nobody):
        link(folder / "tuscan", precious)
        link(folder / "render.log", precious / "log")
        with pytest.raises(NotOwnFolderError):
            write_whole(folder / "tuscan" / "a.png", "ours")
        with pytest.raises(NotOwnFolderError):
            open_to_append(folder / "render.log")
        with pytest.raises(NotOwnFolderError):
            claim([folder / "tuscan" / "a.png"])
    assert files_in(precious) == ["log"]
    assert (precious / "log").read_text() == "mine"


def test_what_a_folder_above_lists_is_its_own_in_a_marked_folder_too(tmp_path):
    outer, inner = tmp_path / "out", tmp_path / "out" / "drawings"
    own_folder(outer)
    write_whole(inner / "plan.svg", "first")  # listed by the outer mark
    with sole_use(inner, nobody):  # which marks the inner folder
        write_whole(inner / "plan.svg", "second")
        (inner / "notes.txt").write_text("mine")
        with pytest.raises(NotOwnFolderError, match="did not make"):
            write_whole(inner / "notes.txt", "ours")
    assert (inner / "plan.svg").read_text() == "second"


@pytest.mark.parametrize("first", ["write", "hold"])
def test_commands_may_write_into_a_scenes_folder_in_any_order(tmp_path, first):
    """A model or drawings first, which make the scene's folder, then a page in it, then a study."""
    scene = tmp_path / "renders" / "scene"
    if first == "write":
        write_whole(scene / "models" / "one.glb", "a model")
    else:
        with sole_use(scene / "drawings" / "one", nobody):
            write_whole(scene / "drawings" / "one" / "plan.svg", "a plan")
    for text in ("a page", "the page again"):
        write_whole(scene / "page.html", text)
    with sole_use(scene, nobody):
        write_whole(scene / "page.html", "the study's page")
    (scene / "notes.txt").write_text("mine")
    assert "notes.txt" in str(strangers(scene))


def test_a_log_is_a_plain_file_or_refused(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    link(tmp_path / "link", tmp_path / "target")
    for name in ("pipe", "link"):
        with pytest.raises(NotOwnFolderError, match="no plain file"):
            open_to_append(tmp_path / name)
    assert not (tmp_path / "target").exists()
    for word in ("one", "two"):
        with open_to_append(tmp_path / "log") as log:
            log.write(word)
    assert (tmp_path / "log").read_text() == "onetwo"


def test_temporary_folders_stand_on_the_disk_of_what_they_are_for(tmp_path):
    folder = tmp_path / "out"
    with temporary_folder(tmp_path / "a.mp4") as beside:
        assert beside.parent == tmp_path
    with sole_use(folder, nobody), temporary_folder(folder / "x" / "a.mp4") as held:
        assert folder in held.parents
    assert not beside.exists()
    assert not held.exists()


def test_reading_is_bounded_and_of_plain_files(tmp_path):
    (tmp_path / "a").write_bytes(b"12345")
    assert read_bounded(tmp_path / "a", 5) == b"12345"
    os.mkfifo(tmp_path / "pipe")
    for path, most in ((tmp_path / "a", 4), (tmp_path / "pipe", 4), (Path("/dev/zero"), 4)):
        with pytest.raises(OSError, match=r"bytes|regular"):
            read_bounded(path, most)


@pytest.mark.parametrize(
    ("text", "name"),
    [("A/B: ..\\c", "a-b-c"), ("  Été 10:30 ", "ete-10-30"), ("東の家", "東の家"), ("!", "")],
)
def test_slugs_are_safe_file_names(text, name):
    assert slug(text) == name


def test_a_second_run_in_the_same_folder_waits_for_the_first(tmp_path):
    script = textwrap.dedent("""
        import sys, time
        from pathlib import Path
        from massing.files import sole_use
        with sole_use(Path(sys.argv[1]), lambda: None):
            print("held", flush=True)
            time.sleep(60)
    """)
    holder = subprocess.Popen(
        [sys.executable, "-c", script, str(tmp_path)], stdout=subprocess.PIPE, text=True
    )
    try:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        waited = []

        def waiting():
            waited.append(time.monotonic())
            os.kill(holder.pid, signal.SIGKILL)  # a killed holder holds no longer

        with sole_use(tmp_path, waiting):
            assert len(waited) == 1
    finally:
        holder.kill()
        holder.wait()


def test_a_mark_keeps_no_more_than_it_must(tmp_path):
    folder = tmp_path / "out"
    for _ in range(3):
        with sole_use(folder, nobody):
            write_whole(folder / "a.txt", "a")
    lines = [x for x in (folder / MARK_NAME).read_text().split("\n")[1:] if x]
    assert [json.loads(line)[0] for line in lines] == ["temporary", "file"]
    assert files.MARK_NAME == ".massing"


def test_a_table_is_read_once_and_again_when_its_text_changes(tmp_path, monkeypatch) -> None:
    import sys

    from massing import files

    package = tmp_path / "shelf"
    package.mkdir()
    (package / "__init__.py").write_text("")
    text = package / "sizes.yaml"
    monkeypatch.syspath_prepend(str(tmp_path))
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    text.write_text("sill: 4 in\nlights: [6, 6]\n")
    assert files.table("shelf", "sizes.yaml") == {"sill": "4 in", "lights": [6, 6]}
    (kept,) = (package / "__pycache__").glob("sizes*")
    with monkeypatch.context() as blind:
        blind.setattr("ruamel.yaml.YAML.load", lambda *_: pytest.fail("it was read again"))
        assert files.table("shelf", "sizes.yaml")["sill"] == "4 in"
    text.write_text("sill: 5 in\n")
    assert files.table("shelf", "sizes.yaml") == {"sill": "5 in"}
    kept.write_bytes(kept.read_bytes()[:40])  # cut short
    assert files.table("shelf", "sizes.yaml") == {"sill": "5 in"}
    assert [path.name for path in (package / "__pycache__").glob("sizes*")] == [kept.name]
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    text.write_text("sill: 6 in\n")
    assert files.table("shelf", "sizes.yaml") == {"sill": "6 in"}
    assert "6 in" not in kept.read_bytes().decode(errors="ignore")
