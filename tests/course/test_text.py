"""One description, three renderers: HTML, plain text and paper say the same words."""

import html
import re
from html.parser import HTMLParser

import pytest
from cases import every

from lathe_course.course.printed.paper import of_page
from lathe_course.course.shown.panels import Page, Place, paragraphs, set_out, tabled
from lathe_course.course.text.markup import markup
from lathe_course.course.text.plain import plain
from lathe_course.course.text.values import (
    Drawn,
    Fold,
    Heading,
    Link,
    List,
    Paragraph,
    Part,
    Table,
    Terms,
    Verbatim,
    Worked,
    dim,
    small,
    stress,
    strong,
)
from lathe_course.machine.cutting_speeds import spindle_speed
from lathe_course.working import Working

BLOCKS = {
    "paragraph": Paragraph(("plain, ", strong("strong"), ", ", stress("stressed"), ", ", dim("dim"), small(" small")), "notice"),
    "heading": Heading("a heading", 3),
    "link": Paragraph(("see ", Link(strong("there"), "/files/a b.html", beside=True))),
    "list": List(("one", ("two", dim(" dim")))),
    "ordered": List(("first", "second"), ordered=True, first=4),
    "terms": Terms((("gib", "a strip"), ("nut", "a thread")), ("word-gib", "word-nut")),
    "table": Table((("a", 1.5), ("b", 22)), ("what", "how much"), {1: "n"}, row_heads=True),
    "groups": Table((), ("what", "n"), groups=(("early", (("a", 1),)), ("late", (("b", 2),)))),
    "verbatim": Verbatim("x = 1\n  y = 2"),
    "part": Part("card", (Paragraph("inside"),)),
}


class Balanced(HTMLParser):
    """Whether every tag that opens is closed, in its order; collects the words."""

    def __init__(self, said):
        super().__init__()
        self.open, self.words = [], []
        self.feed(said)
        self.close()
        assert not self.open, self.open

    def handle_starttag(self, tag, attributes):
        self.open += [] if tag in ("br", "img", "col") else [tag]

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)


def letters(said):
    return re.sub(r"[\W\d_]+", "", said)


@every("name", BLOCKS)
def test_html_and_plain_text_say_the_same_words(name):
    for paper in (False, True):
        assert letters("".join(Balanced(markup((BLOCKS[name],), paper)).words)) == letters(plain((BLOCKS[name],)))


@every("name", BLOCKS)
def test_words_are_never_markup(name):
    evil = '<b onload="x">&amp;</b>'
    block = BLOCKS[name]
    swapped = {
        "paragraph": Paragraph((evil, strong(evil))),
        "heading": Heading(evil),
        "link": Paragraph(Link(evil, f'"{evil}')),
        "list": List((evil,)),
        "ordered": List((evil,), ordered=True),
        "terms": Terms(((evil, evil),), (evil,)),
        "table": Table(((evil, evil),), (evil, evil)),
        "groups": Table((), groups=((evil, ((evil,),)),)),
        "verbatim": Verbatim(evil),
        "part": Part("card", (Paragraph(evil),)),
    }[name]
    assert type(swapped) is type(block)
    said = markup((swapped,))
    assert "<b onload" not in said and "&lt;b onload" in said
    assert evil in html.unescape(said) and evil in plain((swapped,))


def test_the_look_of_html():
    assert markup((Paragraph("a\nb", "dim"),)) == '<p class="dim">a<br>b</p>'
    loud = [markup((Paragraph(run("a")),)) for run in (strong, stress, dim, small)]
    assert loud[:2] == ["<p><b>a</b></p>", "<p><i>a</i></p>"] and len(set(loud)) == 4, "each is told apart"
    assert markup((BLOCKS["link"],)) == '<p>see <a href="/files/a b.html" target="_blank"><b>there</b></a></p>'
    assert markup((BLOCKS["ordered"],)) == '<ol start="4"><li>first</li><li>second</li></ol>'
    assert markup(tabled([("a", "1")], ("", "n"), (1,)).blocks) == (
        '<table><tr><td></td><th scope="col" class="n">n</th></tr><tr><td>a</td><td class="n">1</td></tr></table>'
    )
    assert '<dt id="word-gib"><b>gib</b></dt>' in markup((BLOCKS["terms"],))
    assert markup((BLOCKS["table"],), paper=True).startswith('<div class="scroll"><table><thead><tr><th scope="col">what</th>')
    assert '<th scope="row">a</th><td class="n">1.5</td>' in markup((BLOCKS["table"],), paper=True)
    assert '<th scope="rowgroup" colspan="2">early</th>' in markup((BLOCKS["groups"],), paper=True)
    assert set_out("said", live=True).endswith('<div class="lc" aria-live="polite"><p>said</p></div>')


def test_the_look_of_plain_text():
    assert plain((BLOCKS["list"], BLOCKS["ordered"])) == "  - one\n  - two dim\n  4. first\n  5. second"
    assert plain((BLOCKS["table"],)) == "what  how much\na     1.5\nb     22"
    assert plain((BLOCKS["table"], BLOCKS["table"])).count("\n\n") == 1, "one table stands apart from the next"
    folded = Fold("more", (Paragraph("inside"),))
    assert plain((folded,)) == "more" and plain((Fold("more", folded.inside, told=True),)) == "more\n  inside"
    row = Table(((1, Fold("level", (Paragraph("set it down"),), told=True), "0.02"), (2, "straight", "0.01")))
    assert plain((row,)) == "1  level     0.02\n    set it down\n2  straight  0.01"
    assert plain((Table((("a\nb", "c"),)),)) == "a  c\nb"


def test_a_page_is_a_row_of_blocks_and_what_says_nothing_is_left_out():
    page = paragraphs("one", "", "two") + Page(Drawn("<svg></svg>"))
    assert page.plain == "one\ntwo" and page.markup == "<p>one</p><p>two</p>", "a picture is not stored"
    assert set_out(page).endswith("<p>two</p><svg></svg></div>"), "it is shown where the page is alive"
    assert set_out("one", "", Page(), "two").count("<p>") == 2 and set_out(Paragraph("one"), "").count("<p>") == 1
    place = Place("first")
    assert "<p>first</p>" in place.value
    place.say("", Page())
    place.say("")
    assert place.value == ""


def test_a_working_has_its_letters_and_its_source_wherever_it_stands():
    one = Working.of(spindle_speed, {"cutting_speed": 0.5, "diameter": 0.02})
    said = html.unescape(markup((Worked(one, "How fast"),)))
    assert "How fast" in said and "477 rpm" in said and "Holds for:" in said and "Source:" in said
    assert plain((Worked(one, "How fast"),)).startswith("How fast\n  ") and "477 rpm" in plain((Worked(one),))


def test_paper_unfolds_what_is_folded():
    page = paragraphs("before") + Page(Fold("folded", (Paragraph("inside"), List(("item",)), Table((("a", "b"),), ("x", "y")))))
    said = "".join(Balanced(of_page(page).markup).words)
    assert [word in said for word in ("before", "folded", "inside", "item", "a", "x")] == [True] * 6
    assert "inside" not in of_page(page, paragraphs=False).markup and "<td>b</td>" in of_page(page, paragraphs=False).markup


def test_what_is_no_block_is_refused():
    with pytest.raises(TypeError, match="not a block"):
        markup(("words alone",))
    with pytest.raises(TypeError, match="not a block"):
        plain(("words alone",))
