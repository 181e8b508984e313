from pathlib import Path

import pytest

from massing.cli.program import main
from massing.files import strangers, write_whole

SCENE = Path(__file__).parents[2] / "scenes" / "marsh_road.yaml"


def test_one_pdf_of_a_design(tmp_path, capsys):
    out = tmp_path / "sheets"
    asked = ["drawings", str(SCENE), "--light", "none", "--format", "pdf", "-o", str(out)]
    assert main(asked) == 0
    printed = capsys.readouterr().out.split()
    assert [Path(p).name for p in printed] == ["as-drawn.pdf"]
    assert Path(printed[0]).read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (["--light", "noon of never"], "--light: given noon of never, allowed: conventional, none"),
        (["--design", "Seven"], "--design: given Seven, allowed:"),
    ],
)
def test_what_is_not_known_is_refused_before_anything_is_written(asked, said, tmp_path, capsys):
    out = tmp_path / "sheets"
    assert main(["drawings", str(SCENE), "-o", str(out), *asked]) == 2
    assert said in capsys.readouterr().err
    assert not out.exists()


@pytest.mark.parametrize("command", ["drawings", "profiles"])
def test_they_stand_in_the_scenes_own_folder_by_the_designs_name(
    command, tmp_path, monkeypatch, capsys
):
    def make_drawings(study, design, folder, **_options):
        write_whole(folder / "one.pdf", design.name)
        return [folder / "one.pdf"]

    monkeypatch.setattr("massing.study.drawings.make_drawings", make_drawings)
    monkeypatch.chdir(tmp_path)
    assert main([command, str(SCENE.with_name("vineyard_cottage.yaml"))]) == 0
    folders = {Path(line).parent for line in capsys.readouterr().out.splitlines()}
    assert folders == {Path("renders/vineyard_cottage") / command / "as-drawn"}
    assert strangers(Path("renders/vineyard_cottage")) is None, "a study may follow"
