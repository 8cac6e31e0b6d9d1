"""What a person may write wrong into [links]: each sentence names the thing and says what to do."""

import copy

import numpy as np
import pytest

from fixturegen.axle.model import axle_of
from fixturegen.errors import InputFault
from fixturegen.findings import Level
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.link_faults import refuse_points
from fixturegen.studies.link_study import study_of
from tests.checks.test_link_claims import BACK, FRONT, findings, job, put


def made(*changes, base=FRONT):
    data = copy.deepcopy(base)
    for change in changes:
        change(data["links"])
    sheet = Sheet.model_validate(data)
    return sheet, axle_of(sheet)


def said(*changes, base=FRONT):
    """Every sentence of the faults the sheet is refused with, remedies in them."""
    with pytest.raises(InputFault) as caught:
        study_of(*made(*changes, base=base))
    for fault in caught.value.faults:
        assert fault.key.startswith("links.") and fault.given and fault.allowed and fault.remedy
        assert "\n" not in fault.sentence()
    return " | ".join(f.sentence() for f in caught.value.faults)


def flat(links):
    """Four links in one plane at one height."""
    links["lower"]["left"].update(frame=["-1840 mm", "360 mm", "420 mm"], axle=["-2750 mm", "480 mm", "420 mm"])
    links["upper"]["left"].update(frame=["-2030 mm", "470 mm", "420 mm"], axle=["-2820 mm", "130 mm", "420 mm"])


def parallel(links):
    """Uppers that do not splay: nothing holds the axle from side to side."""
    links["lower"]["left"].update(frame=["-1840 mm", "480 mm", "520 mm"], axle=["-2750 mm", "480 mm", "420 mm"])
    links["upper"]["left"].update(frame=["-2030 mm", "300 mm", "690 mm"], axle=["-2820 mm", "300 mm", "660 mm"])


UPPER = FRONT["links"]["upper"]["middle"]
LOWER = FRONT["links"]["lower"]["left"]
RIGHT = {"frame": ["-36 in", "14 in", "20 1/4 in"], "axle": ["-3 in", "18 in", "16 3/4 in"]}

WRONG = {
    "coincident joint centres": (
        FRONT,
        put("upper", "middle", "axle", value=LOWER["axle"]),
        ("links.lower.left.axle", "the same joint centre as links.upper.middle.axle", "measure both"),
    ),
    "zero-length link": (
        FRONT,
        put("upper", "middle", "axle", value=UPPER["frame"]),
        ("links.upper.middle: given ends 0 in apart", "at least 1 in", "measure both joint centres again"),
    ),
    "links that leave the axle free": (
        BACK,
        parallel,
        ("links.kind", "it cannot roll, and instead it moves sideways", "splay them, or add a track bar"),
    ),
    "links that leave the axle free, all of one slope": (
        BACK,
        lambda links: (parallel(links), put("upper", "left", "frame", value=["-1910 mm", "300 mm", "760 mm"])(links)),
        ("links.kind", "run parallel", "so that the axle moves sideways", "splay them, or add a track bar"),
    ),
    "singular pose": (
        BACK,
        flat,
        ("lie in one plane", "turns about its own line, so that the pinion swings", "set links apart in height"),
    ),
    "point under the ground": (
        FRONT,
        put("lower", "left", "axle", value=["-3 in", "18 in", "-2 in"]),
        ("links.lower.left.axle: given a point 2 in under the ground", "up from the ground"),
    ),
    "left and right swapped": (
        FRONT,
        put("lower", "right", value=RIGHT | {"frame": ["-36 in", "20 in", "20 1/4 in"]}),
        ("links.lower.left.frame", "left is the vehicle's left and counts positive; swap the two"),
    ),
    "a shock under the ground": (
        FRONT,
        put("struts", 1, "axle", value=["-3 in", "20 in", "-0.5 in"]),
        ("links.struts[2].axle: given a point 0.5 in under the ground", "heights are measured up"),
    ),
    "a drag link under the ground in the axle's frame": (
        FRONT,
        lambda links: links["steering"].update(
            at="axle", drag_end=["6 in", "-25 in", "-40 in"], tie_end=["-6 1/4 in", "25 1/2 in", "0 in"]
        ),
        ("links.steering.drag_end", "under the ground", "in the axle frame from its line"),
    ),
    "a strap without length": (
        FRONT,
        put("struts", 3, "axle", value=["-2 in", "14 in", "32 1/2 in"]),
        ("links.struts[4]: given ends 0.5 in apart", "measure both ends again"),
    ),
    "a hose without length": (
        FRONT,
        put("hoses", 0, "axle", value=["2 in", "18 1/4 in", "31 1/2 in"]),
        ("links.hoses[1]: given ends 0 in apart",),
    ),
    "a strut of the right side": (
        FRONT,
        lambda links: links["struts"][1].update(frame=["-3 in", "-17 in", "43 in"], axle=["-3 in", "-20 in", "16 in"]),
        ("links.struts[2]: given both ends right of the middle, 17 in", "the right one is its mirror image"),
    ),
    "a hose on the other knuckle": (
        FRONT,
        put("hoses", 0, "axle_on", value="right"),
        ("links.hoses[1].axle_on: given right, with its end 27 in to the left", "mend axle_on or the sign"),
    ),
    "a pitman arm without length": (
        FRONT,
        put("steering", "sector_shaft", value=["7 in", "9 in", "30 in"]),
        ("links.steering.sector_shaft: given the pitman joint 0 in off", "through the nut of the pitman arm"),
    ),
    "a shaft point with two lengths": (
        FRONT,
        put("steering", "sector_shaft", value=["6 in", "15 in"]),
        ("links.steering.sector_shaft: given 2 lengths", "write forward, left, up"),
    ),
    "a bolt without direction": (
        FRONT,
        put("lower", "left", "frame_bolt", value=["0", "0", "0"]),
        ("links.lower.left.frame_bolt: given [0, 0, 0]", "three numbers that are not all 0"),
    ),
    "a direction with two numbers": (
        FRONT,
        put("hoses", 1, "frame_way", value=["0", "1"]),
        ("links.hoses[2].frame_way: given [0, 1]",),
    ),
    "no direction of the box's shaft": (
        FRONT,
        put("steering", "sector_way", value=[]),
        ("links.steering.sector_way: given []", "three numbers"),
    ),
    "tie-rod ends on the wrong sides": (
        FRONT,
        put("steering", "tie_end", value=["-6 1/4 in", "-25 1/2 in", "18 in"]),
        ("links.steering.tie_end", "left counts positive; swap the two"),
    ),
    "a drive shaft without length": (
        FRONT,
        put("shaft", "pinion", value=["-40 in", "-6 in", "27 in"]),
        ("links.shaft: given ends 0 in apart", "measure both ends again"),
    ),
}


@pytest.mark.parametrize("case", WRONG, ids=str)
def test_what_is_wrong_is_named_with_its_remedy(case):
    base, change, words = WRONG[case]
    told = said(change, base=base)
    for word in words:
        assert word in told
    refuse_points(*made(base=base))  # and the sheet as it stands is not


def test_the_same_sentences_reach_the_person_through_the_first_claim():
    for case in ("coincident joint centres", "zero-length link", "point under the ground", "a bolt without direction"):
        _, change, words = WRONG[case]
        told = findings("LNK-01", job(change))
        assert {f.level for f in told} == {Level.FAIL}
        assert words[0] in " | ".join(f.words for f in told) and all(f.remedy for f in told)


def test_travel_beyond_reach_is_told_with_its_end_and_the_links_that_lock():
    (told, *_) = [
        f
        for f in findings("LNK-01", job(put("upper", "middle", "frame", value=["-4 in", "-9 in", "32 in"])))
        if f.level is Level.FAIL
    ]
    assert "the linkage binds: it ends at heave" in told.words and "lock one another" in told.words
    assert "shorten the travel" in told.remedy or "move the points" in told.remedy


def test_a_strut_in_the_middle_is_no_fault():
    refuse_points(*made(put("struts", 1, "frame", value=["-3 in", "0 in", "43 in"])))


def test_equal_and_parallel_bar_and_link_on_a_sheet_do_not_steer_to_first_order():
    # law: equal parallel arcs; here as a person writes it, links and all, with leaning pivots
    def alike(links):
        bar = links["track_bar"]
        bar.update(frame=["6 in", "16 in", "26 in"], axle=["6 in", "-18 in", "22 3/4 in"])
        links["steering"].update(pitman=["6 in", "15 in", "26 in"], drag_end=["6 in", "-19 in", "22 3/4 in"])

    def slope(study):
        heave, turn = study.heave.poses.heave, study.heave.steering.knuckles[:, 1]
        near = np.abs(heave) < 12.0
        return np.polyfit(heave[near], turn[near], 2)[1] * 101.6  # deg over 4 in, if it went on so

    study = study_of(*made(alike))
    # the axle itself turns a little in plan, which no drag link can mend; the knuckles on it do not
    assert abs(slope(study)) < 0.01
    # 3.5 deg of mismatch steer about two degrees over 4 in (common practice, no source)
    other = study_of(*made(alike, put("steering", "pitman", value=["6 in", "15 in", "28 1/16 in"])))
    bad = float(np.interp(101.6, other.heave.poses.heave, other.heave.steering.change))
    assert abs(bad) == pytest.approx(2.0, abs=0.3)
    assert abs(slope(other)) > 1.0
