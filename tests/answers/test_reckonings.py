from fitout.answers.reckonings import codes, reckoning


def test_every_code_has_both_words() -> None:
    for code in codes():
        told = reckoning(code)
        assert told.means.strip()
        assert told.formula.strip()


def test_an_unknown_code_has_none() -> None:
    assert reckoning("nothing of the kind") is None
