from pathlib import Path

from massing.cli.program import main

SCENE = Path(__file__).parents[2] / "scenes" / "marsh_road.yaml"


def test_profiles_are_written_twice_to_one_folder(tmp_path, capsys):
    out = tmp_path / "profiles"
    asked = ["profiles", str(SCENE), "--design", "Six Tuscan", "--paper", "A4", "-o", str(out)]
    assert main(asked) == 0
    first = capsys.readouterr().out.split()
    assert {Path(p).name for p in first} >= {"01-base.dxf", "profiles-a4.pdf"}
    assert main(asked) == 0
    assert capsys.readouterr().out.split() == first


def test_a_design_of_no_name_is_refused(tmp_path, capsys):
    out = tmp_path / "profiles"
    assert main(["profiles", str(SCENE), "--design", "Seven", "-o", str(out)]) == 2
    assert "--design: given Seven, allowed:" in capsys.readouterr().err
    assert not out.exists()
