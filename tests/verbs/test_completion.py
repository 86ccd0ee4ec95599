"""The script for a shell completes verbs, options and design files; bash is asked itself."""

import shutil
import subprocess

import pytest

from fitout import cli
from fitout.verbs.completion import SHELLS


@pytest.fixture
def completed(here, capsys):
    """completed(words) -> what bash offers for the last of them."""
    bash = shutil.which("bash")
    if bash is None:
        pytest.skip("needs bash")
    assert cli.main(["completion", "bash"]) == 0
    (here / "script.sh").write_text(capsys.readouterr().out, encoding="utf-8", newline="\n")
    folder = here / "job"
    (folder / "older").mkdir(parents=True)
    for name in ("my-car.yaml", "other.yml", "notes.txt"):
        (folder / name).write_text("", encoding="utf-8")

    def offered(*words):
        quoted = " ".join(f"'{word}'" for word in words)
        script = (
            "source ../script.sh\n"
            f"COMP_WORDS=({quoted}); COMP_CWORD={len(words) - 1}\n"
            "way=$(complete -p fitout); way=${way##*-F }; way=${way%% *}\n"
            f"$way fitout '{words[-1]}' '{words[-2]}'\n"
            'printf "%s\\n" "${COMPREPLY[@]}"\n'
        )
        done = subprocess.run(
            [bash, "--norc", "-c", script], cwd=folder, capture_output=True, check=True
        )
        assert done.stderr == b""
        return set(done.stdout.decode().split())

    return offered


def test_bash_completes_verbs_and_options(completed):
    assert {"check", "catalogue", "compare", "completion"} == completed("fitout", "c")
    assert completed("fitout", "check", "--w") == {"--why", "--watch"}
    assert completed("fitout", "completion", "z") == {"zsh"}


def test_bash_completes_design_files_alone_and_the_way_to_them(completed):
    assert completed("fitout", "check", "") == {"my-car.yaml", "other.yml", "older/"}
    assert completed("fitout", "build", "m") == {"my-car.yaml"}
    assert completed("fitout", "catalogue", "--design", "o") == {"other.yml", "older/"}
    assert completed("fitout", "build", "my-car.yaml", "--out", "o") == {"older"}


@pytest.mark.parametrize("shell", SHELLS)
def test_every_shell_gets_a_script_that_knows_every_verb(shell, capsys):
    assert cli.main(["completion", shell]) == 0
    script = capsys.readouterr().out
    for module in cli.VERBS:
        assert module.__name__.rpartition(".")[2] in script


def test_another_shell_is_refused_by_the_names_there_are(capsys):
    with pytest.raises(SystemExit) as ended:
        cli.main(["completion", "sh"])
    assert ended.value.code == 2
    assert "bash" in capsys.readouterr().err
