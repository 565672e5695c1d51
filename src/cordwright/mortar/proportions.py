"""Which proportion class does the mix lie near, and is its sand in the usual range?

A class by proportion says nothing of the mortar's strength: nobody tested it.
"""

from dataclasses import dataclass

from cordwright.base import table
from cordwright.mortar.materials import LooseMaterial


@dataclass(frozen=True, slots=True, kw_only=True)
class Proportions:
    """Loose volumes of cement, lime (powder-equivalent), damp sand and soaked fibre in one mix, any one unit."""

    cement: float
    lime: float
    sand: float
    fibre: float

    @property
    def binder(self) -> float:
        """Cement and lime together."""
        return self.cement + self.lime

    @property
    def sand_in_range(self) -> bool:
        """Whether the damp sand is 2 1/4 to 3 times the cementitious volumes.

        Sources: ASTM C270 as remembered; mixes of cement, lime and sand alone.
        """
        row = table("materials")["proportions"]
        return bool(row["least_sand"] * (1 - 1e-9) <= self.sand / self.binder <= row["most_sand"] * (1 + 1e-9))


def proportions(materials: tuple[LooseMaterial, ...]) -> Proportions:
    """Add up the loose volumes of a mix, putty and bags as the powder they hold, dry sand as if it were damp."""
    return Proportions(
        cement=sum(m.part.parts * m.binder_cement for m in materials),
        lime=sum(m.part.parts * m.binder_lime for m in materials),
        sand=sum(m.part.parts * m.damp_sand for m in materials),
        fibre=sum(m.part.parts for m in materials if m.fibre),
    )


def proportion_class(mix: Proportions) -> str:
    """Say which class a mix lies near by its proportions, or why that is not judged.

    Sources: ASTM C270 as remembered: lime to one of cement up to 1/4 M, 1/2 S, 1 1/4 N, 2 1/2 O, with 2 1/4 to 3 of
    damp sand to one of binder. Outside that, and with fibre in the mix, no class.
    """
    if mix.fibre:
        return "not judged: fibre"
    if not mix.cement:
        return "not judged: no cement"
    if not mix.sand_in_range:
        return "not judged: sand outside 2 1/4 to 3 times the binder"
    for name, most_lime in table("materials")["proportions"]["most_lime"].items():
        if mix.lime / mix.cement <= most_lime * (1 + 1e-9):
            return f"near {name} by proportion, untested"
    return "not judged: more lime than in any class"
