from fitout.answers.survey import survey_report
from fitout.checks import Memory


def test_the_report_is_the_design_s_own_with_three_things_to_measure(evaluation) -> None:
    report = survey_report(evaluation)
    assert report.design == evaluation.design.name
    assert report.consistent
    assert len(report.advice) == 3
    probabilities = [gap.probability for gap in report.gaps]
    assert probabilities == sorted(probabilities)
    assert isinstance(evaluation.subject.memory, Memory)
