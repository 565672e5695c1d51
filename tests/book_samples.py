"""A small octagon of paper: a project and a reckoning made by hand, so that the book is tested without the stages."""

from dataclasses import replace
from datetime import date
from math import cos, pi, sin

import numpy as np

from cordwright.base import Caution, Check, Cite, Figure, Step
from cordwright.case import Project
from cordwright.cost import CostInput, Delivery, PriceRow, reckon_cost
from cordwright.mortar.inputs import MixPart, MortarInput
from cordwright.mortar.results import Mix
from cordwright.mortar.sand_inputs import SandInput
from cordwright.mortar.sands import reckon_sands
from cordwright.plan.inputs import (
    BottleGroup,
    Frame,
    Opening,
    PlanInput,
    PolygonOutline,
    Roof,
    RoundOutline,
    Sleeve,
    WallSection,
)
from cordwright.plan.results import BuildIn, Obstacle, Panel, PlacedOpening, Plan, SettingOut
from cordwright.reckon import Reckoning
from cordwright.site.inputs import LocalRule, SiteInput
from cordwright.timber.inputs import Defect, Stem, TimberInput
from cordwright.timber.results import Piece, StemCut, Stock, Timber
from cordwright.wall.inputs import Fill, Joints, WallInput
from cordwright.wall.results import PanelQuantity, Wall

TODAY = date(2028, 5, 13)
OWNER = Cite("owner", "building.toml")
NAMES = ("S", "E", "N", "W")
SANDS = (
    SandInput(
        name="pit",
        slug="pit",
        openings=(4.75e-3, 2.36e-3, 1.18e-3, 0.6e-3, 0.3e-3, 0.15e-3),
        passing=(1.0, 0.97, 0.85, 0.6, 0.25, 0.05),
    ),
    SandInput(name="river", slug="river", silt=0.03, price=20.0),
)
INNER = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))
DIRECTIONS = {
    "S": ((4.0, 0.0), (-1.0, 0.0)),
    "E": ((4.0, 3.0), (0.0, -1.0)),
    "N": ((0.0, 3.0), (1.0, 0.0)),
    "W": ((0.0, 0.0), (0.0, 1.0)),
}
THICKNESS = 0.35
HEIGHT = 2.25


def window(**changes):
    stated = {"id": "W1", "panel": "S", "width": 1.6, "height": 1.2, "sill": 0.75, "from_left": 0.4}
    return Opening(**{**stated, **changes})


def placed(opening):
    u, v, w, h = opening.from_left, opening.sill, opening.width, opening.height
    return PlacedOpening(opening=opening, outline=((u, v), (u + w, v), (u + w, v + h), (u, v + h)), area=w * h)


def panel(name, openings=(), obstacles=()):
    (x, y), (dx, dy) = DIRECTIONS[name]
    length = 4.0 if name in "SN" else 3.0
    out = (-dy, dx)

    def run(depth):
        return tuple((x + dx * u + out[0] * depth, y + dy * u + out[1] * depth) for u in (0.0, length))

    gross = length * HEIGHT
    return Panel(
        name=name,
        inner_length=length,
        centre_length=length,
        outer_length=length,
        inner_line=run(0.0),
        centre_line=run(THICKNESS / 2),
        outer_line=run(THICKNESS),
        bearing=0.0,
        inner_radius=None,
        outline=((0.0, 0.0), (length, 0.0), (length, HEIGHT), (0.0, HEIGHT)),
        openings=tuple(placed(o) for o in openings),
        obstacles=tuple(obstacles),
        gross_area=gross,
        openings_area=sum(o.width * o.height for o in openings),
    )


def grown(by):
    return ((-by, -by), (4.0 + by, -by), (4.0 + by, 3.0 + by), (-by, 3.0 + by))


def sample_plan():
    second = window(id="W2", width=0.9, from_left=2.4)
    door = window(id="D1", panel="W", use="door", width=0.96, height=2.1, sill=0.0, from_left=0.5)
    pipe = Obstacle(id="K1", what="stove air inlet", u=0.9, v=0.15, diameter=0.1)
    bottles = tuple(
        Obstacle(id=f"B1.{n + 1}", what="bottle end", u=0.5 + 0.2 * n, v=1.6, diameter=0.078) for n in range(8)
    )
    letters = tuple(zip("ABCD", INNER, strict=True))
    sides = tuple(
        ("side", a, b, length) for a, b, length in (("A", "B", 4.0), ("B", "C", 3.0), ("C", "D", 4.0), ("D", "A", 3.0))
    )
    return Plan(
        inner_face=INNER,
        centre_face=grown(THICKNESS / 2),
        outer_face=grown(THICKNESS),
        eaves=grown(THICKNESS + 0.6),
        posts=grown(THICKNESS / 2),
        panels=(
            panel("S", (window(), second)),
            panel("E", obstacles=bottles),
            panel("N", obstacles=(pipe,)),
            panel("W", (door,)),
        ),
        setting_out=SettingOut(points=letters, rows=(*sides, ("diagonal", "A", "C", 5.0), ("diagonal", "B", "D", 5.0))),
        build_in=(
            BuildIn(panel="S", mark="W1", what="window frame", size="1600 x 1200", bottom=0.75, from_left=0.4),
            BuildIn(panel="S", mark="W2", what="window frame", size="900 x 1200", bottom=0.75, from_left=2.4),
            BuildIn(panel="N", mark="K1", what="stove air inlet", size="100", bottom=0.1, from_left=0.9),
        ),
        figures=(),
        checks=(),
    )


def sample_timber():
    clean = Stem(name="T01", species="spruce", butt_diameter=0.2, top_diameter=0.175, length=3.0)
    flawed = Stem(
        name="T02",
        species="aspen",
        butt_diameter=0.22,
        top_diameter=0.16,
        length=4.0,
        defects=(Defect(start=1.5, end=1.9, what="rot"),),
    )
    cuts = (
        StemCut(
            stem=clean,
            pieces=pieces("T01", (0.04, 0.399, 0.758, 1.117, 1.476, 1.835, 2.194, 2.553)),
            offcut=0.05,
            short_if_retrimmed=False,
        ),
        StemCut(
            stem=flawed,
            pieces=pieces("T02", (0.04, 0.399, 0.758, 1.91, 2.27, 2.63, 2.99, 3.35)),
            offcut=0.26,
            short_if_retrimmed=True,
        ),
    )
    ids = tuple(p.id for c in cuts for p in c.pieces)
    sizes = np.full(len(ids), 0.18)
    stock = Stock(
        id=ids,
        stem=tuple(i.split("-")[0] for i in ids),
        species=("spruce",) * len(ids),
        diameter=sizes,
        green_diameter=sizes,
        mass_green=sizes * 50,
        mass_laying=sizes * 35,
        counted=True,
    )
    return Timber(
        cuts=cuts, stock=stock, figures=(figure("timber.log_ends", "Log ends", 16.0, ""),), checks=(), cautions=()
    )


def pieces(name, starts):
    return tuple(Piece(id=f"{name}-{n}", start=s, end=s + 0.35, diameter=0.18) for n, s in enumerate(starts, start=1))


def figure(key, label, value, unit, **more):
    return Figure(key=key, label=label, value=value, unit=unit, **{"sources": (OWNER,), **more})


def sample_order():
    cement = PriceRow(
        item="cement 25 kg",
        line=2,
        quantity=31.0,
        unit_price=6.9,
        covers="mortar.cement",
        unit_amount=25.0,
        unit_text="25 kg",
        part_of="mortar",
        delivery="wall",
        price_source="local yard",
        price_date=date(2026, 3, 1),
        trade="mason",
    )
    dust = PriceRow(item="sawdust", line=3, quantity=1.0, unit_price=None, part_of="mortar", delivery="wall")
    own = PriceRow(item="own stones", line=4, quantity=2.0, unit_price=0.0, part_of="plinth")
    wall = Delivery(name="wall", day=date(2028, 5, 4), stage="before laying", carries=500.0, trips=2)
    needs = (figure("mortar.cement", "Cement", 768.4, "kg"), figure("mortar.lime", "Lime", 500.0, "kg"))
    return reckon_cost(CostInput(rows=(cement, dust, own), deliveries=(wall,)), {f.key: f for f in needs})


def sample_mix(parts):
    return Mix(
        yield_ratio=0.69,
        yield_low=0.6,
        yield_high=0.76,
        amounts=(),
        water=180.0,
        water_low=150.0,
        water_high=210.0,
        batch_volume=0.149,
        binder_to_sand=0.5,
        proportion_class="near N, untested",
        figures=(
            Figure(
                key="mortar.water_per_batch",
                label="water to add to one batch",
                value=23.0,
                low=20.0,
                high=26.0,
                unit="kg",
                sources=(Cite("owner", "mix.bucket"),),
            ),
        ),
        checks=(),
        cautions=(),
    )


PARTS = (
    MixPart(name="cement", kind="cement", form="powder", parts=2, bag=25.0),
    MixPart(name="lime", kind="lime", form="powder", parts=3, bag=20.0),
    MixPart(name="pit sand", kind="sand", form="damp sand", parts=10),
    MixPart(name="soaked sawdust", kind="fibre", form="soaked fibre", parts=2.5),
)


def sample_project(**changes):
    plan = PlanInput(
        outline=PolygonOutline(corners=INNER),
        section=WallSection(log_end_length=THICKNESS, bead=0.1),
        height=HEIGHT,
        side_names=NAMES,
        frame=Frame(material="larch", post_width=0.2, post_depth=0.2, beam_depth=0.2),
        wall_head_gap=0.025,
        openings=(),
        sleeves=(Sleeve(id="K1", panel="N", what="stove air inlet", diameter=0.1, from_left=0.9, height=0.15),),
        bottles=(BottleGroup(id="B1", panel="E", count=8, diameter=0.078, band_low=1.5, band_high=1.7),),
        plinth_height=0.45,
        floor_above_ground=0.4,
        roof=Roof(form="hip", pitch=0.47, overhang=0.6),
    )
    rule = LocalRule(slug="frost", rule="frost depth", value="1.2 m", said_by="parish office", said_on=date(2027, 6, 7))
    stated = {
        "name": "Tool shed",
        "units": "metric",
        "locale": "en_GB",
        "revision": "A",
        "notes": ("Positions were chosen here.",),
        "site": SiteInput(place="Hill Farm (invented)", rules=(rule,)),
        "plan": plan,
        "timber": TimberInput(),
        "mortar": MortarInput(parts=PARTS, bucket=0.012, waste=0.12),
        "wall": WallInput(
            joints=Joints(nominal=0.025, least=0.012, largest=0.06, edge=0.0125),
            wood_fraction=0.6,
            wood_fraction_low=0.55,
            wood_fraction_high=0.65,
            fill=Fill(),
        ),
        "cost": CostInput(currency="EUR", decimals=2),
    }
    return Project(**{**stated, **changes})


def sample_reckoning(**changes):
    plan = sample_plan()
    wood = tuple(
        PanelQuantity(
            panel=p.name,
            masonry_area=p.net_area,
            wood_area=0.6 * p.net_area,
            joint_area=0.4 * p.net_area,
            wood_volume=0.21 * p.net_area,
            mortar_volume=0.08 * p.net_area,
            fill_volume=0.06 * p.net_area,
        )
        for p in plan.panels
    )
    burns = Caution(
        key="alkali-burns",
        harm="Lime and wet cement burn eyes and skin.",
        do="Wear goggles and waterproof gloves.",
        decides="The safety data sheet decides.",
    )
    steps = (
        Step(symbol="net wall", value=22.0, unit="m2", formula="gross less openings", source=OWNER),
        Step(symbol="yield", value=0.69123, unit="", formula="fresh over loose parts", source=None),
    )
    stated = {
        "plan": plan,
        "timber": sample_timber(),
        "sands": reckon_sands(SANDS),
        "mix": sample_mix(PARTS),
        "wall": Wall(panels=wood, curved_joints=(), planned=True, figures=(), checks=(), cautions=()),
        "order": sample_order(),
        "figures": (
            figure("plan.net_wall_area", "Net wall area", 22.0, "m2"),
            figure("mortar.volume", "Mortar, waste included", 3.114, "m3", low=2.731, high=3.513, steps=steps),
            figure("mortar.batches", "Batches of mortar", 21.0, "", low=18.0, high=24.0),
            figure("wall.joint", "Mean joint", None, "m", bound="unknown", missing=("a wall layout",)),
        ),
        "checks": (
            Check(
                key="timber.coverage",
                label="Log ends",
                demand=20.9,
                capacity=20.2,
                low=19.0,
                high=22.6,
                unit="m2",
                sources=(OWNER,),
            ),
            Check(key="cost.purse", label="Money", demand=10296.0, capacity=11000.0, unit="EUR", sources=(OWNER,)),
            Check(key="joint", label="Joints", demand=None, capacity=0.06, unit="m", not_judged="no wall layout yet"),
        ),
        "cautions": (burns,),
    }
    return Reckoning(**{**stated, **changes})


FREE_TEXT = frozenset(
    {
        "name",
        "revision",
        "notes",
        "place",
        "rule",
        "value",
        "said_by",
        "id",
        "what",
        "mark",
        "panel",
        "item",
        "unit_text",
        "part_of",
        "delivery",
        "stage",
        "price_source",
        "trade",
        "note",
        "species",
        "label",
        "harm",
        "do",
        "decides",
        "material",
        "not_judged",
        "missing",
    }
)


def renamed(value, text):
    """The same value with every text the owner may type replaced by a hostile one."""
    from dataclasses import fields, is_dataclass

    if is_dataclass(value) and not isinstance(value, Cite):
        new = {f.name: _renamed_field(f.name, getattr(value, f.name), text) for f in fields(value)}
        return replace(value, **new)
    if isinstance(value, tuple):
        return tuple(renamed(v, text) for v in value)
    return value


def _renamed_field(name, value, text):
    if name in FREE_TEXT and isinstance(value, str):
        return text
    if name in ("notes", "missing"):
        return tuple(text for _ in value)
    return renamed(value, text)


def round_project():
    plan = replace(sample_project().plan, outline=RoundOutline(inside_diameter=2.75), frame=Frame(), plinth_height=None)
    return sample_project(plan=plan, units="imperial", locale="en_US")


def round_plan():
    def ring(radius):
        return tuple((radius * sin(2 * pi * n / 96), radius * cos(2 * pi * n / 96)) for n in range(97))

    inner, thickness = 1.3716, 0.3048
    length = 2 * pi * (inner + thickness / 2)
    door = window(id="D1", panel="round", use="door", width=0.762, height=1.93, sill=0.0, from_left=4.4)
    whole = Panel(
        name="round",
        inner_length=2 * pi * inner,
        centre_length=length,
        outer_length=2 * pi * (inner + thickness),
        inner_line=ring(inner),
        centre_line=ring(inner + thickness / 2),
        outer_line=ring(inner + thickness),
        bearing=0.0,
        inner_radius=inner,
        outline=((0.0, 0.0), (length, 0.0), (length, 2.08), (0.0, 2.08)),
        openings=(placed(door),),
        obstacles=(),
        gross_area=length * 2.08,
        openings_area=0.762 * 1.93,
    )
    face = ring(inner)[:0:-1]
    outer = ring(inner + thickness)[:0:-1]
    return Plan(
        inner_face=face,
        centre_face=ring(inner + thickness / 2)[:0:-1],
        outer_face=outer,
        eaves=ring(2.3)[:0:-1],
        posts=(),
        panels=(whole,),
        setting_out=SettingOut(points=(("M", (0.0, 0.0)), ("N", (0.0, inner))), rows=(("radius", "M", "N", inner),)),
        build_in=(),
        figures=(),
        checks=(),
    )
