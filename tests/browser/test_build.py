"""One's own build in a real browser: lines of the log are added once each, and stand after a reload, in a second tab, after a restart and on the next day."""

import pytest
from lab import Lab

pytestmark = [pytest.mark.browser, pytest.mark.walk]

CHAPTER = "notebooks/16_the_build.ipynb"


class Build:
    """Chapter 16 on the screen: the boxes of the log and the page of one's own build."""

    def __init__(self, lab):
        self.lab, self.path = lab, lab.folder / "design.log.csv"
        lab.open_notebook(CHAPTER)
        lab.run_all()
        self.form = lab.page.locator(".jp-OutputArea-output > .widget-vbox").filter(has_text="Add to the log").first
        self.form.get_by_role("button", name="Add to the log").wait_for()

    def lines(self):
        """What was written, without the words that explain the file."""
        return (
            [line for line in self.path.read_text(encoding="utf-8").splitlines() if line[:2] == "20"]
            if self.path.exists()
            else []
        )

    def box(self, label):
        return self.form.locator(".widget-text, .widget-dropdown").filter(has=self.lab.page.get_by_text(label, exact=True)).first

    def add(self, day, what, **more):
        before = len(self.lines())
        self.box("what").locator("select").select_option(what)
        self.lab.at_rest()
        self.box("date").locator("input").fill(day)
        for label, value in more.items():
            box = self.box(label.replace("_", " "))
            box.wait_for()
            if box.locator("select").count():
                box.locator("select").select_option(value)
            else:
                box.locator("input").fill(value)
        self.lab.at_rest()
        self.form.get_by_role("button", name="Add to the log").click()
        self.lab.changed(lambda: len(self.lines()), before)
        self.lab.at_rest()
        assert len(self.lines()) == before + 1, "one press, one line"

    def told(self, *words):
        for one in words:
            self.lab.page.get_by_text(one).first.wait_for()


def test_a_build_is_followed_over_reload_second_tab_restart_and_the_next_day(browser, tmp_path):
    with Lab(tmp_path / "my-lathe", tmp_path / "private", browser) as lab:
        build = Build(lab)
        build.told("There is no log yet.", "By the plan these come first")
        build.add("2024-01-05", "build begun")
        build.add("2024-01-09", "hours", amount="3 h", part_or_task="purpose and specification")
        build.told("worked so far")
        build.add("2024-01-10", "ordered", amount="45 EUR", part_or_task="bed box", vendor="the merchant", due="2024-02-01")
        build.told("days late", "the merchant")
        lab.page.get_by_role("button", name="Write the papers").click()
        build.told("Written: shop_papers.html")
        with lab.page.context.expect_page() as opened:
            lab.page.get_by_role("link", name="Open the papers").click()
        assert opened.value.get_by_role("heading", name="Stock and cutting").inner_text() == "Stock and cutting"
        opened.value.close()
        held = build.path.read_bytes()
        lab.save()

        # a second tab has what the first wrote, adds to it, and rewrites nothing
        lab.new_page()
        second = Build(lab)
        second.told("the merchant")
        assert second.path.read_bytes() == held, "to open and run a chapter writes nothing into the log"
        second.add("2024-02-03", "delivered", part_or_task="bed box", vendor="the merchant")
        second.told("came 3")
        assert second.path.read_bytes().startswith(held) and len(second.lines()) == 4

        # a restarted kernel runs on what lies on the disk
        held = second.path.read_bytes()
        lab.restart_kernel()
        again = Build(lab)
        again.told("came 3")
        assert again.path.read_bytes() == held

    # the next day: another server in the same folder
    with Lab(tmp_path / "my-lathe", tmp_path / "next day", browser) as lab:
        next_day = Build(lab)
        next_day.told("came 3", "worked so far")
        assert next_day.path.read_bytes() == held
        next_day.add("2024-02-07", "hours", amount="2 h", part_or_task="bed box")
        assert next_day.path.read_bytes().startswith(held) and len(next_day.lines()) == 5
