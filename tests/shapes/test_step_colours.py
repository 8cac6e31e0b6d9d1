"""Colours of a STEP file: the same order whatever the memory looked like, and still the same colours."""

import re

import cadquery as cq

from fixturegen.shapes import step
from fixturegen.shapes.solids import box
from fixturegen.shapes.step_colours import in_own_order

HEAD = "#1 = SOLID();\n#2 = SOLID();\n"


def section(*blocks: tuple[int, int, int, str]) -> str:
    text = ""
    for n, solid, context, colour in blocks:
        text += (
            f"#{n} = MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',(\n    #{n + 1}),#{context});\n"
            f"#{n + 1} = STYLED_ITEM('color',(#{n + 2}),#{solid});\n"
            f"#{n + 2} = PRESENTATION_STYLE_ASSIGNMENT((#{n + 3}));\n"
            f"#{n + 3} = COLOUR_RGB('',{colour});\n"
        )
    return f"{HEAD}{text}ENDSEC;\nEND-ISO-10303-21;\n"


def test_two_orders_of_the_same_colours_give_one_text() -> None:
    one = section((10, 1, 5, "0.1,0.2,0.3"), (14, 2, 6, "0.4,0.5,0.6"))
    other = section((10, 2, 6, "0.4,0.5,0.6"), (14, 1, 5, "0.1,0.2,0.3"))
    assert one != other
    assert in_own_order(one) == in_own_order(other)
    assert in_own_order(one).index("0.1,0.2,0.3") < in_own_order(one).index("0.4,0.5,0.6")


def test_numbers_stay_unique_and_every_reference_is_met() -> None:
    items = [step.StepItem(f"part {i}", box(0, 0, 30 * i, 10, 10, 30 * i + 5), (i / 8, 0.5, 0.5)) for i in range(6)]
    text = step.step_bytes(items, "jig").decode()
    defined = re.findall(r"^#(\d+) =", text, re.MULTILINE)
    assert len(set(defined)) == len(defined)
    assert set(re.findall(r"#(\d+)", text)) <= set(defined)


def test_an_unknown_section_comes_back_as_it_was() -> None:
    strange = section((10, 1, 5, "0.1,0.2,0.3")).replace("COLOUR_RGB", "OVER_RIDING_COLOUR")
    assert in_own_order(strange) == strange
    assert in_own_order("no colours") == "no colours"


def test_each_solid_keeps_its_own_colour(tmp_path) -> None:
    wanted = {"red": (1.0, 0.0, 0.0), "green": (0.0, 1.0, 0.0), "blue": (0.0, 0.0, 1.0)}
    items = [step.StepItem(name, box(0, 0, 30 * i, 10, 10, 30 * i + 5), wanted[name]) for i, name in enumerate(wanted)]
    path = tmp_path / "jig.step"
    step.write_step(path, items, "jig")
    # read by CadQuery's own reader of assemblies
    read = cq.Assembly.importStep(str(path))
    found = {child.name: child.color.toTuple()[:3] for child in read.children}
    for name, colour in wanted.items():
        assert max(abs(a - b) for a, b in zip(found[name], colour, strict=True)) < 1e-3
