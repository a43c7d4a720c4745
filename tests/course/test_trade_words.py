"""One thing, one word: each trade word a chapter uses is explained at its head, and twins that were given up do not come back."""

import ast
import functools
import json
import re
from pathlib import Path

import pytest

from lathe_course.command import main
from lathe_course.course import chapter as chapter_module
from lathe_course.course.folder.workspace import material
from lathe_course.course.shown.glossary import for_the_browser, marked
from lathe_course.course.shown.words import all_words, words_of
from lathe_course.design.lathe import CHAPTERS, LATHE
from lathe_course.tables import table

_PACKAGE = Path(chapter_module.__file__).parents[1]
#: tables that a chapter shows as they are
LISTED = {"10": ("parts",), "17": ("acceptance",)}
#: a word that was given up, and the one that stands for the thing
TWINS = {
    r"change wheels?": "change gear",
    r"(?<!\d )percent\b": "per cent, or %",
    r"dead[- ]cent(?:re|er)": "centre",
    r"(?<=: )carriage(?= is)|carriage (?:cost|money)s?|(?:orders|bench) and carriage|carriage of such": "delivery",
    # a way is how a part is got
    r"(?:across|above|along|scrape|parallel to|from|over) (?:the|its|both) ways?(?= (?:at|up|to the|before|and|of the bed|once)|[,.;:])": "slideway",
    r"(?:kinds? of|dusty|worn|scraped|oiled|bed'?s?) ways?\b|ways (?:rub|bear)\b|ways and (?:gibs|saddle|tailstock)\b|\bway oil": "slideway",
    # a lever is a change of one decision
    r"(?:feed|clamping) levers?\b|levers? (?:times|of the (?:level|shim|twist))|(?:the|a|its) lever (?:runs|counts|is that|left out|upside)|levers (?:the|and circles)": "arm, or handle",
    # a finding is mended
    r"(?<!class=\")(?<!\.)\bverdicts?\b(?! \{)": "finding",
    r"(?:changes? (?:of one decision )?that (?:would )?|what would |[Nn]othing to )turns? (?:it|a finding|what)\b|\b[Tt]o turn (?:it:|“)|nothing to turn": "mend",
    r"\b[Cc]ures? (?:it|this|is|the finding)\b|cannot cure|\bthe cure\b": "mend",
    r"as you (?:can|should)\b(?=[,.; ]| and)(?! (?:see|read))": "what you can spend, what you should spend",
    r"room by room": "chapter by chapter",
    # the names of parts and of measuring have one spelling
    r"cross slides?\b(?!-)|top[- ]slides?\b|lead[- ]screws?\b|tail[- ]stocks?\b|head[- ]stocks?\b|tool[- ]posts?\b(?! kind)|face plates?\b": "one word, or a hyphen in cross-slide",
    r"dial gauges?\b|\bclock gauges?\b": "dial indicator",
    r"\brunout\b": "run-out",
    r"(?:machine|it|work|lathe) sings\b|\bsways? (?:at|sideways)": "chatter, vibrates",
    r"\bpacking (?:lies|under)|of packing\b": "shim",
}
#: options of decisions keep the names that stand in learners' files
_STORED = re.compile(r'(?:feed_drive = |^|")change wheels(?: and a second stud)?(?=[*",]|$)', re.MULTILINE)
#: turns of speech that had become tics, and how many a book of twenty chapters bears
TICS = {r"[Ss]omebody (?:else )?says": 1, r"[Pp]ut it back": 3, r"\b[Nn]obody\b": 25, r"\b[Ss]omebody\b": 25}


@functools.cache
def prose() -> dict[str, str]:
    """What the notebook of each chapter says, without code."""
    found = {}
    for path in sorted(material("notebooks").glob("*.ipynb")):
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        found[path.stem.split("_")[0]] = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown")
    return found


def words_in(text: str) -> list[str]:
    """The words of the trade that are marked in a text, in the order of the list."""
    met = marked(text, lambda there, _: there)[1]
    return [word for word in table("words") if word in met]


def said_in(chapter: str) -> str:
    """Prose, questions, labels and sentences of a chapter."""
    told = [prose().get(chapter, "")]
    for part in (*LATHE.decisions.values(), *LATHE.figures.values(), *LATHE.results.values(), *LATHE.limits.values()):
        if part.chapter == chapter:
            told += [part.label, getattr(part, "question", ""), getattr(part, "sentence", ""), *getattr(part, "options", ())]
    for name in LISTED.get(chapter, ()):
        told += [value for key, row in table(name).items() for value in (key, *row.values()) if isinstance(value, str)]
    return "\n".join(told)


def test_a_word_is_explained_in_every_chapter_that_uses_it():
    used = {chapter: words_in(said_in(chapter)) for chapter in CHAPTERS}
    for word, row in table("words").items():
        found = [chapter for chapter in CHAPTERS if word in used[chapter]]
        assert row["chapters"].split() == found, f"{word} is met in {' '.join(found)}"
        assert found and all(word in words_of(chapter).markup for chapter in found)


def test_a_word_that_means_something_else_is_not_explained():
    assert words_in("A twist drill in a run-out groove at steady load: a rough guide.") == []
    assert words_in("Give it a steady: run-out and twist spoil the Change Gears of a flange.") == [
        "change gears",
        "flange",
        "run-out",
        "steady",
        "twist",
    ]
    assert marked("<p>a gib, <a>gibs</a> & gibs</p>", lambda met, word: f"[{met}]") == (
        "<p>a [gib], <a>gibs</a> & gibs</p>",
        ["gib"],
    )


def test_no_mark_is_set_within_a_tag_or_where_it_would_be_in_the_way():
    def here(markup):
        return marked(markup, lambda met, word: f"[{met}]")[0]

    for tag in ('<p title="a strip > a gib">', "<p title='b > gib'>", '<span aria-label="gib">'):
        assert here(f"{tag}no word") == f"{tag}no word"
        assert here(f"{tag}a gib") == f"{tag}a [gib]"
    apart = for_the_browser()["apart"]
    assert {"a", "button", "code", "h1", "h2", "h3", "h4", "title", "dl"} <= set(apart)
    for name in apart:
        assert here(f"<{name}>a <b>gib</b></{name}> a gib") == f"<{name}>a <b>gib</b></{name}> a [gib]", name


def test_a_word_is_explained_in_one_plain_sentence():
    """It does not explain itself by itself, and needs no second sentence."""
    names = [
        name.lower() for word, row in table("words").items() for name in (word, *filter(None, row["also_called"].split(", ")))
    ]
    assert len(names) == len(set(names)), "a name stands for two things"
    assert list(table("words")) == sorted(table("words"), key=str.lower)
    for word, row in table("words").items():
        assert 20 < len(row["means"]) < 130 and not row["means"].endswith(".") and ". " not in row["means"], word
        assert word not in row["means"].lower(), word


def test_words_stand_at_the_head_of_a_chapter_and_on_one_page():
    head = chapter_module.open_chapter("09")._repr_mimebundle_()["text/html"]
    assert (
        "Words of the trade in this chapter (" in head
        and "<dt><b>gib</b></dt><dd>A thin strip" in head
        and "In the inch world: " in head
    )
    assert all(f"{word}  " in all_words().plain for word in table("words"))
    assert "words_of_the_trade" in json.dumps(
        json.loads((material("notebooks") / "00_start_here.ipynb").read_text(encoding="utf-8"))
    )


def test_the_command_tells_a_word_or_all(capsys):
    assert main(["words", "GIB"]) == 0
    assert capsys.readouterr().out.startswith("gib: a thin strip in a slide")
    assert main(["words", "clock"]) == 0 and capsys.readouterr().out.startswith("dial indicator: ")
    assert main(["words"]) == 0 and len(capsys.readouterr().out.splitlines()) == len(table("words")) + 1
    assert main(["words", "gibb"]) == 2 and "did you mean gib" in capsys.readouterr().err


def texts() -> dict[str, str]:
    """Everything a reader can meet: prose, texts of the package that are no docstrings, tables, exercises."""
    found = {f"notebook {name}": said for name, said in prose().items()}
    for path in _PACKAGE.rglob("*.py"):
        found[str(path.relative_to(_PACKAGE))] = "\n".join(_strings(path.read_text(encoding="utf-8")))
    for folder in (_PACKAGE / "tables", material("exercises")):
        found |= {path.name: path.read_text(encoding="utf-8") for path in folder.iterdir() if path.suffix in (".csv", ".toml")}
    return found


def _strings(source: str) -> list[str]:
    """Texts that say something to a reader: with a blank, and not the first of a body."""
    tree = ast.parse(source)
    documents = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, (ast.Module, ast.FunctionDef, ast.ClassDef)) and node.body and isinstance(node.body[0], ast.Expr)
    }
    return [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and " " in node.value and id(node) not in documents
    ]


def test_twins_do_not_come_back():
    """The table of words names them, the units know one by its name, and nothing else does."""
    found = {
        f"{where}: {one}, say {instead}"
        for where, said in texts().items()
        if where not in ("words.csv", "unit_words.py")
        for twin, instead in TWINS.items()
        for one in re.findall(rf"\b(?:{twin})", _STORED.sub("", said), re.MULTILINE)
    }
    assert not found


@pytest.mark.parametrize("tic", TICS)
def test_tics_stay_rare(tic):
    count = {where: len(found) for where, said in prose().items() if (found := re.findall(tic, said))}
    assert sum(count.values()) <= TICS[tic], count
