"""The design file in several hands: two notebooks, an editor, a link, and the last good copy."""

import os
import threading

import pytest
from file_of_small import complaint, higher
from small_chain import SMALL, TEXT

from lathe_course.design.files import whole_file
from lathe_course.design.files.design_file import DesignFile, DesignFileProblem, backup_of, load, new, restore_last_good


# --- many at once ----------------------------------------------------------------------------------
def test_two_notebooks_do_not_lose_each_others_decisions(path):
    """Each reads once, then both save; the second change is made to what the first left."""
    one, two = DesignFile(path, SMALL), DesignFile(path, SMALL)
    one.read(), two.read()
    one.save_change(lambda design: design.with_(centre_height="85 mm"))
    two.save_change(lambda design: design.with_(motor_power="0.5 kW"))
    assert load(path, SMALL)["centre_height"] == pytest.approx(0.085)
    assert load(path, SMALL)["motor_power"] == pytest.approx(500)


def test_many_writers_lose_nothing(path, monkeypatch):
    monkeypatch.setattr(whole_file, "PATIENCE", 300.0)  # that a busy machine has one wait is told elsewhere

    def keep(writer: int) -> None:
        for turn in range(8):
            DesignFile(path, SMALL).save_change(lambda design, turn=turn: design.note(f"{writer}-{turn}", "kept"))

    writers = [threading.Thread(target=keep, args=(n,)) for n in range(4)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert set(load(path, SMALL).notes) == {"floor"} | {f"{w}-{t}" for w in range(4) for t in range(8)}


def test_a_change_made_in_an_editor_is_respected(path):
    file = DesignFile(path, SMALL)
    file.read()
    path.write_text(TEXT.replace('"filled box"', '"two bars"').replace("# what was settled", "# edited"))
    design = file.save_change(higher)
    assert design["bed_form"] == "two bars" and "# edited" in path.read_text()


def test_a_change_made_in_an_editor_during_a_save_is_respected(path, monkeypatch):
    edits = iter([TEXT.replace('"filled box"', '"two bars"')])
    fsync = os.fsync

    def edit_meanwhile(handle: int) -> None:
        fsync(handle)
        text = next(edits, None) if backup_of(path).exists() else None
        if text:
            path.write_text(text)

    monkeypatch.setattr(whole_file.os, "fsync", edit_meanwhile)
    design = DesignFile(path, SMALL).save_change(higher)
    assert design["bed_form"] == "two bars" and design["centre_height"] == pytest.approx(0.085)
    assert load(path, SMALL).written() == design.written()
    assert load(backup_of(path), SMALL)["bed_form"] == "two bars"


def test_a_busy_file_is_told(path, monkeypatch):
    monkeypatch.setattr(whole_file, "PATIENCE", 0.05)
    with whole_file.one_writer(path), pytest.raises(DesignFileProblem, match="another notebook has been writing"):
        DesignFile(path, SMALL).save_change(higher)
    assert path.read_text() == TEXT


@pytest.mark.skipif(os.name == "nt", reason="links need rights on Windows")
def test_a_link_stays_a_link_and_rights_stay(path, tmp_path):
    link = tmp_path / "elsewhere"
    link.mkdir()
    link /= "link.toml"
    link.symlink_to(path)
    path.chmod(0o640)
    DesignFile(link, SMALL).save_change(higher)
    assert link.is_symlink() and load(path, SMALL)["centre_height"] == pytest.approx(0.085)
    assert path.stat().st_mode & 0o777 == 0o640 and backup_of(path).exists()


# --- the last good copy ----------------------------------------------------------------------------
def test_the_last_good_copy_is_named_and_put_back(path):
    DesignFile(path, SMALL).save_change(higher)
    good = path.read_bytes()
    DesignFile(path, SMALL).save_change(lambda design: design.note("a", "b"))
    damaged = path.read_bytes()[:300]
    problem = complaint(path, damaged)
    assert f"The last good copy is {backup_of(path)}" in str(problem)
    said = restore_last_good(path)
    assert path.read_bytes() == good and "design.set-aside-1.toml" in said
    assert path.with_name("design.set-aside-1.toml").read_bytes() == damaged
    path.write_bytes(b"")
    restore_last_good(path)
    assert path.with_name("design.set-aside-2.toml").read_bytes() == b""
    path.unlink()
    assert "set-aside" not in restore_last_good(path)
    assert path.read_bytes() == good


def test_a_folder_in_the_place_of_the_file_stays(path):
    DesignFile(path, SMALL).save_change(higher)
    path.unlink()
    path.mkdir()
    path.with_name("design.toml").joinpath("of mine").write_text("kept")
    with pytest.raises(DesignFileProblem, match="there is a folder of that name; give it another name first"):
        restore_last_good(path)
    assert (path / "of mine").read_text() == "kept" and [one.name for one in path.parent.glob("*set-aside*")] == []


def test_a_new_design_needs_a_folder_to_lie_in(tmp_path):
    """Neither what is not there, nor a file where the folder would be."""
    (tmp_path / "file").write_text("kept")
    for place in ("gone", "file"):
        with pytest.raises(DesignFileProblem, match=f"there is no folder .*{place}; make it first"):
            new(tmp_path / place / "design.toml")
    assert (tmp_path / "file").read_text() == "kept" and new(tmp_path / "design.toml").is_file()


def test_no_good_copy_is_not_offered(path):
    assert "last good copy" not in str(complaint(path, "x"))
    with pytest.raises(DesignFileProblem, match="no last good copy"):
        restore_last_good(path)
    backup_of(path).write_text(TEXT[:100])
    assert "last good copy" not in str(complaint(path, "x"))
    with pytest.raises(DesignFileProblem, match="damaged too"):
        restore_last_good(path)
    assert path.read_text() == "x"


def test_a_file_that_looks_cut_off_does_not_become_the_last_good_copy(path):
    file = DesignFile(path, SMALL)
    file.save_change(higher)
    path.write_text(path.read_text()[: path.read_text().index("[guesses") + 4 - 4].rstrip("\n"))
    assert any("cut off" in remark for remark in DesignFile(path, SMALL).remarks)
    file.save_change(lambda design: design.note("a", "b"))
    assert backup_of(path).read_text() == TEXT
