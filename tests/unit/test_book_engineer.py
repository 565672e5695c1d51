"""Does the engineer's sheet ask what is open, show what is known, and judge nothing?"""

from dataclasses import replace

import pytest

import book_samples as samples
from cordwright.book.content import Items, Table
from cordwright.book.lettering import plain_lettering
from cordwright.book.sheets.engineer import engineer_sheet
from cordwright.plan.inputs import Frame, Roof
from cordwright.project import read
from cordwright.reckon import reckon


def sheet_of(project, reckoning):
    return engineer_sheet(project, reckoning, plain_lettering(project))


def rows(sheet, label):
    return [
        row.cells for block in sheet.blocks if isinstance(block, Table) and block.label == label for row in block.rows
    ]


def asked(sheet):
    found = rows(sheet, "What to ask the engineer")
    return {question: (known.replace("\u00a0", " "), who) for question, known, who in found}


def test_every_check_that_does_not_hold_is_listed_with_its_reason(example):
    project = read(example).project
    reckoning = reckon(project)
    listed = rows(sheet_of(project, reckoning), "Checks that are not shown to hold")
    open_checks = [c for c in reckoning.checks if c.verdict != "holds"]
    assert [verdict for _, verdict, _ in listed] == [c.verdict for c in open_checks]
    assert all(why for _, _, why in listed)
    assert [why for _, verdict, why in listed if verdict == "not judged"] == [
        c.not_judged for c in open_checks if c.verdict == "not judged"
    ]


def test_what_the_file_says_stands_beside_the_question():
    plan = replace(samples.sample_project().plan, openings=(samples.window(lintel_depth=0.15, lintel_bearing=0.1),))
    said = asked(sheet_of(samples.sample_project(plan=plan), samples.sample_reckoning()))
    known = " ".join(words for words, _ in said.values())
    assert "plinth 450 mm high, width not stated" in known.lower()
    assert "W1 1600 wide, lintel 150 deep, bearing 100." in known
    assert all(who for _, who in said.values())


@pytest.mark.parametrize(
    ("form", "words"),
    [("hip", "push outward"), ("cone", "push outward"), ("gable", "spreading"), ("shed", "spreading")],
)
def test_a_roof_that_pushes_is_asked_for_its_tie(form, words):
    plan = replace(samples.sample_project().plan, roof=Roof(form=form, pitch=0.5, overhang=0.6))
    said = asked(sheet_of(samples.sample_project(plan=plan), samples.sample_reckoning()))
    assert any(words in question for question in said)


def test_what_is_not_stated_is_said_so_and_never_filled_in():
    stated = samples.sample_project()
    plan = replace(stated.plan, frame=Frame(), roof=None, sleeves=(), openings=(), plinth_height=None)
    project = samples.sample_project(plan=plan, site=replace(stated.site, rules=(), soil=""))
    sheet = sheet_of(project, replace(samples.sample_reckoning(), figures=(), checks=()))
    said = asked(sheet)
    assert not any("lintel" in question or "roof push" in question or "pipe" in question for question in said)
    known = [words for words, _ in said.values()]
    assert "Nothing told yet." in known
    assert "Posts not stated, beam not stated." in known
    assert any("Soil: not stated." in words for words in known)
    listed = next(block for block in sheet.blocks if isinstance(block, Items)).items
    assert "The ring beam's depth" in listed
    assert rows(sheet, "Loads for review") == []
    assert rows(sheet, "Checks that are not shown to hold") == []


def test_lines_to_sign_are_left_empty():
    sheet = sheet_of(samples.sample_project(), samples.sample_reckoning())
    signed = rows(sheet, "Looked at by")
    assert len(signed) >= 3
    assert {cell for row in signed for cell in row} == {""}
