import pytest
import yaml

from fitout.design_file.nodes import MAX_DEPTH, MAX_NODES, MAX_TEXT, List, Table, Text, parse, walk


def only_fault(text):
    _, faults = parse(text)
    assert len(faults) == 1, faults
    return faults[0]


def test_values_and_keys_know_their_places():
    root, faults = parse("bay:\n  roof: 846\nlist: [1, 'two']\n")
    assert faults == ()
    assert isinstance(root, Table)
    places = {path: node.place for path, node in walk(root)}
    assert places == {
        (): (1, 1),
        ("bay",): (2, 3),
        ("bay", "roof"): (2, 9),
        ("list",): (3, 7),
        ("list", 0): (3, 8),
        ("list", 1): (3, 11),
    }
    bay = root.get("bay")
    assert bay is not None
    assert bay.label == (1, 1)


def test_column_counts_characters_not_bytes():
    root, _ = parse("{a: 1046 ± 2, b: ½}")
    assert {path: node.place for path, node in walk(root)}["b",] == (1, 18)


def test_text_is_kept_as_written():
    root, _ = parse("[yes, 012, 1_000, 2024-01-01, 12:30, ~, '~', !]")
    assert root is None
    root, _ = parse("[yes, 012, 1_000, 2024-01-01, 12:30, ~, '~']")
    assert isinstance(root, List)
    values = [child.value for child in root.children if isinstance(child, Text)]
    assert values == ["yes", "012", "1_000", "2024-01-01", "12:30", "~", "~"]
    assert [child.is_nothing for child in root.children][-2:] == [True, False]


@pytest.mark.parametrize("loader", [yaml.SafeLoader, getattr(yaml, "CSafeLoader", yaml.SafeLoader)])
def test_both_parsers_read_alike(loader, whole):
    assert parse(whole, loader) == parse(whole)
    _, faults = parse("a: [1, 2\nb: 3\n", loader)
    assert [(f.line, f.column, f.found) for f in faults] == [(1, 4, "[ that is not closed")]


@pytest.mark.parametrize(
    ("text", "place", "found"),
    [
        ("a: b: c", (1, 5), "a second colon"),
        ("a: 1\nb\nc: 2\n", (2, 1), "a line with no colon after its name"),
        ("a:\n  b: 1\n c: 2\n", (3, 2), "a line that does not fit"),
        ("a: 1\n- b\n", (2, 1), "a line that does not fit"),
        ("- a\nb: 1\n", (2, 1), "an entry amid a list"),
        ("a: - b", (1, 4), "a list's dash after a name"),
        ("a: @x", (1, 4), "a character no value begins with"),
        ("{a: 1}}", (1, 7), "text after the end of the design"),
        ('a: "x', (1, 4), "a quote that is not closed"),
        ('a: "\\q"', (1, 5), "a backslash sequence YAML does not know"),
        ("%YAML 2.0\n---\na: 1", (1, 1), "a YAML version other than 1"),
        ("a: !x!y 1", (1, 4), "a tag"),
        ("a: &  1", (1, 5), "& or * at the start of a value"),
        ("a: 1\n---\nb: 2\n", (2, 1), "a second document"),
        ("a: 1\na: 2\n", (2, 1), "a a second time"),
        ("a: &x 1\n", (1, 4), "an anchor, &x"),
        ("a: !!str 1\n", (1, 4), "a tag, !!str"),
        ("{[1]: 2}", (1, 2), "a list or table as a name"),
        ("a: 1\n\tb: 2\n", (2, 1), "a tab at the start of the line"),
        ("a: \x07", (1, 4), "a control character (U+0007)"),
        ("", (1, 1), "an empty file"),
        ("# nothing yet\n", (1, 1), "an empty file"),
    ],
)
def test_faults_of_form(text, place, found):
    fault = only_fault(text)
    assert (fault.line, fault.column) == place
    assert fault.found == found


def test_tabs_within_a_line_are_no_matter():
    root, faults = parse("a:\t1\n \t\nb: 2\t# a remark\n")
    assert faults == ()
    assert isinstance(root, Table)


def test_limits():
    deep = "[" * MAX_DEPTH + "]" * MAX_DEPTH
    assert parse(deep)[1] == ()
    assert only_fault(f"[{deep}]").found == "entries nested too deep"
    many = "[" + "1," * MAX_NODES + "]"
    assert only_fault(many).found == "more entries than that"
    assert only_fault("a: " + "x" * (MAX_TEXT + 1)).found == f"a text of {MAX_TEXT + 1} characters"
    assert only_fault("#" * 1_000_001).found == "1000001 characters"


def test_references_end_the_reading_soon():
    bomb = "a: &a [x]\n" + "".join(f"k{i}: [*a, *a]\n" for i in range(1000))
    root, faults = parse(bomb)
    assert root is None
    assert [fault.found for fault in faults] == ["an anchor, &a"] + ["a reference, *a"] * 4
