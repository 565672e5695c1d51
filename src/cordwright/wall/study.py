"""How is the whole wall laid out of the owner's stock, and what is left?"""

from collections.abc import Callable
from dataclasses import dataclass, field

from cordwright.plan.results import Plan
from cordwright.timber.inputs import TimberInput
from cordwright.timber.results import Timber
from cordwright.wall import engine
from cordwright.wall.faces import faces_of, logs_of
from cordwright.wall.inputs import WallInput
from cordwright.wall.layout import Cancelled, Log, PanelLayout, Progress, never, quiet


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutStudy:
    """All panels laid, the stock they were laid from, and the ids left over.

    `seconds`: by panel, how long it took, as told by the clock the caller hands in; empty without one.
    """

    panels: tuple[PanelLayout, ...]
    stock: tuple[Log, ...]
    unused: tuple[str, ...]
    seconds: dict[str, float] = field(default_factory=dict)

    @property
    def joint(self) -> float:
        """The even joint that the stock asks for [m]; the widest where panels differ."""
        return max((p.report.joint_nominal for p in self.panels), default=0.0)


def lay_study(
    plan: Plan,
    timber: Timber,
    stated: TimberInput,
    wall: WallInput,
    *,
    seed: int,
    only: str = "",
    progress: Progress = quiet,
    cancelled: Cancelled = never,
    clock: Callable[[], float] | None = None,
) -> LayoutStudy:
    """Lay every panel, or only one from its own share of the stock.

    Expected culls and the spares kept back are left out evenly over the sizes: nobody knows yet which logs they are.

    Args:
        plan: the plan worked out.
        timber: the wood worked out.
        stated: shares of culls and spares.
        wall: joints as stated.
        seed: fixes every choice.
        only: a panel's name; empty for all.
        progress: told the share done and the panel at hand.
        cancelled: asked often; the laying stops when it says so.
        clock: seconds of a running clock, to time each panel; stages have none of their own.

    Raises:
        InputError: a size or joint that no wall can have.
        StoppedError: `cancelled` said so.
    """
    faces = faces_of(plan)
    stock = logs_of(timber.stock)
    usable = keep_share(stock, (1 - (stated.cull_share or 0.0)) * (1 - (stated.spare_share or 0.0)))
    joint = engine.wall_joint(faces, usable, wall.joints)
    dealt = engine.allot(usable, faces, joint=joint, edge=wall.joints.edge)
    wanted = [face for face in faces if only in ("", face.name)]
    panels: list[PanelLayout] = []
    seconds: dict[str, float] = {}
    for n, face in enumerate(wanted):
        started = clock() if clock else 0.0
        panels.append(
            engine.lay_panel(
                face,
                dealt[face.name],
                joint=joint,
                joint_least=wall.joints.least,
                joint_largest=wall.joints.largest,
                edge=wall.joints.edge,
                seed=seed,
                progress=_share_of(progress, n, len(wanted)),
                cancelled=cancelled,
            )
        )
        if clock:
            seconds[face.name] = clock() - started
    placed = {p.log.id for panel in panels for p in panel.placements}
    unused = tuple(log.id for log in stock if log.id not in placed)
    return LayoutStudy(panels=tuple(panels), stock=stock, unused=unused, seconds=seconds)


def _share_of(progress: Progress, done: int, count: int) -> Progress:
    """Tell the progress of one panel as its share of all."""
    return lambda share, name: progress((done + share) / count, name)


def keep_share(stock: tuple[Log, ...], share: float) -> tuple[Log, ...]:
    """Keep a share of the logs, evenly over their sizes.

    Args:
        stock: log ends.
        share: kept [1].
    """
    ordered = sorted(stock, key=lambda log: (log.diameter, log.id))
    kept = [log for n, log in enumerate(ordered) if int((n + 1) * share) > int(n * share)]
    return tuple(kept)
