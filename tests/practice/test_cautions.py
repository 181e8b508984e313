from massing.practice.cautions import CAUTION, METADATA, Subject, caution, cautions, comment


def test_every_subject_has_its_word_and_its_sentence():
    assert all(subject.value in CAUTION for subject in Subject)
    assert len(cautions()) == len(Subject)
    assert cautions(Subject.GLASS) == (cautions()[2],)
    assert "glass follows" in caution(Subject.GLASS)


def test_a_table_begins_with_it_and_a_picture_holds_it():
    assert comment() == f"# {CAUTION}\n"
    assert METADATA == {"Disclaimer": CAUTION}
