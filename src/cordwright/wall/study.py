"""How is the whole wall laid out of the owner's stock, and what is left?"""

from collections.abc import Callable, Collection, Iterator, Sequence

from cordwright.plan.results import Plan
from cordwright.timber.inputs import TimberInput
from cordwright.timber.results import Timber
from cordwright.wall import stocking
from cordwright.wall.dealing import allot, net_area, wall_joint
from cordwright.wall.engine import EffortName, lay_panel
from cordwright.wall.faces import faces_of, logs_of
from cordwright.wall.inputs import Joints, WallInput
from cordwright.wall.laid_study import LayoutStudy
from cordwright.wall.layout import Cancelled, Face, Log, PanelLayout, Progress, never, quiet

Clock = Callable[[], float]


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
    clock: Clock | None = None,
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
    stock = logs_of(timber.stock)
    usable = keep_share(stock, (1 - (stated.cull_share or 0.0)) * (1 - (stated.spare_share or 0.0)))
    panels: list[PanelLayout] = []
    seconds: dict[str, float] = {}
    started = clock() if clock else 0.0
    for panel in laid_panels(
        faces_of(plan), usable, wall.joints, seed, only=only, progress=progress, cancelled=cancelled
    ):
        panels.append(panel)
        if clock:
            seconds[panel.face.name] = clock() - started
            started = clock()
    placed = {p.log.id for panel in panels for p in panel.placements}
    unused = tuple(log.id for log in stock if log.id not in placed)
    return LayoutStudy(panels=tuple(panels), stock=stock, unused=unused, seconds=seconds)


def laid_panels(
    faces: Sequence[Face],
    stock: Sequence[Log],
    joints: Joints,
    seed: int,
    *,
    only: str = "",
    effort: EffortName = "normal",
    forbidden: Collection[str] = (),
    progress: Progress = quiet,
    cancelled: Cancelled = never,
) -> Iterator[PanelLayout]:
    """Lay panel after panel from one stock with one even joint, the narrowest from nominal up that closes them all.

    Args:
        faces: the panels.
        stock: all logs of the building, culls and spares left out.
        joints: joint widths as stated.
        seed: fixes every choice.
        only: a panel's name, laid from its own share of the stock; empty for all.
        effort: "draft" for a look, "normal" for the wall.
        forbidden: ids of logs that must not be used.
        progress: told the share done and what is done.
        cancelled: asked often; the laying stops when it says so.

    Raises:
        InputError: a size or joint that no wall can have, or one id twice.
        StoppedError: `cancelled` said so.
    """
    usable = [log for log in stocking.round_logs(stock) if log.id not in forbidden]
    joint = wall_joint(faces, usable, joints)
    dealt = allot(usable, faces, joint=joint, edge=joints.edge)
    wanted = [face for face in faces if only in ("", face.name)]
    total = sum(net_area(face) for face in wanted)
    done = 0.0
    for face in wanted:
        share = net_area(face) / total
        yield lay_panel(
            face, dealt[face.name], joint=joint, joint_least=joints.least, joint_largest=joints.largest,
            edge=joints.edge, seed=seed, effort=effort, cancelled=cancelled, progress=_span_of(progress, done, share),
        )  # fmt: skip
        done += share


def _span_of(progress: Progress, start: float, share: float) -> Progress:
    """Tell the progress of one panel as its share of all."""
    return lambda done, what: progress(start + share * done, what)


def keep_share(stock: tuple[Log, ...], share: float) -> tuple[Log, ...]:
    """Keep a share of the logs, evenly over their sizes.

    Args:
        stock: log ends.
        share: kept [1].
    """
    ordered = sorted(stock, key=lambda log: (log.diameter, log.id))
    kept = [log for n, log in enumerate(ordered) if int((n + 1) * share) > int(n * share)]
    return tuple(kept)
